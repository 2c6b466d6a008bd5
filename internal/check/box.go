package check

import (
	"errors"
	"fmt"
	"strings"

	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/internal/optional"
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
func BoxSetup(d *design.Design) (driver.Setup, error) {
	var c checker
	a := air.Of(d.Air)
	complete := c.completeWoofer(d, a)
	c.completeEnclosure(d, a)
	s := d.DriverSetup(complete, a)
	s.Insert = d.DriverInsert()
	if len(c.problems) > 0 {
		return s, &BoxError{c.problems}
	}
	if _, err := driver.NewCircuit(s); err != nil {
		return s, &BoxError{[]Problem{{Text: err.Error()}}}
	}
	return s, nil
}

// openBack is a volume so large that it leaves a driver as it is, m³.
const openBack = 1e6

// MidSetup returns the circuit of one box's mids in their closed volume, or as they are
// built where none is given. The error is of type *BoxError.
func MidSetup(d *design.Design) (driver.Setup, error) {
	a := air.Of(d.Air)
	complete, err := d.Mid.Derive(a)
	if err != nil {
		return driver.Setup{}, &BoxError{[]Problem{{Keys: []string{"mid.fs", "mid.size"}, Text: "the mids' parameters: " + strings.TrimPrefix(err.Error(), "driver parameters: ")}}}
	}
	s := driver.Setup{Driver: complete, Count: max(d.Mid.PerBox, 1), Columns: d.MidColumns(), Spacing: d.MidSpacing(), Lateral: d.Bands.Mid.Lateral.Value(),
		Wiring: d.Mid.Wiring.OrDefault(), Enclosure: driver.Enclosure{Kind: driver.Closed, Volume: optional.Of(d.Mid.Volume.Or(openBack))}}
	if _, err := driver.NewCircuit(s); err != nil {
		return s, &BoxError{[]Problem{{Text: err.Error()}}}
	}
	return s, nil
}

// InsertLacks lists the keys that the insert's filter still needs.
func InsertLacks(d *design.Design) []string {
	i := &d.Insert
	var out []string
	for _, k := range []struct {
		key   string
		value float64
	}{
		{"insert.mouth_height", i.MouthHeight.Value()}, {"insert.mouth_width", i.MouthWidth.Value()},
		{"insert.slot_depth", i.SlotDepth.Value()}, {"insert.chamber_volume", i.ChamberVolume.Value()},
	} {
		if !numeric.Given(k.value) {
			out = append(out, k.key)
		}
	}
	if i.Mouths > 1 && !numeric.Given(d.InsertSpacing()) {
		out = append(out, "insert.spacing")
	}
	return out
}

// completeWoofer derives the driver's full set and says in keys of the file what
// is missing or impossible.
func (c *checker) completeWoofer(d *design.Design, a air.Air) driver.Complete {
	complete, err := d.Woofer.Derive(a)
	var short *driver.InsufficientError
	switch {
	case errors.As(err, &short):
		c.add(shortText(d, short), "woofer.size", "woofer.fs")
	case err != nil:
		c.add("the woofer's parameters cannot be: "+strings.TrimPrefix(err.Error(), "driver parameters: "), "woofer.fs", "woofer.mms")
	}
	return complete
}

// mostOptions bounds the sets of missing keys that a message lists.
const mostOptions = 3

// shortText says what the size alone gives and which keys would do.
func shortText(d *design.Design, e *driver.InsufficientError) string {
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
			how = fmt.Sprintf("%g of woofer.size, common practice", design.EffectiveShare)
		}
		text += fmt.Sprintf(" (known so far: effective diameter %s, %s)", length(diameter), how)
	}
	return text
}

func hertz(f float64) string { return quantity.Format(f, quantity.Frequency, quantity.Metric) }
func area(m2 float64) string { return quantity.Format(m2, quantity.Area, quantity.Metric) }
