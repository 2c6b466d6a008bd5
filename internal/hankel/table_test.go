package hankel

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// tolerance is the accuracy that doc.go states, relative to |Hn|.
const tolerance = 3e-9

// worst returns the largest error of At(z) against the standard library,
// relative to the modulus of each order's Hankel function.
func worst(t *Table, z float64) float64 {
	j0, y0, j1, y1 := t.At(z)
	e0 := math.Hypot(j0-math.J0(z), y0-math.Y0(z)) / math.Hypot(math.J0(z), math.Y0(z))
	e1 := math.Hypot(j1-math.J1(z), y1-math.Y1(z)) / math.Hypot(math.J1(z), math.Y1(z))
	return math.Max(e0, e1)
}

func TestAgainstStandardLibrary(t *testing.T) {
	// math.J0 and its kin are the reference (FreeBSD msun, below 1e-15).
	const zmax = 700
	tab := NewTable(zmax)
	largest, at := 0.0, 0.0
	check := func(z float64) {
		if e := worst(tab, z); e > largest {
			largest, at = e, z
		}
	}
	for z := 1e-12; z < 8; z *= 1.0007 {
		check(z)
	}
	for z := 3.9; z < zmax+2; z += 0.0137 {
		check(z)
	}
	if largest > tolerance {
		t.Errorf("largest relative error %.3g at z = %g, want below %g", largest, at, tolerance)
	}
	t.Logf("largest relative error %.3g at z = %g", largest, at)
}

func TestWronskian(t *testing.T) {
	// J1 Y0 − J0 Y1 = 2/(πz), DLMF 10.5.2. Two products of size 1/z each.
	tab := NewTable(300)
	rapid.Check(t, func(r *rapid.T) {
		z := math.Exp(rapid.Float64Range(math.Log(1e-6), math.Log(300)).Draw(r, "ln z"))
		j0, y0, j1, y1 := tab.At(z)
		got, want := j1*y0-j0*y1, 2/(math.Pi*z)
		if math.Abs(got-want) > 4*tolerance*want {
			r.Fatalf("Wronskian at z = %g: got %.15g, want %.15g", z, got, want)
		}
	})
}

func TestSpecialCases(t *testing.T) {
	tab := NewTable(10)
	j0, y0, j1, y1 := tab.At(0)
	if j0 != 1 || !math.IsInf(y0, -1) || j1 != 0 || !math.IsInf(y1, -1) {
		t.Errorf("At(0) = %v %v %v %v, want 1 -Inf 0 -Inf", j0, y0, j1, y1)
	}
	for _, z := range []float64{-1, math.NaN()} {
		if _, y0, _, y1 := tab.At(z); !math.IsNaN(y0) || !math.IsNaN(y1) {
			t.Errorf("At(%v): Y0 = %v, Y1 = %v, want NaN", z, y0, y1)
		}
	}
	if e := worst(tab, 5000); e != 0 {
		t.Errorf("beyond zmax: error %g, want the standard library's values", e)
	}
}

func BenchmarkAt(b *testing.B) {
	tab := NewTable(300)
	z, sum := 0.01, 0.0
	for b.Loop() {
		j0, y0, j1, y1 := tab.At(z)
		sum += j0 + y0 + j1 + y1
		if z += 0.37; z > 299 {
			z = 0.01
		}
	}
	sink = sum
}

func BenchmarkStandardLibrary(b *testing.B) {
	z, sum := 0.01, 0.0
	for b.Loop() {
		sum += math.J0(z) + math.Y0(z) + math.J1(z) + math.Y1(z)
		if z += 0.37; z > 299 {
			z = 0.01
		}
	}
	sink = sum
}

var sink float64
