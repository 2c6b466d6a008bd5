package outside

import (
	"gapline/cabinet/design"
	"gapline/internal/optional"
	"gapline/waveguide"
)

// Geometry is all of a design that one box's outside and what is read off it depend on. Two
// designs with equal ones have equal solutions.
type Geometry struct {
	Cabinet   design.Dimensions
	Woofer    [3]optional.Float // size, effective diameter, spacing
	Numbers   [3]float64        // the woofer's piston area in m², the pitch in m, the lobe target as a ratio
	PerBox    int
	Mid       design.Mid
	Enclosure design.Enclosure
	Insert    design.Insert
	Horn      waveguide.Horn
	Bands     design.Bands
	Drive     design.HornDrive
	Fold      design.Fold
}

// GeometryOf takes the geometry out of a design.
func GeometryOf(d *design.Design) Geometry {
	w := &d.Woofer
	return Geometry{
		Cabinet: d.Cabinet, Woofer: [...]optional.Float{w.Size, w.EffectiveDiameter, w.Spacing},
		Numbers: [...]float64{w.PistonArea(), d.Pitch(), d.LobeTarget()}, PerBox: w.PerBox,
		Mid: d.Mid, Enclosure: d.Enclosure, Insert: d.Insert, Horn: d.Horn, Bands: d.Bands, Drive: d.HornDrive, Fold: d.Fold,
	}
}
