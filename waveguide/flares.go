package waveguide

import (
	"math"

	"gapline/internal/numeric"
	"gapline/internal/optional"
)

// Flares are straight side walls in front of the horn's mouth, with or without
// splitters between them. They widen the horizontal exit and leave the vertical
// front alone.
//
// Model: the walls stand at ±θ/2 and start at the mouth's sides, so that the exit
// is an aperture of its own width with a circular front about the apex of the
// walls. Each splitter is a wedge that is SplitterWidth wide at the exit and moves
// the channels beside it apart by that much; the dead strip in front of it is
// left out of the pattern.
type Flares struct {
	Length        optional.Float // of the walls along the axis, m; not given: no flares
	Angle         optional.Float // θ, full angle between the outer walls, rad; not given: the horn's coverage
	Splitters     int            // walls between the outer ones
	SplitterWidth optional.Float // of one splitter at the exit, m; default 0
}

// Given reports whether there are flares.
func (f Flares) Given() bool { return f.Length.Given() }

// ExitWidth is the width in m through which the horn radiates: the mouth's, or
// with flares of length l, angle θ and n splitters of width t
//
//	W + 2 l tan(θ/2) + n t
func (h Horn) ExitWidth() float64 {
	if !h.Sides.Given() {
		return h.MouthWidth.Value()
	}
	return h.MouthWidth.Value() + 2*h.Sides.Length.Value()*math.Tan(h.ExitCoverage()/2) +
		float64(h.Sides.Splitters)*h.Sides.SplitterWidth.Or(0)
}

// ExitCoverage is the full angle in rad that the exit is to cover: that between
// the flares, or the horn's coverage.
func (h Horn) ExitCoverage() float64 {
	if h.Sides.Given() {
		return h.Sides.Angle.Or(h.Coverage.Value())
	}
	return h.Coverage.Value()
}

// Exit is the horizontal aperture of the horn with its flares.
func (h Horn) Exit() Aperture { return CoverageAperture(h.ExitWidth(), h.ExitCoverage()) }

// FlaresFilledTo is the frequency in Hz up to which a flat front in the mouth
// spreads out to fill the flares. Each of the n + 1 channels starts as a slot of
// width W/(n+1) that has to fill the angle θ/(n+1); a flat slot is -6.000 dB
// down at its half when
//
//	f = 0.60248 c/(w sin(θ_c/2))
//
// Splitters raise it about as the square of the channels. A front that enters
// already curved is not bound by it. NaN without flares.
func (h Horn) FlaresFilledTo(c float64) float64 {
	if !h.Sides.Given() {
		return numeric.Absent
	}
	channels := float64(h.Sides.Splitters + 1)
	return flatControlWidth * c / (h.MouthWidth.Value() / channels * math.Sin(h.ExitCoverage()/channels/2))
}
