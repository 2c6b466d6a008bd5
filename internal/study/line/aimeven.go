package line

import (
	"gapline/cabinet/design"
	"gapline/cabinet/field"
)

// What evenness by octave takes in the search.
const (
	// octaveWeight is what each dB of the mean spread of the octaves costs, in dB of the
	// A-weighted spread; a choice, no source.
	octaveWeight = 1
	// octaveTones stand for each octave in the search; three miss too much of the highest.
	octaveTones = 6
	// steered is how many wavelengths long a stack has to be to steer a frequency; below,
	// its beam is wider than the seats whatever its curve. Common practice, no source.
	steered = 2
)

// even reads what evenness is to mean.
func (s *Study) even(r AimRequest) field.Even {
	a := &s.Design.Audience
	out := field.Even{From: s.steeredFrom(), Fall: a.Fall.Or(0), Zone: s.quietZone(), ZoneMost: a.QuietLevel.Or(design.DefaultQuietLevel)}
	if !r.Weighted {
		out.Octaves = octaveWeight
	}
	return out
}

// steeredFrom is the lowest frequency that the stack steers, Hz.
func (s *Study) steeredFrom() float64 { return steered * s.SoundSpeed() / s.Design.Length() }

// quietPlaces stand for each stretch of the quiet zone.
const (
	quietPlaces = 9
	quietHeight = 1.5 // m, a standing adult; common practice, no source
)

// quietZone lists the places that sound is kept off.
func (s *Study) quietZone() []field.Vec {
	a := &s.Design.Audience
	var out []field.Vec
	for i := range a.QuietFrom {
		z := quietHeight
		if i < len(a.QuietHeight) {
			z = a.QuietHeight[i]
		}
		for k := range quietPlaces {
			t := float64(k) / (quietPlaces - 1)
			out = append(out, field.Vec{X: a.QuietFrom[i] + t*(a.QuietTo[i]-a.QuietFrom[i]), Z: z})
		}
	}
	return out
}
