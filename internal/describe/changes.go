package describe

import (
	"math"
	"slices"

	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/size"
)

// Changes describes what has changed between two revisions of a design, for the
// document and for its JSON. data are the ids of their JSON in the document.
func Changes(then, now Sized, data [2]string) *result.Result {
	both := []Sized{then, now}
	keys := slices.DeleteFunc(keysAcross(both), func(x across) bool { return !x.differ() })
	r := &result.Result{Untitled: true}
	r.Add(changesData(then.Name, keys, figuresAcross(both)))
	if len(keys) == 0 {
		r.Add(result.Prose{Shown: result.At(result.Page), Texts: []result.Text{result.Plain("No key of the design has changed.")}})
	} else {
		t := comparedPage("Changed in the design", "key", keys, []Sized{{Name: "then"}, {Name: "now"}}, nil)
		for i := range t.Columns {
			t.Columns[i].Left = true
		}
		r.Add(t)
	}
	r.Add(changedFigures(now, filled(figuresAcross(both), true), data))
	return r
}

// changesData holds the changes for programs: keys in texts, figures in the units of
// their keys.
func changesData(since string, keys, figures []across) result.Section {
	columns := []result.Column{{Key: "then"}, {Key: "now"}}
	var texts, numbers result.List
	for _, x := range keys {
		texts.Add(result.Row{Key: x.key, Cells: asTexts(x.cells)})
	}
	for _, x := range figures {
		if !same(finiteOrAbsent(x.cells[0].SI), finiteOrAbsent(x.cells[1].SI)) {
			numbers.Add(result.Row{Key: x.key, Cells: x.cells})
		}
	}
	table := func(key string, rows result.List) result.Table {
		return result.Table{Shown: result.At(result.Data), Key: key, As: result.ByName, Columns: columns, Rows: rows.Rows()}
	}
	return result.Section{Shown: result.At(result.Data), Key: "changes", Parts: []result.Part{
		named("since", result.Name(since)), table("keys", texts), table("figures", numbers)}}
}

func finiteOrAbsent(x float64) float64 {
	if math.IsInf(x, 0) {
		return math.NaN()
	}
	return x
}

func same(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }

// changedFigures lists every figure that either revision gives, those that stayed too.
func changedFigures(now Sized, figures []across, data [2]string) result.Table {
	left := headed(trust, "trust")
	left.Left = true
	t := result.Table{Shown: result.At(result.Page), Title: result.Plain("Every figure, then and now"), Columns: []result.Column{
		{Key: "then", Head: result.Plain("then"), Data: data[0]}, {Key: "now", Head: result.Plain("now"), Data: data[1]},
		headed(value, "change"), left}}
	var rows result.List
	for _, x := range figures {
		rows.Add(result.Row{Key: x.key, Label: result.Plain(x.figure.Name), Trust: size.Trust(now.Sizing, x.figure),
			Cells: append(slices.Clone(x.cells), result.Phrase(change(x.figure, x.cells[0].SI, x.cells[1])))})
	}
	t.Rows = rows.Rows()
	return t
}

// change words how a figure has changed from its value then.
func change(f *figure.Def, then float64, now result.Cell) result.Text {
	d := now.SI - then
	switch {
	case same(then, now.SI):
		return result.Plain("none")
	case math.IsNaN(d) || math.IsInf(d, 0) || f.Words != nil && f.Words(now.SI) != "":
		return result.Say("now %s", now)
	}
	sign := "+"
	if d < 0 {
		sign = "−"
	}
	size := result.Num(math.Abs(d), f.Kind)
	if f.Kind == quantity.Octaves {
		size = hundredths(math.Abs(d)) // a difference is neither open nor closed
	}
	text := result.Say(sign+"%s", size)
	if share := math.Abs(d / then); f.Kind != quantity.Level && f.Kind != quantity.Octaves && !math.IsInf(share, 0) {
		text = text.And(result.Say(" ("+sign+"%s)", result.Num(share, quantity.Fraction)))
	}
	return text
}
