package advice

import (
	"math"
	"strings"

	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/fold"
	"gapline/waveguide"
)

// fold says what the folded path cannot do, and what is missing to judge it.
func (f *finder) fold() {
	if !f.s.Fold.Given {
		if f.d.Fold.Layer.Given() && !f.d.Fold.ThroatToWall.Given() {
			f.add(result.Note, "fold.throat_to_wall", "fold.throat_to_wall is not given: gapline fold FILE solves for the wall, and the front here follows fold.virtual_path alone.")
		}
		return
	}
	if fold, ok := f.d.Folded(); ok {
		f.foldNotes(&fold)
	}
}

// foldNotes words the checks of a fold that are not passed; flatness has findings of its
// own, and what does not fit the cabinet is a misfit of the layout.
func (f *finder) foldNotes(fold *waveguide.Fold) {
	for _, n := range fold.Notes() {
		if n.OK {
			continue
		}
		s := &fold.Spec
		switch n.Of {
		case waveguide.FoldCrossMode:
			f.add(result.Note, figure.FoldCrossMode.Key, "The layers, %s thick, carry one wave only up to %s, below the %s wanted: thinner layers would do, %s or less.",
				length(s.Layer), hertz(fold.CrossMode()), hertz(s.TopFrequency), length(s.SoundSpeed/(2*s.TopFrequency)))
		case waveguide.FoldClearance:
			f.add(result.Note, figure.FoldClearance.Key, "The throat's rim stands %s from the wall, less than one layer (%s): it throttles the path.",
				length(fold.ThroatClearance()), length(s.Layer))
		case waveguide.FoldTurn:
			f.add(result.Note, "fold.layer", "The turn does not fit into the wall's curve: the plate's edge lies %s inside a wall of radius %s. Use a thinner layer or move the wall back.",
				length(fold.TurnInset()), length(fold.Wall.VertexCurvature()))
		}
	}
}

// FoldFindings judges a fold against its targets, says what fits where it does
// not, and names limits.
func FoldFindings(st *fold.Study) []result.Finding {
	f := finder{d: &st.Design, s: &st.Sizing}
	if !st.Fits {
		f.unfit(st.Solved)
		return f.out
	}
	f.foldFlatness(&st.Fold)
	if st.Solved != nil {
		f.solved(st)
	}
	f.foldNotes(&st.Fold)
	if st.Room != nil {
		f.room(st.Room)
	}
	f.ribbon(st.Stack)
	f.add(result.Caution, "line.boxes", SuspensionCaution)
	return f.out
}

// unfit says what keeps the solver from a wall, and what would fit.
func (f *finder) unfit(d *waveguide.FoldDesign) {
	f.add(result.Missed, "fold.available_depth", "No wall fits: %s.", bindingText(fold.Binding(d)))
	for _, o := range d.Options {
		f.option(result.Note, "fold.wall", o)
	}
	f.nearest(d.Nearest)
}

func bindingText(limits []waveguide.FoldLimit) string {
	binding := make([]string, len(limits))
	for i, l := range limits {
		binding[i] = l.Name()
	}
	switch n := len(binding); n {
	case 0:
		return "nothing single binds"
	case 1:
		return binding[0] + " binds"
	default:
		return strings.Join(binding[:n-1], ", ") + " and " + binding[n-1] + " bind"
	}
}

// option words the range of throat to wall distances of one kind of wall.
func (f *finder) option(sev result.Severity, key string, o waveguide.WallOption) {
	kind := capital(string(o.Kind))
	by := func(limit waveguide.FoldLimit) string { return " (" + limit.Name() + " binds)" }
	const beyond = 50.0 // m: the solver's way of saying that no distance will do
	switch {
	case o.Shortest > beyond:
		f.add(sev, key, "%s wall: no fold.throat_to_wall will do%s.", kind, by(o.ShortBy))
	case o.Fits && math.IsInf(o.Longest, 1):
		f.add(sev, key, "%s wall: fits from fold.throat_to_wall %s%s.", kind, length(o.Shortest), by(o.ShortBy))
	case o.Fits:
		f.add(sev, key, "%s wall: fits with fold.throat_to_wall from %s%s to %s%s.", kind, length(o.Shortest), by(o.ShortBy), length(o.Longest), by(o.LongBy))
	case math.IsInf(o.Longest, 1):
		f.add(sev, key, "%s wall: needs fold.throat_to_wall of %s or more%s.", kind, length(o.Shortest), by(o.ShortBy))
	default:
		f.add(sev, key, "%s wall: needs fold.throat_to_wall of %s or more%s, but only %s leaves room%s.",
			kind, length(o.Shortest), by(o.ShortBy), length(math.Max(0, o.Longest)), by(o.LongBy))
	}
}

// capital begins a word with a capital.
func capital(word string) string { return strings.ToUpper(word[:1]) + word[1:] }

// nearest words the smallest single changes that would make a wall fit.
func (f *finder) nearest(n waveguide.Nearest) {
	add := func(x float64, form string, args ...any) {
		if numeric.Given(x) {
			f.add(result.Try, "fold.available_depth", form, args...)
		}
	}
	add(n.CabinetDepth, "A depth of %s would do, all else as it is.", length(n.CabinetDepth))
	add(n.CabinetHeight, "A cabinet %s high would do.", length(n.CabinetHeight))
	add(n.CabinetWidth, "A cabinet %s wide would do.", length(n.CabinetWidth))
	add(n.MouthHeight, "A mouth %s high would do.", length(n.MouthHeight))
	add(n.Fan, "A fan of up to %s would do.", angle(n.Fan))
	add(n.VirtualPath, "A virtual path of %s would do; its front is flat to %s.", length(n.VirtualPath), hertz(n.FlatTo))
}

// solved says which wall the solver chose and the range it had.
func (f *finder) solved(st *fold.Study) {
	for _, o := range st.Solved.Options {
		f.option(result.Note, "fold.throat_to_wall", o)
	}
	f.add(result.Note, "fold.throat_to_wall", "Chosen: %s, fold.throat_to_wall %s: the least curved wall that fits, at the fan nearest to 120°.",
		string(st.Fold.Wall.Kind()), length(st.Fold.Wall.Vertex))
}

// room says what would fit where the given wall does not.
func (f *finder) room(d *waveguide.FoldDesign) {
	if !d.Fits {
		f.unfit(d)
		return
	}
	for _, o := range d.Options {
		f.option(result.Try, "fold.throat_to_wall", o)
	}
}

// spreadSlack is the play in m allowed where a wall was solved for to just meet
// its budget.
const spreadSlack = 1e-9

func (f *finder) foldFlatness(fold *waveguide.Fold) {
	s := &fold.Spec
	spread, budget := f.s.Fold.PathSpread, fold.SpreadBudget()
	switch {
	case spread == 0:
		f.add(result.Met, figure.FoldPathSpread.Key, "Every ray is as long as every other: the front is plane. The budget of a quarter wave at %s, %s, is left to how the wall is built.",
			hertz(s.TopFrequency), length(budget))
	case spread <= budget+spreadSlack:
		f.add(result.Met, figure.FoldPathSpread.Key, "The paths spread by %s, within a quarter wave at %s (%s): flat to %s.", length(spread), hertz(s.TopFrequency), length(budget), hertz(f.s.Fold.FlatTo))
		if f.s.Fold.ToleranceProfile < 0.02*budget {
			f.add(result.Note, figure.FoldToleranceProfile.Key, `Little of the budget is left for building: the wall's surface may be off by %s. A longer fold.virtual_path, or "flat", leaves more.`,
				length(f.s.Fold.ToleranceProfile).As(quantity.Style{Verb: "%.2f", Inch: "%.4f", Unit: "mm"}))
		}
	default:
		f.add(result.Missed, figure.FoldPathSpread.Key, "The paths spread by %s, more than a quarter wave at %s (%s): flat only to %s.",
			length(spread), hertz(s.TopFrequency), length(budget), hertz(f.s.Fold.FlatTo))
		f.flatLever(s.TopFrequency)
	}
}

// ribbon says how far the line of mouths is one source.
func (f *finder) ribbon(st *fold.Stack) {
	switch {
	case st == nil:
		f.add(result.Note, "cabinet.pitch", "The line of mouths is not judged: that needs cabinet.height or cabinet.pitch.")
	case math.IsInf(st.RibbonTo, 1):
		f.add(result.Note, figure.HornFlatLobe.Key, "The line of mouths is one ribbon at every frequency: no lobe passes %s.", f.lobeTarget())
	default:
		f.add(result.Note, figure.HornFlatLobe.Key, "The line of mouths is one ribbon up to %s; from there a lobe passes %s. A quarter wave of bulge is the looser measure.",
			hertz(st.RibbonTo), f.lobeTarget())
	}
}
