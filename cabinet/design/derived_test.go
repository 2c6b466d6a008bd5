package design

import (
	"math"
	"slices"
	"testing"

	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/reftable"
	"gapline/waveguide"
)

// same compares a figure with one worked by hand from the rule in the field's comment; NaN is
// the same as NaN.
func same(t *testing.T, what string, got, want float64) {
	t.Helper()
	if numeric.Given(got) != numeric.Given(want) || math.Abs(got-want) > 1e-12*math.Abs(want) {
		t.Errorf("%s: %g, want %g", what, got, want)
	}
}

// The comments of the fields are the contract: what holds where the design says nothing.
func TestDefaults(t *testing.T) {
	d := New()
	if d.Air != air.Standard {
		t.Errorf("air %v", d.Air)
	}
	if d.WoofersPerBox() != 1 || d.MidsPerBox() != 0 || d.DriversPerBox() != 1 || d.Crossovers() != 0 {
		t.Errorf("%d woofers, %d mids, %d drivers, %d crossovers", d.WoofersPerBox(), d.MidsPerBox(), d.DriversPerBox(), d.Crossovers())
	}
	if d.Basis() != HalfWave || Panel(0).OrDefault() != FrontPanel || RearPanel.OrDefault() != RearPanel ||
		SideWalls(0).OrDefault() != StraightWalls || ProfileWalls.OrDefault() != ProfileWalls {
		t.Error("a default of a closed set")
	}
	same(t, "edge radius", d.EdgeRadius(), 0)
	same(t, "pitch", d.Pitch(), numeric.Absent)
	same(t, "length", d.Length(), numeric.Absent)
	same(t, "level at", d.LevelAt(), numeric.Absent)
	same(t, "lobe target", d.LobeTarget(), math.Pow(10, -0.6)) // −12 dB
	d.Targets.LobeLevel, d.Targets.Lowest, d.Section.EdgeRadius = optional.Of(-20), optional.Of(60), optional.Of(0.02)
	same(t, "lobe target given", d.LobeTarget(), 0.1)
	same(t, "level at the lowest", d.LevelAt(), 60)
	same(t, "edge radius given", d.EdgeRadius(), 0.02)
	d.Targets.LevelAt = optional.Of(80)
	same(t, "level at, given", d.LevelAt(), 80)
	// What docs/ tells of the constants.
	for _, c := range []struct{ got, want float64 }{
		{DefaultVoltage, 2.83}, {DefaultHornVoltage, 2.83}, {DefaultEarHeight, 1.2}, {DefaultSeatStep, 1}, {DefaultOverRow, -6},
		{DefaultQuietLevel, -12}, {DefaultThreshold, 3}, {DefaultSmoothing, 12}, {EffectiveShare, 0.82},
	} {
		same(t, "a default", c.got, c.want)
	}
}

func TestPitchAndLength(t *testing.T) {
	d := New()
	d.Cabinet.Height = optional.Of(0.3)
	same(t, "without a gap", d.Pitch(), 0.3)
	d.Cabinet.Gap, d.Line.Boxes = optional.Of(0.01), 8
	same(t, "height and gap", d.Pitch(), 0.31)
	same(t, "length", d.Length(), 2.48)
	d.SetPitch(0.36)
	same(t, "height that follows", d.Cabinet.Height.Value(), 0.35)
	if d.Cabinet.Pitch.Given() {
		t.Error("the pitch is given besides the height")
	}
	d.Cabinet.Pitch = optional.Of(0.4)
	same(t, "as given", d.Pitch(), 0.4)
	d.SetPitch(0.5)
	same(t, "pitch set", d.Pitch(), 0.5)
	same(t, "height kept", d.Cabinet.Height.Value(), 0.35)
	e := New()
	e.SetPitch(0.2)
	same(t, "pitch set without a height", e.Cabinet.Pitch.Value(), 0.2)
	e.Line.Boxes = 1
	same(t, "one box", e.Length(), 0.2)
}

// A circle of 0.2 m across has 0.0314159 m².
func TestDiameterAndArea(t *testing.T) {
	var w Woofer
	same(t, "nothing", w.Diameter(), numeric.Absent)
	w.Size = optional.Of(0.25)
	same(t, "from the size", w.Diameter(), 0.82*0.25)
	w.Sd = optional.Of(math.Pi * 0.01)
	same(t, "from the area", w.Diameter(), 0.2)
	same(t, "the area as given", w.PistonArea(), math.Pi*0.01)
	w.EffectiveDiameter = optional.Of(0.21)
	same(t, "as given", w.Diameter(), 0.21)
	w.Sd, w.EffectiveDiameter = optional.Float{}, optional.Of(0.2)
	same(t, "area from the diameter", w.PistonArea(), math.Pi*0.01)
	m := Mid{Parameters: w.Parameters}
	same(t, "a mid", m.Diameter(), 0.2)
}

// Any one of the keys of a part says that the box has it.
func TestPartsFollowFromAnyKey(t *testing.T) {
	given := optional.Of(0.1)
	has := func(set func(*Design)) [4]bool {
		d := New()
		set(&d)
		return [4]bool{d.HasWoofer(), d.HasMid(), d.HasHorn(), d.HasInsert()}
	}
	for what, c := range map[string]struct {
		set  func(*Design)
		want [4]bool
	}{
		"nothing":          {func(*Design) {}, [4]bool{}},
		"woofers":          {func(d *Design) { d.Woofer.PerBox = 1 }, [4]bool{true}},
		"woofer size":      {func(d *Design) { d.Woofer.Size = given }, [4]bool{true}},
		"mids":             {func(d *Design) { d.Mid.PerBox = 1 }, [4]bool{1: true}},
		"mid size":         {func(d *Design) { d.Mid.Size = given }, [4]bool{1: true}},
		"mid diameter":     {func(d *Design) { d.Mid.EffectiveDiameter = given }, [4]bool{1: true}},
		"mid area":         {func(d *Design) { d.Mid.Sd = given }, [4]bool{1: true}},
		"horn coverage":    {func(d *Design) { d.Horn.Coverage = given }, [4]bool{2: true}},
		"horn mouth width": {func(d *Design) { d.Horn.MouthWidth = given }, [4]bool{2: true}},
		"horn mouth":       {func(d *Design) { d.Horn.MouthHeight = given }, [4]bool{2: true}},
		"horn throat":      {func(d *Design) { d.Horn.Throat = given }, [4]bool{2: true}},
		"insert":           {func(d *Design) { d.Insert.Mouths = 1 }, [4]bool{3: true}},
	} {
		if got := has(c.set); got != c.want {
			t.Errorf("%s: woofer, mid, horn, insert %v, want %v", what, got, c.want)
		}
	}
	var a Audience
	if a.Given() {
		t.Error("seats that nobody gave")
	}
	if a.Start = []float64{3}; !a.Given() {
		t.Error("one stretch of seats is not seen")
	}
}

// Two woofers at 100, three mids at 20, a horn at 70, two crossovers at 15, a cabinet at 300 and
// an insert at 9: 200 + 60 + 70 + 30 + 300 + 9 = 669.
func TestCostPerBox(t *testing.T) {
	d := New()
	d.Woofer.PerBox = 2
	d.Cost.Woofer = optional.Of(100)
	same(t, "woofers alone", d.CostPerBox(), 200)
	d.Cost = Cost{Woofer: optional.Of(100), Mid: optional.Of(20), Horn: optional.Of(70), Crossover: optional.Of(15), Cabinet: optional.Of(300), Insert: optional.Of(9)}
	same(t, "woofers and cabinet", d.CostPerBox(), 500)
	d.Mid.Size = optional.Of(0.1)
	same(t, "one mid", d.CostPerBox(), 535)
	d.Mid.PerBox, d.Horn.Coverage, d.Insert.Mouths = 3, optional.Of(1.5), 2
	same(t, "all", d.CostPerBox(), 669)
	if d.DriversPerBox() != 6 || d.Crossovers() != 2 || d.MidsPerBox() != 3 {
		t.Errorf("%d drivers, %d crossovers, %d mids", d.DriversPerBox(), d.Crossovers(), d.MidsPerBox())
	}
	d.Cost.Insert, d.Cost.Cabinet = optional.Float{}, optional.Float{}
	same(t, "without prices of cabinet and insert", d.CostPerBox(), 360)
	d.Cost.Crossover = optional.Float{}
	same(t, "a price is missing", d.CostPerBox(), numeric.Absent)
}

func TestSpacings(t *testing.T) {
	d := New()
	d.Woofer.Size, d.Mid.Size = optional.Of(0.25), optional.Of(0.1)
	same(t, "one row of woofers", d.WooferSpacing(), numeric.Absent)
	same(t, "one row of mids", d.MidSpacing(), numeric.Absent)
	d.Woofer.PerBox, d.Bands.Woofer.Columns, d.Mid.PerBox, d.Bands.Mid.Columns = 4, 2, 2, 1
	same(t, "as far apart as they are wide", d.WooferSpacing(), 0.25)
	same(t, "mids likewise", d.MidSpacing(), 0.1)
	d.Insert.Mouths = 3
	if n := d.InsertMouths(); n != 6 {
		t.Errorf("%d mouths in front of two columns, want 6", n)
	}
	d.Woofer.Spacing, d.Mid.Spacing = optional.Of(0.3), optional.Of(0.12)
	same(t, "as given", d.WooferSpacing(), 0.3)
	same(t, "mids as given", d.MidSpacing(), 0.12)
	d.Cabinet.Pitch = optional.Of(0.6)
	same(t, "mouths spread over the pitch", d.InsertSpacing(), 0.2)
	d.Insert.Spacing = optional.Of(0.15)
	same(t, "mouths as given", d.InsertSpacing(), 0.15)
	// Of three woofers in two columns one stands alone; more columns than woofers there are not.
	d.Woofer.PerBox = 3
	if d.WooferRows() != 2 {
		t.Errorf("%d rows, want 2", d.WooferRows())
	}
	d.Bands.Woofer.Columns = 5
	if d.WooferColumns() != 3 {
		t.Errorf("%d columns, want 3", d.WooferColumns())
	}
}

// The volume that equals a passive radiator's compliance: Vas = ρc²·Sd²·Cms (Small, "Passive-
// radiator loudspeaker systems", JAES 22, 1974, eq. 1).
func TestEnclosureForTheDriver(t *testing.T) {
	medium := air.Air{SoundSpeed: 340, Density: 1.25}
	d := New()
	d.Cabinet.Height, d.Cabinet.Width = optional.Of(0.3), optional.Of(0.6)
	e := d.DriverEnclosure(medium)
	same(t, "panel", e.PanelArea.Value(), 0.18)
	if e.Kind != driver.Closed || e.Vent.Area.Given() || e.Radiator.Cms.Given() {
		t.Errorf("a closed box: %+v", e)
	}
	d.Enclosure.Radiator.Sd, d.Enclosure.RadiatorVas = optional.Of(0.02), optional.Of(0.0289)
	e = d.DriverEnclosure(medium)
	same(t, "compliance", e.Radiator.Cms.Value(), 0.0289/(1.25*340*340*0.02*0.02)) // 0.5 mm/N
	same(t, "compliance by hand", e.Radiator.Cms.Value(), 0.0005)
	d.Enclosure.Radiator.Cms = optional.Of(0.0007)
	same(t, "compliance as given", d.DriverEnclosure(medium).Radiator.Cms.Value(), 0.0007)

	v := Enclosure{VentDiameter: optional.Of(0.2)}
	same(t, "round vent", v.VentArea(), math.Pi*0.01)
	v = Enclosure{Vent: driver.Vent{Width: optional.Of(0.2), Height: optional.Of(0.05)}}
	same(t, "slot", v.VentArea(), 0.01)
	v.Vent.Area = optional.Of(0.03)
	same(t, "area as given", v.VentArea(), 0.03)

	d.Woofer.PerBox, d.Woofer.Spacing, d.Bands.Woofer.Lateral = 2, optional.Of(0.2), optional.Of(0.3)
	s := d.DriverSetup(driver.Complete{}, medium)
	if s.Count != 2 || s.Columns != 1 {
		t.Errorf("%d drivers in %d columns", s.Count, s.Columns)
	}
	same(t, "spacing", s.Spacing, 0.2)
	same(t, "lateral", s.Lateral, 0.3)
}

func TestInsertForTheDriver(t *testing.T) {
	whole := func() Design {
		d := New()
		d.Cabinet.Pitch = optional.Of(0.3)
		d.Insert = Insert{Mouths: 2, MouthHeight: optional.Of(0.02), MouthWidth: optional.Of(0.2), SlotDepth: optional.Of(0.018), ChamberVolume: optional.Of(0.001)}
		d.Woofer.PerBox, d.Woofer.Size = 2, optional.Of(0.25)
		return d
	}
	d := whole()
	if got, want := *d.DriverInsert(), (driver.Insert{Mouths: 2, Width: 0.2, Height: 0.02, Spacing: 0.15, Depth: 0.018, ChamberVolume: 0.001, Columns: 2}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	for what, take := range map[string]func(*Design){
		"mouths":  func(d *Design) { d.Insert.Mouths = 0 },
		"height":  func(d *Design) { d.Insert.MouthHeight = optional.Float{} },
		"width":   func(d *Design) { d.Insert.MouthWidth = optional.Float{} },
		"depth":   func(d *Design) { d.Insert.SlotDepth = optional.Float{} },
		"chamber": func(d *Design) { d.Insert.ChamberVolume = optional.Float{} },
		"spacing": func(d *Design) { d.Cabinet.Pitch = optional.Float{} },
	} {
		d := whole()
		if take(&d); d.DriverInsert() != nil {
			t.Errorf("an insert without its %s", what)
		}
	}
	d.Insert.Mouths, d.Cabinet.Pitch = 1, optional.Float{}
	if d.DriverInsert() == nil {
		t.Error("one mouth needs no spacing")
	}
	// Two columns have the mouths of two boxes: the corner rises by √2.
	d = whole()
	same(t, "corner of two columns", d.Insert.ChamberCorner(2, 340)/d.Insert.ChamberCorner(1, 340), math.Sqrt2)

	plate := d.InsertPlate()
	same(t, "plate as wide as the woofer", plate.Width, 0.25)
	same(t, "plate as high as the pitch", plate.Height, 0.3)
	same(t, "spacing", plate.Spacing, 0.15)
	d.Cabinet.Height, d.Insert.MouthWidth = optional.Of(0.28), optional.Of(0.27)
	plate = d.InsertPlate()
	same(t, "plate as wide as the mouth", plate.Width, 0.27)
	same(t, "plate as high as the cabinet", plate.Height, 0.28)
	d.Insert.PlateWidth, d.Insert.PlateHeight = optional.Of(0.3), optional.Of(0.2)
	plate = d.InsertPlate()
	same(t, "width as given", plate.Width, 0.3)
	same(t, "height as given", plate.Height, 0.2)
}

func TestHornDriveGiven(t *testing.T) {
	x := optional.Of(0.1)
	for what, c := range map[string]struct {
		h    HornDrive
		want bool
	}{
		"nothing":              {HornDrive{}, false},
		"power":                {HornDrive{Power: x}, false},
		"resistance and power": {HornDrive{Power: x, Driver: waveguide.CompressionDriver{Re: x}}, false},
		"resistance":           {HornDrive{Driver: waveguide.CompressionDriver{Re: x}}, true},
		"mass":                 {HornDrive{Power: x, Driver: waveguide.CompressionDriver{Re: x, Mms: x}}, true},
		"voltage":              {HornDrive{Voltage: x}, true},
		"outside alone":        {HornDrive{Depth: x, Diameter: x}, false},
	} {
		if got := c.h.Given(); got != c.want {
			t.Errorf("%s: %v, want %v", what, got, c.want)
		}
	}
}

func TestFoldFollowsFromTheDesign(t *testing.T) {
	x := optional.Of(0.1)
	d := New()
	d.Horn.Throat, d.Horn.PathLength = optional.Of(0.025), optional.Of(0.3)
	same(t, "slot of a throat", d.SlotWidth(), 0.025)
	same(t, "path of the horn", d.PathLength(), 0.3)
	d.Fold.VirtualPath = optional.Of(0.4)
	same(t, "path of the fold", d.PathLength(), 0.4)
	same(t, "depth", d.FoldDepth(), numeric.Absent)
	d.Cabinet.Depth = optional.Of(0.5)
	same(t, "depth of the cabinet", d.FoldDepth(), 0.5)
	d.Fold.Depth = optional.Of(0.35)
	same(t, "depth as given", d.FoldDepth(), 0.35)
	for _, has := range [][3]bool{{true, true, false}, {true, false, true}, {false, true, true}, {true, true, true}} {
		d.Fold.ThroatToWall, d.Fold.Layer, d.Horn.MouthHeight = optional.Float{}, optional.Float{}, optional.Float{}
		if has[0] {
			d.Fold.ThroatToWall = x
		}
		if has[1] {
			d.Fold.Layer = optional.Of(0.02)
		}
		if has[2] {
			d.Horn.MouthHeight = optional.Of(0.15)
		}
		whole := has[0] && has[1] && has[2]
		if d.HasFold() != whole {
			t.Errorf("%v: fold %v", has, d.HasFold())
		}
		if _, ok := d.Folded(); ok != whole {
			t.Errorf("%v: folded %v", has, ok)
		}
	}
	same(t, "slot of a fold", d.SlotWidth(), 0.02)
	same(t, "path of the fold worked out", d.PathLength(), 0.4)
	d.Section.SlotWidth = optional.Of(0.03)
	same(t, "slot as given", d.SlotWidth(), 0.03)
	d.Cabinet.Pitch, d.Targets.FlatTo = optional.Of(0.32), optional.Of(16000)
	s := d.FoldSpec()
	same(t, "height to fit in", s.CabinetHeight, 0.32)
	same(t, "depth to fit in", s.CabinetDepth, 0.35)
	same(t, "throat", s.ThroatDiameter, 0.025)
	same(t, "top", s.TopFrequency, 16000)
	d.Cabinet.Height = optional.Of(0.31)
	same(t, "height of the cabinet", d.FoldSpec().CabinetHeight, 0.31)
}

func TestPoints(t *testing.T) {
	if got, want := Points("  one\n\n two \n"), []string{"one", "two"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// Two rows of two woofers, 0.4 m apart, two vents at a quarter and three quarters of the height,
// 0.6 m, all on one vertical line but the woofers' columns 0.3 m to either side, and 0.1 m back.
// By hand: rises ±0.2 and ±0.15 differ by 0.05 or 0.35, the rest is √(0.3² + 0.1²).
func TestOutletDistanceOfSeveral(t *testing.T) {
	d := New()
	d.Cabinet.Height, d.Woofer.Size, d.Woofer.PerBox = optional.Of(0.6), optional.Of(0.2), 4
	d.Bands.Woofer.Columns, d.Bands.Woofer.Lateral, d.Woofer.Spacing = 2, optional.Of(0.6), optional.Of(0.4)
	d.Bands.Woofer.Offset, d.Bands.Woofer.Setback = optional.Of(0), optional.Of(0.1)
	d.Enclosure.VentDiameter, d.Enclosure.Vent.Count, d.Enclosure.VentPlace.Offset = optional.Of(0.08), 2, optional.Of(0)
	near, far := math.Sqrt(0.09+0.01+0.0025), math.Sqrt(0.09+0.01+0.1225)
	reftable.Near(t, "two vents, four woofers", d.OutletDistance().Value(), (near+far)/2, 1e-12)
	// Raised together they stay as far apart; the vents alone, 0.05 m higher, 0 or 0.4 m and
	// 0.1 or 0.3 m from the rows.
	d.Bands.Woofer.Rise, d.Enclosure.VentPlace.Rise = optional.Of(0.07), optional.Of(0.07)
	reftable.Near(t, "raised together", d.OutletDistance().Value(), (near+far)/2, 1e-12)
	d.Enclosure.VentPlace.Rise = optional.Of(0.12)
	sum := 0.0
	for _, dz := range []float64{0, 0.4, 0.1, 0.3} {
		sum += math.Sqrt(0.09 + 0.01 + dz*dz)
	}
	reftable.Near(t, "vents raised", d.OutletDistance().Value(), sum/4, 1e-12)
	// Without a lateral distance the columns stand a size apart, 0.1 m to either side.
	d.Bands.Woofer.Lateral, d.Enclosure.VentPlace.Rise = optional.Float{}, d.Bands.Woofer.Rise
	reftable.Near(t, "a size apart", d.OutletDistance().Value(), (math.Sqrt(0.0225)+math.Sqrt(0.1425))/2, 1e-12)
	for what, take := range map[string]func(*Design){
		"offset of the woofers": func(d *Design) { d.Bands.Woofer.Offset = optional.Float{} },
		"height of the cabinet": func(d *Design) { d.Cabinet.Height = optional.Float{} },
	} {
		less := d
		if take(&less); less.OutletDistance().Given() {
			t.Errorf("a distance without the %s", what)
		}
	}
	// A passive radiator has a place and a count of its own.
	d.Enclosure.Radiator.Sd, d.Enclosure.Radiator.Count, d.Enclosure.RadiatorPlace.Offset = optional.Of(0.03), 1, optional.Of(0.5)
	d.Woofer.PerBox, d.Bands.Woofer = 1, Place{Offset: optional.Of(0.1)}
	reftable.Near(t, "a radiator", d.OutletDistance().Value(), 0.4, 1e-12)
}
