package design

import (
	"math"
	"testing"

	"gapline/internal/optional"
	"gapline/internal/reftable"
)

func TestOutletDistance(t *testing.T) {
	d := New()
	d.Cabinet.Height, d.Woofer.Size, d.Woofer.PerBox = optional.Of(0.3), optional.Of(0.2), 1
	d.Enclosure.Tuning, d.Enclosure.VentDiameter = optional.Of(50), optional.Of(0.08)
	d.Bands.Woofer.Offset, d.Bands.Woofer.Rise = optional.Of(0.18), optional.Of(0.03)
	if d.OutletDistance().Given() {
		t.Error("a distance to a vent without a place")
	}
	d.Enclosure.VentPlace.Offset = optional.Of(-0.1)
	reftable.Near(t, "one vent, one woofer", d.OutletDistance().Value(), math.Hypot(0.28, 0.03), 1e-12)
	d.Enclosure.Vent.Count = 2 // 75 mm above and below the middle
	reftable.Near(t, "two vents", d.OutletDistance().Value(), (math.Hypot(0.28, 0.045)+math.Hypot(0.28, 0.105))/2, 1e-12)
	d.Woofer.PerBox, d.Bands.Woofer.Columns, d.Bands.Woofer.Lateral, d.Enclosure.Vent.Count = 2, 2, optional.Of(0.5), 1
	d.Bands.Woofer.Rise, d.Enclosure.VentPlace.Offset = optional.Float{}, optional.Of(0.18)
	reftable.Near(t, "between two woofers", d.OutletDistance().Value(), 0.25, 1e-12)
	d.Enclosure.VentPlace.Panel = RearPanel
	if d.OutletDistance().Given() {
		t.Error("a vent in the rear loads the woofers in front")
	}
	d.Enclosure.Vent.Distance = optional.Of(0.4)
	reftable.Near(t, "as given", d.OutletDistance().Value(), 0.4, 0)
}
