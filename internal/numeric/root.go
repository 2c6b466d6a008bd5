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
	if math.Signbit(fa) == math.Signbit(fb) || math.IsNaN(fa) || math.IsNaN(fb) {
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

// golden divides an interval so that the greater part is to the whole as the smaller to the
// greater: (3 − √5)/2.
const golden = 0.3819660112501051

// Minimum returns the abscissa of a minimum of f inside [a, b] to within xtol,
// by Brent's parabolic interpolation with golden-section safeguard (Brent 1973,
// ch. 5). f should have one minimum there; with several, one of them is found.
func Minimum(f func(float64) float64, a, b, xtol float64) float64 {
	x := a + golden*(b-a)
	w, v := x, x
	fx := f(x)
	fw, fv := fx, fx
	var d, e float64
	for range maxIterations {
		tol := 1e-9*math.Abs(x) + xtol/4
		if max(x-a, b-x) <= 2*tol {
			break
		}
		p, q := parabola(x, w, v, fx, fw, fv)
		d, e = minimumStep(a-x, b-x, p, q, d, e, tol)
		u := x + d
		if math.Abs(d) < tol {
			u = x + math.Copysign(tol, d)
		}
		fu := f(u)
		switch {
		case fu <= fx:
			if u < x {
				b = x
			} else {
				a = x
			}
			v, w, x = w, x, u
			fv, fw, fx = fw, fx, fu
		default:
			if u < x {
				a = u
			} else {
				b = u
			}
			if fu <= fw || w == x {
				v, w, fv, fw = w, u, fw, fu
			} else if fu <= fv || v == x || v == w {
				v, fv = u, fu
			}
		}
	}
	return x
}

// minimumStep chooses the next step from the best point, of which the ends of the interval lie at
// low and high: to the vertex p/q of a parabola when it is safe, a golden section of the wider
// side when it is not. It returns the step and the one before it.
func minimumStep(low, high, p, q, d, e, tol float64) (step, previous float64) {
	wide := high
	if -low >= high {
		wide = low
	}
	if !(math.Abs(e) > tol && math.Abs(p) < q*math.Abs(e)/2 && p > q*low && p < q*high) {
		return golden * wide, wide
	}
	// Too close to an end the value says nothing new; the wider side does.
	step = p / q
	if step-low < 2*tol || high-step < 2*tol {
		step = math.Copysign(tol, wide)
	}
	return step, d
}

// parabola returns the step p/q from x to the vertex of the parabola through
// three points, with q positive.
func parabola(x, w, v, fx, fw, fv float64) (p, q float64) {
	r := (x - w) * (fx - fv)
	q = (x - v) * (fx - fw)
	p = (x-v)*q - (x-w)*r
	q = 2 * (q - r)
	if q > 0 {
		return -p, q
	}
	return p, -q
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
