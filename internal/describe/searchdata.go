package describe

import (
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/schema"
	"gapline/internal/study/space"
)

// counts is what was sampled, for programs.
func (v search) counts() result.Table {
	a := v.found.Archive
	goals := make([]string, len(v.Table.Goals))
	for i, g := range v.Table.Goals {
		goals[i] = g.String()
	}
	return object(
		entry("seed", result.Fig(figure.SearchSeed, float64(v.Table.Seed))),
		entry("designs", result.Fig(figure.SearchDesigns, float64(a.Samples()))),
		entry("exhaustive", result.Yes(v.Plan.Exhaustive())),
		entry("impossible", result.Fig(figure.SearchImpossible, float64(a.Impossible))),
		entry("first_impossible", result.Name(v.found.First)),
		entry("not_buildable", result.Fig(figure.SearchMisfits, float64(a.Misfits))),
		entry("first_not_buildable", result.Name(v.found.Unfit)),
		entry("not_computed", result.Fig(figure.SearchNotComputed, float64(a.Incomplete))),
		entry("feasible", result.Fig(figure.SearchFeasible, float64(a.Feasible))),
		entry("refined", result.Fig(figure.SearchRefined, float64(a.Refined))),
		entry("goals", result.Words(goals)))
}

// limits is each limit with how many samples meet it, for programs.
func (v search) limits() result.Table {
	var rows result.List
	for i, l := range v.Table.Limits {
		rows.Row(result.Text{}, append(limitCells(l), result.Fig(figure.SearchLimitMet, float64(v.found.Archive.Met[i])))...)
	}
	return records("limits", append(keys("name", "sign", "value"), columnsOf(figure.SearchLimitMet)...), rows)
}

func limitCells(l schema.Limit) []result.Cell {
	return []result.Cell{result.Name(l.Of.Name()), result.Name(l.Sign()), measureCell(l.Of, l.Value)}
}

// candidates are designs for programs, with what holds them back where that is asked
// for.
func (v search) candidates(key string, list []space.Candidate, held bool) result.Section {
	s := group(key)
	s.List = true
	for i := range list {
		parts := v.candidate(&list[i])
		if held {
			parts = append(parts, object(entry("held_back_by", result.Phrases(v.holdTexts(&list[i])))))
		}
		s.Parts = append(s.Parts, group("", parts...))
	}
	return s
}

// candidate is a design for programs: its varied keys, and what its goals and limits
// come to.
func (v search) candidate(c *space.Candidate) []result.Part {
	var parts []result.Part
	if c.Label != "" {
		parts = append(parts, object(entry("label", result.Name(c.Label))))
	}
	var values, goals, limits []result.Row
	for _, x := range c.Values {
		values = append(values, entry(x.Key.Path, wordOrNumber(x)))
	}
	for i, g := range v.Table.Goals {
		goals = append(goals, entry(g.Of.Name(), measureCell(g.Of, v.Goal(c, i))))
	}
	for i, l := range v.Table.Limits {
		limits = append(limits, entry(l.Of.Name(), measureCell(l.Of, v.Limited(c, i))))
	}
	return append(parts, byName("values", values), byName("goals", goals), byName("limits", limits))
}

// byName is an object for programs whose keys keep their dots.
func byName(key string, rows []result.Row) result.Table {
	t := object(rows...)
	t.Key, t.As = key, result.ByName
	return t
}

// wordOrNumber is the value of a key for programs: words for a number that is not
// finite, such as "flat".
func wordOrNumber(v schema.Value) result.Cell {
	c := keyCell(v)
	if c.Words != "" {
		return result.Word(c.Words)
	}
	return c
}

// relaxations are limits that stand in the way, for programs.
func (v search) relaxations(key string, list []space.Relaxation) result.Section {
	s := group(key)
	s.List = true
	for i := range list {
		r := &list[i]
		cells := limitCells(r.Limit)
		s.Parts = append(s.Parts, group("", object(entry("name", cells[0]), entry("sign", cells[1]), entry("value", cells[2]),
			entry("to", measureCell(r.Limit.Of, r.To)), entry("share_of_range", result.Fig(figure.SearchRelaxShare, r.Share))),
			group("design", v.candidate(&r.Design)...)))
	}
	return s
}

// listing is the list of designs for CSV: the best under their labels, then the rest
// of the front.
func (v search) listing() result.Table {
	t := result.Table{Shown: result.At(result.Listing), As: result.Records, Columns: keys("label")}
	for i := range v.Table.Vary {
		name, _ := v.Table.Vary[i].Key.Column()
		t.Columns = append(t.Columns, keys(name)...)
	}
	for _, m := range v.measures() {
		t.Columns = append(t.Columns, keys(m.Name())...)
	}
	t.Columns = append(t.Columns, keys("held_back_by")...)
	var rows result.List
	for i := range v.found.Best {
		rows.Add(result.Row{Cells: v.listed(&v.found.Best[i])})
	}
	for i := range v.found.Front {
		if c := &v.found.Front[i]; c.Label == "" {
			rows.Add(result.Row{Cells: v.listed(c)})
		}
	}
	t.Rows = rows.Rows()
	return t
}

func (v search) listed(c *space.Candidate) []result.Cell {
	out := []result.Cell{result.Name(c.Label)}
	for _, x := range c.Values {
		out = append(out, columnCell(x))
	}
	for _, m := range v.measures() {
		x := measureCell(m, space.Value(m, &c.Design, &c.Sizing))
		if m.Figure == nil {
			x.Kind = quantity.Number // SI, whatever the head
		}
		out = append(out, x)
	}
	return append(out, result.Phrase(joined("; ", v.holdTexts(c)...)))
}
