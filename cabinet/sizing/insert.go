package sizing

import (
	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/numeric"
)

// insertMouths returns the mouths of the insert: strips where their height is
// given, points else.
func insertMouths(d *design.Design) Mouths {
	shape := Strip
	if !numeric.Given(d.Insert.MouthHeight) {
		shape = Point
	}
	return evenly(d.Insert.Mouths, d.InsertSpacing(), shape, d.Insert.MouthHeight)
}

// insertAreaRatio returns the area of a box's cones over that of its mouths: the
// factor by which the air in the mouths moves faster than the cones.
func insertAreaRatio(d *design.Design) float64 {
	cones := float64(d.WoofersPerBox()) * d.Woofer.PistonArea()
	return cones / (float64(d.Insert.Mouths) * d.Insert.MouthHeight * d.Insert.MouthWidth)
}

// insertPaths compares the ways from the parts of the cones to the mouths, at the
// speed of sound c in m/s.
func insertPaths(d *design.Design, c float64) driver.PathSpread {
	i := driver.Insert{Mouths: d.Insert.Mouths, Spacing: d.InsertSpacing(),
		Width: d.Insert.MouthWidth, Height: numeric.Or(d.Insert.MouthHeight, 0)}
	diameter := d.Woofer.Diameter()
	return i.PathSpread(driver.ConePositions(d.WoofersPerBox(), numeric.Or(d.Woofer.Spacing, driver.DefaultSpacing*diameter),
		!numeric.Given(d.Woofer.Spacing)), diameter/2, c)
}
