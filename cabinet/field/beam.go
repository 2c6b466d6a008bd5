package field

import (
	"math"

	"gapline/internal/numeric"
)

// BeamDrop is how far below its largest level a beam ends, dB.
const BeamDrop = 6

// What is told apart in a row of levels, dB: places whose levels differ by less are
// equally loud; a lobe rises out of a dip by more than leastRise, less is a shoulder.
const (
	equallyLoud = 0.05
	leastRise   = 0.5
)

// BeamSpec says what is known of a beam before it is looked for. Angles are those of
// the row, rad.
type BeamSpec struct {
	// From and To are the lowest and the highest direction that a box points into.
	From, To float64
	// SeatsFrom and SeatsTo are the lowest and the highest direction of a seat, whose
	// levels are no lobes; NaN: no seats.
	SeatsFrom, SeatsTo float64
	// Whole takes all places that are equally loud for one beam, as a pattern that is
	// alike on both sides asks for; else the nearest to the boxes' directions counts.
	Whole bool
}

// Beam is the main beam of one row of levels over angle.
type Beam struct {
	Aim   float64 // direction of the largest level, rad
	Level float64 // the largest level, in the row's own reference, dB
	// Lower and Upper are the −6 dB edges, rad; infinite where the level does not fall
	// so far in front.
	Lower, Upper float64
	Dip          float64 // lowest level between the edges, against Level, dB
	// Lobe is the highest level beside the beam and beside the seats, against Level, dB,
	// and LobeAt where, rad; NaN: there is none.
	Lobe, LobeAt float64
}

// Width is the angle between the edges, rad; +Inf where one of them does not exist.
func (b Beam) Width() float64 { return b.Upper - b.Lower }

// BeamOf returns the main beam of a row of levels in front of a stack. A curved stack
// fills its beam from boxes that point into different directions, and where their
// sound cancels the level may fall by more than 6 dB. So the beam is every stretch
// within BeamDrop of the largest level that holds it or meets the directions of the
// boxes, and all between such stretches; edges lie on straight lines between the
// angles, which must ascend.
//
// Special cases are: a row without any finite level gives NaN throughout.
func BeamOf(angle, level []float64, s BeamSpec) Beam {
	if len(angle) != len(level) {
		panic("field: a level for each angle is needed")
	}
	top, aim := loudest(angle, level, &s)
	if aim < 0 {
		a := numeric.Absent
		return Beam{a, a, a, a, a, a, a}
	}
	out := Beam{Aim: angle[aim], Level: top}
	low, high := extent(angle, level, top, aim, &s)
	out.Lower, out.Upper = math.Inf(-1), math.Inf(1)
	if low > 0 {
		out.Lower = edge(angle, level, low-1, low, top-BeamDrop)
	}
	if high < len(level)-1 {
		out.Upper = edge(angle, level, high+1, high, top-BeamDrop)
	}
	for _, l := range level[low : high+1] {
		out.Dip = math.Min(out.Dip, l-top)
	}
	out.Lobe, out.LobeAt = math.Inf(-1), numeric.Absent
	out.beside(angle, level, low, -1, &s)
	out.beside(angle, level, high, 1, &s)
	if math.IsInf(out.Lobe, -1) {
		out.Lobe = numeric.Absent
	}
	return out
}

// loudest returns the largest level and, of the places that are as loud, the one
// nearest to the directions of the boxes; −1: no level is finite.
func loudest(angle, level []float64, s *BeamSpec) (top float64, at int) {
	top, at = math.Inf(-1), -1
	for _, l := range level {
		if l > top && !math.IsInf(l, 1) {
			top = l
		}
	}
	off := math.Inf(1)
	for i, l := range level {
		peak := (i == 0 || level[i-1] <= l) && (i == len(level)-1 || level[i+1] <= l)
		if d := math.Abs(angle[i] - (s.From+s.To)/2); peak && l >= top-equallyLoud && !math.IsInf(l, 0) && d < off {
			at, off = i, d
		}
	}
	return top, at
}

// extent returns the first and the last index of the beam.
func extent(angle, level []float64, top float64, aim int, s *BeamSpec) (low, high int) {
	const slack = 1e-9
	low, high = aim, aim
	for i := 0; i < len(level); i++ {
		if !(level[i] >= top-BeamDrop) {
			continue
		}
		from, ours := i, false
		for ; i < len(level) && level[i] >= top-BeamDrop; i++ {
			ours = ours || i == aim || s.Whole && level[i] >= top-equallyLoud
		}
		meets := angle[from] <= s.To+slack && angle[i-1] >= s.From-slack
		if ours || meets {
			low, high = min(low, from), max(high, i-1)
		}
	}
	return low, high
}

// edge is where the level passes a value between two neighbours.
func edge(angle, level []float64, outside, inside int, value float64) float64 {
	if math.IsInf(level[outside], -1) {
		return angle[outside]
	}
	t := (value - level[outside]) / (level[inside] - level[outside])
	return angle[outside] + t*(angle[inside]-angle[outside])
}

// beside walks from an edge of the beam outward and keeps the highest level that rises
// out of a dip at no seat.
func (b *Beam) beside(angle, level []float64, from, step int, s *BeamSpec) {
	dip, risen := math.Inf(1), false
	for i := from + step; i >= 0 && i < len(level); i += step {
		dip = math.Min(dip, level[i])
		risen = risen || level[i] > dip+leastRise
		seat := angle[i] >= s.SeatsFrom && angle[i] <= s.SeatsTo // false for NaN
		if risen && !seat && level[i]-b.Level > b.Lobe {
			b.Lobe, b.LobeAt = level[i]-b.Level, angle[i]
		}
	}
}
