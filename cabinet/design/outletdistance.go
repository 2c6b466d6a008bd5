package design

import (
	"math"

	"gapline/internal/optional"
)

// OutletDistance returns the distance from the vents or passive radiators to the woofers,
// centre to centre, m: as given, or the mean over all of them where both stand in the
// front and the places of both are given. Those in another panel, and those whose place
// is not known, have none.
func (d *Design) OutletDistance() optional.Float {
	e := &d.Enclosure
	at, n := &e.VentPlace, e.Vent.Count
	if d.EnclosureKind().Parts().Radiator {
		at, n = &e.RadiatorPlace, e.Radiator.Count
	}
	w := &d.Bands.Woofer
	if e.Vent.Distance.Given() || at.Panel.OrDefault() != FrontPanel || !at.Offset.Given() || !w.Offset.Given() || !d.Cabinet.Height.Given() {
		return e.Vent.Distance
	}
	n = max(n, 1)
	columns, rows := d.WooferColumns(), d.WooferRows()
	lateral, spacing := 0.0, 0.0
	if columns > 1 {
		lateral = w.Lateral.Or(d.Woofer.Size.Or(d.Woofer.Diameter()))
	}
	if rows > 1 {
		spacing = d.WooferSpacing()
	}
	step := d.Cabinet.Height.Value() / float64(n) // outlets are spread over the height
	sum := 0.0
	for i := range n {
		z := at.Rise.Or(0) + centred(i, n)*step
		for c := range columns {
			for r := range rows {
				dy := at.Offset.Value() - w.Offset.Value() + centred(c, columns)*lateral
				sum += math.Hypot(math.Hypot(dy, z-w.Rise.Or(0)-centred(r, rows)*spacing), w.Setback.Or(0))
			}
		}
	}
	return optional.Of(sum / float64(n*columns*rows))
}

// centred counts i of n from their middle.
func centred(i, n int) float64 { return float64(i) - float64(n-1)/2 }
