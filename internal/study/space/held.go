package space

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gapline/cabinet/sizing"
	"gapline/internal/parallel"
	"gapline/internal/schema"
	"gapline/internal/search"
)

// Hold is something that keeps a design from serving the goals better: with it eased a
// little, a local search finds a design that is better in one goal and worse in none; or,
// of the design that is best in a goal, better in that goal.
type Hold struct {
	By      HeldBy
	Limit   schema.Limit    // of ByLimit
	Value   schema.Value    // of the ends: the end
	Gap     sizing.GapLimit // of ByGap
	Refused []*Refusal      // of ByRefusal; of an end: what designs beyond it are refused for
	// To is what it was eased to: the value of the limit, the end of the range, SI; of
	// ByGap by how many octaves.
	To float64
	// Change is by how much each goal then changes, SI; 0 for those that do not noticeably.
	Change []float64

	gain  float64 // all goals together, as weighed
	index int     // of the limit or the key
}

// HeldBy says what holds a design back.
type HeldBy uint8

// What can hold a design back.
const (
	ByLimit   HeldBy = iota // a limit
	ByLowEnd                // the low end of a key's range
	ByHighEnd               // the high end of a key's range
	ByGap                   // one of the limits that the gap lies between
	ByRefusal               // designs beyond cannot exist or cannot be built
)

// noticed is the least gain that counts, a share of the range that the goals take: a
// twentieth of what EasedBy would give if goals followed in proportion.
const noticed = 1e-3

// resolved is what a local search resolves, in the same measure.
const resolved = noticed / 10

// weight is how many times a goal counts what the next one does: what easing gives goes
// to the first goal that can use it.
const weight = 10

// firstSimplex is the size of the local searches, a share of the ranges: as far as
// things are eased.
const firstSimplex = EasedBy

// Hold finds what holds each of the best designs back. Where there are several goals,
// the design that is best in one of them is also asked what keeps this goal from better
// values at the expense of the others: what ends the front. seen is called with the number
// of designs done and their total. When ctx ends, the designs left are not asked.
func (h *Search) Hold(ctx context.Context, f *Found, seen func(done, of int)) error {
	n, done := len(f.Best), 0
	alone := make([][]int, n) // before the first answer is written into f
	for i := range alone {
		alone[i] = h.bestIn(f, i)
	}
	return parallel.Ordered(ctx, n, 1, func(i, _ int) Candidate {
		c := f.Best[i]
		h.hold(&c, alone[i])
		return c
	}, func(c Candidate) error {
		f.Best[done] = c
		done++
		seen(done, n)
		return nil
	})
}

// bestIn lists the goals in which one of the best designs is the best; none with a single
// goal.
func (h *Search) bestIn(f *Found, i int) (goals []int) {
	for g := range h.Table.Goals {
		ahead := slices.ContainsFunc(f.Best, func(c Candidate) bool { return c.point.Goals[g] < f.Best[i].point.Goals[g] })
		if len(h.Table.Goals) > 1 && !ahead {
			goals = append(goals, g)
		}
	}
	return goals
}

// hold finds what holds one design back, in all goals together and in each of the given
// ones alone.
func (h *Search) hold(c *Candidate, alone []int) {
	c.Asked = true
	scale := make([]float64, len(h.goals))
	for i := range h.goals {
		scale[i] = h.goals[i].scale() * math.Pow(weight, float64(i))
	}
	if c.Beaten = h.ask(c, scale); c.Beaten {
		return
	}
	for _, g := range alone {
		for i := range scale {
			scale[i] = math.Inf(1) // may get worse
		}
		scale[g] = h.goals[g].scale()
		h.ask(c, scale)
	}
	// Gains that differ by less than a local search resolves stay in the order asked.
	slices.SortStableFunc(c.Held, func(a, b Hold) int { return cmp.Compare(math.Round(b.gain/resolved), math.Round(a.gain/resolved)) })
}

// ask finds what holds a design back in goals of these scales. The design is improved
// first as far as it goes, so that what a search has left undone is not taken for the effect
// of easing; it is beaten when that alone is worth as much as easing.
func (h *Search) ask(c *Candidate, scale []float64) (beaten bool) {
	at := c.point
	ask := search.Improvement{Start: at.U, From: at.Goals, Scale: scale, Size: firstSimplex}
	if q, ok := h.Plan.Problem.Improve(ask); ok {
		switch gain := ask.Gain(&q); {
		case gain > EasedBy:
			return true
		case gain > 0:
			at = q
		}
	}
	ask.From = at.Goals
	var idle []Hold // ends that give nothing alone
	for _, o := range h.easings(&at) {
		if c.has(&o) || len(o.Refused) > 1 && c.refused() {
			continue // known already; of several refusals one alone explains it
		}
		if !h.gives(c, o, &at, ask) && (o.By == ByLowEnd || o.By == ByHighEnd) {
			idle = append(idle, o)
		}
	}
	for _, o := range idle {
		if o.Refused = h.beyond(&o, at.U); o.Refused != nil && !slices.ContainsFunc(o.Refused, c.refusedBy) {
			h.gives(c, o, &at, ask)
		}
	}
	return false
}

// refused reports whether a refusal is among what holds the design back.
func (c *Candidate) refused() bool {
	return slices.ContainsFunc(c.Held, func(o Hold) bool { return o.By == ByRefusal })
}

// refusedBy reports whether that refusal is among what holds the design back.
func (c *Candidate) refusedBy(r *Refusal) bool {
	return slices.ContainsFunc(c.Held, func(o Hold) bool { return o.By == ByRefusal && slices.ContainsFunc(o.Refused, r.same) })
}

// has reports whether the same thing is among what holds the design back.
func (c *Candidate) has(o *Hold) bool {
	return slices.ContainsFunc(c.Held, func(q Hold) bool {
		return q.By == o.By && q.index == o.index && q.Gap == o.Gap && slices.EqualFunc(q.Refused, o.Refused, (*Refusal).same)
	})
}

// gives searches with one thing eased and takes it up if that gives a noticeable gain.
func (h *Search) gives(c *Candidate, o Hold, at *search.Point, ask search.Improvement) bool {
	e, start := h.easing(&o, at.U)
	ask.Start = start
	q, ok := e.Plan.Problem.Improve(ask)
	if !ok {
		return false
	}
	o.Change, o.gain = make([]float64, len(at.Goals)), ask.Gain(&q)
	helps := false
	for i, g := range h.Table.Goals {
		d := q.Goals[i] - at.Goals[i]
		if least := noticed * h.goals[i].scale(); math.Abs(d) >= least {
			o.Change[i] = g.Score(d)
			helps = helps || d < 0 && !math.IsInf(ask.Scale[i], 1)
		}
	}
	if helps {
		c.Held = append(c.Held, o)
	}
	return helps
}
