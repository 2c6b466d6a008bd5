package describe

import (
	"math"
	"testing"
)

// A square with a square hole in it: the filled line goes round both, and its area is the
// difference, whichever way they run; a second body has no part in it.
func TestSolidsLeaveHolesOut(t *testing.T) {
	square := func(x, half, sense float64) [][2]float64 {
		return [][2]float64{{x - half, -half * sense}, {x + half, -half * sense}, {x + half, half * sense}, {x - half, half * sense}}
	}
	for _, sense := range []float64{1, -1} {
		out := solids([][][2]float64{square(0, 0.5, -sense), square(0, 2, sense), square(5, 1, sense)})
		if len(out) != 4 {
			t.Fatalf("%d lines", len(out))
		}
		for i, want := range []float64{15, 4} {
			var l [][2]float64
			for k := range out[i].X {
				l = append(l, [2]float64{out[i].X[k], out[i].Y[k]})
			}
			if a := turned(l) * sense; !out[i].Solid || !out[i].Blank || math.Abs(a-want) > 1e-12 {
				t.Errorf("body %d: area %g, want %g", i, a, want)
			}
		}
	}
}

// The colours are 3 dB apart, and farther where the values ask for it.
func TestLookLevels(t *testing.T) {
	for _, c := range []struct{ lowest, low float64 }{{-20, -36}, {-36, -36}, {-37, -48}, {-55, -60}, {-90, -72}} {
		values := make([]float64, 100)
		for i := range 10 {
			values[i] = c.lowest
		}
		if a, levels := lookLevels("", values); a.Low != c.low || len(levels) != lookSteps || levels[lookSteps-1] != 0 {
			t.Errorf("down to %g dB: axis from %g, levels %v", c.lowest, a.Low, levels)
		}
	}
}
