package hankel

import "math"

// RegularY1 returns Y1(z) + 2/(πz), which tends to 0 with z. Below z = 2 the
// power series is summed (DLMF 10.8.1), so nothing cancels.
func RegularY1(z float64) float64 {
	if z > 2 {
		return math.Y1(z) + 2/(math.Pi*z)
	}
	// Y1 + 2/(πz) = (2/π) ln(z/2) J1 − (1/π) Σ (ψ(n+1)+ψ(n+2)) (−q)^n (z/2)/(n!(n+1)!),
	// q = z²/4, ψ(n+1) = H_n − γ.
	const terms = 12 // q^12/(12! 13!) < 1e-18
	half, q := z/2, z*z/4
	term, j1, sum, harmonic := half, 0.0, 0.0, 0.0
	for n := 0.0; n < terms; n++ {
		j1 += term
		sum += term * (2*harmonic + 1/(n+1) - 2*eulerGamma)
		harmonic += 1 / (n + 1)
		term *= -q / ((n + 1) * (n + 2))
	}
	if z == 0 {
		return 0
	}
	return (2*math.Log(half)*j1 - sum) / math.Pi
}
