package sizing

import (
	"math"
	"testing"

	"gapline/cabinet/layout"
	"gapline/internal/designtest"
	"gapline/internal/optional"

	"pgregory.net/rapid"
)

// Columns flush with the front, worked out without a layout, stand as far apart as the
// layout puts them.
func TestColumnsAreThoseOfTheLayout(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := designtest.Box()
		d.Woofer.PerBox = rapid.IntRange(1, 6).Draw(t, "woofers")
		d.Bands.Woofer.Columns = rapid.SampledFrom([]int{0, 1, d.Woofer.PerBox}).Draw(t, "columns")
		if rapid.Bool().Draw(t, "stated") {
			d.Bands.Woofer.Lateral = optional.Of(rapid.Float64Range(0.2, 0.8).Draw(t, "apart"))
		}
		got := wooferColumns(nil, &d)
		l := layout.New(&d)
		var want []float64
		for _, i := range l.Radiating(layout.Woofers) {
			if y := l.Parts[i].At.Y; len(want) == 0 || y != want[len(want)-1] {
				want = append(want, y)
			}
		}
		if len(got) != len(want) {
			t.Fatalf("%d columns, the layout has %d", len(got), len(want))
		}
		for i := range got {
			if math.Abs(got[i].Y-got[0].Y-(want[i]-want[0])) > 1e-12 {
				t.Fatalf("column %d stands %g m from the first, in the layout %g", i+1, got[i].Y-got[0].Y, want[i]-want[0])
			}
		}
	})
}
