package sizing

import (
	"math"

	"gapline/internal/numeric"
)

// PointLineFactor returns the directivity factor of n omnidirectional points in
// phase at the given pitch and wavelength in m:
//
//	Q = N / (1 + (2/N) Σ_{n=1}^{N−1} (N − n) sinc(2np/λ)),  sinc(x) = sin(πx)/(πx)
//
// (Kinsler, Frey, Coppens and Sanders, Fundamentals of Acoustics, on arrays).
// At p = λ/2 it is exactly N.
func PointLineFactor(n int, pitch, lambda float64) float64 {
	sum := 0.0
	for i := 1; i < n; i++ {
		sum += float64(n-i) * numeric.Sinc(2*math.Pi*float64(i)*pitch/lambda)
	}
	return float64(n) / (1 + 2/float64(n)*sum)
}

// ContinuousLineFactor returns the directivity factor of a continuous uniform
// line of the given length and wavelength in m, 1/∫₀¹ sinc²(kLu/2) du.
func ContinuousLineFactor(length, lambda float64) float64 {
	x := math.Pi * length / lambda
	inverse := numeric.Integrate(func(u float64) float64 {
		s := numeric.Sinc(x * u)
		return s * s
	}, 0, 1, 8, panels(length, lambda))
	return 1 / inverse
}

// LineFactor returns the directivity factor of a straight line of n boxes in
// free space from the pattern integral over the sphere,
//
//	1/Q = ∫₀¹ |AF(u)·E(u)/E(0)|² du,  u = sin θ,
//
// which is exact for elements that radiate alike all round the line (points and
// strips); for cones it takes the vertical pattern for all directions round the
// line.
func (ms Mouths) LineFactor(n int, pitch, lambda float64) float64 {
	k := 2 * math.Pi / lambda
	axis := normSquared(ms.Field(0))
	inverse := numeric.Integrate(func(u float64) float64 {
		af := arrayFactor(n, k*pitch*u/2)
		return af * af * normSquared(ms.Field(k*u)) / axis
	}, 0, 1, 8, panels(float64(n)*pitch, lambda))
	return 1 / inverse
}

// panels is the number of eight-point panels for a pattern whose finest lobe is
// λ/L wide in u: each then spans at most two lobes, which leaves errors under
// 1e-6.
func panels(length, lambda float64) int {
	return 2 + int(length/lambda/2)
}

// arrayFactor is sin(Nx)/(N sin x), with its limit at the multiples of π.
func arrayFactor(n int, x float64) float64 {
	s := math.Sin(x)
	if math.Abs(s) < 1e-9 {
		return 1
	}
	return math.Sin(float64(n)*x) / (float64(n) * s)
}

func normSquared(z complex128) float64 { return real(z)*real(z) + imag(z)*imag(z) }
