package driver

import (
	"math"
	"testing"

	"gapline/internal/reftable"
)

// The oracle lists the cones of the box by their places and counts every pair.
func TestPairsAgainstEveryPair(t *testing.T) {
	for _, c := range []struct{ columns, rows int }{{1, 1}, {2, 1}, {1, 4}, {2, 2}, {3, 2}, {2, 3}, {4, 4}} {
		const dz, dy = 0.27, 0.31
		n := c.columns * c.rows
		wantCount, want := 0.0, 0.0
		for i := range n {
			for j := range i {
				d := math.Hypot(float64(i/c.columns-j/c.columns)*dz, float64(i%c.columns-j%c.columns)*dy)
				wantCount++
				want += 1 / d
			}
		}
		count, sum := 0.0, 0.0
		s := Setup{Count: n, Columns: c.columns}
		for _, p := range s.pairs(dz, dy) {
			count += p.count
			sum += p.count / p.distance
		}
		if count != wantCount {
			t.Errorf("%d × %d: %g pairs, %g are needed", c.columns, c.rows, count, wantCount)
		}
		if n > 1 {
			reftable.Near(t, "Σ 1/distance", sum, want, 1e-12)
		}
	}
}
