package design

import (
	"gapline/internal/optional"
	"gapline/internal/wordset"
)

// Section is what only the wave check asks of a design: details of the
// horizontal section through cabinet and horn.
type Section struct {
	SlotWidth  optional.Float // of the slot from which the horn's side walls start, m; by default the fold's layer or the throat's diameter
	SideWalls  SideWalls
	EdgeRadius optional.Float // of the cabinet's upright front edges, m; by default 0
}

// SideWalls is the shape of the horn's side walls in the wave check; zero: not
// given, which is straight.
type SideWalls int

// The shapes.
const (
	StraightWalls  SideWalls = 1 + iota // at the coverage angle, from the slot to the mouth
	ProfileWalls                        // the horn's profile over its length
	SideWallsCount                      // the length of a table of shapes
)

var sideWalls = [SideWallsCount]string{StraightWalls: "straight", ProfileWalls: "profile"}

// Name returns the shape's word in the design file.
func (s SideWalls) Name() string { return wordset.Row(sideWalls[:], s) }

func (s SideWalls) String() string { return s.Name() }

// OrDefault returns the shape, straight when none is given.
func (s SideWalls) OrDefault() SideWalls {
	if s == 0 {
		return StraightWalls
	}
	return s
}

// SlotWidth returns the width in m of the slot from which the horn's side
// walls start: with a fold that of its layer, whose end it is, else the throat's
// diameter, unless the design says otherwise.
func (d *Design) SlotWidth() float64 {
	if d.HasFold() {
		return d.Section.SlotWidth.Or(d.Fold.Layer.Value())
	}
	return d.Section.SlotWidth.Or(d.Horn.Throat.Value())
}

// EdgeRadius returns the radius in m of the cabinet's upright front edges.
func (d *Design) EdgeRadius() float64 { return d.Section.EdgeRadius.Or(0) }
