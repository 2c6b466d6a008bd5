package waveguide

import (
	"math"

	"gapline/internal/numeric"
)

// Horn is the horn as a design gives it. NaN marks what was not given.
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
type Horn struct {
	Coverage    float64
	MouthWidth  float64
	MouthHeight float64
	PathLength  float64
	Throat      float64
	Profile     string // one of Profiles, or empty
	Length      float64
	Family      float64
	Lowest      float64
}

// The horn profiles a design may name.
const (
	Conical     = "conical"
	Exponential = "exponential"
	Hyperbolic  = "hyperbolic"
	Tractrix    = "tractrix"
)

// Profiles lists the profile names.
var Profiles = []string{Conical, Exponential, Hyperbolic, Tractrix}

// FlareMargin is how far above the flare's cutoff a horn is used: common
// practice, no source.
const FlareMargin = 1.2

// Cutoff returns the cutoff frequency in Hz of the horn's flare, NaN when the
// profile has none (conical) or the data do not suffice.
//
//	exponential  m c/(4π), m = ln(S_m/S_t)/l        (Webster 1919)
//	hyperbolic   c/(2π x₀), √(S_m/S_t) = cosh(l/x₀) + T sinh(l/x₀)   (Salmon 1946)
//	tractrix     c/(2π a), a the mouth's radius
//
// S_m is the mouth's width times its height, S_t the throat's circle.
func (h Horn) Cutoff(c float64) float64 {
	mouth := h.MouthWidth * h.MouthHeight
	throat := math.Pi * h.Throat * h.Throat / 4
	switch h.Profile {
	case Exponential:
		return math.Log(mouth/throat) / h.Length * c / (4 * math.Pi)
	case Hyperbolic:
		return c / (2 * math.Pi) * hyperbolicRate(math.Sqrt(mouth/throat), h.familyOrDefault()) / h.Length
	case Tractrix:
		return c / (2 * math.Pi * math.Sqrt(mouth/math.Pi))
	}
	return numeric.Absent
}

// familyOrDefault is T, by default 0.6: between catenoidal (0) and exponential
// (1), the usual choice for loading near cutoff (common practice, no source).
func (h Horn) familyOrDefault() float64 {
	if numeric.Given(h.Family) {
		return h.Family
	}
	return 0.6
}

// hyperbolicRate solves cosh u + T sinh u = ratio for u = l/x₀; with
// y = eᵘ it is the quadratic (1+T) y² − 2·ratio·y + (1−T) = 0.
func hyperbolicRate(ratio, family float64) float64 {
	return math.Log((ratio + math.Sqrt(ratio*ratio+family*family-1)) / (1 + family))
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
	if numeric.Given(h.Lowest) {
		f = math.Max(f, h.Lowest)
	}
	return f
}
