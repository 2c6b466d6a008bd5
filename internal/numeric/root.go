package numeric

import (
	"errors"
	"fmt"
	"math"
)

// ErrNoBracket says that a function has the same sign at both ends of the
// interval in which a root was sought.
var ErrNoBracket = errors.New("no sign change in the interval")

// maxIterations bounds every iteration in this file; Brent's method needs at
// most a few dozen steps in double precision.
const maxIterations = 200

// Root returns x in [a, b] with f(x) = 0 to within xtol, by Brent's method
// (R. P. Brent, Algorithms for Minimization without Derivatives, 1973, ch. 4).
// It returns ErrNoBracket, wrapped with the interval, when f(a) and f(b) have
// the same sign.
func Root(f func(float64) float64, a, b, xtol float64) (float64, error) {
	fa, fb := f(a), f(b)
	if fa == 0 {
		return a, nil
	}
	if fb == 0 {
		return b, nil
	}
	if !(fa*fb < 0) {
		return Absent, fmt.Errorf("root between %g and %g: %w", a, b, ErrNoBracket)
	}
	c, fc := a, fa
	d := b - a
	e := d
	for range maxIterations {
		if math.Abs(fc) < math.Abs(fb) {
			a, b, c = b, c, b
			fa, fb, fc = fb, fc, fb
		}
		tol := 2*epsilon*math.Abs(b) + xtol/2
		m := (c - b) / 2
		if math.Abs(m) <= tol || fb == 0 {
			return b, nil
		}
		d, e = brentStep(a, b, c, fa, fb, fc, d, e, m, tol)
		a, fa = b, fb
		if math.Abs(d) > tol {
			b += d
		} else {
			b += math.Copysign(tol, m)
		}
		fb = f(b)
		if (fb > 0) == (fc > 0) {
			c, fc = a, fa
			d = b - a
			e = d
		}
	}
	return b, nil
}

// epsilon is the spacing of float64 at 1.
const epsilon = 0x1p-52

// brentStep chooses the next step: inverse quadratic or linear interpolation
// when it is safe, bisection when it is not. It returns the step and the one
// before it.
func brentStep(a, b, c, fa, fb, fc, d, e, m, tol float64) (step, previous float64) {
	if math.Abs(e) < tol || math.Abs(fa) <= math.Abs(fb) {
		return m, m
	}
	var p, q float64
	s := fb / fa
	if a == c {
		p, q = 2*m*s, 1-s
	} else {
		q = fa / fc
		r := fb / fc
		p = s * (2*m*q*(q-r) - (b-a)*(r-1))
		q = (q - 1) * (r - 1) * (s - 1)
	}
	if p > 0 {
		q = -q
	} else {
		p = -p
	}
	if 2*p < math.Min(3*m*q-math.Abs(tol*q), math.Abs(e*q)) {
		return p / q, d
	}
	return m, m
}

// Minimum returns the abscissa of a minimum of f inside [a, b] to within xtol,
// by golden-section search. f should have one minimum there; with several, one
// of them is found.
func Minimum(f func(float64) float64, a, b, xtol float64) float64 {
	const g = 0.6180339887498949 // (√5 − 1)/2
	x1, x2 := b-g*(b-a), a+g*(b-a)
	f1, f2 := f(x1), f(x2)
	for range maxIterations {
		if b-a <= xtol {
			break
		}
		if f1 < f2 {
			b, x2, f2 = x2, x1, f1
			x1 = b - g*(b-a)
			f1 = f(x1)
		} else {
			a, x1, f1 = x1, x2, f2
			x2 = a + g*(b-a)
			f2 = f(x2)
		}
	}
	return (a + b) / 2
}

// FirstCrossing scans f at the abscissae a, a+h, … up to b and refines the
// first sign change with Root. ok is false when there is none.
func FirstCrossing(f func(float64) float64, a, b, h, xtol float64) (x float64, ok bool) {
	n := int(math.Ceil((b - a) / h))
	x0, f0 := a, f(a)
	for i := 1; i <= n; i++ {
		x1 := math.Min(a+float64(i)*h, b)
		f1 := f(x1)
		if (f0 < 0) != (f1 < 0) {
			r, err := Root(f, x0, x1, xtol)
			return r, err == nil
		}
		x0, f0 = x1, f1
	}
	return Absent, false
}
