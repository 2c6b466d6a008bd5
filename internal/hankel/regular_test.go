package hankel

import (
	"math"
	"testing"
)

func TestRegularY1(t *testing.T) {
	// Against the standard library where the sum does not cancel.
	for z := 0.3; z < 6; z += 0.0713 {
		want := math.Y1(z) + 2/(math.Pi*z)
		if got := RegularY1(z); math.Abs(got-want) > 1e-15/z {
			t.Errorf("RegularY1(%g) = %.17g, want %.17g", z, got, want)
		}
	}
	// Leading terms for small z, DLMF 10.8.1: (z/π)(ln(z/2) + γ − 1/2).
	for _, z := range []float64{1e-3, 1e-5, 1e-8} {
		want := z / math.Pi * (math.Log(z/2) + eulerGamma - 0.5)
		if got := RegularY1(z); math.Abs(got-want) > z*z*math.Abs(want) {
			t.Errorf("RegularY1(%g) = %.17g, want %.17g", z, got, want)
		}
	}
	if RegularY1(0) != 0 {
		t.Error("RegularY1(0) is not 0")
	}
}
