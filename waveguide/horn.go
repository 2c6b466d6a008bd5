package waveguide

import (
	"fmt"
	"math"

	"gapline/internal/numeric"
	"gapline/internal/optional"
)

// Horn is the horn as a design gives it.
//
//	quantity                     symbol  field
//	coverage, full angle         θ       Coverage     rad
//	mouth width                  W       MouthWidth   m
//	mouth height                 h       MouthHeight  m
//	path from apex to mouth      L       PathLength   m, +Inf for a flat front
//	throat diameter              D_t     Throat       m
//	horn length                  l       Length       m
//	family parameter             T       Family       of the hyperbolic profile
//	lowest crossover of the compression driver   Lowest  Hz
//	profile by points: distances from the throat  Distances  m
//	areas at those distances                      Areas      m²
//	side flares in front of the mouth             Sides
type Horn struct {
	Coverage    optional.Float
	MouthWidth  optional.Float
	MouthHeight optional.Float
	PathLength  optional.Float
	Throat      optional.Float
	Profile     Profile
	Length      optional.Float
	Family      optional.Float
	Lowest      optional.Float
	Distances   []float64
	Areas       []float64
	Sides       Flares
}

// FlareMargin is how far above the flare's cutoff a horn is used: common
// practice, no source.
const FlareMargin = 1.2

// HasPoints reports whether the horn gives a list of distances or areas.
func (h Horn) HasPoints() bool { return len(h.Distances)+len(h.Areas) > 0 }

// byPoints pairs the distances with the areas.
func (h *Horn) byPoints() (AreaLaw, error) {
	if len(h.Distances) != len(h.Areas) {
		return nil, fmt.Errorf("horn.distances has %d entries and horn.areas %d; they go in pairs", len(h.Distances), len(h.Areas))
	}
	points := make([]AreaPoint, len(h.Areas))
	for i := range points {
		points[i] = AreaPoint{h.Distances[i], h.Areas[i]}
	}
	return NewAreaList(points)
}

// ThroatArea is the area of the throat in m²: of the given circle, or the first
// of a profile by points.
func (h Horn) ThroatArea() float64 {
	if h.profile() == ByPoints && len(h.Areas) > 0 {
		return h.Areas[0]
	}
	return math.Pi * h.Throat.Value() * h.Throat.Value() / 4
}

// MouthLoad is the radiation of the mouth: that of its rectangle where width and
// height are given, else that of a circle.
func (h Horn) MouthLoad() MouthLoad {
	load, err := RectangularMouth(h.MouthHeight.Value() / h.MouthWidth.Value())
	if err != nil {
		return RoundMouth
	}
	return load
}

// Cutoff returns the cutoff frequency in Hz of the horn's flare, NaN when the
// profile has none (conical) or the data do not suffice.
//
//	exponential  m c/(4π), m = ln(S_m/S_t)/l        (Webster 1919)
//	hyperbolic   c/(2π x₀), √(S_m/S_t) = cosh(l/x₀) + T sinh(l/x₀)   (Salmon 1946)
//	catenoidal   the same with T = 0
//	tractrix     c/(2π a), a the mouth's radius
func (h Horn) Cutoff(c float64) float64 {
	flare, err := h.Flare()
	if err != nil {
		return numeric.Absent
	}
	return flare.Cutoff(c)
}

// LowerLimit returns the frequency in Hz down to which the horn can be used:
// the highest of the pattern control given, FlareMargin times the flare cutoff,
// and the compression driver's lowest crossover. NaN entries are passed over;
// without a pattern figure the result is NaN, because a lower limit that
// ignores the pattern would be too good.
func (h Horn) LowerLimit(pattern, cutoff float64) float64 {
	f := pattern
	if numeric.Given(cutoff) {
		f = math.Max(f, FlareMargin*cutoff)
	}
	if h.Lowest.Given() {
		f = math.Max(f, h.Lowest.Value())
	}
	return f
}
