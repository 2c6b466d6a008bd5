package advice

import (
	"math"

	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/result"
)

// lowEnd compares the line's length with the lowest frequency wanted.
func (f *finder) lowEnd() {
	want, have := f.d.Targets.Lowest.Value(), f.s.Coupling.Lower
	if !(numeric.Given(want) && numeric.Given(have)) {
		return
	}
	if have <= want {
		f.add(result.Met, figure.CouplingLower.Key, "The line couples from %s, as low as the %s asked for.", hertz(have), hertz(want))
		return
	}
	boxes := int(math.Ceil(f.s.Air.SoundSpeed/(want*f.s.Coupling.Pitch) - 1e-9))
	f.add(result.Missed, figure.CouplingLower.Key, "The line couples only from %s; %s needs %s boxes at this pitch.", hertz(have), hertz(want), result.Count(boxes))
}

// insert says which of the insert's limits binds and what its mouths leave.
func (f *finder) insert() {
	if !f.s.Coupling.HasInsert {
		return
	}
	i, g := &f.s.Coupling.Insert, &f.s.Gap
	if i.Chamber < i.On(g.Basis) {
		f.add(result.Note, figure.CouplingInsertChamber.Key, "The front chamber's corner, %s, ends the woofers' band before the spacing does.", hertz(i.Chamber))
	}
	if i.FirstLobe > numeric.DB(f.d.LobeTarget()) {
		f.add(result.Try, "insert.spacing", "The first lobe at %s is left at %s, above %s: mouths %s apart would cancel it.",
			hertz(f.s.Air.SoundSpeed/f.s.Coupling.Pitch), level(i.FirstLobe), f.lobeTarget(),
			length(f.s.Coupling.Pitch/float64(f.d.Insert.Mouths)))
	}
	if i.InPhase < g.High {
		f.add(result.Note, figure.CouplingInsertInPhase.Key, "Ways from the cone to the mouths differ by %s, a quarter wave at %s: below the horn's limit the mouths are no longer in phase over the whole cone.",
			length(i.PathSpread), hertz(i.InPhase))
	}
	if !numeric.Given(i.Chamber) {
		f.add(result.Note, figure.CouplingInsertChamber.Key, "The chamber corner needs %s.",
			f.lacking("insert.mouth_height", "insert.mouth_width", "insert.slot_depth", "insert.chamber_volume"))
	}
}

// lobes explains why the two coupling limits of what meets the horn differ.
func (f *finder) lobes() {
	k := &f.s.Coupling
	u := &k.Open
	switch {
	case k.HasMid:
		u = &k.Mid
	case k.HasInsert:
		u = &k.Insert.CouplingLimit
	}
	if !numeric.Given(u.HalfWave) {
		return
	}
	first := result.Say("The first lobe of a straight line comes at %s", hertz(u.Lobe))
	if math.IsInf(u.Lobe, 1) {
		first = result.Say("No lobe of a straight line passes %s", f.lobeTarget())
	}
	f.add(result.Note, "targets.coupling", "%s; half-wave covers splayed lines too.", first)
}

// cones says what was taken for granted about cones that the file describes in
// part.
func (f *finder) cones() {
	k := &f.s.Coupling
	if k.Open.Shape == sizing.Point && numeric.Given(k.Pitch) {
		f.add(result.Note, figure.CouplingOpen.FirstLobe.Key, "woofer.size is not given: woofers count as points, the level of their first lobe is open.")
	}
	f.beside("woofer", f.d.Woofer.PerBox, f.d.Bands.Woofer.Columns, f.d.Woofer.Spacing.Value())
	f.beside("mid", f.d.Mid.PerBox, f.d.Bands.Mid.Columns, f.d.Mid.Spacing.Value())
}

// beside says that drivers with neither columns nor a spacing count as standing at one
// height.
func (f *finder) beside(table string, perBox, columns int, spacing float64) {
	if perBox > 1 && columns == 0 && !numeric.Given(spacing) {
		f.add(result.Note, table+".spacing", "%s.per_box is %s without %s.spacing: they count as side by side, one centre per box.", table, result.Count(perBox), table)
	}
}
