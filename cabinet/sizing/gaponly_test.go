package sizing

import (
	"testing"

	"gapline/internal/designtest"
	"gapline/internal/numeric"

	"pgregory.net/rapid"
)

// A sizer of the gap alone gives the gap of the whole sizing, on every level, to the last
// bit; what it leaves out is not given.
func TestGapSizerGivesTheGap(t *testing.T) {
	z := NewGapSizer()
	rapid.Check(t, func(t *rapid.T) {
		d := designtest.Random(t)
		whole, gap := Size(&d), z.Size(&d)
		a, b := Levels(&d, &whole), Levels(&d, &gap)
		for i := range a {
			if a[i].Given != b[i].Given || a[i].Given && len(a[i].Unknown) == 0 && a[i].Gap != b[i].Gap {
				t.Errorf("level %d: %+v, want %+v", i, b[i], a[i])
			}
		}
		if numeric.Given(gap.Coupling.Open.Efficiency) {
			t.Errorf("efficiency %v, want none", gap.Coupling.Open.Efficiency)
		}
	})
}
