package describe

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/schema"
	"gapline/internal/study/size"
	"gapline/internal/study/space"
)

// Search describes what a search among designs found.
func Search(s *space.Search, found *space.Found) *result.Result {
	v := search{s, found}
	r := &result.Result{Title: s.Project.Design.Title, Head: v.sampled()}
	r.Add(v.counts(), v.limits(), v.candidates("best", found.Best, true), v.candidates("front", found.Front, false),
		v.relaxations("relax", found.Relax), v.relaxations("relax_together", found.Missed), v.listing())
	if len(s.Table.Limits) > 0 {
		r.Add(apart(v.metBy()))
	}
	for block := range slices.Chunk(found.Best, perBlock) {
		r.Add(apart(v.block(block)))
	}
	if len(found.Best) > 0 {
		r.Add(v.heldBack())
	}
	if len(found.Front) == 0 {
		r.Add(v.nothing())
	}
	r.Add(belowCautions(advice.DesignCautions(v.loud())))
	return r
}

type search struct {
	*space.Search
	found *space.Found
}

// sampled says how many designs were looked at and what became of them.
func (v search) sampled() []result.Text {
	a := v.found.Archive
	total := a.Samples()
	out := []result.Text{result.Say("%s designs within the ranges (seed %s), and %s in local searches from the best of them.",
		result.Count(total), strconv.FormatUint(v.Table.Seed, 10), result.Count(a.Refined))}
	if v.Plan.Exhaustive() {
		out[0] = result.Say("%s designs: every combination within the ranges.", result.Count(total))
	}
	for _, k := range v.Refitted() {
		out = append(out, result.Say("%s follows line.boxes: "+schema.RefitRule+".", k.Path))
	}
	if a.Impossible > 0 {
		out = append(out, result.Say("%s cannot exist (%s). The first: %s.", result.Count(a.Impossible), share(a.Impossible, total),
			strings.TrimSuffix(v.found.First, ".")))
	}
	if a.Misfits > 0 {
		out = append(out, result.Say("%s cannot be built (%s). The first: %s.", result.Count(a.Misfits), share(a.Misfits, total),
			strings.TrimSuffix(v.found.Unfit, ".")))
	}
	if a.Incomplete > 0 {
		out = append(out, result.Say("For %s a goal or a limit cannot be computed.", result.Count(a.Incomplete)))
	}
	front := len(v.found.Front)
	if front == 0 {
		return out
	}
	meet := result.Say("%s meet every limit (%s)", result.Count(a.Feasible), share(a.Feasible, total))
	switch {
	case len(v.Table.Goals) == 1:
		meet = meet.And(result.Plain("."))
	case front == 1:
		meet = meet.And(result.Plain(". The goals do not pull against each other here: one design is best in all of them."))
	default:
		meet = meet.And(result.Say("; %s of all found are beaten by no other in every goal.", result.Count(front)))
	}
	return append(out, meet)
}

// metBy says which share of the samples meets each limit.
func (v search) metBy() result.Table {
	t := result.Table{Shown: result.At(result.Screen), Title: result.Plain("LIMITS"), Columns: columns("met by")}
	var rows result.List
	for i, l := range v.Table.Limits {
		rows.Row(limitText(l), share(v.found.Archive.Met[i], v.found.Archive.Evaluated))
	}
	t.Rows = rows.Rows()
	return t
}

// perBlock is how many designs stand side by side.
const perBlock = 5

// block shows some of the best designs in columns: their keys, goals and limits.
func (v search) block(best []space.Candidate) result.Table {
	t := result.Table{Shown: result.At(result.Screen), Title: result.Plain("FOUND")}
	for i := range best {
		t.Columns = append(t.Columns, headed(value, best[i].Label))
	}
	t.Columns = append(t.Columns, headed(trust, "trust"))
	var rows result.List
	add := func(row result.Row, cell func(*space.Candidate) result.Cell) {
		for i := range best {
			row.Cells = append(row.Cells, cell(&best[i]))
		}
		rows.Add(row)
	}
	for i := range v.Table.Vary {
		add(result.Row{Label: result.Plain(v.Table.Vary[i].Key.Path)}, func(c *space.Candidate) result.Cell { return keyCell(c.Values[i]) })
	}
	for i, g := range v.Table.Goals {
		add(result.Row{Flush: true, Label: result.Plain(g.String()), Trust: v.trust(g.Of)},
			func(c *space.Candidate) result.Cell { return shownMeasure(g.Of, v.Goal(c, i)) })
	}
	for i, l := range v.Table.Limits {
		if v.isGoal(l.Of) || v.isVaried(l.Of) {
			continue
		}
		add(result.Row{Flush: true, Label: limitText(l), Trust: v.trust(l.Of)},
			func(c *space.Candidate) result.Cell { return shownMeasure(l.Of, v.Limited(c, i)) })
	}
	t.Rows = rows.Rows()
	return t
}

func (v search) isGoal(m schema.Measure) bool {
	return slices.ContainsFunc(v.Table.Goals, func(g schema.Goal) bool { return g.Of == m })
}

func (v search) isVaried(m schema.Measure) bool {
	return slices.ContainsFunc(v.Table.Vary, func(x schema.Variation) bool { return x.Key == m.Key })
}

// measures lists goals and limits, each once.
func (v search) measures() []schema.Measure {
	var out []schema.Measure
	for _, g := range v.Table.Goals {
		out = append(out, g.Of)
	}
	for _, l := range v.Table.Limits {
		if !slices.Contains(out, l.Of) && !v.isVaried(l.Of) {
			out = append(out, l.Of)
		}
	}
	return out
}

// loud reports whether a goal or a limit is a level.
func (v search) loud() bool {
	return slices.ContainsFunc(v.measures(), func(m schema.Measure) bool { return m.Figure == figure.BoxMaxSPL })
}

// trust is the level of a measure; on a basis that is itself varied it is that of
// the first design.
func (v search) trust(m schema.Measure) figure.Trust {
	if m.Figure == nil {
		return figure.Geometry
	}
	return size.Trust(&v.found.Best[0].Sizing, m.Figure)
}

// measureCell is a value of a figure or a key.
func measureCell(m schema.Measure, si float64) result.Cell {
	if m.Figure != nil {
		return result.Fig(m.Figure, si)
	}
	return result.Num(si, m.Key.Kind)
}

// shownMeasure is the same for people, gaps with their sign.
func shownMeasure(m schema.Measure, si float64) result.Cell {
	if m.Figure != nil {
		return figureCell(m.Figure, si)
	}
	return measureCell(m, si)
}

// nothing says how to make something fit.
func (v search) nothing() result.Section {
	s := result.Section{Shown: result.At(result.Screen), Spaced: true}
	switch f := v.found; {
	case len(f.Relax) > 0:
		s.Title = result.Plain("NOTHING FITS. One of these changes makes something fit, the least first:")
		s.Parts = []result.Part{relaxed(f.Relax)}
	case f.Nearest != nil:
		s.Title = result.Plain("NOTHING FITS. No single limit is to blame. The nearest design needs all of these:")
		s.Parts = []result.Part{relaxed(f.Missed)}
	default:
		s.Title = result.Plain("NOTHING FITS. No design within the ranges has all the goals and limits.")
	}
	return s
}

// relaxed says how far limits have to move, and which designs then fit.
func relaxed(list []space.Relaxation) result.Prose {
	p := result.Prose{Shown: result.At(result.Screen), Indent: "  ", Hang: "  "}
	for i := range list {
		r := &list[i]
		text := result.Say(fmt.Sprintf("%%s: make it %s %%s, %%s of the range it takes here. With ", r.Limit.Sign()), limitText(r.Limit),
			quantity.Canonical(r.To, r.Limit.Of.Kind()), result.Fig(figure.SearchRelaxShare, r.Share))
		at := make([]result.Text, len(r.Design.Values))
		for j, x := range r.Design.Values {
			at[j] = result.Say("%s %s", x.Key.Path, keyCell(x))
		}
		p.Texts = append(p.Texts, text.And(joined(", ", at...)).And(result.Plain(".")))
	}
	return p
}
