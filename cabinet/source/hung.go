package source

import (
	"math"
	"math/cmplx"
	"slices"

	"gapline/cabinet/field"
	"gapline/cabinet/pattern"
	"gapline/internal/numeric"
)

// PatternKind is where the pattern of a box comes from.
type PatternKind uint8

// The kinds.
const (
	ByWave     PatternKind = iota // a solution in space
	ByMeasured                    // polars that were measured on one box
	patternKinds
)

var patternKindNames = [patternKinds]string{ByWave: "wave", ByMeasured: "measured"}

func (k PatternKind) String() string { return patternKindNames[k] }

// Pattern is what one box radiates all round for a band, in place of the band's ideal mouths.
type Pattern struct {
	Kind PatternKind
	Band string // empty: polars of the whole box, which serve every band
	Of   *pattern.Pattern
	// FromMouths says that its phases count from the middle of all mouths of the box; else
	// from the middle of its front.
	FromMouths bool
	Boxes      int // it is the middle one of so many; 0 and 1: a box by itself
	// Volts at the terminals of the box, for which the levels of Of are those of the band in
	// the open; NaN: Of has no level, and the band keeps its own on the axis.
	Volts float64
	Name  string // of the run or the folder, in words
	// Predicted says that what is given as measured is what a program predicted.
	Predicted bool
	Notes     []string
}

// Range is that in which the pattern has all of the sound, Hz.
func (p *Pattern) Range() (low, high float64) {
	return p.Of.Frequency[0], p.Of.Frequency[len(p.Of.Frequency)-1]
}

// Mouths is the range outside which the mouths have all of the sound, Hz.
func (p *Pattern) Mouths() (below, above float64) {
	low, high := p.Range()
	return low / math.Exp2(pattern.FadeOctaves), high * math.Exp2(pattern.FadeOctaves)
}

// hung is a pattern as the field takes it: 1 ahead, for the strength of one mouth in phase.
type hung struct {
	*pattern.Pattern
	factor func(hz float64) complex128
}

// Sampler is that of the pattern for the strength of the drive.
func (h *hung) Sampler(hz []float64) func(direction field.Vec, re, im []float64) {
	of := h.Pattern.Sampler(hz)
	factor := make([]complex128, len(hz))
	for i, f := range hz {
		factor[i] = h.factor(f)
	}
	return func(u field.Vec, re, im []float64) {
		of(u, re, im)
		for i, x := range factor {
			p := complex(re[i], im[i]) * x
			re[i], im[i] = real(p), imag(p)
		}
	}
}

// patterns finds the pattern of each band, if it has one.
func (b *builder) patterns() {
	var all []field.Mouth
	for i := range b.model.Bands {
		all = append(all, b.model.Bands[i].Mouths...)
	}
	b.mouths = middle(all)
	for i := range b.model.Bands {
		for k := range b.choice.Patterns {
			if p := &b.choice.Patterns[k]; p.Band == "" || p.Band == b.model.Bands[i].Name {
				b.model.Bands[i].Pattern = p
			}
		}
	}
}

// countedFrom is the place that a pattern's phases count from, m.
func (b *builder) countedFrom(p *Pattern) field.Vec {
	if !p.FromMouths {
		return field.Vec{}
	}
	return b.mouths
}

// edges works out what the cabinet does to the level of a band whose circuit is known and whose
// pattern has a level: the pressure ahead in the open over that in half space. Below the
// pattern's range that of its lowest frequency stays; above it fades as the pattern does.
//
// In a stack the level of a box by itself is not taken: solved together, five of an invented box have
// 3.4, 3.0 and 2.4 dB more ahead at 160, 200 and 250 Hz than five hung by themselves, which
// is farther off than half space is; the middle one of three is within 0.7 dB there.
func (b *builder) edges(band *Band) {
	p := band.Pattern
	if p == nil || band.Circuit == nil || !numeric.Given(p.Volts) || p.Boxes <= 1 && b.design.Line.Boxes > 1 {
		return
	}
	hz := p.Of.Frequency
	level, phase := make([]float64, len(hz)), make([]float64, len(hz))
	for i, x := range p.Of.From(middle(band.Mouths).Sub(b.countedFrom(p)), b.air.SoundSpeed).Axis() {
		ratio := x / (band.Circuit.At(hz[i], p.Volts).Pressure * band.Circuit.FrontShare(hz[i])) // vents stand still in a run
		level[i], phase[i] = math.Log(cmplx.Abs(ratio)), cmplx.Phase(ratio)
		if i > 0 {
			phase[i] = phase[i-1] + math.Remainder(phase[i]-phase[i-1], 2*math.Pi)
		}
	}
	fade := p.Of.Share
	band.Edges = func(f float64) complex128 {
		l, ph := along(hz, level, f), along(hz, phase, f)
		if f > hz[len(hz)-1] {
			l, ph = l*fade(f), ph*fade(f)
		}
		return cmplx.Rect(math.Exp(l), ph)
	}
}

// along interpolates on straight lines over frequency, and holds the ends.
func along(hz, y []float64, f float64) float64 {
	for i, at := range hz {
		if f <= at {
			if i == 0 {
				return y[0]
			}
			return y[i-1] + (y[i]-y[i-1])*(f-hz[i-1])/(at-hz[i-1])
		}
	}
	return y[len(y)-1]
}

// OnAxis is the pressure of one box on its axis at 1 m without the crossover, in Pa or relative to one
// box: Response with what the edges of the cabinet do.
func (b *Band) OnAxis(hz float64) complex128 {
	if b.Edges == nil {
		return b.Response(hz)
	}
	return b.Response(hz) * b.Edges(hz)
}

// hangPattern puts a band's pattern in place of its mouths.
func (b *builder) hangPattern(band *Band, drive *field.Drive) {
	p := band.Pattern
	if p == nil || b.choice.HalfSpace {
		return
	}
	c, mouths, mouth := b.air.SoundSpeed, complex(float64(len(band.Mouths)), 0), band.Mouths[0]
	from, own := b.countedFrom(p), middle(band.Mouths)
	drive.From = own
	late := 0.0 // of the mouths behind the place that a pattern of the whole box counts from, m
	if p.Band == "" {
		drive.From, late = from, from.X-own.X
	}
	drive.Box = &hung{p.Of.From(drive.From.Sub(from), c).OnAxis(), func(hz float64) complex128 {
		return mouths * mouth.AxisFactor(hz, c) * cmplx.Rect(1, -2*math.Pi*hz/c*late)
	}}
}

// middle is the mean place of mouths, m; that of none is the middle of the front.
func middle(mouths []field.Mouth) field.Vec {
	var out field.Vec
	for _, m := range mouths {
		out = out.Add(m.Position.Scale(1 / float64(len(mouths))))
	}
	return out
}

// Patterned reports whether any band radiates by the pattern of its box.
func (m *Model) Patterned() bool {
	return slices.ContainsFunc(m.Bands, func(b Band) bool { return b.Pattern != nil })
}

// InHalfSpace reports whether the model has woofers whose levels are those of a box in a wall.
func (m *Model) InHalfSpace() bool {
	i := m.Band(Woofers)
	return i >= 0 && m.Absolute && m.Bands[i].Edges == nil
}
