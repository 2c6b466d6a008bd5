package design_test

import (
	"testing"

	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/designtest"
	"gapline/internal/optional"
	"gapline/internal/reftable"
)

func TestEnclosureKindFollowsFromTheKeys(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*design.Enclosure)
		want   driver.EnclosureKind
	}{
		"nothing":  {func(*design.Enclosure) {}, driver.Closed},
		"tuning":   {func(e *design.Enclosure) { e.Tuning = optional.Of(40) }, driver.Vented},
		"vent":     {func(e *design.Enclosure) { e.Vent.Width, e.Vent.Height = optional.Of(0.1), optional.Of(0.05) }, driver.Vented},
		"radiator": {func(e *design.Enclosure) { e.Tuning, e.Radiator.Sd = optional.Of(40), optional.Of(0.03) }, driver.PassiveRadiator},
		"as given": {func(e *design.Enclosure) { e.Kind, e.Tuning = driver.Closed, optional.Of(40) }, driver.Closed},
	} {
		d := designtest.Closed()
		c.change(&d.Enclosure)
		if got := d.EnclosureKind(); got != c.want {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

// 2.83 V unless the design says otherwise; P = U²/R.
func TestDriveVoltage(t *testing.T) {
	d := designtest.Closed()
	reftable.Near(t, "default", d.DriveVoltage(8), 2.83, 1e-12)
	d.Drive.Voltage = optional.Of(10)
	reftable.Near(t, "voltage", d.DriveVoltage(8), 10, 1e-12)
	d.Drive = design.Drive{Power: optional.Of(50)}
	reftable.Near(t, "power", d.DriveVoltage(8), 20, 1e-12)
}
