package measured

import (
	"math"
	"testing"
)

// A straight line in dB over log f passes −6 dB where it must; a narrow dip is not what stays,
// and data that end count as staying.
func TestFall(t *testing.T) {
	grid := Grid(100, 10000)
	line := func(at, slope float64) []float64 { // dB an octave, −6 dB at at
		out := make([]float64, len(grid))
		for i, f := range grid {
			out[i] = -6 - slope*math.Log2(f/at)
		}
		return out
	}
	if got := Fall(grid, line(1234, 5), 6, 0.5); math.Abs(got/1234-1) > 1e-9 {
		t.Errorf("a line: %g, want 1234", got)
	}
	if got := Fall(grid, line(9800, 5), 6, 0.5); math.Abs(got/9800-1) > 1e-9 {
		t.Errorf("a line that ends soon after: %g, want 9800", got)
	}
	if got := Fall(grid, line(50, 5), 6, 0.5); !math.IsNaN(got) {
		t.Errorf("below from the first value on: %g, want none", got)
	}
	if got := Fall(grid, line(20000, 5), 6, 0.5); !math.IsNaN(got) {
		t.Errorf("never below: %g, want none", got)
	}
	dip := line(3000, 5)
	for i, f := range grid {
		if f > 500 && f < 650 { // 0.38 octaves
			dip[i] = -20
		}
	}
	if got := Fall(grid, dip, 6, 0.5); math.Abs(got/3000-1) > 1e-9 {
		t.Errorf("a dip before: %g, want 3000", got)
	}
	hole := line(3000, 5)
	for i, f := range grid {
		if f > 3500 && f < 3800 {
			hole[i] = math.NaN()
		}
	}
	if got := Fall(grid, hole, 6, 0.5); !math.IsNaN(got) {
		t.Errorf("a hole in what stays: %g, want none", got)
	}
}
