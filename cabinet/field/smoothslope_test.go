package field

import (
	"math"
	"testing"

	"gapline/internal/reftable"
)

// A power law has its slope everywhere; a ripple on it is left by 3·j₁(u)/u
// (least squares of a sine over an even window).
func TestSmoothSlope(t *testing.T) {
	const window, period = 1.0, 0.8
	d := Distances(1, 64, 480) // fine, as the factor is that of a continuous window
	level := make([]float64, len(d))
	for i, x := range d {
		level[i] = 90 - 4*math.Log2(x) + 0.5*math.Sin(2*math.Pi*math.Log2(x)/period)
	}
	u := math.Pi * window / period
	factor := 3 * (math.Sin(u) - u*math.Cos(u)) / (u * u * u)
	got := SmoothSlope(d, level, window)
	for i, x := range d {
		y := math.Log2(x)
		if y < window/2-1e-6 || y > 6-window/2+1e-6 {
			if !math.IsNaN(got[i]) {
				t.Fatalf("a slope at %g m, where the window reaches beyond the ends", x)
			}
			continue
		}
		local := -0.5 * 2 * math.Pi / period * math.Cos(2*math.Pi*y/period)
		reftable.Within(t, "slope", got[i], 4+factor*local, 0.02)
	}
}

// A slope from 3 to 6 dB passes 4.5 once, at the middle; one that swings passes it
// as often as it swings.
func TestSlopeCrossings(t *testing.T) {
	d := Distances(1, 16, 24)
	rising, swinging := make([]float64, len(d)), make([]float64, len(d))
	for i, x := range d {
		rising[i] = 3 + 0.75*math.Log2(x)
		swinging[i] = 4.5 + math.Cos(2*math.Pi*math.Log2(x))
	}
	if got := SlopeCrossings(d, rising); len(got) != 1 || math.Abs(got[0]-4) > 1e-9 {
		t.Errorf("crossings %v, want 4", got)
	}
	got := SlopeCrossings(d, swinging)
	for i := range got {
		reftable.Near(t, "crossing", got[i], math.Exp2(0.25+0.5*float64(i)), 1e-3)
	}
	if len(got) != 8 {
		t.Errorf("%d crossings, want 8", len(got))
	}
	rising[40] = math.NaN()
	if got := SlopeCrossings(d, rising); len(got) != 1 {
		t.Errorf("crossings %v through a gap", got)
	}
}
