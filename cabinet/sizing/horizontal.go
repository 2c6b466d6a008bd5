package sizing

import (
	"math"

	"gapline/internal/numeric"
)

// Horizontal is how far to the sides a band radiates at the frequency where it hands over
// to the next one up.
type Horizontal struct {
	Columns   int     // that stand side by side; 0: the design does not give enough
	Crossover float64 // Hz
	Stated    bool    // whether the file says it; else it is the middle of the gap
	Width     float64 // −6 dB full width at Crossover, rad; also NaN where the level falls nowhere so far
	CoversTo  float64 // frequency up to which the horn's coverage lies within −6 dB, Hz
	Dip       float64 // depth of the worst dip inside the coverage at Crossover, dB below the axis
	DipAt     float64 // its angle, rad, positive to the left
}

var absentHorizontal = Horizontal{Crossover: numeric.Absent, Width: numeric.Absent, CoversTo: numeric.Absent, Dip: numeric.Absent, DipAt: numeric.Absent}

// Covers reports whether the band covers the horn's coverage up to its crossover; true
// where that is not known.
func (h *Horizontal) Covers() bool { return !(h.CoversTo < h.Crossover) }

// reachInput is what the wave number depends on up to which columns cover an angle.
type reachInput struct {
	columns    list[Column]
	fall, half float64 // of the columns, rad/m; half the angle, rad
}

// reach is the stage of that wave number, rad/m.
func reach(in reachInput) float64 { return Columns(items(in.columns)).reach(in.half, in.fall) }

// fall is the stage of the columns' fall, rad/m.
func fall(columns list[Column]) float64 { return Columns(items(columns)).fall() }

// acrossInput is what the pattern at one frequency depends on.
type acrossInput struct {
	columns list[Column]
	fall    float64 // of the columns, rad/m
	k, half float64 // rad/m; half the angle to cover, rad
}

// pattern is how columns radiate at one frequency.
type pattern struct {
	width      float64 // rad
	dip, dipAt float64 // pressure ratio to the axis; rad
}

// across is the stage of the pattern.
func across(in acrossInput) pattern {
	cs := Columns(items(in.columns))
	p := pattern{width: cs.width(in.k, in.fall), dip: numeric.Absent, dipAt: numeric.Absent}
	if numeric.Given(in.half) {
		p.dip, p.dipAt = cs.deepest(in.k, in.half, in.fall)
	}
	return p
}

// acrossStages size one band in the horizontal plane.
type acrossStages struct {
	room    []Column // in which the next design's columns are gathered
	columns heldList[Column]
	fall    remembered[list[Column], float64]
	reach   remembered[reachInput, float64]
	pattern remembered[acrossInput, pattern]
}

// handover is the frequency in Hz at which a band hands over upward, and whether the file
// says it.
type handover struct {
	frequency float64
	stated    bool
}

// size takes the columns of the band, where it hands over, the coverage in rad of the horn
// and the speed of sound in m/s.
func (z *acrossStages) size(cs []Column, at handover, coverage, c float64) Horizontal {
	z.room = cs
	h := absentHorizontal
	if len(cs) == 0 {
		return h
	}
	h.Columns, h.Crossover, h.Stated = len(cs), at.frequency, at.stated
	columns, half := z.columns.of(cs), coverage/2
	fall := *z.fall.of(columns, fall)
	if numeric.Given(half) {
		h.CoversTo = *z.reach.of(reachInput{columns, fall, half}, reach) * c / (2 * math.Pi)
	}
	if numeric.Given(at.frequency) {
		p := z.pattern.of(acrossInput{columns, fall, 2 * math.Pi * at.frequency / c, half}, across)
		h.Width, h.Dip, h.DipAt = p.width, 0-numeric.DB(p.dip), p.dipAt
	}
	return h
}
