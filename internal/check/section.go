package check

import (
	"fmt"

	"gapline/cabinet/design"
	"gapline/internal/numeric"
)

// section checks what the section adds against the mouth and the cabinet.
func (c *checker) section(d *design.Design) {
	s := &d.Section
	c.fits(s.SlotWidth.Value(), "horn.slot_width", d.Horn.MouthWidth.Value(), "horn.mouth_width", "a horn widens")
	c.fits(s.EdgeRadius.Value(), "cabinet.edge_radius", d.Cabinet.Depth.Value(), "cabinet.depth", "the rounding leaves the cabinet")
	width, mouth := d.Cabinet.Width.Value(), d.Horn.MouthWidth.Value()
	if !s.EdgeRadius.Given() || !numeric.Given(width) {
		return
	}
	if room := (width - numeric.Or(mouth, 0)) / 2; s.EdgeRadius.Value() > room+Slack {
		c.add(fmt.Sprintf("cabinet.edge_radius is %s, but beside the mouth (horn.mouth_width) there are only %s of front",
			length(s.EdgeRadius.Value()), length(room)), "cabinet.edge_radius", "horn.mouth_width", "cabinet.width")
	}
}
