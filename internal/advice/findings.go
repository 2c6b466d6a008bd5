package advice

import (
	"fmt"
	"math"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/waveguide"
)

// Severity says what a finding asks of the reader.
type Severity string

// The severities, most urgent first.
const (
	Miss    Severity = "miss"    // a target is not met
	Met     Severity = "met"     // a target is met
	Advice  Severity = "advice"  // a change that would mend a miss
	Doubt   Severity = "doubt"   // what is given contradicts itself
	Note    Severity = "note"    // worth knowing
	Caution Severity = "caution" // can hurt people
)

// Finding is one sentence about a design.
type Finding struct {
	Severity Severity `json:"severity"`
	Key      string   `json:"key"` // figure or design-file key it is about
	Text     string   `json:"text"`
	// Detail marks what a row of the screen says already, for readers who want
	// it in words.
	Detail bool `json:"-"`
}

// Findings judges the sizing against the design's targets, proposes changes and
// names limits. The texts use the given units.
func Findings(d *design.Design, s *sizing.Sizing, sys quantity.System) []Finding {
	f := finder{d: d, s: s, sys: sys}
	f.gap()
	f.handover()
	f.lowEnd()
	f.flatness()
	f.fold()
	f.insert()
	f.lobes()
	f.cones()
	f.hornLimit()
	f.missing()
	f.level()
	f.add(Caution, "line.boxes", SuspensionCaution)
	if numeric.Given(s.Box.MaxLevel) {
		f.add(Caution, figure.BoxMaxSPL.Key, LoudnessCaution)
	}
	return f.out
}

// Missed reports whether any finding is an unmet target.
func Missed(findings []Finding) bool {
	for _, f := range findings {
		if f.Severity == Miss {
			return true
		}
	}
	return false
}

type finder struct {
	d   *design.Design
	s   *sizing.Sizing
	sys quantity.System
	out []Finding
}

func (f *finder) add(sev Severity, key, format string, args ...any) {
	f.out = append(f.out, Finding{Severity: sev, Key: key, Text: fmt.Sprintf(format, args...)})
}

// detail adds a note that puts a figure into words.
func (f *finder) detail(key, format string, args ...any) {
	f.add(Note, key, format, args...)
	f.out[len(f.out)-1].Detail = true
}

func (f *finder) hz(v float64) string  { return quantity.Format(v, quantity.Frequency, f.sys) }
func (f *finder) mm(v float64) string  { return quantity.Format(v, quantity.Length, f.sys) }
func (f *finder) oct(v float64) string { return quantity.Format(math.Abs(v), quantity.Octaves, f.sys) }
func (f *finder) deg(v float64) string { return quantity.Format(v, quantity.Angle, f.sys) }

// gap gives the verdict, and the levers when it is bad.
func (f *finder) gap() {
	g := &f.s.Gap
	key := figure.GapOpen.Key
	if f.s.Coupling.HasInsert {
		key = figure.GapInsert.Key
	}
	gap := g.AsGiven()
	target := numeric.Or(f.d.Targets.Gap, 0)
	switch {
	case math.IsNaN(gap):
		return // missing says what is needed
	case math.IsInf(g.Low, 1):
		f.add(Met, key, "Closed at every frequency: no lobe of the line passes the target, so the horn may take over anywhere above %s.", f.hz(g.High))
	case gap > target:
		f.add(Miss, key, "The gap is open by %s: from %s to %s no frequency is served by both.%s",
			f.oct(gap), f.hz(g.Low), f.hz(g.High), f.beyond(target))
		for _, l := range Levers(f.d, f.s, target, f.sys) {
			f.add(Advice, l.Key, "%s%s", strings.ToUpper(l.Text[:1]), l.Text[1:])
		}
		f.hornFloor(target)
	case gap > 0:
		f.add(Met, key, "The gap is open by %s (%s to %s), within the %s allowed.", f.oct(gap), f.hz(g.Low), f.hz(g.High), f.oct(target))
	default:
		f.add(Met, key, "Closed, %s of overlap: cross over between %s and %s, say at %s.",
			f.oct(gap), f.hz(g.High), f.hz(g.Low), f.hz(g.Crossover))
	}
}

// hornFloor says when no horn change alone can close the gap, and why.
func (f *finder) hornFloor(target float64) {
	need := f.s.Gap.Low * math.Exp2(target)
	switch {
	case f.d.Horn.Lowest > need:
		f.add(Note, "horn.lowest", "No change of the horn alone closes it: the compression driver goes no lower than %s.", f.hz(f.d.Horn.Lowest))
	case waveguide.FlareMargin*f.s.Horn.Cutoff > need:
		f.add(Note, figure.HornCutoff.Key, "No change of the mouth's pattern alone closes it: the flare carries only from %s.", f.hz(waveguide.FlareMargin*f.s.Horn.Cutoff))
	}
}

func (f *finder) beyond(target float64) string {
	if target == 0 {
		return ""
	}
	return fmt.Sprintf(" Allowed: %s.", f.oct(target))
}

// handover judges the crossover between woofers and mids.
func (f *finder) handover() {
	if !f.s.Coupling.HasMid {
		return
	}
	switch g := f.s.Gap.WooferMid; {
	case math.IsNaN(g):
		f.add(Note, "mid.lowest", "mid.lowest, the mids' lowest crossover frequency, is not given: the hand-over from woofers to mids is not judged.")
	case g > 0:
		f.add(Miss, figure.GapWooferMid.Key, "Woofers and mids leave %s open: the woofers couple to %s, the mids start at %s.",
			f.oct(g), f.hz(f.d.Mid.Lowest/math.Exp2(g)), f.hz(f.d.Mid.Lowest))
	default:
		f.add(Met, figure.GapWooferMid.Key, "Woofers hand over to the mids with %s of overlap, from %s up.", f.oct(g), f.hz(f.d.Mid.Lowest))
	}
}

// lowEnd compares the line's length with the lowest frequency wanted.
func (f *finder) lowEnd() {
	want, have := f.d.Targets.Lowest, f.s.Coupling.Lower
	if !(numeric.Given(want) && numeric.Given(have)) {
		return
	}
	if have <= want {
		f.add(Met, figure.CouplingLower.Key, "The line couples from %s, as low as the %s asked for.", f.hz(have), f.hz(want))
		return
	}
	boxes := int(math.Ceil(f.s.Air.SoundSpeed/(want*f.s.Coupling.Pitch) - 1e-9))
	f.add(Miss, figure.CouplingLower.Key, "The line couples only from %s; %s needs %d boxes at this pitch.", f.hz(have), f.hz(want), boxes)
}

// level compares the maximum level of one box with the target.
func (f *finder) level() {
	want, have := f.d.Targets.Level, f.s.Box.MaxLevel
	if !numeric.Given(want) {
		return
	}
	db := func(v float64) string { return quantity.Format(v, quantity.Level, f.sys) }
	switch {
	case !numeric.Given(have):
		f.add(Note, figure.BoxMaxSPL.Key, "targets.level is not judged: the maximum level needs the woofer's parameters, woofer.xmax or woofer.power, and enclosure.volume.")
	case have >= want:
		f.add(Met, figure.BoxMaxSPL.Key, "One box reaches %s at %s, no less than the %s asked for.", db(have), f.hz(f.s.Box.LevelAt), db(want))
	default:
		f.add(Miss, figure.BoxMaxSPL.Key, "One box reaches only %s at %s, limited by %s; %s are asked for.",
			db(have), f.hz(f.s.Box.LevelAt), f.s.Box.Limit, db(want))
	}
}

// flatness compares the horn's front with the target, by the rule and by the
// lobes of the line.
func (f *finder) flatness() {
	h := &f.s.Horn
	if !numeric.Given(h.FlatTo) {
		return
	}
	if want := f.d.Targets.FlatTo; numeric.Given(want) {
		switch {
		case math.IsInf(h.FlatTo, 1):
			f.add(Met, figure.HornFlatTo.Key, "The horn's front is plane by design, so flat past the %s asked for.", f.hz(want))
		case h.FlatTo >= want*(1-1e-6):
			f.add(Met, figure.HornFlatTo.Key, "The horn's front is flat to a quarter wave up to %s, past the %s asked for.", f.hz(h.FlatTo), f.hz(want))
		default:
			f.add(Miss, figure.HornFlatTo.Key, "The horn's front is flat to a quarter wave only up to %s, not %s.", f.hz(h.FlatTo), f.hz(want))
			f.flatLever(want)
		}
	}
	if numeric.Given(h.FlatLobe) && h.FlatLobe < h.FlatTo {
		f.detail(figure.HornFlatLobe.Key, "A quarter wave is the looser measure: lobes of the horn line pass %s from %s on.",
			f.lobeTarget(), f.hz(h.FlatLobe))
	}
}

func (f *finder) flatLever(want float64) {
	path := waveguide.PathForSagitta(f.d.Horn.MouthHeight, f.s.Air.SoundSpeed/(4*want))
	if !numeric.Given(path) {
		return
	}
	key, cost := "horn.path_length", "Cost: depth, unless the path is folded (gapline fold FILE)."
	if f.s.Fold.Given {
		key, cost = "fold.virtual_path", "Cost: a more hollow wall, which needs more care in building."
	}
	f.add(Advice, key, "Path %s (now %s). %s", f.mm(path), f.mm(f.s.Horn.Path), cost)
}

func (f *finder) lobeTarget() string {
	return quantity.Canonical(numeric.Or(f.d.Targets.LobeLevel, design.DefaultLobeLevel), quantity.Level)
}

// insert says which of the insert's limits binds and what its mouths leave.
func (f *finder) insert() {
	if !f.s.Coupling.HasInsert {
		return
	}
	i, g := &f.s.Coupling.Insert, &f.s.Gap
	if i.Chamber < i.On(g.Basis) {
		f.add(Note, figure.CouplingInsertChamber.Key, "The front chamber's corner, %s, ends the woofers' band before the spacing does.", f.hz(i.Chamber))
	}
	if i.FirstLobe > numeric.DB(f.d.LobeTarget()) {
		f.add(Advice, "insert.spacing", "The first lobe at %s is left at %s, above %s: mouths %s apart would cancel it.",
			f.hz(f.s.Air.SoundSpeed/f.s.Coupling.Pitch), quantity.Format(i.FirstLobe, quantity.Level, f.sys), f.lobeTarget(),
			f.mm(f.s.Coupling.Pitch/float64(f.d.Insert.Mouths)))
	}
	if i.InPhase < g.High {
		f.add(Note, figure.CouplingInsertInPhase.Key, "Ways from the cone to the mouths differ by %s, a quarter wave at %s: below the horn's limit the mouths are no longer in phase over the whole cone.",
			f.mm(i.PathSpread), f.hz(i.InPhase))
	}
	if !numeric.Given(i.Chamber) {
		f.add(Note, figure.CouplingInsertChamber.Key, "The chamber corner needs %s.",
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
	first := "The first lobe of a straight line comes at " + f.hz(u.Lobe)
	if math.IsInf(u.Lobe, 1) {
		first = "No lobe of a straight line passes " + f.lobeTarget()
	}
	f.add(Note, "targets.coupling", "%s; half-wave covers splayed lines too.", first)
}

// cones says what was taken for granted about cones that the file describes in
// part.
func (f *finder) cones() {
	k := &f.s.Coupling
	if k.Open.Shape == sizing.Point && numeric.Given(k.Pitch) {
		f.add(Note, figure.CouplingOpen.FirstLobe.Key, "woofer.size is not given: woofers count as points, the level of their first lobe is open.")
	}
	f.beside("woofer", f.d.Woofer.PerBox, f.d.Woofer.Spacing)
	f.beside("mid", f.d.Mid.PerBox, f.d.Mid.Spacing)
}

// beside says that drivers without a spacing count as standing at one height.
func (f *finder) beside(table string, perBox int, spacing float64) {
	if perBox > 1 && !numeric.Given(spacing) {
		f.add(Note, table+".spacing", "%[1]s.per_box is %[2]d without %[1]s.spacing: they count as side by side, one centre per box.", table, perBox)
	}
}

// hornLimit names what sets the horn's lower end when it is not the pattern,
// and the narrowing above it.
func (f *finder) hornLimit() {
	h := &f.s.Horn
	if numeric.Given(h.PatternRule) && !numeric.Given(h.PatternComputed) {
		f.add(Note, "horn.pattern_computed_hz", "A mouth with a circular front does not narrow to %s before its beam breaks up: "+
			"the aperture integral knows no frequency from which it holds the coverage, and does not bear out the rule's %s.", f.deg(h.ExitCoverage), f.hz(h.PatternRule))
	}
	if !numeric.Given(h.Lower) {
		return
	}
	switch {
	case h.Lower == f.d.Horn.Lowest:
		f.add(Note, "horn.lowest", "The compression driver's lowest crossover, %s, sets the horn's lower limit: a wider mouth would not help.", f.hz(h.Lower))
	case h.Lower == waveguide.FlareMargin*h.Cutoff:
		f.add(Note, figure.HornCutoff.Key, "The flare's cutoff sets the horn's lower limit, %s: a slower flare would help, a wider mouth would not.", f.hz(h.Lower))
	}
	if numeric.Given(h.Narrowest) {
		f.detail(figure.HornNarrowest.Key, "Above its limit the horn narrows to %s near %s before it returns to %s.",
			f.deg(h.Narrowest), f.hz(h.NarrowestAt), f.deg(h.ExitCoverage))
	}
}

// missing says which keys the gap still needs.
func (f *finder) missing() {
	if !math.IsNaN(f.s.Gap.AsGiven()) {
		return
	}
	f.add(Note, figure.GapOpen.Key, "The gap needs %s.", f.lacking("cabinet.height", "horn.coverage", "horn.mouth_width"))
}

// lacking lists those of the keys that the design does not give.
func (f *finder) lacking(keys ...string) string {
	given := map[string]bool{
		"cabinet.height":        numeric.Given(f.d.Pitch()),
		"line.boxes":            f.d.Line.Boxes > 0,
		"horn.coverage":         numeric.Given(f.d.Horn.Coverage),
		"horn.mouth_width":      numeric.Given(f.d.Horn.MouthWidth),
		"insert.mouth_height":   numeric.Given(f.d.Insert.MouthHeight),
		"insert.mouth_width":    numeric.Given(f.d.Insert.MouthWidth),
		"insert.slot_depth":     numeric.Given(f.d.Insert.SlotDepth),
		"insert.chamber_volume": numeric.Given(f.d.Insert.ChamberVolume),
	}
	var out []string
	for _, k := range keys {
		if !given[k] {
			out = append(out, k)
		}
	}
	if len(out) == 0 {
		return "nothing more"
	}
	return strings.Join(out, ", ")
}
