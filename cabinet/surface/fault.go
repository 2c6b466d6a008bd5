package surface

import "gapline/cabinet/layout"

// Fault is one reason why a design has no such surface.
type Fault struct {
	Of   Reason
	Band layout.Band
	Part int // index in Layout.Parts; −1: none
	// Values tell more in SI units, in the order that the reason names.
	Values []float64
	Err    error // of Unfilled and Unsound
}

// Reason is a kind of fault.
type Reason uint8

// The reasons: first what a surface cannot do without.
const (
	HeightLacks Reason = iota // the cabinet's
	WidthLacks
	DepthLacks
	PistonLacks   // size of a cone or radiator
	ExitLacks     // size of the horn's exit
	VentLacks     // size of a vent
	MouthLacks    // size of the insert's mouths
	ChamberLacks  // volume of the chamber, or how far the cones stand back
	Collide       // neighbouring boxes run into each other, m
	Narrow        // of open joints, how far the boxes are apart at the least, m
	InFloor       // boxes reach into the floor, m
	OnFloor       // of open joints, how far the lowest box is from the floor at the least, m
	Leaves        // a part reaches beyond the face that it stands in, m
	Covered       // a coaxial part leaves nothing of a part behind it
	Meet          // a part shares room with the one in Values[0] in the same face
	StandsOut     // a cone stands in front of the front or of its plate, m
	PocketLeaves  // the way to a cone reaches out of the cabinet, m
	PocketsMeet   // the ways to two cones, or two chambers, share room
	ConesApart    // cones behind one opening do not stand in one plane, m
	OpeningMisses // a cone does not stand behind its opening
	Unfilled      // a face cannot be filled
	Unsound       // the surface is not closed
	ReasonCount
)

// reasons say each in a few words.
var reasons = [ReasonCount]string{
	HeightLacks:   "the height of the cabinet is not known",
	WidthLacks:    "the width of the cabinet is not known",
	DepthLacks:    "the depth of the cabinet is not known",
	PistonLacks:   "the size of a piston is not known",
	ExitLacks:     "the size of the horn's exit is not known",
	VentLacks:     "the size of a vent is not known",
	MouthLacks:    "the size of the insert's mouths is not known",
	ChamberLacks:  "neither the chamber's volume nor the cones' setback is known",
	Collide:       "neighbouring boxes run into each other",
	Narrow:        "boxes with open joints touch",
	InFloor:       "boxes reach into the floor",
	OnFloor:       "boxes with open joints touch the floor",
	Leaves:        "a part reaches beyond the face that it stands in",
	Covered:       "a part covers another one whole",
	Meet:          "two parts in one face share room",
	StandsOut:     "a cone stands in front of the face that it radiates through",
	PocketLeaves:  "the way to a cone reaches out of the cabinet",
	PocketsMeet:   "the ways to two cones share room",
	ConesApart:    "cones behind one opening do not stand in one plane",
	OpeningMisses: "a cone does not stand behind its opening",
	Unfilled:      "a face cannot be filled with triangles",
	Unsound:       "the surface is not closed",
}

// String says the reason in a few words.
func (r Reason) String() string { return reasons[r] }
