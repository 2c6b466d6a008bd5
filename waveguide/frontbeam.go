package waveguide

import (
	"math"
	"math/cmplx"

	"gapline/internal/numeric"
)

// FrontBeam returns the angles in rad, below and above the axis, at which one
// mouth of the height h in m with the given front first falls to -6 dB of its
// level on the axis, at the frequency f in Hz. Either is NaN where the level
// stays above that to 90°. The difference is the -6 dB width.
//
// It is the aperture integral of a strip in a baffle, as for Aperture, with the
// front's own lag and amplitude.
func FrontBeam(front MouthFront, h, c, f float64) (below, above float64) {
	s := StackFront{Count: 1, Pitch: h, Height: h, Front: front, SoundSpeed: c}
	e := s.element(2 * math.Pi * f / c)
	edge := minusSixDB * cmplx.Abs(e.at(0))
	// Lobes are λ/h wide in the sine: an eighth of that cannot step over the
	// first crossing.
	step := math.Min(1.0/16, c/(f*h)/8)
	side := func(sign float64) float64 {
		over := func(u float64) float64 { return cmplx.Abs(e.at(sign*u)) - edge }
		u, ok := numeric.FirstCrossing(over, 0, 1, step, 1e-12)
		if !ok {
			return numeric.Absent
		}
		return sign * math.Asin(u)
	}
	return side(-1), side(1)
}
