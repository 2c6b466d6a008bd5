package design

import (
	"math"

	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/internal/optional"
)

// DriverSetup puts a completed driver into the design's box, without the insert.
func (d *Design) DriverSetup(complete driver.Complete, a air.Air) driver.Setup {
	return driver.Setup{
		Driver:    complete,
		Count:     d.WoofersPerBox(),
		Columns:   d.WooferColumns(),
		Spacing:   d.WooferSpacing(),
		Lateral:   d.Bands.Woofer.Lateral.Value(),
		Wiring:    d.Woofer.Wiring.OrDefault(),
		Enclosure: d.DriverEnclosure(a),
	}
}

// EnclosureKind returns the kind of the enclosure: as given, or as the other
// keys imply.
func (d *Design) EnclosureKind() driver.EnclosureKind {
	e := &d.Enclosure
	switch {
	case e.Kind != 0:
		return e.Kind
	case e.Radiator.Sd.Given():
		return driver.PassiveRadiator
	case e.Tuning.Given() || numeric.Given(e.VentArea()):
		return driver.Vented
	}
	return driver.Closed
}

// VentArea returns the cross section of one vent in m² from whichever key
// gives it.
func (e *Enclosure) VentArea() float64 {
	switch {
	case e.Vent.Area.Given():
		return e.Vent.Area.Value()
	case e.VentDiameter.Given():
		return math.Pi / 4 * e.VentDiameter.Value() * e.VentDiameter.Value()
	}
	return e.Vent.Width.Value() * e.Vent.Height.Value()
}

// DriverEnclosure returns the enclosure as package driver takes it.
func (d *Design) DriverEnclosure(a air.Air) driver.Enclosure {
	e := &d.Enclosure
	vent := e.Vent
	vent.Area, vent.Distance = optional.Of(e.VentArea()), d.OutletDistance()
	radiator := e.Radiator
	if !radiator.Cms.Given() {
		radiator.Cms = optional.Of(e.RadiatorVas.Value() / (a.Density * a.SoundSpeed * a.SoundSpeed * radiator.Sd.Value() * radiator.Sd.Value()))
	}
	return driver.Enclosure{
		Kind: d.EnclosureKind(), Volume: e.Volume, Tuning: e.Tuning,
		LeakQ: e.LeakQ, AbsorptionQ: e.AbsorptionQ, VentQ: e.VentQ,
		Vent: vent, Radiator: radiator,
		PanelArea: optional.Of(d.Cabinet.Height.Value() * d.Cabinet.Width.Value()),
	}
}

// DriverInsert returns the insert as package driver takes it, or nil when the
// design has none or does not give all its dimensions.
func (d *Design) DriverInsert() *driver.Insert {
	i := &d.Insert
	if !d.HasInsert() || !i.MouthHeight.Given() || !i.MouthWidth.Given() || !i.SlotDepth.Given() ||
		!i.ChamberVolume.Given() || i.Mouths > 1 && !numeric.Given(d.InsertSpacing()) {
		return nil
	}
	return &driver.Insert{Mouths: i.Mouths, Width: i.MouthWidth.Value(), Height: i.MouthHeight.Value(),
		Spacing: d.InsertSpacing(), Depth: i.SlotDepth.Value(), ChamberVolume: i.ChamberVolume.Value(), Columns: d.WooferColumns()}
}

// DriveVoltage returns the rms voltage in V at the terminals of one box, for a
// nominal resistance in Ω.
func (d *Design) DriveVoltage(nominal float64) float64 {
	if d.Drive.Power.Given() {
		return math.Sqrt(d.Drive.Power.Value() * nominal)
	}
	return d.Drive.Voltage.Or(DefaultVoltage)
}

// LevelAt returns the frequency in Hz at which the design wants its maximum
// level judged; NaN when it does not say.
func (d *Design) LevelAt() float64 { return d.Targets.LevelAt.Or(d.Targets.Lowest.Value()) }
