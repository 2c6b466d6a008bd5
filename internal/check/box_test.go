package check

import (
	"math"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/designtest"
	"gapline/internal/optional"
	"gapline/internal/reftable"
)

func setupOf(t *testing.T, d design.Design) driver.Setup {
	t.Helper()
	s, err := BoxSetup(&d)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestBoxSetupCarriesEveryKey(t *testing.T) {
	d := designtest.Closed()
	d.Woofer.PerBox, d.Woofer.Wiring, d.Woofer.Spacing = 2, driver.Series, optional.Of(0.25)
	d.Woofer.Le, d.Woofer.LeExponent = optional.Of(1e-3), optional.Of(0.6)
	e := &d.Enclosure
	e.Kind, e.Tuning, e.LeakQ, e.AbsorptionQ, e.VentQ = driver.Vented, optional.Of(48), optional.Of(7), optional.Of(40), optional.Of(60)
	e.Vent.Count, e.VentDiameter, e.Vent.Inner, e.Vent.Outer, e.Vent.Distance = 2, optional.Of(0.1), driver.Flanged, driver.Free, optional.Of(0.3)
	d.Cabinet.Height, d.Cabinet.Width = optional.Of(0.6), optional.Of(0.4)
	s := setupOf(t, d)
	if s.Count != 2 || s.Wiring != driver.Series || s.Spacing != 0.25 || s.Columns != 1 || s.Insert != nil {
		t.Errorf("drivers: %+v", s)
	}
	if s.Driver.Le.Value() != 1e-3 || s.Driver.LeExponent.Value() != 0.6 || s.Driver.Xmax.Value() != 0.006 {
		t.Errorf("driver: %+v", s.Driver.Parameters)
	}
	x := s.Enclosure
	if x.Kind != driver.Vented || x.Volume.Value() != 0.03 || x.Tuning.Value() != 48 || x.LeakQ.Value() != 7 || x.AbsorptionQ.Value() != 40 || x.VentQ.Value() != 60 {
		t.Errorf("enclosure: %+v", x)
	}
	if x.Vent.Count != 2 || x.Vent.Inner != driver.Flanged || x.Vent.Outer != driver.Free || x.Vent.Distance.Value() != 0.3 {
		t.Errorf("vent: %+v", x.Vent)
	}
	reftable.Near(t, "vent area", x.Vent.Area.Value(), math.Pi*0.01/4, 1e-12)
	reftable.Near(t, "panel", x.PanelArea.Value(), 0.24, 1e-12)
	d.Woofer.Spacing = design.New().Woofer.Spacing
	if setupOf(t, d).Columns != 2 {
		t.Error("woofers without a vertical spacing must stand side by side")
	}
}

// Vas of a passive radiator is ρc²·Sd²·Cms, as of a driver (Small 1974).
func TestRadiatorVasGivesItsCompliance(t *testing.T) {
	d := designtest.Closed()
	e := &d.Enclosure
	e.Radiator.Sd, e.RadiatorVas, e.Tuning = optional.Of(0.05), optional.Of(0.2), optional.Of(40)
	s := setupOf(t, d)
	a := air.Of(d.Air)
	reftable.Near(t, "Vas", a.Density*a.SoundSpeed*a.SoundSpeed*0.05*0.05*s.Enclosure.Radiator.Cms.Value(), 0.2, 1e-12)
	e.Radiator.Cms = optional.Of(1e-4)
	if p := Design(&d); len(p) != 1 || p[0].Keys[0] != "enclosure.radiator_vas" {
		t.Errorf("cms beside vas: %v", p)
	}
}

func TestInsertNeedsAllItsDimensions(t *testing.T) {
	d := designtest.Closed()
	d.Cabinet.Height = optional.Of(0.28)
	d.Insert = design.Insert{Mouths: 2, Spacing: d.Cabinet.Pitch, MouthHeight: optional.Of(0.1), MouthWidth: optional.Of(0.08), SlotDepth: optional.Of(0.012), ChamberVolume: optional.Of(4e-4)}
	s := setupOf(t, d)
	if s.Insert == nil || s.Insert.Spacing != 0.14 || s.Insert.Width != 0.08 || s.Insert.Height != 0.1 || s.Insert.Depth != 0.012 {
		t.Fatalf("insert: %+v", s.Insert)
	}
	d.Insert.ChamberVolume = design.New().Insert.ChamberVolume
	if s := setupOf(t, d); s.Insert != nil {
		t.Error("an insert without a chamber volume was taken")
	}
	if lacks := InsertLacks(&d); len(lacks) != 1 || lacks[0] != "insert.chamber_volume" {
		t.Errorf("lacks %v", lacks)
	}
}

func TestBoxErrorsNameKeys(t *testing.T) {
	absent := design.New().Woofer.Fs.Value()
	for name, c := range map[string]struct {
		change func(*design.Design)
		want   []string
	}{
		"no volume":         {func(d *design.Design) { d.Enclosure.Volume = optional.Of(absent) }, []string{"enclosure.volume"}},
		"size alone":        {func(d *design.Design) { d.Woofer.Parameters = driver.Parameters{}; d.Woofer.Size = optional.Of(0.25) }, []string{"woofer.fs", "205 mm", "0.82 of woofer.size"}},
		"one missing":       {func(d *design.Design) { d.Woofer.Vas = optional.Of(absent) }, []string{"woofer.vas", "woofer.mms"}},
		"vented, no tuning": {func(d *design.Design) { d.Enclosure.Kind = driver.Vented }, []string{"enclosure.tuning", "enclosure.vent_length"}},
		"vent too small":    {func(d *design.Design) { d.Enclosure.Tuning, d.Enclosure.Vent.Area = optional.Of(60), optional.Of(5e-4) }, []string{"enclosure.tuning", "even without length"}},
		"tuning against vent": {func(d *design.Design) {
			e := &d.Enclosure
			e.Tuning, e.Vent.Area, e.Vent.Length = optional.Of(90), optional.Of(5e-3), optional.Of(0.1)
		}, []string{"enclosure.tuning", "vent_area and vent_length"}},
		"radiator, no area": {func(d *design.Design) { d.Enclosure.Kind = driver.PassiveRadiator }, []string{"enclosure.radiator_sd"}},
		"radiator, no cms": {func(d *design.Design) {
			d.Enclosure.Kind, d.Enclosure.Radiator.Sd = driver.PassiveRadiator, optional.Of(0.05)
		},
			[]string{"enclosure.radiator_cms"}},
		"radiator, no mass": {func(d *design.Design) {
			d.Enclosure.Radiator.Sd, d.Enclosure.Radiator.Cms = optional.Of(0.05), optional.Of(1e-3)
		}, []string{"enclosure.radiator_mms"}},
		"impossible set": {func(d *design.Design) { d.Woofer.Qes, d.Woofer.Qts = optional.Of(absent), optional.Of(6) }, []string{"the woofer's parameters", "qms"}},
	} {
		d := designtest.Closed()
		c.change(&d)
		_, err := BoxSetup(&d)
		if err == nil {
			t.Errorf("%s: accepted", name)
			continue
		}
		for _, w := range c.want {
			if !strings.Contains(err.Error(), w) {
				t.Errorf("%s: %q does not say %q", name, err, w)
			}
		}
	}
}

func TestCheckOfTheBox(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*design.Design)
		key    string
	}{
		"vents beyond the panel": {func(d *design.Design) {
			d.Cabinet.Height, d.Cabinet.Width, d.Enclosure.Vent.Area, d.Enclosure.Vent.Count = optional.Of(0.2), optional.Of(0.2), optional.Of(0.021), 2
		}, "enclosure.vent_area"},
		"half a rectangle": {func(d *design.Design) { d.Enclosure.Vent.Width = optional.Of(0.1) }, "enclosure.vent_width"},
		"area against diameter": {func(d *design.Design) {
			d.Enclosure.Vent.Area, d.Enclosure.VentDiameter = optional.Of(0.01), optional.Of(0.05)
		}, "enclosure.vent_diameter"},
		"volts and watts": {func(d *design.Design) { d.Drive = design.Drive{Voltage: optional.Of(2), Power: optional.Of(3)} }, "drive.power"},
	} {
		d := designtest.Closed()
		d.Cabinet.Height, d.Cabinet.Width = optional.Of(0.9), optional.Of(0.9)
		c.change(&d)
		if p := Design(&d); len(p) != 1 || p[0].Keys[0] != c.key {
			t.Errorf("%s: %v, want one problem with %s", name, p, c.key)
		}
	}
}
