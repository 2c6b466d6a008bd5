package check

import (
	"fmt"
	"math"

	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
)

// Problem is one reason why a design cannot be computed. Keys are the design-file
// keys that contradict each other, the one to change first.
type Problem struct {
	Keys []string
	Text string
}

// Slack is the play allowed where two lengths may be equal, m: far under any
// workshop's tolerance, far over rounding.
const Slack = 1e-6

// Design lists every reason why the design cannot be computed: values that contradict
// each other, lists of the wrong length. Ranges of single values are the file reader's to
// check; parts that cannot be built together are a misfit of the layout. Fields not given
// are not checked.
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
	c.fits(w.EffectiveDiameter.Value(), "woofer.effective_diameter", w.Size.Value(), "woofer.size", "the piston cannot be larger than the driver")
	c.fits(m.EffectiveDiameter.Value(), "mid.effective_diameter", m.Size.Value(), "mid.size", "the piston cannot be larger than the driver")
	switch {
	case d.HasMid() && !numeric.Given(m.Diameter()):
		c.add("[mid] gives none of mid.size, mid.effective_diameter and mid.sd", "mid.size")
	case !d.HasMid() && (m.Parameters != driver.Parameters{} || m.Volume.Given()):
		c.add("[mid] needs mid.size, mid.effective_diameter or mid.sd beside mid.fs, mid.power and the like: without one there are no mids", "mid.size", "mid.power", "mid.fs")
	}
}

// columns checks that the drivers of one band fill their columns.
func (c *checker) columns(table string, columns, perBox int) {
	if columns > 0 && perBox%columns != 0 {
		c.add(fmt.Sprintf("%s.columns is %d, but %s.per_box is %d: equal columns need a multiple of them", table, columns, table, perBox),
			table+".columns", table+".per_box")
	}
}

func (c *checker) insert(d *design.Design) {
	i := &d.Insert
	if !d.HasInsert() {
		if i.Spacing.Given() || i.MouthHeight.Given() || i.MouthWidth.Given() || i.ChamberVolume.Given() {
			c.add("[insert] needs insert.mouths, the number of openings in each box", "insert.mouths")
		}
		return
	}
	c.mouths(d)
}

// mouths checks that the mouths of the insert stand clear of each other, in one box and
// from box to box, and says what would be right.
func (c *checker) mouths(d *design.Design) {
	n, high, apart, pitch := d.Insert.Mouths, d.Insert.MouthHeight.Value(), d.InsertSpacing(), d.Pitch()
	if n < 2 {
		return
	}
	most, gaps := pitch/float64(n), float64(n-1)
	switch {
	case high > apart+Slack:
		c.add(fmt.Sprintf("insert.mouth_height is %s: %d mouths %s apart (insert.spacing) may be at most %s high, or those of one box overlap",
			length(high), n, length(apart), length(apart)), "insert.mouth_height", "insert.spacing")
	case !(gaps*apart+high > pitch+Slack):
	case high > most+Slack:
		c.add(fmt.Sprintf("insert.mouth_height is %s: %d mouths in a pitch of %s may be at most %s high, %s apart (insert.spacing), or those of neighbouring boxes overlap",
			length(high), n, length(pitch), length(most), length(most)), "insert.mouth_height", "insert.spacing", "insert.mouths")
	default:
		c.add(fmt.Sprintf("insert.spacing is %s: %d mouths %s high in a pitch of %s may be at most %s apart, or those of neighbouring boxes overlap",
			length(apart), n, length(high), length(pitch), length((pitch-high)/gaps)), "insert.spacing", "insert.mouth_height")
	}
}

func (c *checker) horn(d *design.Design) {
	h := &d.Horn
	if mouth := h.MouthWidth.Value() * h.MouthHeight.Value(); math.Pi*h.Throat.Value()*h.Throat.Value()/4 > mouth {
		c.add("horn.throat is larger than the mouth (horn.mouth_width times horn.mouth_height): a horn widens", "horn.throat", "horn.mouth_width")
	}
}
