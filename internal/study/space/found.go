package space

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/cleantext"
	"gapline/internal/quantity"
	"gapline/internal/schema"
	"gapline/internal/search"
)

// Found is what a search came to.
type Found struct {
	Archive *search.Archive
	Front   []Candidate // no other design is better in one goal without being worse in another; by the first goal
	Best    []Candidate // up to ten, labelled, that lie apart
	Some    []Candidate // a few of the samples that meet all limits
	Relax   []Relaxation
	Nearest *Candidate // when nothing fits: the design that misses the limits by the least
	Missed  []Relaxation
	First   string // why the first impossible design cannot exist
	Unfit   string // why the first misfit cannot be built
}

// Candidate is one design that was found.
type Candidate struct {
	Label  string // A to J; "" for others
	Values []schema.Value
	Design design.Design
	Sizing sizing.Sizing
	Held   []Hold // what holds it back, what gives most first; see Search.Hold
	Beaten bool   // the search holds better designs beside it: nothing holds it back
	Asked  bool   // whether it was looked for what holds it back

	point search.Point
}

// Relaxation is a limit that stands in the way, and how far it would have to
// move for one design to fit.
type Relaxation struct {
	Limit  schema.Limit
	To     float64 // SI, rounded so that the design fits
	Share  float64 // of the range that the measure takes among the designs
	Design Candidate
}

// most is how many designs are picked out.
const most = 10

// Sample evaluates the samples from lo up to hi; see search.Plan.Sample.
func (h *Search) Sample(ctx context.Context, lo, hi int, seen func(done int)) (*search.Archive, error) {
	return h.Plan.Sample(ctx, lo, hi, seen)
}

// Refine improves what the samples found; see search.Plan.Refine.
func (h *Search) Refine(ctx context.Context, a *search.Archive, seen func(done, of int)) error {
	return h.Plan.Refine(ctx, a, seen)
}

// Found turns an archive into designs.
func (h *Search) Found(a *search.Archive) *Found {
	f := &Found{Archive: a}
	if a.FirstImpossible >= 0 {
		f.First = h.whyRefused(a.FirstImpossible)
	}
	if a.FirstMisfit >= 0 {
		f.Unfit = h.whyRefused(a.FirstMisfit)
	}
	if len(a.Front) == 0 {
		h.nothing(f)
		return f
	}
	front := slices.Clone(a.Front)
	slices.SortStableFunc(front, func(p, q search.Point) int { return slices.Compare(p.Goals, q.Goals) })
	for _, q := range front {
		f.Front = append(f.Front, h.candidate(q))
	}
	picked := h.pick(front, a)
	slices.SortStableFunc(picked, func(p, q search.Point) int { return cmp.Compare(p.Goals[0], q.Goals[0]) })
	labels := map[int]string{}
	for i, q := range picked {
		labels[q.ID] = string(rune('A' + i))
		c := h.candidate(q)
		c.Label = labels[q.ID]
		f.Best = append(f.Best, c)
	}
	for i := range f.Front {
		f.Front[i].Label = labels[f.Front[i].point.ID]
	}
	for _, q := range a.Some {
		f.Some = append(f.Some, h.candidate(q))
	}
	return f
}

// pick chooses the designs to show: with one goal the best that differ by a
// twentieth of a range, with more the points of the front that lie far apart.
func (h *Search) pick(front []search.Point, a *search.Archive) []search.Point {
	if len(h.Table.Goals) == 1 {
		return h.Plan.Problem.Apart(slices.Concat(front[:1], a.Best), most, 0.05)
	}
	var out []search.Point
	for _, i := range search.Spread(front, most) {
		out = append(out, front[i])
	}
	return out
}

// candidate sizes the design at a point.
func (h *Search) candidate(q search.Point) Candidate {
	c := Candidate{Values: make([]schema.Value, len(q.U)), point: q}
	h.Values(q.U, c.Values)
	c.Design, _ = h.Design(c.Values) // it could be built when it was found
	c.Sizing = sizing.Size(&c.Design)
	return c
}

// Goal returns the value of goal i.
func (h *Search) Goal(c *Candidate, i int) float64 {
	return Value(h.Table.Goals[i].Of, &c.Design, &c.Sizing)
}

// Limited returns the value that limit i looks at.
func (h *Search) Limited(c *Candidate, i int) float64 {
	return Value(h.Table.Limits[i].Of, &c.Design, &c.Sizing)
}

// Present is the design of the file itself, as a candidate; ok is false when a
// goal cannot be computed for it.
func (h *Search) Present() (c Candidate, ok bool) {
	c.Design = *h.Base
	c.Sizing = sizing.Size(&c.Design)
	for i := range h.Table.Goals {
		if x := h.Goal(&c, i); math.IsNaN(x) || math.IsInf(x, 0) {
			return c, false
		}
	}
	return c, true
}

func (h *Search) whyRefused(sample int) string {
	u := make([]float64, len(h.Table.Vary))
	h.Plan.At(sample, u)
	values := make([]schema.Value, len(u))
	h.Values(u, values)
	_, err := h.Design(values)
	return Why(values, err)
}

// nothing says how to make something fit.
func (h *Search) nothing(f *Found) {
	for i, q := range f.Archive.Alone {
		if q.ID >= 0 {
			f.Relax = append(f.Relax, h.relaxation(i, h.candidate(q)))
		}
	}
	slices.SortStableFunc(f.Relax, func(a, b Relaxation) int { return cmp.Compare(a.Share, b.Share) })
	if len(f.Archive.Near) == 0 {
		return
	}
	c := h.candidate(f.Archive.Near[0])
	f.Nearest = &c
	for i, e := range c.point.Excess {
		if e > 0 {
			f.Missed = append(f.Missed, h.relaxation(i, c))
		}
	}
}

func (h *Search) relaxation(i int, c Candidate) Relaxation {
	l := h.Table.Limits[i]
	return Relaxation{Limit: l, To: outward(h.Limited(&c, i), l), Share: c.point.Excess[i], Design: c}
}

// outward rounds a value to four figures in the limit's unit, to the side on
// which more designs fit.
func outward(x float64, l schema.Limit) float64 {
	unit := 1.0
	if l.Of.Kind() == quantity.Angle {
		unit = math.Pi / 180
	}
	if x == 0 || math.IsInf(x, 0) {
		return x
	}
	step := math.Pow(10, math.Floor(math.Log10(math.Abs(x/unit)))-3)
	round := math.Floor
	if l.AtMost {
		round = math.Ceil
	}
	return round(x/unit/step) * step * unit
}

// Why says in words which design cannot exist, and why.
func Why(values []schema.Value, err error) string {
	text := ""
	for _, v := range values {
		text += v.Key.Path + " = " + v.Show(quantity.Metric) + ": "
	}
	if err != nil {
		text += err.Error()
	}
	return cleantext.Line(text)
}
