package advice

import (
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/check"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/waveguide"
)

// soundTo is a frequency in Hz past all that is heard and built.
const soundTo = 100e3

// flatness judges the horn's front at each level of trust: by the quarter wave, by the lobes
// of a stack of such fronts, and by a stored run of the folded path.
func (f *finder) flatness() {
	h := &f.s.Horn
	if !numeric.Given(h.FlatTo) {
		return
	}
	want := f.d.Targets.FlatTo.Value()
	if !numeric.Given(want) {
		if numeric.Given(h.FlatLobe) && h.FlatLobe < h.FlatTo {
			f.detail(figure.HornFlatLobe.Key, "A quarter wave is the looser measure: lobes of the horn line pass %s from %s on.",
				f.lobeTarget(), hertz(h.FlatLobe))
		}
		return
	}
	if math.IsInf(h.FlatTo, 1) && math.IsInf(h.FlatLobe, 1) {
		f.add(result.Met, figure.HornFlatTo.Key, "The horn's front is plane by design, a stack of them without lobes: flat past %s.", hertz(want))
		return
	}
	stands := f.flatStands(want)
	v := weigh(f.d.Targets.Trust, stands)
	text := result.Plain("The horn's front: ")
	for i, s := range stands {
		if i > 0 {
			text = text.And(result.Plain("; "))
		}
		text = text.And(s.says)
	}
	f.add(verdictSeverity[v], figure.HornFlatTo.Key, "%s. Asked for: flat to %s.", text, hertz(want))
	if v != GapMet {
		f.flatLever(want)
	}
}

// standing is what one level of trust says of a target.
type standing struct {
	level sizing.Level
	met   Verdict // GapMet, GapMissed, or GapUnknown where the level cannot tell
	says  result.Text
}

// weigh is the verdict on a target: that of the level which the file names, or of all that
// say something.
func weigh(by design.Deciding, stands []standing) Verdict {
	var yes, no, open bool
	any := false
	for _, s := range stands {
		if by != 0 && s.level != sizing.Level(by-1) {
			continue
		}
		any = true
		yes, no, open = yes || s.met == GapMet, no || s.met == GapMissed, open || s.met == GapUnknown
	}
	switch {
	case yes && no:
		return GapDivided
	case open || !any:
		return GapUnknown
	case no:
		return GapMissed
	}
	return GapMet
}

func reached(have, want float64) Verdict {
	if have >= want*(1-1e-6) {
		return GapMet
	}
	return GapMissed
}

// flatStands are the levels that know how flat the front is.
func (f *finder) flatStands(want float64) []standing {
	h, w := &f.s.Horn, &f.s.Wave
	rule := result.Say("flat to a quarter wave up to %s by rule", hertz(h.FlatTo))
	switch {
	case math.IsInf(h.FlatTo, 1):
		rule = result.Plain("plane by design")
	case h.FlatTo > soundTo:
		rule = result.Say("flat to a quarter wave past all that is heard by rule, which is out of its domain for a mouth %s high", length(f.d.Horn.MouthHeight.Value()))
	}
	out := []standing{{sizing.ByRule, reached(h.FlatTo, want), rule}}
	if numeric.Given(h.FlatLobe) {
		lobes := result.Say("no lobe of a stack of them over %s up to %s by aperture", f.lobeTarget(), hertz(h.FlatLobe))
		if math.IsInf(h.FlatLobe, 1) {
			lobes = result.Say("no lobe of a stack of them over %s by aperture", f.lobeTarget())
		}
		out = append(out, standing{sizing.ByAperture, reached(h.FlatLobe, want), lobes})
	}
	switch {
	case numeric.Given(w.FlatTo):
		out = append(out, standing{sizing.ByWave, reached(w.FlatTo, want), result.Say("flat up to %s by wave", hertz(w.FlatTo))})
	case numeric.Given(w.FlatBeyond) && w.FlatBeyond >= want*(1-1e-6):
		out = append(out, standing{sizing.ByWave, GapMet, result.Say("flat past %s by wave", hertz(w.FlatBeyond))})
	case numeric.Given(w.FlatBeyond):
		out = append(out, standing{sizing.ByWave, GapUnknown, result.Say("flat to the end of the run at %s by wave", hertz(w.FlatBeyond))})
	}
	return out
}

// longestPath is how many times the path that a quarter wave asks for is tried.
const longestPath = 32

// flatLever is the shortest path that would make the front flat enough by the quarter wave and
// by lobes, or by the quarter wave alone where none would by both.
func (f *finder) flatLever(want float64) {
	path := waveguide.PathForSagitta(f.d.Horn.MouthHeight.Value(), f.s.Air.SoundSpeed/(4*want))
	if !numeric.Given(path) {
		return
	}
	key, cost := "horn.path_length", "Cost: depth, unless the path is folded (gapline fold FILE)."
	if f.s.Fold.Given {
		key, cost = "fold.virtual_path", "Cost: a more hollow wall, which needs more care in building."
	}
	form := "Path %s (now %s): %s"
	long, ok := f.longerPath(path, want)
	if ok {
		path = long
	} else {
		form = "Narrows: " + form
	}
	s, ok := f.withPath(path)
	if !ok {
		return
	}
	leaves := result.Say("flat to a quarter wave up to %s", hertz(s.Horn.FlatTo))
	if l := s.Horn.FlatLobe; numeric.Given(l) && !math.IsInf(l, 1) {
		leaves = leaves.And(result.Say(", lobes of a stack from %s on", hertz(l)))
	}
	f.add(result.Try, key, form+". %s", length(path), length(f.s.Horn.Path), leaves, cost)
}

// longerPath returns the shortest path from the given one on, m, whose front is flat enough at
// both levels as it is printed.
func (f *finder) longerPath(from, want float64) (float64, bool) {
	flat := func(path float64) bool {
		s, ok := f.withPath(path)
		return ok && s.Horn.FlatTo >= want && !(s.Horn.FlatLobe < want)
	}
	bad, good := from, from
	for !flat(good) {
		if bad, good = good, good*math.Sqrt2; good > longestPath*from {
			return numeric.Absent, false
		}
	}
	for good > bad*(1+printStep) {
		if x := math.Sqrt(good * bad); flat(x) {
			good = x
		} else {
			bad = x
		}
	}
	for x := good; x < good*1.02; x *= 1 + printStep {
		if p := asPrinted(x, quantity.Length, quantity.Metric); flat(p) {
			return p, true
		}
	}
	return numeric.Absent, false
}

// withPath sizes the design with another path. ok is false where it cannot be computed.
func (f *finder) withPath(path float64) (s sizing.Sizing, ok bool) {
	d := *f.d
	if f.s.Fold.Given {
		d.Fold.VirtualPath = optional.Of(path)
	} else {
		d.Horn.PathLength = optional.Of(path)
	}
	if len(check.Design(&d)) > len(check.Design(f.d)) {
		return s, false
	}
	return sizing.Size(&d), true
}
