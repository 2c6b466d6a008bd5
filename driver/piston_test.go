package driver

import (
	"math"
	"math/cmplx"
	"testing"

	"gapline/internal/reftable"
)

// closedForm is the tolerance for closed forms; the tables carry 12 digits.
const closedForm = 1e-9

func TestPistonImpedanceAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "piston_impedance") {
		z := Piston{Radius: 1}.Impedance(r.Get("ka"))
		reftable.Near(t, r.Name+" R1", real(z), r.Get("R1"), closedForm)
		reftable.Near(t, r.Name+" X1", imag(z), r.Get("X1"), closedForm)
	}
}

func TestRectangleImpedanceAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "rect_impedance") {
		aspect := r.Get("aspect")
		rect := Rectangle{Width: 1 / math.Sqrt(aspect), Height: math.Sqrt(aspect)}
		z := rect.Impedance(r.Get("k_sqrtS"))
		reftable.Near(t, r.Name+" R", real(z), r.Get("R"), 1e-8)
		reftable.Near(t, r.Name+" X", imag(z), r.Get("X"), 1e-8)
	}
}

func TestRectangleEndCorrectionAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "slot_end_correction") {
		aspect := r.Get("aspect")
		got := RectangleEndCorrection(1/math.Sqrt(aspect), math.Sqrt(aspect))
		reftable.Near(t, r.Name, got, r.Get("rect_piston"), closedForm)
	}
	// It is the low-frequency limit of the reactance: X → k·Δl.
	rect := Rectangle{Width: 0.04, Height: 0.2}
	const k = 1e-4
	reftable.Near(t, "X/k", imag(rect.Impedance(k))/k, rect.EndCorrection(), 1e-8)
}

func TestRectanglePairAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "slot_pair") {
		w, h, d := r.Get("w_m"), r.Get("h_m"), r.Get("D_m")
		reftable.Near(t, r.Name+" self", RectangleEndCorrection(w, h), r.Get("dl_self_m"), closedForm)
		reftable.Near(t, r.Name+" mutual", RectangleMutualCorrection(w, h, d, 0), r.Get("dl_mutual_m"), closedForm)
		pair := NewRectanglePair(Rectangle{Width: w, Height: h}, d, 0)
		const k = 1e-4
		// The product rule holds 1e-6 while the slots are their own width apart.
		reftable.Near(t, r.Name+" X12/k", imag(pair.Impedance(k))/k, r.Get("dl_mutual_m"), 1e-6)
	}
}

func TestMutualPistonsAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "mutual_pistons") {
		pair, err := NewPistonPair(1, r.Get("d_over_a"))
		if err != nil {
			t.Fatal(err)
		}
		z := pair.Impedance(r.Get("ka"))
		reftable.Within(t, r.Name+" R12", real(z), r.Get("R12"), 1e-8)
		reftable.Within(t, r.Name+" X12", imag(z), r.Get("X12"), 1e-8)
	}
}

// pritchard is R. L. Pritchard's double series (form as in the reference
// table), an independent route that converges for d > 2a.
func pritchard(ka, kd float64, terms int) complex128 {
	var sum complex128
	for m := range terms {
		for n := range terms {
			g, _ := math.Lgamma(float64(m+n) + 0.5)
			gm, _ := math.Lgamma(float64(m + 1))
			gn, _ := math.Lgamma(float64(n + 1))
			scale := math.Exp(g - gm - gn + float64(m+n)*math.Log(ka/kd))
			scale *= math.Jn(m+1, ka) * math.Jn(n+1, ka)
			sum += complex(scale, 0) * sphericalHankel2(m+n, kd)
		}
	}
	return sum * complex(2/math.Sqrt(math.Pi), 0)
}

// sphericalHankel2 is j_n − j·y_n by upward recurrence, good enough for x ≥ n/2.
func sphericalHankel2(n int, x float64) complex128 {
	h0 := complex(math.Sin(x)/x, math.Cos(x)/x)
	h1 := complex(math.Sin(x)/(x*x)-math.Cos(x)/x, math.Cos(x)/(x*x)+math.Sin(x)/x)
	if n == 0 {
		return h0
	}
	for i := 1; i < n; i++ {
		h0, h1 = h1, complex(float64(2*i+1)/x, 0)*h1-h0
	}
	return h1
}

func TestMutualPistonsAgainstPritchard(t *testing.T) {
	for _, d := range []float64{3.3, 4.7, 8} {
		pair, err := NewPistonPair(1, d)
		if err != nil {
			t.Fatal(err)
		}
		for _, ka := range []float64{0.7, 1.9} {
			got, want := pair.Impedance(ka), pritchard(ka, ka*d, 18)
			if cmplx.Abs(got-want) > 1e-8 {
				t.Errorf("d/a %g, ka %g: %v, want %v", d, ka, got, want)
			}
		}
	}
}

func TestOverlappingPistonsAreRefused(t *testing.T) {
	if _, err := NewPistonPair(0.1, 0.19); err == nil {
		t.Error("overlapping pistons accepted")
	}
}

// The mean impedance of n pistons in a line is Z₁₁ + (2/n) Σ (n − m) Z₁₂(md).
func TestLineMeanImpedanceAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "mutual_line") {
		n, ka := int(r.Get("N")), r.Get("ka")
		z := Piston{Radius: 1}.Impedance(ka)
		for m := 1; m < n; m++ {
			pair, err := NewPistonPair(1, float64(m)*r.Get("d_over_a"))
			if err != nil {
				t.Fatal(err)
			}
			z += complex(2*float64(n-m)/float64(n), 0) * pair.Impedance(ka)
		}
		reftable.Within(t, r.Name+" R", real(z), r.Get("R_mean"), 1e-8)
		reftable.Within(t, r.Name+" X", imag(z), r.Get("X_mean"), 1e-8)
	}
}

func BenchmarkPistonPair(b *testing.B) {
	p, _ := NewPistonPair(0.1, 0.25)
	b.ReportAllocs()
	for b.Loop() {
		p.Impedance(20)
	}
}
