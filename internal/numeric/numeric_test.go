package numeric

import (
	"errors"
	"math"
	"testing"
)

func TestRootOfKnownFunctions(t *testing.T) {
	// The Dottie number, cos x = x: OEIS A003957.
	got, err := Root(func(x float64) float64 { return math.Cos(x) - x }, 0, 1, 1e-15)
	if err != nil || math.Abs(got-0.739085133215160641655) > 1e-14 {
		t.Errorf("root of cos x - x = %.17g, %v", got, err)
	}
	if _, err := Root(func(x float64) float64 { return 1 + x*x }, -1, 1, 1e-12); !errors.Is(err, ErrNoBracket) {
		t.Errorf("no bracket: err = %v", err)
	}
}

func TestIntegrateIsExactForPolynomials(t *testing.T) {
	// An n-point rule is exact to degree 2n-1: ∫₀² x⁷ dx = 32.
	got := Integrate(func(x float64) float64 { return math.Pow(x, 7) }, 0, 2, 4, 1)
	if math.Abs(got-32) > 1e-12 {
		t.Errorf("∫x⁷ = %v, want 32", got)
	}
}

func TestMinimum(t *testing.T) {
	got := Minimum(func(x float64) float64 { return (x - 0.3) * (x - 0.3) }, -1, 2, 1e-9)
	if math.Abs(got-0.3) > 1e-7 {
		t.Errorf("minimum at %v, want 0.3", got)
	}
}

func TestSincNearZeroJoinsSmoothly(t *testing.T) {
	for _, x := range []float64{0, 0.99e-4, 1.01e-4} {
		want := 1 - x*x/6 + x*x*x*x/120 // Taylor series
		if math.Abs(Sinc(x)-want) > 1e-15 {
			t.Errorf("Sinc(%g) = %.17g, want %.17g", x, Sinc(x), want)
		}
	}
}

// Every rule must integrate 1 and cos 3x over [-1, 1] to 2 and (2/3) sin 3.
func TestLegendreRules(t *testing.T) {
	for n := 12; n <= 256; n++ {
		r := Legendre(n)
		one, cos := 0.0, 0.0
		for i, x := range r.X {
			one += r.W[i]
			cos += r.W[i] * math.Cos(3*x)
		}
		if math.Abs(one-2) > 1e-13 || math.Abs(cos-2*math.Sin(3)/3) > 1e-13 {
			t.Errorf("%d points: ∫1 = %.15g, ∫cos 3x = %.15g", n, one, cos)
		}
	}
}

func TestAnyGiven(t *testing.T) {
	for _, c := range []struct {
		xs   []float64
		want bool
	}{
		{nil, false}, {[]float64{Absent}, false}, {[]float64{Absent, 0}, true}, {[]float64{math.Inf(1)}, true},
	} {
		if got := AnyGiven(c.xs); got != c.want {
			t.Errorf("AnyGiven(%v) = %v", c.xs, got)
		}
	}
}
