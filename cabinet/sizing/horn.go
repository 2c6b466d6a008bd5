package sizing

import (
	"gapline/cabinet/design"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/waveguide"
)

// HornSizing is how low the horn holds its pattern and how flat its front is.
type HornSizing struct {
	ExitWidth       float64 // with side flares, m
	ExitCoverage    float64 // rad
	PatternRule     float64 // Hz
	PatternComputed float64 // Hz
	Narrowest       float64 // rad
	NarrowestAt     float64 // Hz
	Cutoff          float64 // Hz
	Lower           float64 // on the gap's basis, Hz
	DriverLowest    float64 // of the design, Hz
	Path            float64 // m
	Sagitta         float64 // m
	FlatTo          float64 // Hz
	FlatLobe        float64 // Hz
	Share           float64
	RuleDeviation   float64 // PatternRule over PatternComputed, less 1
	FlaresFilled    float64 // frequency to which a flat front fills the side flares, Hz

	// Of the loading; only a study of the horn works them out.
	Ripple        float64 // of the throat resistance above Lower, dB
	HalfLoaded    float64 // from here on the throat takes half of a plane wave's power, Hz
	EfficiencyLow float64 // at Lower
}

// hornInput is what the horn's pattern, flare and share depend on.
type hornInput struct {
	coverage, mouthWidth, mouthHeight float64 // rad, m, m
	sides                             waveguide.Flares
	throat, length, family, lowest    float64 // as of a waveguide.Horn
	profile                           waveguide.Profile
	distances, areas                  list[float64]
	pitch, c                          float64 // m, m/s
	basis                             design.Basis
}

// horn is the horn as package waveguide takes it.
func (in *hornInput) horn() waveguide.Horn {
	h := waveguide.Horn{}
	h.Coverage, h.MouthWidth, h.MouthHeight, h.Sides = optional.Of(in.coverage), optional.Of(in.mouthWidth), optional.Of(in.mouthHeight), in.sides
	h.Throat, h.Length, h.Family, h.Lowest, h.Profile = optional.Of(in.throat), optional.Of(in.length), optional.Of(in.family), optional.Of(in.lowest), in.profile
	h.Distances, h.Areas = items(in.distances), items(in.areas)
	return h
}

// hornStage sizes horns: all of a HornSizing but the front.
type hornStage struct {
	last    remembered[hornInput, HornSizing]
	pattern patternMemory
	curve   *patternCurve // takes the place of pattern; nil: none
}

// control is the pattern control of a unit mouth.
func (z *hornStage) control(coverage float64) waveguide.Control {
	if z.curve != nil {
		return z.curve.of(coverage)
	}
	return z.pattern.of(coverage)
}

func (z *hornStage) size(in hornInput) *HornSizing {
	return z.last.of(in, func(in hornInput) HornSizing {
		h := in.horn()
		return sizeHorn(&h, z.control(h.ExitCoverage()), &in)
	})
}

// sizeHorn takes the pattern control of a unit mouth, which depends on the
// coverage alone, and scales it.
func sizeHorn(h *waveguide.Horn, unit waveguide.Control, in *hornInput) HornSizing {
	width, coverage := h.ExitWidth(), h.ExitCoverage()
	control := unit.Scale(width, in.c)
	s := HornSizing{
		ExitWidth:       width,
		ExitCoverage:    coverage,
		PatternRule:     waveguide.KeeleFrequency(width, coverage),
		PatternComputed: control.Frequency,
		Narrowest:       control.Narrowest,
		NarrowestAt:     control.NarrowestAt,
		Cutoff:          h.Cutoff(in.c),
		DriverLowest:    in.lowest,
		Share:           h.MouthHeight.Value() / in.pitch,
		FlatLobe:        numeric.Absent,
		RuleDeviation:   waveguide.KeeleFrequency(width, coverage)/control.Frequency - 1,
		FlaresFilled:    h.FlaresFilledTo(in.c),
		Ripple:          numeric.Absent,
		HalfLoaded:      numeric.Absent,
		EfficiencyLow:   numeric.Absent,
	}
	s.Lower = h.LowerLimit(in.basis.Choose(s.PatternRule, s.PatternComputed), s.Cutoff)
	return s
}

// patternMemory is the memory of the pattern stage. It keeps the control of each
// coverage, not of the last one alone: it costs the most of all stages, and a sweep
// over two keys meets each coverage many times.
type patternMemory map[float64]waveguide.Control

// mostCoverages bounds a patternMemory.
const mostCoverages = 4096

// of returns the pattern control of a mouth of 1 m at c = 1 m/s for the coverage in
// rad.
func (m *patternMemory) of(coverage float64) waveguide.Control {
	k, ok := (*m)[coverage]
	if !ok {
		k = waveguide.FindControl(1, coverage, 1)
		if *m == nil || len(*m) >= mostCoverages {
			*m = patternMemory{}
		}
		(*m)[coverage] = k
	}
	return k
}
