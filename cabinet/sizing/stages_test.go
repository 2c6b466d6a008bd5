package sizing

import (
	"math"
	"testing"

	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/designtest"
	"gapline/internal/numeric"
	"gapline/internal/optional"
)

// What a stage leaves out of its input changes nothing: the folded front's lobes are
// those of the whole fold, the low end that of the whole box.
func TestInputsLeaveOutNothingThatMatters(t *testing.T) {
	d := whole()
	s := Size(&d)
	f, ok := d.Folded()
	if want := f.LobeLimit(d.Pitch(), d.LobeTarget()); !ok || s.Horn.FlatLobe != want {
		t.Errorf("lobes of the fold from %g Hz, want %g", s.Horn.FlatLobe, want)
	}
	a := air.Of(d.Air)
	complete, err := d.Woofer.Derive(a)
	if err != nil {
		t.Fatal(err)
	}
	c, err := driver.NewCircuit(d.DriverSetup(complete, a))
	if err != nil {
		t.Fatal(err)
	}
	if want := c.MaxLevel([]float64{s.Box.LevelAt})[0]; s.Box.MaxLevel != want.Level || s.Box.Limit != want.Limit {
		t.Errorf("maximum level %g by %v, want %g by %v", s.Box.MaxLevel, s.Box.Limit, want.Level, want.Limit)
	}
}

// A vent larger than the panel, or a panel without area, has no low end; any panel
// that holds the vent has the same.
func TestPanelEntersByHoldingTheVent(t *testing.T) {
	d := designtest.Closed()
	d.Enclosure.Tuning, d.Enclosure.Vent.Area = optional.Of(48), optional.Of(0.008)
	size := func(width float64) float64 {
		e := d
		e.Cabinet = design.Dimensions{Height: optional.Of(0.1), Width: optional.Of(width)}
		return boxIn(&e, tableAir).F3
	}
	for _, width := range []float64{0.079, 0.08, 0} {
		if f := size(width); numeric.Given(f) {
			t.Errorf("width %g m: half power at %g Hz behind a panel that cannot hold the vent", width, f)
		}
	}
	if a, b := size(0.081), size(math.NaN()); a != b || !numeric.Given(a) {
		t.Errorf("half power at %g Hz, without a panel at %g", a, b)
	}
}

// A fold is the same in every cabinet; whether it fits there is the layout's to say.
func TestFoldIsTheSameInEveryCabinet(t *testing.T) {
	size := func(height, depth float64) float64 {
		d := designtest.Folded()
		d.Cabinet.Height, d.Cabinet.Depth, d.Cabinet.Pitch, d.Fold.MouthDistance = optional.Of(height), optional.Of(depth), optional.Of(0.3), optional.Of(0.05)
		return Size(&d).Fold.Depth
	}
	for _, c := range [][2]float64{{0.25, 0.4}, {0.26, 0.06}, {0.27, 0.04}} {
		if a, b := size(c[0], c[1]), size(0.4, numeric.Absent); a != b || !numeric.Given(a) {
			t.Errorf("a cabinet %g m high and %g m deep: fold of %g m, in another cabinet %g m", c[0], c[1], a, b)
		}
	}
}
