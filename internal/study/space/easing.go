package space

import (
	"math"
	"slices"

	"gapline/cabinet/sizing"
	"gapline/internal/schema"
	"gapline/internal/search"
)

// EasedBy is how far each thing gives way when it is asked what holds a design back: a
// share of the range that a limit's measure takes, of a key's range, and of the
// frequency of a limit of the gap. A refusal is let pass for designs that differ by no
// more than this share of any range. Lists move by one of their steps.
const EasedBy = 0.02

// easings lists what may hold the point back: the limits, the ends of ranges at which it
// stands, the limits of the gap where a goal or a limit looks at the gap, and what
// refuses designs beside it.
func (h *Search) easings(at *search.Point) []Hold {
	var out []Hold
	for i, l := range h.Table.Limits {
		by := EasedBy * h.limits[i].scale()
		if !l.AtMost {
			by = -by
		}
		out = append(out, Hold{By: ByLimit, Limit: l, To: l.Value + by, index: i})
	}
	values := make([]schema.Value, len(at.U))
	h.Values(at.U, values)
	for i, v := range values {
		out = append(out, h.ends(i, v)...)
	}
	return append(append(out, h.gapLimits(values)...), h.refusals(at.U)...)
}

// ends are the ends of a key's range at which a value stands, with a value beyond.
func (h *Search) ends(i int, v schema.Value) (out []Hold) {
	vary := &h.Table.Vary[i]
	if !v.Key.Numeric() {
		return nil
	}
	from, to := vary.From, vary.To
	low, high := EasedBy*(to-from), EasedBy*(to-from)
	near := low
	if n := len(vary.Values); n > 1 {
		from, to, near = vary.Values[0].Number, vary.Values[n-1].Number, 0
		low, high = vary.Values[1].Number-from, to-vary.Values[n-2].Number
	}
	for _, e := range []struct {
		by      HeldBy
		at, to  float64
		reached bool
	}{{ByLowEnd, from, from - low, v.Number <= from+near}, {ByHighEnd, to, to + high, v.Number >= to-near}} {
		if e.reached && e.to != e.at && !math.IsInf(e.at, 0) && !math.IsInf(e.to, 0) && v.Key.Accepts(e.to) == nil {
			out = append(out, Hold{By: e.by, Value: schema.NumberValue(v.Key, e.at), To: e.to, index: i})
		}
	}
	return out
}

// GapKeys are the keys that are limits of the gap as they stand.
var GapKeys = map[sizing.GapLimit]string{sizing.GapDriver: "horn.lowest", sizing.GapMidLowest: "mid.lowest"}

// gapLimits are the limits of the gap that are near enough to bind: those which, had
// they been a few steps stricter, would have changed it. One that is a varied key binds by
// the ends of its range.
func (h *Search) gapLimits(values []schema.Value) (out []Hold) {
	d, err := h.Design(values)
	if err != nil {
		return nil
	}
	s := sizing.Size(&d)
	octaves := math.Log2(1 + EasedBy)
	for l := range sizing.GapLimits {
		if key := GapKeys[l]; key != "" && slices.ContainsFunc(values, func(v schema.Value) bool { return v.Key.Path == key }) {
			continue
		}
		strict := s.Eased(&d, l, -3*octaves)
		moved := func(m schema.Measure) bool {
			a, b := Value(m, &d, &s), Value(m, &d, &strict)
			return a != b && !math.IsNaN(a)
		}
		if slices.ContainsFunc(h.Table.Goals, func(g schema.Goal) bool { return moved(g.Of) }) ||
			slices.ContainsFunc(h.Table.Limits, func(l schema.Limit) bool { return moved(l.Of) }) {
			out = append(out, Hold{By: ByGap, Gap: l, To: octaves})
		}
	}
	return out
}

// mostPairs bounds the keys of which two at a time are moved in search of refusals.
const mostPairs = 8

// refusals are the reasons why designs beside a point are refused. Where there are
// several, the last asks for all of them.
func (h *Search) refusals(u []float64) (out []Hold) {
	var all []*Refusal
	values := make([]schema.Value, len(u))
	look := func(u []float64) {
		h.Values(u, values)
		_, err := h.Design(values)
		if r, ok := err.(*Refusal); ok && !slices.ContainsFunc(all, r.same) {
			all = append(all, r)
		}
	}
	beside := h.beside(u)
	for i, moves := range beside {
		for _, x := range moves {
			v := slices.Clone(u)
			v[i] = x
			look(v)
			for j := range min(i, mostPairs) {
				for _, y := range beside[j] {
					w := slices.Clone(v)
					w[j] = y
					look(w)
				}
			}
		}
	}
	for _, r := range all {
		out = append(out, Hold{By: ByRefusal, Refused: []*Refusal{r}})
	}
	if len(all) > 1 {
		out = append(out, Hold{By: ByRefusal, Refused: all})
	}
	return out
}

// beside lists the settings beside a point's, of each lever.
func (h *Search) beside(u []float64) [][]float64 {
	out := make([][]float64, len(u))
	for i, l := range h.Plan.Problem.Levers {
		step := EasedBy
		if l.Levels > 0 {
			if step = 1 / float64(l.Levels); !l.Ordered {
				continue
			}
		}
		for _, x := range []float64{u[i] - step, u[i] + step} {
			if l.Levels == 0 {
				x = min(max(x, 0), 1)
			}
			if x >= 0 && x <= 1 && x != u[i] {
				out[i] = append(out[i], x)
			}
		}
	}
	return out
}

// easing returns the search with one thing eased, and the point of it that stands for
// the same settings as u does in h.
func (h *Search) easing(o *Hold, u []float64) (*Search, []float64) {
	e := *h
	e.Table.Vary, e.Table.Limits = slices.Clone(h.Table.Vary), slices.Clone(h.Table.Limits)
	switch o.By {
	case ByLimit:
		e.Table.Limits[o.index].Value = o.To
	case ByLowEnd:
		v := &e.Table.Vary[o.index]
		v.From = o.To
		if !v.Continuous() {
			v.Values = slices.Concat([]schema.Value{schema.NumberValue(v.Key, o.To)}, v.Values)
		}
	case ByHighEnd:
		v := &e.Table.Vary[o.index]
		v.To = o.To
		if !v.Continuous() {
			v.Values = slices.Concat(v.Values, []schema.Value{schema.NumberValue(v.Key, o.To)})
		}
	case ByGap:
		e.eases, e.eased = o.Gap, o.To
	}
	values := make([]schema.Value, len(u))
	h.Values(u, values)
	e.replan()
	start := e.pointOf(values)
	if o.Refused != nil {
		e.LetPass = o.Refused
		e.stayNear(start)
		start = e.pointOf(values)
	}
	return &e, start
}

// replan prepares the problem for ranges that have changed.
func (h *Search) replan() { h.Plan = &search.Plan{Problem: h.problem()} }

// stayNear narrows the ranges to what is beside a point.
func (h *Search) stayNear(u []float64) {
	vary := slices.Clone(h.Table.Vary)
	for i, moves := range h.beside(u) {
		v := &vary[i]
		if v.Continuous() {
			v.From, v.To = h.value(i, slices.Min(append(moves, u[i]))).Number, h.value(i, slices.Max(append(moves, u[i]))).Number
			continue
		}
		at := h.Plan.Problem.Levers[i].Level(u[i])
		from, to := at, at+1
		if len(moves) > 0 {
			from, to = max(at-1, 0), min(at+2, len(v.Values))
		}
		v.Values = v.Values[from:to]
	}
	h.Table.Vary = vary
	h.replan()
}

// beyond is what designs with a key beyond the end of its range are refused for; nil
// where they are not.
func (h *Search) beyond(o *Hold, u []float64) (out []*Refusal) {
	values := make([]schema.Value, len(u))
	h.Values(u, values)
	values[o.index] = schema.NumberValue(o.Value.Key, o.To)
	s := h.Space
	for {
		_, err := s.Design(values)
		r, ok := err.(*Refusal)
		if !ok {
			return out
		}
		out = append(out, r)
		s.LetPass = out
	}
}

// pointOf is the point of the unit box that stands for the values.
func (h *Search) pointOf(values []schema.Value) []float64 {
	u := make([]float64, len(values))
	for i, x := range values {
		v := &h.Table.Vary[i]
		if v.Continuous() {
			u[i] = min(max((x.Number-v.From)/(v.To-v.From), 0), 1)
			continue
		}
		at := slices.IndexFunc(v.Values, func(w schema.Value) bool { return w.Number == x.Number && w.Text == x.Text })
		u[i] = (float64(at) + 0.5) / float64(len(v.Values))
	}
	return u
}
