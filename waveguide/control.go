package waveguide

import (
	"math"

	"gapline/internal/numeric"
	"gapline/internal/quantity"
)

// KeeleFrequency returns the trade's rule for the lowest frequency in Hz at
// which a horn holds its coverage: 10⁶/(W·θ) with the mouth width W in inches
// and the coverage θ in degrees (D. B. Keele Jr., "What's so sacred about
// exponential horns?", AES 51st Convention, 1975, preprint 1038). Arguments are
// in m and rad.
func KeeleFrequency(width, coverage float64) float64 {
	return keeleMetreDegree / (width * coverage * 180 / math.Pi)
}

// keeleMetreDegree is the rule's constant, 10⁶ inch·degree·Hz, in
// metre·degree·Hz.
const keeleMetreDegree = 1e6 * quantity.OneInch

// Control says how a mouth's -6 dB width behaves where it meets the coverage.
type Control struct {
	Frequency         float64 // lowest f at which the width first equals the coverage, Hz
	Narrowest         float64 // width at the first minimum above it, rad
	NarrowestAt       float64 // frequency of that minimum, Hz
	WidthInWavelength float64 // W/λ at Frequency
}

// FindControl solves the aperture integral of CoverageAperture for the control
// frequency and for the narrowing that follows it. coverage is the full angle
// in rad, between 0 and π; width is in m and c in m/s. Every field is NaN where
// the mouth does not narrow to the coverage before its beam breaks up, which is
// so from 165° on.
//
// With uniform amplitude the beam does not stop at the coverage: it dips to a
// waist near twice the control frequency before it returns.
func FindControl(width, coverage, c float64) Control {
	if !(coverage > 0 && coverage < math.Pi && width > 0) {
		return absentControl
	}
	q := controlWidth(coverage)
	if !numeric.Given(q) {
		return absentControl
	}
	qWaist, halfSine := waist(coverage, q)
	unit := Control{
		Frequency:         q,
		WidthInWavelength: q,
		NarrowestAt:       qWaist,
		Narrowest:         2 * math.Asin(halfSine),
	}
	return unit.Scale(width, c)
}

// Scale turns the control of a mouth 1 m wide at c = 1 m/s into that of another
// width in m and speed of sound in m/s: only the coverage shapes the pattern.
func (k Control) Scale(width, c float64) Control {
	k.Frequency *= c / width
	k.NarrowestAt *= c / width
	return k
}

// ControlFrequency returns the Frequency of FindControl alone, which costs a
// fifth of the whole.
func ControlFrequency(width, coverage, c float64) float64 {
	if !(coverage > 0 && coverage < math.Pi && width > 0) {
		return numeric.Absent
	}
	return controlWidth(coverage) * c / width
}

var absentControl = Control{numeric.Absent, numeric.Absent, numeric.Absent, numeric.Absent}

// flatControlWidth is the root of sin(πq)/(πq) = 10^(-6/20): a flat mouth is
// -6 dB down at the angle whose sine is flatControlWidth·λ/W.
var flatControlWidth = flatRoot()

func flatRoot() float64 {
	f := func(q float64) float64 { return numeric.Sinc(math.Pi*q) - minusSixDB }
	q, _ := numeric.Root(f, 0.5, 0.7, 1e-15) // brackets by inspection
	return q
}

// controlWidth returns W/λ at which the level at half the coverage angle first
// falls to -6 dB. A flat front gets there first, since curvature widens the
// beam, so its closed form is the lower end of the bracket.
func controlWidth(coverage float64) float64 {
	sine := math.Sin(coverage / 2)
	apex := 1 / (2 * math.Tan(coverage/2))
	var s strip
	f := func(q float64) float64 {
		s.set(q, apex, sine)
		return s.excess(sine, s.axial())
	}
	flat := flatControlWidth / sine
	q, ok := numeric.FirstCrossing(f, 0.999*flat, 1.6*flat, 0.06*flat, 1e-12*flat)
	if !ok {
		return numeric.Absent
	}
	return q
}

// waistSteps is the number of steps in W/λ, a factor waistStep apart, within
// which the first minimum of the width is looked for; it lies near twice the
// control width.
const (
	waistSteps = 16
	waistStep  = 1.12
)

// waist returns W/λ and the sine of the half width at the first minimum of the
// -6 dB width above the control width q.
func waist(coverage, q float64) (qWaist, halfSine float64) {
	apex := 1 / (2 * math.Tan(coverage/2))
	var s strip
	half := math.Sin(coverage / 2)
	width := func(q float64) float64 {
		s.set(q, apex, math.Min(1, 1.5*half))
		// Start a little inside the neighbour's half width: two or three steps
		// then bracket the crossing.
		w := s.halfBeamNear(half)
		if math.IsNaN(w) {
			return 1 // past the waist a wide mouth may not reach -6 dB at all
		}
		half = w
		return w
	}
	before, here := q, q*waistStep
	wBefore, wHere := width(before), width(here)
	if wHere > wBefore {
		// Near 160° the whole dip lies within the first step.
		qWaist = numeric.Minimum(width, before, here, 1e-6*here)
		return qWaist, width(qWaist)
	}
	for range waistSteps {
		next := here * waistStep
		wNext := width(next)
		if wHere <= wBefore && wHere <= wNext {
			qWaist = numeric.Minimum(width, before, next, 1e-6*here)
			return qWaist, width(qWaist)
		}
		before, here, wBefore, wHere = here, next, wHere, wNext
	}
	return numeric.Absent, numeric.Absent
}

// halfBeamNear is halfBeam for a strip whose first crossing is known to lie
// near guess: it brackets outward from there and falls back on the full scan.
func (s *strip) halfBeamNear(guess float64) float64 {
	axial := s.axial()
	f := func(x float64) float64 { return s.excess(x, axial) }
	lo, hi := 0.9*guess, math.Min(1, 1.1*guess)
	if f(lo) > 0 && f(hi) < 0 {
		x, err := numeric.Root(f, lo, hi, 1e-12)
		if err == nil {
			return x
		}
	}
	return s.halfBeam()
}
