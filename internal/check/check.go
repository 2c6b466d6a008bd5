package check

import (
	"fmt"
	"math"

	"gapline/cabinet/design"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
)

// Problem is one reason why a design cannot exist. Keys are the design-file
// keys that contradict each other, the one to change first.
type Problem struct {
	Keys []string
	Text string
}

// Slack is the play allowed where two lengths may be equal, m: far under any
// workshop's tolerance, far over rounding.
const Slack = 1e-6

// Design lists every reason why the design cannot exist: parts that do not fit
// into each other, lists of the wrong length. Ranges of single values are the
// file reader's to check. Fields not given are not checked.
func Design(d *design.Design) []Problem {
	var c checker
	c.cabinet(d)
	c.line(d)
	c.cones(d)
	c.insert(d)
	c.horn(d)
	c.enclosure(d)
	c.hornPoints(d)
	c.flares(d)
	c.fold(d)
	c.stack(d)
	c.section(d)
	return c.problems
}

type checker struct{ problems []Problem }

func (c *checker) add(text string, keys ...string) {
	c.problems = append(c.problems, Problem{Keys: keys, Text: text})
}

// fits adds a problem when the first length exceeds the second.
func (c *checker) fits(a float64, keyA string, b float64, keyB, why string) {
	if a > b+Slack {
		c.add(fmt.Sprintf("%s is %s, more than %s of %s: %s", keyA, length(a), keyB, length(b), why), keyA, keyB)
	}
}

func length(m float64) string { return quantity.Format(m, quantity.Length, quantity.Metric) }

func (c *checker) cabinet(d *design.Design) {
	k := &d.Cabinet
	c.fits(k.Height.Value(), "cabinet.height", k.Pitch.Value(), "cabinet.pitch", "the boxes would overlap")
	c.fits(k.RearHeight.Value(), "cabinet.rear_height", k.Height.Value(), "cabinet.height", "a cabinet tapers towards its rear")
	if sum := k.Height.Value() + k.Gap.Value(); k.Pitch.Given() && math.Abs(sum-k.Pitch.Value()) > Slack {
		c.add(fmt.Sprintf("cabinet.pitch is %s, but cabinet.height and cabinet.gap add up to %s: give two of the three",
			length(k.Pitch.Value()), length(sum)), "cabinet.pitch", "cabinet.gap")
	}
}

func (c *checker) line(d *design.Design) {
	n := len(d.Line.Splay)
	switch {
	case n == 0:
	case d.Line.Boxes == 0:
		c.add("line.splay is given without line.boxes", "line.splay", "line.boxes")
	case n != d.Line.Boxes-1:
		c.add(fmt.Sprintf("line.splay has %s, but line.boxes is %d: %d are needed, one for each pair of neighbours",
			counted(n, "angle", "angles"), d.Line.Boxes, d.Line.Boxes-1), "line.splay", "line.boxes")
	}
}

func (c *checker) cones(d *design.Design) {
	w, m := &d.Woofer, &d.Mid
	c.columns("woofer", d.Bands.Woofer.Columns, d.WoofersPerBox())
	c.columns("mid", d.Bands.Mid.Columns, max(m.PerBox, 1))
	c.band("woofer", d, w.Size.Value(), w.EffectiveDiameter.Value(), w.PerBox, w.Spacing.Value())
	c.band("mid", d, m.Size.Value(), m.EffectiveDiameter.Value(), m.PerBox, m.Spacing.Value())
	if d.HasMid() && !m.Size.Given() && !m.EffectiveDiameter.Given() {
		c.add("[mid] gives neither mid.size nor mid.effective_diameter", "mid.size")
	}
}

// columns checks that the drivers of one band fill their columns.
func (c *checker) columns(table string, columns, perBox int) {
	if columns > 0 && perBox%columns != 0 {
		c.add(fmt.Sprintf("%s.columns is %d, but %s.per_box is %d: equal columns need a multiple of them", table, columns, table, perBox),
			table+".columns", table+".per_box")
	}
}

// band checks the cones of one band against each other and the cabinet.
func (c *checker) band(table string, d *design.Design, size, effective float64, perBox int, spacing float64) {
	key := func(name string) string { return table + "." + name }
	c.fits(effective, key("effective_diameter"), size, key("size"), "the piston cannot be larger than the driver")
	diameter, diameterKey := size, key("size")
	if !numeric.Given(size) {
		diameter, diameterKey = effective, key("effective_diameter")
	}
	room, roomKey := d.Cabinet.Height.Value(), "cabinet.height"
	if !numeric.Given(room) {
		room, roomKey = d.Cabinet.Pitch.Value(), "cabinet.pitch"
	}
	c.fits(diameter, diameterKey, room, roomKey, "the driver does not fit")
	c.fits(diameter, diameterKey, d.Cabinet.Width.Value(), "cabinet.width", "the driver does not fit")
	if !numeric.Given(spacing) || perBox < 2 {
		return
	}
	c.fits(diameter, diameterKey, spacing, key("spacing"), "the drivers of one box would overlap")
	span := float64(perBox-1)*spacing + diameter
	c.fits(span, fmt.Sprintf("the span of %d drivers (%s)", perBox, key("spacing")), room, roomKey, "they leave the cabinet")
}

func (c *checker) insert(d *design.Design) {
	i := &d.Insert
	if !d.HasInsert() {
		if i.Spacing.Given() || i.MouthHeight.Given() || i.MouthWidth.Given() || i.ChamberVolume.Given() {
			c.add("[insert] needs insert.mouths, the number of openings in each box", "insert.mouths")
		}
		return
	}
	c.fits(i.MouthWidth.Value(), "insert.mouth_width", d.Cabinet.Width.Value(), "cabinet.width", "the mouths leave the cabinet")
	room, roomKey := d.Cabinet.Height.Value(), "cabinet.height"
	if !numeric.Given(room) {
		room, roomKey = d.Pitch(), "cabinet.pitch"
	}
	c.fits(i.MouthHeight.Value(), "insert.mouth_height", room, roomKey, "the mouths leave the cabinet")
	if i.Mouths < 2 {
		return
	}
	c.fits(i.MouthHeight.Value(), "insert.mouth_height", d.InsertSpacing(), "insert.spacing", "the mouths of one box would overlap")
	span := float64(i.Mouths-1)*d.InsertSpacing() + i.MouthHeight.Or(0)
	if span > room+Slack {
		c.add(fmt.Sprintf("insert.mouths (%d), insert.spacing (%s) and insert.mouth_height span %s, more than %s of %s: the mouths leave the cabinet",
			i.Mouths, length(d.InsertSpacing()), length(span), roomKey, length(room)), "insert.spacing", roomKey)
	}
}

func (c *checker) horn(d *design.Design) {
	h := &d.Horn
	c.fits(h.MouthWidth.Value(), "horn.mouth_width", d.Cabinet.Width.Value(), "cabinet.width", "the mouth leaves the cabinet")
	if d.Cabinet.Height.Given() {
		c.fits(h.MouthHeight.Value(), "horn.mouth_height", d.Cabinet.Height.Value(), "cabinet.height", "the mouth leaves the cabinet")
	} else {
		c.fits(h.MouthHeight.Value(), "horn.mouth_height", d.Cabinet.Pitch.Value(), "cabinet.pitch", "neighbouring mouths would overlap")
	}
	if mouth := h.MouthWidth.Value() * h.MouthHeight.Value(); math.Pi*h.Throat.Value()*h.Throat.Value()/4 > mouth {
		c.add("horn.throat is larger than the mouth (horn.mouth_width times horn.mouth_height): a horn widens", "horn.throat", "horn.mouth_width")
	}
}
