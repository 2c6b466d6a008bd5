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

// Worked by hand: the midpoint rule gives 1.5² + 2.5² + 3.5² = 20.75 for ∫₁⁴ x² dx, and two
// points a panel are exact for x³: (4⁴ − 1)/4 = 63.75.
func TestIntegrateInPanels(t *testing.T) {
	if got := Integrate(func(x float64) float64 { return x * x }, 1, 4, 1, 3); math.Abs(got-20.75) > 1e-12 {
		t.Errorf("midpoint rule: %v, want 20.75", got)
	}
	if got := Integrate(func(x float64) float64 { return x * x * x }, 1, 4, 2, 3); math.Abs(got-63.75) > 1e-12 {
		t.Errorf("two points: %v, want 63.75", got)
	}
}

// A factor of ten in pressure is 20 dB, whatever the sign; a level given is passed on.
func TestLevelsAndDefaults(t *testing.T) {
	for x, want := range map[float64]float64{1: 0, 10: 20, -10: 20, 0.1: -20, 0: math.Inf(-1)} {
		if got := DB(x); !(got == want || math.Abs(got-want) < 1e-12) {
			t.Errorf("DB(%g) = %g, want %g", x, got, want)
		}
	}
	for db, want := range map[float64]float64{0: 1, 20: 10, -40: 0.01} {
		if got := FromDB(db); math.Abs(got/want-1) > 1e-12 {
			t.Errorf("FromDB(%g) = %g, want %g", db, got, want)
		}
	}
	if Or(3, 4) != 3 || Or(Absent, 4) != 4 {
		t.Error("Or must give way only to what is present")
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
