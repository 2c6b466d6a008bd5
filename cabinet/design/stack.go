package design

import (
	"gapline/cabinet/field"
	"gapline/cabinet/filter"
	"gapline/internal/optional"
)

// Hanging is how the boxes of a line may turn against each other.
type Hanging struct {
	Hinge      field.Hinge // rigging edge about which a box turns
	SplaySteps []float64   // angles that the rigging allows between neighbours, rad
	TiltRange  []float64   // lowest and highest tilt allowed, rad, positive upward
	Shading    []float64   // gain of each box from the top, dB; empty: none
	GainSteps  []float64   // gains that shading may use, dB
	Delays     []float64   // of each box from the top, s; empty: none
	DelaySteps []float64   // delays that a box may have, s
}

// Place is where the mouths of one band sit on the front, and how its sound
// compares.
type Place struct {
	Offset      optional.Float // of their middle from the middle of the front, m, to the left as seen from behind
	Rise        optional.Float // of their middle above the middle of the front, m; by default 0
	Columns     int            // how many stand side by side; see Columns
	Lateral     optional.Float // between neighbours that stand side by side, m
	Setback     optional.Float // of their mouths behind the front, m; by default 0
	Turn        optional.Float // of their axes outward, rad; see Turn
	Depth       optional.Float // of a driver, from its flange to its back, m
	Mounting    Mounting
	Sensitivity optional.Float // level on the axis of one box at 1 m and DefaultVoltage, dB
	Gain        optional.Float // against the level that matches the band below at the crossover, dB; by default 0
	Delay       optional.Float // s; by default 0
	Polarity    filter.Polarity
}

// Bands holds the place of each band on the front.
type Bands struct{ Woofer, Mid, Horn Place }

// LowCrossover is where woofers and mids meet, in a design that has mids.
type LowCrossover struct {
	Frequency optional.Float   // Hz; by default the mids' lowest
	Order     int              // by default that of the main crossover
	Alignment filter.Alignment // likewise
}

// Audience is where people sit, as straight stretches of seats in front of the
// stack, in its plane of symmetry. Distances count from the upper front edge of
// the top box, floors from the ground under the stack. Lists have one entry for
// each stretch, front to back.
type Audience struct {
	Start, End           []float64      // distance of first and last row, m
	StartFloor, EndFloor []float64      // floor under them, m; empty: flat ground
	EarHeight            optional.Float // ears above the floor, m; by default DefaultEarHeight
	Step                 optional.Float // between the seats that are computed, m; by default 1
	BackLevel            optional.Float // least A-weighted level wanted at the last row, dB
	Fall                 optional.Float // wanted from the nearest seat to the farthest, dB; 0 unless given
	QuietFrom, QuietTo   []float64      // where sound is not wanted: distances of both ends of each stretch, m
	QuietHeight          []float64      // its height above the ground under the stack, m
	QuietLevel           optional.Float // most that it may reach against the mean of the seats, dB; by default DefaultQuietLevel
	OverRow              optional.Float // most that the sound over the last row may reach against it, dB; by default DefaultOverRow
}

// Defaults of an audience.
const (
	DefaultEarHeight = 1.2 // m, a seated adult; common practice, no source
	DefaultSeatStep  = 1   // m
	DefaultOverRow   = -6  // dB; a choice, no source

	DefaultQuietLevel = -12 // dB; a choice, no source
)

// Given reports whether the design says where people sit.
func (a *Audience) Given() bool { return len(a.Start) > 0 }
