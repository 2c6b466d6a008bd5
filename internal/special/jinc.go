package special

import "math"

// Jinc returns 2J₁(x)/x, with Jinc(0) = 1: the far field of a circular piston
// at x = ka·sin θ.
func Jinc(x float64) float64 {
	if math.Abs(x) < 1 {
		return 1 - JincComplement(x)
	}
	return 2 * math.J1(x) / x
}

// JincComplement returns 1 − 2J₁(x)/x without the cancellation that the plain
// difference has at small x: the radiation resistance of a circular piston at
// x = 2ka. Below |x| = 1 it sums
//
//	Σ_{m≥1} (−1)^{m+1} (x/2)^{2m}/(m!(m+1)!)
func JincComplement(x float64) float64 {
	if math.Abs(x) >= 1 {
		return 1 - 2*math.J1(x)/x
	}
	q := x * x / 4
	term, sum := q/2, q/2
	for m := 2.0; m <= 8; m++ {
		term *= -q / (m * (m + 1))
		sum += term
	}
	return sum
}
