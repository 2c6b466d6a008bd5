package field

import (
	"math"
	"math/cmplx"
	"testing"

	"gapline/internal/numeric"
	"gapline/internal/reftable"
)

// patternByIntegral is the mean that each pattern is defined by, by quadrature.
func patternByIntegral(p pattern, x float64) float64 {
	mean := func(weight func(rho2, t float64) complex128) complex128 {
		var sum complex128
		if p <= lineBend {
			r := numeric.Legendre(60)
			for i, t := range r.X {
				sum += complex(r.W[i]/2, 0) * weight(0, t) * cmplx.Exp(complex(0, x*t))
			}
			return sum
		}
		// Disc in polar coordinates; the mean over angle is a trapezoid.
		r := numeric.Legendre(40)
		const n = 128
		for i, s := range r.X {
			rho := (1 + s) / 2
			for j := range n {
				t := rho * math.Cos(2*math.Pi*float64(j)/n)
				sum += complex(r.W[i]*rho/n, 0) * weight(rho*rho, t) * cmplx.Exp(complex(0, x*t))
			}
		}
		return sum
	}
	switch p {
	case lineOdd, discOdd:
		return imag(mean(func(_, t float64) complex128 { return complex(t, 0) }))
	case lineBend:
		return real(mean(func(_, t float64) complex128 { return complex(t*t-1.0/3, 0) }))
	case discBend:
		return real(mean(func(_, t float64) complex128 { return complex(t*t-0.25, 0) }))
	case discRing:
		return real(mean(func(rho2, _ float64) complex128 { return complex(rho2-0.5, 0) }))
	}
	return real(mean(func(_, _ float64) complex128 { return 1 }))
}

// The tables are good to 2e-7, everywhere and beyond their end.
func TestPatternsAgainstTheirIntegrals(t *testing.T) {
	const tol = 2e-7
	all := tables()
	for p := range patterns {
		for _, x := range []float64{-3.3, 0, 1e-3, 0.06, 0.4999, 0.5001, 1, 2.77, 5.1, 9.96, 20.03, 40.01} {
			got, want := all.lookup(p, x), patternByIntegral(p, x)
			if math.Abs(got-want) > tol {
				t.Errorf("pattern %d at %g = %.10g, want %.10g", p, x, got, want)
			}
		}
		edge := float64(tableRange)
		if d := math.Abs(all.lookup(p, edge-1e-9) - all.lookup(p, edge+1e-9)); d > tol {
			t.Errorf("pattern %d has a step of %g at the end of its table", p, d)
		}
	}
}

func TestDirectivityTables(t *testing.T) {
	all := tables()
	for _, r := range reftable.Read(t, "piston_directivity") {
		x := r.Get("ka") * math.Sin(r.Get("theta_deg")*math.Pi/180)
		reftable.Within(t, r.Name, all.lookup(discEven, x), r.Get("D"), 2e-7)
	}
	for _, r := range reftable.Read(t, "rect_directivity") {
		got := all.lookup(lineEven, r.Get("kw")/2*r.Get("ux")) * all.lookup(lineEven, r.Get("kh")/2*r.Get("uy"))
		reftable.Within(t, r.Name, got, r.Get("D"), 4e-7)
	}
}

// lookup returns pattern p at x, any x.
func (t *patternTables) lookup(p pattern, x float64) float64 {
	sign := 1.0
	if x < 0 && (p == lineOdd || p == discOdd) {
		sign = -1
	}
	x = math.Abs(x) * tableDensity
	if !(x < tableSize) {
		return sign * exactPattern(p, x/tableDensity)
	}
	i := int(x)
	s := x - float64(i)
	return sign * t[p][i].at(s)
}
