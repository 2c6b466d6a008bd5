package advice

import (
	"math"
	"slices"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/cabinet/sizing"
	"gapline/internal/check"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/schema"
)

// A Lever is a change that closes the gap by rule and by aperture, or at least by one of
// them, and what it costs on the other side. It has been applied, with the links that act
// and the layout, and sized again.
type Lever struct {
	Key  string // of the design file, the first that it changes
	Text result.Text
	// Set is the change as --set takes it: with it the design has exactly the gaps of Gap.
	Set []string
	Gap [sizing.LevelCount]float64 // that it leaves, octaves; NaN: not worked out
	// Narrows says that it closes the gap at some levels of trust only.
	Narrows bool
	Design  design.Design // with the settings and what follows them
}

// change is one key set to a value, or cleared.
type change struct {
	key   *schema.Key
	value float64
	clear bool
}

func set(path string, value float64) change { return change{key: schema.FindKey(path), value: value} }

func (c change) String() string {
	if c.clear {
		return c.key.Path + "=" + schema.Cleared
	}
	return c.key.Path + "=" + c.key.Canonical(c.value)
}

// Levers solves for every change that brings the gap down to target octaves. Changes that
// cannot do it, or with which the box cannot be built, are left out; with none at all the
// list is empty. links are those of the file.
func Levers(d *design.Design, links []schema.Link, s *sizing.Sizing, target float64) []Lever {
	return leversFor(d, links, s, target, nil)
}

// leversFor also takes what stored runs of the wave level say of a changed design; nil: none.
func leversFor(d *design.Design, links []schema.Link, s *sizing.Sizing, target float64, runs func(*design.Design) sizing.WaveSizing) []Lever {
	l := levers{d: d, links: links, s: s, target: target, runs: runs, conflicts: len(layout.New(d).Conflicts), sizer: *sizing.NewGapSizer()}
	if now, ok := l.try(nil); ok {
		l.closed, _ = l.closing(&now)
	}
	for _, propose := range []func(){l.chamber, l.insertSpacing, l.insert, l.mouthWidth, l.coverage, l.pitch, l.smallerWoofers} {
		propose()
	}
	return l.out
}

type levers struct {
	d         *design.Design
	links     []schema.Link
	s         *sizing.Sizing
	target    float64
	runs      func(*design.Design) sizing.WaveSizing
	conflicts int
	closed    int // levels that close the gap already
	sizer     sizing.Sizer
	out       []Lever
}

// tried is a changed design with what it comes to.
type tried struct {
	design design.Design
	sizing sizing.Sizing
	gaps   [sizing.LevelCount]float64 // NaN: not known
	has    [sizing.LevelCount]bool    // whether the level has figures of its own
}

// try applies changes as --set does: what they set no longer follows, what follows them
// does. ok is false where the design cannot be computed.
func (l *levers) try(changes []change) (t tried, ok bool) {
	t.design = *l.d
	for _, c := range changes {
		switch {
		case c.clear:
			c.key.Clear(&t.design)
		case c.key.Accepts(c.value) != nil:
			return t, false
		default:
			c.key.SetNumber(&t.design, c.value)
		}
	}
	for i := range l.links {
		link := &l.links[i]
		if slices.ContainsFunc(changes, func(c change) bool { return c.key == link.Target }) {
			continue
		}
		link.Apply(&t.design)
		if x := link.Target.Number(&t.design); numeric.Given(x) && link.Target.Accepts(x) != nil {
			return t, false
		}
	}
	if len(check.Design(&t.design)) > 0 {
		return t, false
	}
	t.sizing = l.sizer.Size(&t.design)
	for i, g := range sizing.Levels(&t.design, &t.sizing) {
		t.gaps[i] = numeric.Absent
		t.has[i] = g.Given && sizing.Level(i) < sizing.ByWave
		if g.Given && len(g.Unknown) == 0 && sizing.Level(i) < sizing.ByWave {
			t.gaps[i] = g.Gap
		}
	}
	return t, true
}

// builds reports whether a changed design can be built, and is in no conflict, even one
// that rests on a default, more than the present one.
func (l *levers) builds(d *design.Design) bool {
	changed := layout.New(d)
	return changed.Fits() && len(changed.Conflicts) <= l.conflicts
}

// closing counts the levels that could judge the gap, and those at which it is closed.
func (l *levers) closing(t *tried) (closed, levels int) {
	for i, g := range t.gaps {
		if t.has[i] {
			levels++
			if g <= l.target {
				closed++
			}
		}
	}
	return closed, levels
}

// propose adds the change where it can be built and closes the gap somewhere.
func (l *levers) propose(changes []change, say func(t *tried) (what, cost result.Text)) bool {
	t, ok := l.try(typed(changes))
	if !ok || !l.builds(&t.design) {
		return false
	}
	closed, levels := l.closing(&t)
	if closed <= l.closed {
		return false
	}
	l.wave(&t)
	lever := Lever{Key: changes[0].key.Path, Gap: t.gaps, Narrows: closed < levels || t.gaps[sizing.ByWave] > l.target, Design: t.design}
	for _, c := range changes {
		lever.Set = append(lever.Set, c.String())
	}
	what, cost := say(&t)
	form := "%s: %s. Cost: %s.%s"
	if lever.Narrows {
		form = "Narrows: " + form
	}
	lever.Text = result.Say(form, what, l.leaves(&t, &lever), cost, l.price(&t))
	l.out = append(l.out, lever)
	return true
}

// typed are changes with the values that --set reads from their texts, to the last bit: what
// is stored of a changed design is found again when they are typed.
func typed(changes []change) []change {
	out := slices.Clone(changes)
	for i := range out {
		c := &out[i]
		if v, err := c.key.FromText(c.key.Canonical(c.value)); !c.clear && err == nil {
			c.value = v.Number
		}
	}
	return out
}

// wave adds the gap that a stored run of the changed design leaves.
func (l *levers) wave(t *tried) {
	if l.runs == nil {
		return
	}
	t.sizing.Wave = l.runs(&t.design)
	if g := sizing.Levels(&t.design, &t.sizing)[sizing.ByWave]; g.Given && len(g.Unknown) == 0 {
		t.gaps[sizing.ByWave] = g.Gap
	}
}

// leaves says what a lever leaves of the gap.
func (l *levers) leaves(t *tried, x *Lever) result.Text {
	var text result.Text
	for i, g := range x.Gap[:sizing.ByWave] {
		switch {
		case !numeric.Given(g) && t.has[i]:
			text = text.And(result.Say("not known %s, ", By(sizing.Level(i))))
		case numeric.Given(g):
			text = text.And(result.Say("%s %s, ", signed(g), By(sizing.Level(i))))
		}
	}
	if g := x.Gap[sizing.ByWave]; numeric.Given(g) {
		return text.And(result.Say("%s by wave", signed(g)))
	}
	return text.And(result.Plain("not checked by wave"))
}

// signed is a gap with its sign: overlap is negative.
func signed(gap float64) result.Cell {
	if math.IsInf(gap, -1) {
		return result.Word("closed")
	}
	return result.Num(gap, quantity.Octaves).As(quantity.Style{Verb: "%+.2f"})
}

// price says what figures the change moves that are known before and after.
func (l *levers) price(t *tried) result.Text {
	var text result.Text
	if now, then := l.s.Box.MaxLevel, t.sizing.Box.MaxLevel; numeric.Given(then-now) && math.Abs(then-now) >= 0.1 {
		text = text.And(result.Say(" %s at the bottom.", level(then-now).As(quantity.Style{Verb: "%+.1f"})))
	}
	if now, then := l.s.Woofers.CoversTo, t.sizing.Woofers.CoversTo; then < 0.98*now {
		text = text.And(result.Say(" To the sides the woofers cover the horn's angle to %s (now %s).", hertz(then), hertz(now)))
	}
	if now, then := l.s.Box.Cost, t.sizing.Box.Cost; numeric.Given(then-now) && then != now {
		text = text.And(result.Say(" Box %s (now %s).", result.Fig(figure.BoxCost, then), result.Fig(figure.BoxCost, now)))
	}
	return text
}

// solve finds the value of a key nearest to the present one, in whole steps up to far, with
// which the gap is closed at all levels, or if nowhere so, at one. more are changes that go
// with a value.
func (l *levers) solve(path string, step, far float64, more func(x float64) []change) ([]change, bool) {
	k := schema.FindKey(path)
	now := k.Number(l.d)
	if !numeric.Given(now) || !numeric.Given(far) {
		return nil, false
	}
	at := func(n float64) []change {
		out := []change{{key: k, value: n * step}}
		if more != nil {
			out = append(out, more(n*step)...)
		}
		return out
	}
	side := math.Copysign(1, far-now)
	from, end := math.Round(now/step), math.Trunc(far/step)
	for _, all := range []bool{true, false} {
		good := func(n float64) bool {
			t, ok := l.try(at(n))
			closed, levels := l.closing(&t)
			return ok && levels > 0 && (closed == levels || !all && closed > l.closed)
		}
		bad, reach := from, 1.0
		for ; (end-bad)*side > 0; reach *= 2 {
			n := from + side*reach
			if (n-end)*side > 0 {
				n = end
			}
			if good(n) {
				return at(narrowTo(good, bad, n)), true
			}
			bad = n
		}
	}
	return nil, false
}

// narrowTo closes in on the edge between whole numbers that are bad and good.
func narrowTo(good func(float64) bool, bad, ok float64) float64 {
	for math.Abs(ok-bad) > 1 {
		if mid := math.Trunc((bad + ok) / 2); good(mid) {
			ok = mid
		} else {
			bad = mid
		}
	}
	return ok
}

// Steps in which levers are given, SI.
const (
	wholeMM  = 1e-3
	tenthMM  = 1e-4
	wholeDeg = math.Pi / 180
	tenCC    = 1e-5
)
