package sizing

import (
	"math"
	"testing"

	"gapline/internal/quantity"
	"gapline/waveguide"
)

// The interpolated control against the solved one, from 5° to beyond where a mouth has
// one. Which cells are good is told by two other places than those looked at here.
func TestPatternCurve(t *testing.T) {
	var c patternCurve
	worst := 0.0
	for coverage := 5 * quantity.Degree; coverage < 179*quantity.Degree; coverage += 0.377 * quantity.Degree {
		got, want := c.of(coverage), waveguide.FindControl(1, coverage, 1)
		for _, f := range [][2]float64{{got.Frequency, want.Frequency}, {got.Narrowest, want.Narrowest},
			{got.NarrowestAt, want.NarrowestAt}, {got.WidthInWavelength, want.WidthInWavelength}} {
			if math.IsNaN(f[0]) != math.IsNaN(f[1]) {
				t.Errorf("at %.4g°: %v, want %v", coverage/quantity.Degree, f[0], f[1])
				continue
			}
			if d := math.Abs(f[0]-f[1]) / f[1]; d > worst {
				worst = d
			}
		}
	}
	bad := 0
	for _, cell := range c.cells {
		if !cell.good {
			bad++
		}
	}
	if worst > 2*curveTolerance {
		t.Errorf("off by %.3g", worst)
	}
	if bad > len(c.cells)/10 {
		t.Errorf("%d of %d cells are of no use", bad, len(c.cells))
	}
	t.Logf("off by %.2g; %d of %d cells are not used", worst, bad, len(c.cells))
}
