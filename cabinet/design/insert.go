package design

import (
	"math"

	"gapline/driver"
	"gapline/waveguide"
)

// InsertSpacing returns the distance between the insert's mouths in one box in m:
// as given, or the pitch divided by their number.
func (d *Design) InsertSpacing() float64 {
	return d.Insert.Spacing.Or(d.Pitch() / float64(d.Insert.Mouths))
}

// ChamberCorner returns the frequency in Hz above which the insert's output
// falls 12 dB an octave: the resonance of the air in the chamber with the air in
// the mouths of all columns,
//
//	f = (c/2π) √(n S/(V l_eff)),  l_eff = slot depth + 2 end corrections.
//
// The mouths' action on each other is left out; it lowers the corner by some
// 5 to 15 %. NaN when a dimension is missing.
func (i *Insert) ChamberCorner(columns int, c float64) float64 {
	area := i.MouthHeight.Value() * i.MouthWidth.Value()
	l := i.SlotDepth.Value() + 2*driver.RectangleEndCorrection(i.MouthHeight.Value(), i.MouthWidth.Value())
	return c / (2 * math.Pi) * math.Sqrt(float64(i.Mouths*columns)*area/(i.ChamberVolume.Value()*l))
}

// ChamberFor returns the chamber volume in m³ that puts the corner at f in Hz.
func (i *Insert) ChamberFor(columns int, f, c float64) float64 {
	corner := i.ChamberCorner(columns, c)
	return i.ChamberVolume.Value() * (corner / f) * (corner / f)
}

// InsertPlate is the plate of the design's insert. Its size is by default the
// woofer's nominal size across and the cabinet's height, or the pitch, along the
// line.
func (d *Design) InsertPlate() waveguide.InsertPlate {
	i := &d.Insert
	return waveguide.InsertPlate{
		Width: i.PlateWidth.Or(math.Max(d.Woofer.Size.Value(), i.MouthWidth.Value())), Height: i.PlateHeight.Or(d.Cabinet.Height.Or(d.Pitch())),
		Mouths: i.Mouths, Spacing: d.InsertSpacing(), MouthWidth: i.MouthWidth.Value(), MouthHeight: i.MouthHeight.Value(),
	}
}
