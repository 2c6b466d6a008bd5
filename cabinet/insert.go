package cabinet

import (
	"math"

	"gapline/driver"
	"gapline/internal/numeric"
)

// spacing returns the distance between the mouths of one box in m.
func (d *Design) insertSpacing() float64 {
	return numeric.Or(d.Insert.Spacing, d.Pitch()/float64(d.Insert.Mouths))
}

// insertMouths returns the mouths of the insert: strips where their height is
// given, points else.
func (d *Design) insertMouths() Mouths {
	shape := Strip
	if !numeric.Given(d.Insert.MouthHeight) {
		shape = Point
	}
	return evenly(d.Insert.Mouths, d.insertSpacing(), shape, d.Insert.MouthHeight)
}

// ChamberCorner returns the frequency in Hz above which the insert's output
// falls 12 dB an octave: the resonance of the air in the chamber with the air in
// the mouths,
//
//	f = (c/2π) √(n S/(V l_eff)),  l_eff = slot depth + 2 end corrections.
//
// The mouths' action on each other is left out; it lowers the corner by some
// 5 to 15 %. NaN when a dimension is missing.
func (i *Insert) ChamberCorner(c float64) float64 {
	area := i.MouthHeight * i.MouthWidth
	l := i.SlotDepth + 2*driver.RectangleEndCorrection(i.MouthHeight, i.MouthWidth)
	return c / (2 * math.Pi) * math.Sqrt(float64(i.Mouths)*area/(i.ChamberVolume*l))
}

// ChamberFor returns the chamber volume in m³ that puts the corner at f in Hz.
func (i *Insert) ChamberFor(f, c float64) float64 {
	corner := i.ChamberCorner(c)
	return i.ChamberVolume * (corner / f) * (corner / f)
}

// AreaRatio returns the area of a box's cones over that of its mouths: the
// factor by which the air in the mouths moves faster than the cones.
func (d *Design) insertAreaRatio() float64 {
	cones := float64(d.woofersPerBox()) * d.Woofer.PistonArea()
	return cones / (float64(d.Insert.Mouths) * d.Insert.MouthHeight * d.Insert.MouthWidth)
}

// insertPaths compares the ways from the parts of the cones to the mouths, at the
// speed of sound c in m/s.
func (d *Design) insertPaths(c float64) driver.PathSpread {
	i := driver.Insert{Mouths: d.Insert.Mouths, Spacing: d.insertSpacing(),
		Width: d.Insert.MouthWidth, Height: numeric.Or(d.Insert.MouthHeight, 0)}
	diameter := d.Woofer.Diameter()
	return i.PathSpread(driver.ConePositions(d.woofersPerBox(), numeric.Or(d.Woofer.Spacing, driver.DefaultSpacing*diameter),
		!numeric.Given(d.Woofer.Spacing)), diameter/2, c)
}
