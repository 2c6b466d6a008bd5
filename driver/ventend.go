package driver

import "gapline/internal/wordset"

// VentEnd is how an end of a vent lies; zero: not given, which is free inside and
// flanged outside.
type VentEnd int

// The ends.
const (
	Flanged VentEnd = 1 + iota // in a wall
	Free
	ventEndCount
)

// ventEnds have the end correction in m of a round end of a radius in m.
var ventEnds = [ventEndCount]struct {
	name       string
	correction func(radius float64) float64
}{
	Flanged: {"flanged", func(radius float64) float64 { return Piston{Radius: radius}.EndCorrection() }},
	Free:    {"free", func(radius float64) float64 { return freeEnd * radius }},
}

// freeEnd is the end correction of an unflanged circular pipe in radii (H.
// Levine and J. Schwinger, Phys. Rev. 73 (1948) 383). For a rectangular duct
// the circle of equal area is taken, reduced as its flanged correction is.
const freeEnd = 0.6133

// or returns the end, or the other one when none is given.
func (e VentEnd) or(other VentEnd) VentEnd {
	if e == 0 {
		return other
	}
	return e
}

// Name returns the end's word in the design file.
func (e VentEnd) Name() string { return wordset.Row(ventEnds[:], e).name }

func (e VentEnd) String() string { return e.Name() }
