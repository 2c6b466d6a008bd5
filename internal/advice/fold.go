package advice

import (
	"fmt"
	"math"
	"strings"

	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/study/fold"
	"gapline/waveguide"
)

// fold says what the folded path cannot do, and what is missing to judge it.
func (f *finder) fold() {
	if !f.s.Fold.Given {
		if numeric.Given(f.d.Fold.Layer) && !numeric.Given(f.d.Fold.ThroatToWall) {
			f.add(Note, "fold.throat_to_wall", "fold.throat_to_wall is not given: gapline fold FILE solves for the wall, and the front here follows fold.virtual_path alone.")
		}
		return
	}
	if fold, ok := f.d.Folded(); ok {
		f.foldNotes(&fold)
	}
}

// foldNotes words the checks of a fold that are not passed; flatness has findings
// of its own.
func (f *finder) foldNotes(fold *waveguide.Fold) {
	for _, n := range fold.Notes() {
		if n.OK {
			continue
		}
		s := &fold.Spec
		switch n.Key {
		case "cross mode":
			f.add(Note, figure.FoldCrossMode.Key, "The layers, %s thick, carry one wave only up to %s, below the %s wanted: thinner layers would do, %s or less.",
				f.mm(s.Layer), f.hz(fold.CrossMode()), f.hz(s.TopFrequency), f.mm(s.SoundSpeed/(2*s.TopFrequency)))
		case "throat clearance":
			f.add(Note, figure.FoldClearance.Key, "The throat's rim stands %s from the wall, less than one layer (%s): it throttles the path.",
				f.mm(fold.ThroatClearance()), f.mm(s.Layer))
		case "turn":
			f.add(Note, "fold.layer", "The turn does not fit into the wall's curve: the plate's edge lies %s inside a wall of radius %s. Use a thinner layer or move the wall back.",
				f.mm(fold.TurnInset()), f.mm(fold.Wall.VertexCurvature()))
		case "depth":
			f.add(Miss, figure.FoldBuiltDepth.Key, "The fold needs %s of depth with its turn; there are %s.", f.mm(fold.BuiltDepth()), f.mm(s.CabinetDepth))
		case "width":
			f.add(Miss, figure.FoldWidth.Key, "Both layers with the plate between are %s wide, the cabinet %s.", f.mm(fold.StackWidth()), f.mm(s.CabinetWidth))
		case "height":
			lo, hi := fold.Heights()
			f.add(Miss, "cabinet.height", "Wall, throat and mouth reach from %s to %s about the mouth's middle; the cabinet has ±%s.",
				f.mm(lo), f.mm(hi), f.mm(s.CabinetHeight/2))
		}
	}
}

// FoldFindings judges a fold against its targets, says what fits where it does
// not, and names limits. The texts use the given units.
func FoldFindings(st *fold.Study, sys quantity.System) []Finding {
	f := finder{d: &st.Design, s: &st.Sizing, sys: sys}
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
	f.add(Caution, "line.boxes", SuspensionCaution)
	return f.out
}

// unfit says what keeps the solver from a wall, and what would fit.
func (f *finder) unfit(d *waveguide.FoldDesign) {
	f.add(Miss, "fold.available_depth", "No wall fits: %s.", bindingText(fold.Binding(d)))
	for _, o := range d.Options {
		f.add(Note, "fold.wall", "%s", f.option(o))
	}
	for _, change := range f.nearest(d.Nearest) {
		f.add(Advice, "fold.available_depth", "%s", change)
	}
}

func bindingText(binding []string) string {
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
func (f *finder) option(o waveguide.WallOption) string {
	kind := strings.ToUpper(string(o.Kind[:1])) + string(o.Kind[1:])
	by := func(limit string) string { return fmt.Sprintf(" (%s binds)", limit) }
	const beyond = 50.0 // m: the solver's way of saying that no distance will do
	switch {
	case o.Shortest > beyond:
		return fmt.Sprintf("%s wall: no fold.throat_to_wall will do%s.", kind, by(o.ShortBy))
	case o.Fits && math.IsInf(o.Longest, 1):
		return fmt.Sprintf("%s wall: fits from fold.throat_to_wall %s%s.", kind, f.mm(o.Shortest), by(o.ShortBy))
	case o.Fits:
		return fmt.Sprintf("%s wall: fits with fold.throat_to_wall from %s%s to %s%s.", kind, f.mm(o.Shortest), by(o.ShortBy), f.mm(o.Longest), by(o.LongBy))
	case math.IsInf(o.Longest, 1):
		return fmt.Sprintf("%s wall: needs fold.throat_to_wall of %s or more%s.", kind, f.mm(o.Shortest), by(o.ShortBy))
	}
	return fmt.Sprintf("%s wall: needs fold.throat_to_wall of %s or more%s, but only %s leaves room%s.",
		kind, f.mm(o.Shortest), by(o.ShortBy), f.mm(math.Max(0, o.Longest)), by(o.LongBy))
}

// nearest words the smallest single changes that would make a wall fit.
func (f *finder) nearest(n waveguide.Nearest) []string {
	var out []string
	add := func(x float64, format string, args ...any) {
		if numeric.Given(x) {
			out = append(out, fmt.Sprintf(format, args...))
		}
	}
	add(n.CabinetDepth, "A depth of %s would do, all else as it is.", f.mm(n.CabinetDepth))
	add(n.CabinetHeight, "A cabinet %s high would do.", f.mm(n.CabinetHeight))
	add(n.CabinetWidth, "A cabinet %s wide would do.", f.mm(n.CabinetWidth))
	add(n.MouthHeight, "A mouth %s high would do.", f.mm(n.MouthHeight))
	add(n.Fan, "A fan of up to %s would do.", f.deg(n.Fan))
	add(n.VirtualPath, "A virtual path of %s would do; its front is flat to %s.", f.mm(n.VirtualPath), f.hz(n.FlatTo))
	return out
}

// solved says which wall the solver chose and the range it had.
func (f *finder) solved(st *fold.Study) {
	for _, o := range st.Solved.Options {
		f.add(Note, "fold.throat_to_wall", "%s", f.option(o))
	}
	f.add(Note, "fold.throat_to_wall", "Chosen: %s, fold.throat_to_wall %s: the least curved wall that fits, at the fan nearest to 120°.",
		st.Fold.Wall.Kind(), f.mm(st.Fold.Wall.Vertex))
}

// room says what would fit where the given wall does not.
func (f *finder) room(d *waveguide.FoldDesign) {
	if !d.Fits {
		f.unfit(d)
		return
	}
	for _, o := range d.Options {
		f.add(Advice, "fold.throat_to_wall", "%s", f.option(o))
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
		f.add(Met, figure.FoldPathSpread.Key, "Every ray is as long as every other: the front is plane. The budget of a quarter wave at %s, %s, is left to how the wall is built.",
			f.hz(s.TopFrequency), f.mm(budget))
	case spread <= budget+spreadSlack:
		f.add(Met, figure.FoldPathSpread.Key, "The paths spread by %s, within a quarter wave at %s (%s): flat to %s.", f.mm(spread), f.hz(s.TopFrequency), f.mm(budget), f.hz(f.s.Fold.FlatTo))
		if f.s.Fold.ToleranceProfile < 0.02*budget {
			f.add(Note, figure.FoldToleranceProfile.Key, `Little of the budget is left for building: the wall's surface may be off by %.2f mm. A longer fold.virtual_path, or "flat", leaves more.`,
				1e3*f.s.Fold.ToleranceProfile)
		}
	default:
		f.add(Miss, figure.FoldPathSpread.Key, "The paths spread by %s, more than a quarter wave at %s (%s): flat only to %s.",
			f.mm(spread), f.hz(s.TopFrequency), f.mm(budget), f.hz(f.s.Fold.FlatTo))
		f.flatLever(s.TopFrequency)
	}
}

// ribbon says how far the line of mouths is one source.
func (f *finder) ribbon(st *fold.Stack) {
	switch {
	case st == nil:
		f.add(Note, "cabinet.pitch", "The line of mouths is not judged: that needs cabinet.height or cabinet.pitch.")
	case math.IsInf(st.RibbonTo, 1):
		f.add(Note, figure.HornFlatLobe.Key, "The line of mouths is one ribbon at every frequency: no lobe passes %s.", f.lobeTarget())
	default:
		f.add(Note, figure.HornFlatLobe.Key, "The line of mouths is one ribbon up to %s; from there a lobe passes %s. A quarter wave of bulge is the looser measure.",
			f.hz(st.RibbonTo), f.lobeTarget())
	}
}
