package cabinet

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
)

// BoxError says why a design gives no box circuit: keys that are missing, or
// values that no box can have.
type BoxError struct{ Problems []Problem }

// Error returns the problems in one line.
func (e *BoxError) Error() string {
	texts := make([]string, len(e.Problems))
	for i, p := range e.Problems {
		texts[i] = p.Text
	}
	return strings.Join(texts, "; ")
}

// BoxSetup returns the box's circuit as the design gives it: drivers, enclosure
// and, when its dimensions suffice, the insert. The air in front of bare cones
// counts as mass only, which is Small's convention.
//
// The error is of type *BoxError; its texts name keys of the design file.
func (d *Design) BoxSetup() (driver.Setup, error) {
	var c checker
	a := air.Of(d.Air)
	complete := d.completeWoofer(&c, a)
	d.checkEnclosure(&c, a)
	s := d.setup(complete, a)
	s.Insert = d.boxInsert()
	if len(c.problems) > 0 {
		return s, &BoxError{c.problems}
	}
	if _, err := driver.NewCircuit(s); err != nil {
		return s, &BoxError{[]Problem{{Text: err.Error()}}}
	}
	return s, nil
}

// setup puts a completed driver into the design's box, without the insert.
func (d *Design) setup(complete driver.Complete, a air.Air) driver.Setup {
	s := driver.Setup{
		Driver:     complete,
		Count:      d.woofersPerBox(),
		Spacing:    d.Woofer.Spacing,
		SideBySide: !numeric.Given(d.Woofer.Spacing),
		Enclosure:  d.driverEnclosure(a),
	}
	if d.Woofer.Wiring == "series" {
		s.Wiring = driver.Series
	}
	return s
}

// EnclosureKind returns the kind of the enclosure: as given, or as the other
// keys imply.
func (d *Design) EnclosureKind() driver.EnclosureKind {
	e := &d.Enclosure
	if i := slices.Index(EnclosureKinds, e.Kind); i >= 0 {
		return driver.EnclosureKind(i)
	}
	switch {
	case numeric.Given(e.Radiator.Sd):
		return driver.PassiveRadiator
	case numeric.Given(e.Tuning) || numeric.Given(e.ventArea()):
		return driver.Vented
	}
	return driver.Closed
}

// ventArea returns the cross section of one vent in m² from whichever key
// gives it.
func (e *Enclosure) ventArea() float64 {
	switch {
	case numeric.Given(e.Vent.Area):
		return e.Vent.Area
	case numeric.Given(e.VentDiameter):
		return math.Pi / 4 * e.VentDiameter * e.VentDiameter
	}
	return e.Vent.Width * e.Vent.Height
}

// driverEnclosure returns the enclosure as package driver takes it.
func (d *Design) driverEnclosure(a air.Air) driver.Enclosure {
	e := &d.Enclosure
	vent := e.Vent
	vent.Area = e.ventArea()
	vent.InnerFlanged = e.VentInner == "flanged"
	vent.OuterFree = e.VentOuter == "free"
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

// boxInsert returns the insert as package driver takes it, or nil when the
// design has none or does not give all its dimensions.
func (d *Design) boxInsert() *driver.Insert {
	if !d.HasInsert() || len(d.InsertLacks()) > 0 {
		return nil
	}
	i := &d.Insert
	return &driver.Insert{Mouths: i.Mouths, Width: i.MouthWidth, Height: i.MouthHeight,
		Spacing: d.insertSpacing(), Depth: i.SlotDepth, ChamberVolume: i.ChamberVolume}
}

// InsertLacks lists the keys that the insert's filter still needs.
func (d *Design) InsertLacks() []string {
	i := &d.Insert
	var out []string
	for _, k := range []struct {
		key   string
		value float64
	}{
		{"insert.mouth_height", i.MouthHeight}, {"insert.mouth_width", i.MouthWidth},
		{"insert.slot_depth", i.SlotDepth}, {"insert.chamber_volume", i.ChamberVolume},
	} {
		if !numeric.Given(k.value) {
			out = append(out, k.key)
		}
	}
	if i.Mouths > 1 && !numeric.Given(d.insertSpacing()) {
		out = append(out, "insert.spacing")
	}
	return out
}

// completeWoofer derives the driver's full set and says in keys of the file what
// is missing or impossible.
func (d *Design) completeWoofer(c *checker, a air.Air) driver.Complete {
	complete, err := d.Woofer.Derive(a)
	var short *driver.InsufficientError
	switch {
	case errors.As(err, &short):
		c.add(d.shortText(short), "woofer.size", "woofer.fs")
	case err != nil:
		c.add("the woofer's parameters cannot be: "+strings.TrimPrefix(err.Error(), "driver parameters: "), "woofer.fs", "woofer.mms")
	}
	return complete
}

// mostOptions bounds the sets of missing keys that a message lists.
const mostOptions = 3

// shortText says what the size alone gives and which keys would do.
func (d *Design) shortText(e *driver.InsufficientError) string {
	var sets []string
	for _, o := range e.Options[:min(len(e.Options), mostOptions)] {
		keys := make([]string, len(o))
		for i, k := range o {
			keys[i] = "woofer." + k
		}
		sets = append(sets, strings.Join(keys, " + "))
	}
	text := "the woofer's keys do not suffice for a box response: give also " + strings.Join(sets, ", or ")
	if diameter := d.Woofer.Diameter(); numeric.Given(diameter) {
		_, from := d.Woofer.PistonRadius()
		how := "from woofer." + from
		if from == "size" {
			how = fmt.Sprintf("%g of woofer.size, common practice", EffectiveShare)
		}
		text += fmt.Sprintf(" (known so far: effective diameter %s, %s)", length(diameter), how)
	}
	return text
}

// WooferName is the driver's own title or, without one, its size.
func (d *Design) WooferName() string {
	switch {
	case d.Woofer.Title != "":
		return d.Woofer.Title
	case numeric.Given(d.Woofer.Size):
		return length(d.Woofer.Size) + " driver"
	}
	return "driver"
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

func volume(m3 float64) string { return quantity.Format(m3, quantity.Volume, quantity.Metric) }
func hertz(f float64) string   { return quantity.Format(f, quantity.Frequency, quantity.Metric) }
func area(m2 float64) string   { return quantity.Format(m2, quantity.Area, quantity.Metric) }
