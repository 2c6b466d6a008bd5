package design

import (
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
