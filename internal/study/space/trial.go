package space

import (
	"fmt"
	"math"
	"strings"

	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/schema"
)

// trial is how many designs are looked at before the search proper: enough to
// know the range of every measure.
const trial = 512

// try sizes some designs to learn the ranges of goals and limits, and refuses a
// search that cannot be meant.
func (h *Search) try() error {
	h.goals, h.limits = make([]bounds, len(h.Table.Goals)), make([]bounds, len(h.Table.Limits))
	u := make([]float64, len(h.Table.Vary))
	p := h.point()
	exist := 0
	n := min(trial, h.Plan.Designs)
	for i := range n {
		h.Plan.At(i*h.Plan.Designs/n, u)
		h.Values(u, p.Values)
		if p.move(&h.Space, i); p.Err != nil {
			continue
		}
		exist++
		s := p.Size()
		for j, g := range h.Table.Goals {
			h.goals[j].add(Value(g.Of, &p.Design, &s))
		}
		for j, l := range h.Table.Limits {
			h.limits[j].add(Value(l.Of, &p.Design, &s))
		}
	}
	var problems schema.Faults
	const enough = 8 // designs that say something about all
	if exist >= enough {
		problems = append(h.badGoals(exist), h.badLimits()...)
	}
	problems = append(problems, h.badRanges()...)
	if len(problems) == 0 {
		return nil
	}
	return problems
}

// fault is one of the table's faults.
func fault(path, format string, args ...any) schema.Fault {
	return schema.Fault{Path: path, Text: fmt.Sprintf(format, args...)}
}

// badGoals finds goals that the ranges do not move.
func (h *Search) badGoals(exist int) (out schema.Faults) {
	for j, g := range h.Table.Goals {
		switch b := h.goals[j]; {
		case b.n == 0:
			out = append(out, fault("search.goals", "%s: it cannot be computed for any design within the ranges%s", g, h.needs(g.Of)))
		case b.low == b.high:
			out = append(out, fault("search.goals", "%s: nothing that is varied moves it, it is %s in all of %d designs tried%s",
				g, quantity.Format(b.low, g.Of.Kind(), quantity.Metric), exist, h.needs(g.Of)))
		}
	}
	return out
}

// badLimits finds limits that cannot be computed, and limits on keys that are
// fixed beyond them.
func (h *Search) badLimits() (out schema.Faults) {
	for j, l := range h.Table.Limits {
		b, text := h.limits[j], l.Text(quantity.Metric)
		switch {
		case b.n == 0 && !math.IsInf(l.Value, 0):
			out = append(out, fault("search.limits", "%s: it cannot be computed for any design within the ranges%s", text, h.needs(l.Of)))
		case l.Of.Key != nil && b.low == b.high && l.Excess(b.low) > 0:
			out = append(out, fault("search.limits", "%s: it is %s, and nothing that is varied moves it",
				text, quantity.Format(b.low, l.Of.Kind(), quantity.Metric)))
		}
	}
	return out
}

// badRanges finds limits on varied keys that leave nothing of their range.
func (h *Search) badRanges() (out schema.Faults) {
	for _, l := range h.Table.Limits {
		for i := range h.Table.Vary {
			v := &h.Table.Vary[i]
			if v.Key == l.Of.Key && l.Excess(v.From) > 0 && l.Excess(v.To) > 0 {
				out = append(out, fault("search.limits", "%s: [search.vary] takes it from %s to %s only", l.Text(quantity.Metric),
					quantity.Format(v.From, v.Key.Kind, quantity.Metric), quantity.Format(v.To, v.Key.Kind, quantity.Metric)))
			}
		}
	}
	return out
}

// needs says what a figure is made of, or why no search has it.
func (h *Search) needs(m schema.Measure) string {
	if m.Figure != nil && m.Figure.Trust == figure.Wave {
		return "; a search does not solve the wave level"
	}
	if m.Figure == nil || len(m.Figure.Terms) == 0 {
		return ""
	}
	return fmt.Sprintf("; it depends on %s", strings.Join(m.Figure.Inputs(), ", "))
}
