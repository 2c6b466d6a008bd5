package cabinet

import (
	"fmt"

	"gapline/internal/numeric"
)

// Section is what only the wave check asks of a design: details of the
// horizontal section through cabinet and horn.
type Section struct {
	SlotWidth  float64 // of the slot from which the horn's side walls start, m; by default the throat's diameter
	SideWalls  string  // one of SideWalls; empty: StraightWalls
	EdgeRadius float64 // of the cabinet's upright front edges, m; by default 0
}

// The shapes of the horn's side walls.
const (
	StraightWalls = "straight" // at the coverage angle, from the slot to the mouth
	ProfileWalls  = "profile"  // the horn's profile over its length
)

// SideWalls lists the side walls a design may ask for.
var SideWalls = []string{StraightWalls, ProfileWalls}

// SlotWidth returns the width in m of the slot from which the horn's side
// walls start.
func (d *Design) SlotWidth() float64 { return numeric.Or(d.Section.SlotWidth, d.Horn.Throat) }

// EdgeRadius returns the radius in m of the cabinet's upright front edges.
func (d *Design) EdgeRadius() float64 { return numeric.Or(d.Section.EdgeRadius, 0) }

// section checks what the section adds against the mouth and the cabinet.
func (c *checker) section(d *Design) {
	s := &d.Section
	c.fits(s.SlotWidth, "horn.slot_width", d.Horn.MouthWidth, "horn.mouth_width", "a horn widens")
	c.fits(s.EdgeRadius, "cabinet.edge_radius", d.Cabinet.Depth, "cabinet.depth", "the rounding leaves the cabinet")
	width, mouth := d.Cabinet.Width, d.Horn.MouthWidth
	if !numeric.Given(s.EdgeRadius) || !numeric.Given(width) {
		return
	}
	if room := (width - numeric.Or(mouth, 0)) / 2; s.EdgeRadius > room+slack {
		c.add(fmt.Sprintf("cabinet.edge_radius is %s, but beside the mouth (horn.mouth_width) there are only %s of front",
			length(s.EdgeRadius), length(room)), "cabinet.edge_radius", "horn.mouth_width", "cabinet.width")
	}
}
