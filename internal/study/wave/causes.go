package wave

import (
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/outside"
	"gapline/internal/numeric"
)

// Model is of what a limit was read off.
type Model uint8

// The models, each nearer to one box alone than the one before.
const (
	FlowInBaffle    Model = iota // the flow over the mouths as solved, in a wide flat baffle
	LumpedChamber                // the air outside as solved, behind it a chamber of one pressure
	AmongNeighbours              // the middle one of the boxes
	BoxAlone
)

// Cause is what one model has and the one before it has not.
type Cause uint8

// The causes.
const (
	NoCause             Cause = iota
	ByChamber                 // the sound in it differs from place to place, and so the flow over the mouths
	ByEdges                   // those of the cabinet, its depth, and its joints
	ByLackOfNeighbours        // the edges of a single box above and below
	ByEdgesNotToldApart       // both of these
)

// Told is a limit by one model after the other.
type Told struct {
	Model Model
	Limit outside.Limit
	Cause Cause // of what it differs by from that of the model before, or from the lower levels of trust
}

// odd reports whether a box stands in the middle, with neighbours.
func (st *Front) odd() bool { return st.Boxes > 1 && st.Boxes%2 == 1 }

// LobeTold is the lobe limit of a straight endless stack, from what the mouths' flow alone makes
// of it. It is empty where the horn was driven, and over a floor.
func (st *Front) LobeTold() (out []Told) {
	if st.Driven == outside.ByHorn || st.With.Surface.Floor {
		return nil
	}
	d := st.Design
	lobe := func(of func(pitch, level float64) outside.Limit) outside.Limit {
		return of(d.Pitch(), d.Targets.LobeLevel.Or(design.DefaultLobeLevel))
	}
	if st.With.Baffled != nil {
		out = append(out, Told{FlowInBaffle, lobe(st.With.MouthsLobe), ByChamber})
	}
	if !st.odd() || !st.Straight {
		return append(out, Told{BoxAlone, lobe(st.single().Lobe), ByEdgesNotToldApart})
	}
	return append(out, Told{AmongNeighbours, lobe(st.With.Lobe), ByEdges}, Told{BoxAlone, lobe(st.Alone.Lobe), ByLackOfNeighbours})
}

// single is one box alone.
func (st *Front) single() *outside.Result {
	if st.Alone != nil {
		return st.Alone
	}
	return st.With
}

// ChamberTold is the corner of the insert's chamber, from what the air outside alone makes of it.
// It is empty without an insert, and over a floor.
func (st *Front) ChamberTold() []Told {
	if st.With.Out == nil || st.With.Surface.Floor {
		return nil
	}
	lumped, whole := st.With.LumpedChamber(), st.With.Chamber()
	if st.Boxes == 1 {
		return []Told{{LumpedChamber, lumped, ByEdgesNotToldApart}, {BoxAlone, whole, ByChamber}}
	}
	return []Told{{LumpedChamber, lumped, ByEdges}, {AmongNeighbours, whole, ByChamber}, {BoxAlone, st.Alone.Chamber(), ByLackOfNeighbours}}
}

// ControlTold is the frequency from which the horn holds its coverage. It is empty where something else
// was driven, and over a floor.
func (st *Front) ControlTold() []Told {
	if st.Driven != outside.ByHorn || st.With.Surface.Floor {
		return nil
	}
	coverage := st.Design.Horn.ExitCoverage()
	if st.Boxes == 1 {
		return []Told{{BoxAlone, st.With.Control(coverage), ByEdgesNotToldApart}}
	}
	return []Told{{AmongNeighbours, st.With.Control(coverage), ByEdges}, {BoxAlone, st.Alone.Control(coverage), ByLackOfNeighbours}}
}

// InsertLifts is the lobe limit without and with the insert, and by how many octaves it lies
// higher with it: at least, where none was found up to the end of the run. ok is false without
// an insert, over a floor, and where none was found without it.
func (st *Front) InsertLifts() (bare, with, octaves float64, ok bool) {
	if st.Bare == nil || st.With.Surface.Floor {
		return numeric.Absent, numeric.Absent, numeric.Absent, false
	}
	d := st.Design
	level := d.Targets.LobeLevel.Or(design.DefaultLobeLevel)
	bare, with = st.Bare.Lobe(d.Pitch(), level).Hz, st.With.Lobe(d.Pitch(), level).Hz
	top := with
	if !numeric.Given(top) {
		top = st.With.Frequency[len(st.With.Frequency)-1]
	}
	return bare, with, math.Log2(top / bare), numeric.Given(bare) && len(st.With.Element) > 0
}
