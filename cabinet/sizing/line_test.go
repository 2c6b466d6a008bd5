package sizing

import (
	"math"
	"testing"

	"gapline/internal/numeric"
	"gapline/internal/reftable"
)

// L²f/(2c) as tabulated (column d_half) for whole lines.
func TestNearFieldAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "line_transition") {
		// The figure is at 1 kHz and grows in proportion to frequency.
		got := sizeLine(8, r.Get("L_m"), nil, r.Get("c_m_s")).NearField * r.Get("f_Hz") / 1000
		reftable.Near(t, r.Name, got, r.Get("d_half_m"), 1e-9)
	}
}

func TestTotalSplay(t *testing.T) {
	if s := sizeLine(0, numeric.Absent, nil, 343); !math.IsNaN(s.Turn) || !math.IsNaN(s.NearField) {
		t.Errorf("nothing given: %+v", s)
	}
	if s := sizeLine(4, 1, []float64{0.01, 0.02, 0.03}, 343); math.Abs(s.Turn-0.06) > 1e-15 {
		t.Errorf("turn %g, want 0.06", s.Turn)
	}
}
