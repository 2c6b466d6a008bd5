package wave

import (
	"math"

	"gapline/internal/numeric"
)

// SlotImpedance returns the mean normalised radiation impedance of a long slot
// of width t in a wide flat wall that moves evenly, for x = kt:
//
//	ζ = x ∫₀¹ (1−s) H0⁽²⁾(x s) ds
//
// (the strip's Green function H0/2 averaged twice over its width; P. M. Morse,
// K. U. Ingard, Theoretical Acoustics, 1968, section 7.4). For small x it is
// x/2 + j(x/π)(3/2 − γ − ln(x/2)). It is 0 at x = 0.
func SlotImpedance(x float64) complex128 {
	if x == 0 {
		return 0
	}
	// s = u³ tames the logarithm at 0; panels follow the waves.
	panels := 1 + int(x/6)
	integral := func(f func(float64) float64) float64 {
		return numeric.Integrate(func(u float64) float64 {
			s := u * u * u
			return 3 * u * u * (1 - s) * f(x*s)
		}, 0, 1, 16, 2*panels)
	}
	return complex(x*integral(math.J0), -x*integral(math.Y0))
}
