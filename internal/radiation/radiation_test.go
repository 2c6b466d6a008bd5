package radiation

import (
	"math"
	"testing"

	"gapline/internal/reftable"
)

func TestCircularAgainstTable(t *testing.T) {
	for _, row := range reftable.Read(t, "piston_impedance") {
		r, x := Circular(row.Get("ka"))
		reftable.Near(t, row.Name+" R", r, row.Get("R1"), 1e-11)
		reftable.Near(t, row.Name+" X", x, row.Get("X1"), 1e-11)
	}
}

func TestRectangularAgainstTable(t *testing.T) {
	for _, row := range reftable.Read(t, "rect_impedance") {
		// Unit area: sides 1/√aspect and √aspect.
		side := math.Sqrt(row.Get("aspect"))
		r, x := Rectangular(row.Get("k_sqrtS"), 1/side, side)
		reftable.Near(t, row.Name+" R", r, row.Get("R"), 1e-10)
		reftable.Near(t, row.Name+" X", x, row.Get("X"), 1e-10)
	}
}

// The two forms of the Struve function must meet.
func TestStruveJoins(t *testing.T) {
	_, below := Circular(poissonLimit / 2)
	_, above := Circular(poissonLimit/2 + 1e-9)
	reftable.Within(t, "H₁ at the join", above, below, 1e-10)
}

// Limits from Kinsler et al.: r → (ka)²/2, x → 8ka/(3π) for small ka; for any
// shape r → k²S/(2π) and, at high k, r → 1.
func TestLimits(t *testing.T) {
	r, x := Circular(1e-6)
	reftable.Near(t, "r", r, 0.5e-12, 1e-9)
	reftable.Near(t, "x", x, 8e-6/(3*math.Pi), 1e-9)
	r, _ = Rectangular(1e-6, 0.02, 1)
	reftable.Near(t, "slot r", r, 1e-12*0.02/(2*math.Pi), 1e-9)
	r, _ = Rectangular(3000, 0.3, 0.2)
	reftable.Within(t, "r at high k", r, 1, 1e-2)
	a, b := Rectangular(17, 0.3, 0.05)
	c, d := Rectangular(17, 0.05, 0.3)
	reftable.Near(t, "symmetry r", a, c, 1e-13)
	reftable.Near(t, "symmetry x", b, d, 1e-13)
	if r, x := Circular(0); r != 0 || x != 0 {
		t.Errorf("at rest: %g %g", r, x)
	}
	if r, x := Rectangular(0, 1, 1); r != 0 || x != 0 {
		t.Errorf("at rest: %g %g", r, x)
	}
}

func BenchmarkRectangular(b *testing.B) {
	for b.Loop() {
		Rectangular(2*math.Pi*16e3/343, 0.25, 0.02)
	}
}
