package design

import (
	"math"

	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/numeric"
)

// DriverSetup puts a completed driver into the design's box, without the insert.
func (d *Design) DriverSetup(complete driver.Complete, a air.Air) driver.Setup {
	return driver.Setup{
		Driver:     complete,
		Count:      d.WoofersPerBox(),
		Spacing:    d.Woofer.Spacing,
		SideBySide: !numeric.Given(d.Woofer.Spacing),
		Wiring:     d.Woofer.Wiring.OrDefault(),
		Enclosure:  d.DriverEnclosure(a),
	}
}

// EnclosureKind returns the kind of the enclosure: as given, or as the other
// keys imply.
func (d *Design) EnclosureKind() driver.EnclosureKind {
	e := &d.Enclosure
	switch {
	case e.Kind != 0:
		return e.Kind
	case numeric.Given(e.Radiator.Sd):
		return driver.PassiveRadiator
	case numeric.Given(e.Tuning) || numeric.Given(e.VentArea()):
		return driver.Vented
	}
	return driver.Closed
}

// VentArea returns the cross section of one vent in m² from whichever key
// gives it.
func (e *Enclosure) VentArea() float64 {
	switch {
	case numeric.Given(e.Vent.Area):
		return e.Vent.Area
	case numeric.Given(e.VentDiameter):
		return math.Pi / 4 * e.VentDiameter * e.VentDiameter
	}
	return e.Vent.Width * e.Vent.Height
}

// DriverEnclosure returns the enclosure as package driver takes it.
func (d *Design) DriverEnclosure(a air.Air) driver.Enclosure {
	e := &d.Enclosure
	vent := e.Vent
	vent.Area = e.VentArea()
	radiator := e.Radiator
	if !numeric.Given(radiator.Cms) {
		radiator.Cms = e.RadiatorVas / (a.Density * a.SoundSpeed * a.SoundSpeed * radiator.Sd * radiator.Sd)
	}
	return driver.Enclosure{
		Kind: d.EnclosureKind(), Volume: e.Volume, Tuning: e.Tuning,
		LeakQ: e.LeakQ, AbsorptionQ: e.AbsorptionQ, VentQ: e.VentQ,
		Vent: vent, Radiator: radiator,
		PanelArea: d.Cabinet.Height * d.Cabinet.Width,
	}
}

// DriverInsert returns the insert as package driver takes it, or nil when the
// design has none or does not give all its dimensions.
func (d *Design) DriverInsert() *driver.Insert {
	i := &d.Insert
	if !d.HasInsert() || !numeric.Given(i.MouthHeight) || !numeric.Given(i.MouthWidth) || !numeric.Given(i.SlotDepth) ||
		!numeric.Given(i.ChamberVolume) || i.Mouths > 1 && !numeric.Given(d.InsertSpacing()) {
		return nil
	}
	return &driver.Insert{Mouths: i.Mouths, Width: i.MouthWidth, Height: i.MouthHeight,
		Spacing: d.InsertSpacing(), Depth: i.SlotDepth, ChamberVolume: i.ChamberVolume}
}

// DriveVoltage returns the rms voltage in V at the terminals of one box, for a
// nominal resistance in Ω.
func (d *Design) DriveVoltage(nominal float64) float64 {
	if numeric.Given(d.Drive.Power) {
		return math.Sqrt(d.Drive.Power * nominal)
	}
	return numeric.Or(d.Drive.Voltage, DefaultVoltage)
}

// LevelAt returns the frequency in Hz at which the design wants its maximum
// level judged; NaN when it does not say.
func (d *Design) LevelAt() float64 { return numeric.Or(d.Targets.LevelAt, d.Targets.Lowest) }
