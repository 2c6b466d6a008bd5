package check

import (
	"fmt"

	"gapline/cabinet/design"
	"gapline/internal/quantity"
)

// stack checks how the boxes hang and where people sit. Whether the stack clears
// the ground is the field's to check, since it takes the whole geometry.
func (c *checker) stack(d *design.Design) {
	h := &d.Hanging
	if n := len(h.Shading); n > 0 && n != d.Line.Boxes {
		c.add(fmt.Sprintf("line.shading has %s, but line.boxes is %d: one is needed for each box", counted(n, "gain", "gains"), d.Line.Boxes), "line.shading", "line.boxes")
	}
	if n := len(h.Delays); n > 0 && n != d.Line.Boxes {
		c.add(fmt.Sprintf("line.delays has %s, but line.boxes is %d: one is needed for each box", counted(n, "delay", "delays"), d.Line.Boxes), "line.delays", "line.boxes")
	}
	switch {
	case len(h.TiltRange) == 0:
	case len(h.TiltRange) != 2:
		c.add(fmt.Sprintf("line.tilt_range has %s: two are needed, the lowest and the highest tilt", counted(len(h.TiltRange), "angle", "angles")), "line.tilt_range")
	case h.TiltRange[0] > h.TiltRange[1]:
		c.add(fmt.Sprintf("line.tilt_range runs from %s down to %s: the lower angle comes first",
			angle(h.TiltRange[0]), angle(h.TiltRange[1])), "line.tilt_range")
	}
	c.audience(&d.Audience)
}

// counted is a number with its noun.
func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func angle(rad float64) string { return quantity.Format(rad, quantity.Angle, quantity.Metric) }

// audience checks that the lists fit together and that nobody sits behind the
// stack.
func (c *checker) audience(a *design.Audience) {
	c.quiet(a)
	n := len(a.Start)
	given := n > 0 || len(a.End) > 0 || len(a.StartFloor) > 0 || len(a.EndFloor) > 0
	if !given {
		if a.EarHeight.Given() || a.Step.Given() || a.BackLevel.Given() || a.OverRow.Given() || a.Fall.Given() || len(a.QuietFrom) > 0 {
			c.add("[audience] needs audience.start and audience.end, the first and last row of each stretch of seats",
				"audience.ear_height", "audience.step", "audience.back_level", "audience.over_row", "audience.fall", "audience.quiet_from")
		}
		return
	}
	for _, list := range []struct {
		key      string
		values   []float64
		optional bool
	}{
		{"audience.start", a.Start, false}, {"audience.end", a.End, false},
		{"audience.start_floor", a.StartFloor, true}, {"audience.end_floor", a.EndFloor, true},
	} {
		if m := len(list.values); m != max(n, 1) && !(list.optional && m == 0) {
			c.add(fmt.Sprintf("%s has %s, but audience.start has %d: each stretch of seats needs one", list.key, counted(m, "entry", "entries"), n), list.key, "audience.start", "audience.end")
		}
	}
	if (len(a.StartFloor) == 0) != (len(a.EndFloor) == 0) {
		c.add("audience.start_floor and audience.end_floor go together: give both or neither", "audience.start_floor", "audience.end_floor")
	}
	c.stretches(a)
}

// quiet checks that the lists of the quiet zone fit together.
func (c *checker) quiet(a *design.Audience) {
	n, m, h := len(a.QuietFrom), len(a.QuietTo), len(a.QuietHeight)
	if n != m {
		c.add(fmt.Sprintf("audience.quiet_from has %s, audience.quiet_to %s: each stretch of the quiet zone needs both ends", counted(n, "entry", "entries"), counted(m, "entry", "entries")),
			"audience.quiet_from", "audience.quiet_to")
	}
	if h > 0 && h != n {
		c.add(fmt.Sprintf("audience.quiet_height has %s, but audience.quiet_from has %d: each stretch of the quiet zone needs one", counted(h, "entry", "entries"), n),
			"audience.quiet_height", "audience.quiet_from")
	}
	for i := range min(n, m) {
		if a.QuietTo[i] < a.QuietFrom[i] {
			c.add(fmt.Sprintf("audience.quiet_to entry %d is %s, nearer than audience.quiet_from %s", i+1, length(a.QuietTo[i]), length(a.QuietFrom[i])),
				"audience.quiet_to", "audience.quiet_from")
		}
	}
	if a.QuietLevel.Given() && n == 0 {
		c.add("audience.quiet_level needs audience.quiet_from and audience.quiet_to: where sound is not wanted", "audience.quiet_level")
	}
}

func (c *checker) stretches(a *design.Audience) {
	for i := range min(len(a.Start), len(a.End)) {
		switch start, end := a.Start[i], a.End[i]; {
		case start <= 0:
			c.add(fmt.Sprintf("audience.start entry %d is %s, behind the front of the stack: distances count forward from the top box and must be more than 0",
				i+1, length(start)), "audience.start")
		case end < start:
			c.add(fmt.Sprintf("audience.end entry %d is %s, nearer than audience.start %s: the last row stands behind the first",
				i+1, length(end), length(start)), "audience.end", "audience.start")
		}
	}
}
