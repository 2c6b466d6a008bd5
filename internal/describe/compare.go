package describe

import (
	"math"
	"slices"

	"gapline/cabinet/design"
	"gapline/internal/figure"
	"gapline/internal/result"
	"gapline/internal/schema"
	"gapline/internal/study/size"
)

// The pictures of a comparison.
const (
	CompareStrip = "strip"
	CompareLevel = "level"
)

// CompareViews lists the pictures, the usual one first.
var CompareViews = []string{CompareStrip, CompareLevel}

// Compare describes designs side by side: every key and figure that any of them has
// or, without all, those in which they differ. A star marks what differs from the
// first design.
func Compare(designs []Sized, all bool, cautions []result.Finding) *result.Result {
	r := &result.Result{Untitled: true}
	keys, figures := filled(keysAcross(designs), all), filled(figuresAcross(designs), all)
	r.Add(comparedList(slices.Concat(keys, figures), designs), tradeoff(designs))
	if len(keys) > 0 {
		t := comparedTable("DESIGN", keys, designs)
		t.Spaced = true
		r.Add(t)
	}
	if len(figures) > 0 {
		t := comparedTable("FIGURES", figures, designs)
		t.Spaced = len(keys) > 0
		r.Add(t)
	}
	if len(keys)+len(figures) == 0 {
		r.Add(result.Prose{Shown: result.At(result.Screen), Texts: []result.Text{result.Plain("the designs do not differ")}})
		return r
	}
	r.Add(result.Section{Shown: result.At(result.Screen), Spaced: true, Parts: []result.Part{
		result.Findings{Shown: result.At(result.Screen), List: cautions}}})
	return r
}

// across is one key or figure across all designs.
type across struct {
	key    string
	figure *figure.Def // nil for a key
	cells  []result.Cell
}

func keysAcross(designs []Sized) []across {
	out := make([]across, len(schema.Keys))
	for i := range schema.Keys {
		k := &schema.Keys[i]
		out[i].key = k.Path
		for _, d := range designs {
			out[i].cells = append(out[i].cells, keyCell(k.ValueIn(d.Design)))
		}
	}
	return out
}

func figuresAcross(designs []Sized) []across {
	out := make([]across, len(size.Table))
	for i, f := range size.Table {
		out[i].key, out[i].figure = f.Key, f.Def
		for _, d := range designs {
			out[i].cells = append(out[i].cells, size.Cell(d.Sizing, f.Def))
		}
	}
	return out
}

// filled keeps what any design has and, without all, in which they differ.
func filled(list []across, all bool) []across {
	return slices.DeleteFunc(list, func(x across) bool {
		return !slices.ContainsFunc(x.cells, func(c result.Cell) bool { return c.Given() }) || !all && !x.differ()
	})
}

// differ reports whether the designs differ in it.
func (x *across) differ() bool {
	return slices.ContainsFunc(x.cells, func(c result.Cell) bool { return !alike(c, x.cells[0]) })
}

// keyCell is the value of a key as the file holds it.
func keyCell(v schema.Value) result.Cell {
	switch {
	case v.Key.Type == schema.List && len(v.List) > 0:
		c := result.Cell{State: result.Many}
		for _, x := range v.List {
			c.List = append(c.List, result.Num(x, v.Key.Kind))
		}
		return c
	case v.Key.Numeric():
		return result.Num(v.Number, v.Key.Kind).Saying(v.Key.Word(v.Number))
	case v.Text != "":
		return result.Word(v.Text)
	}
	return result.Cell{State: result.Absent}
}

// alike reports whether two cells of one key or figure hold the same: the same words,
// or numbers that rounding alone keeps apart.
func alike(a, b result.Cell) bool {
	if a.Fig != nil && a.Fig.Words != nil {
		if words := a.Fig.Words(a.SI); words != "" && words == b.Fig.Words(b.SI) {
			return true
		}
	}
	if a.At != nil && b.At != nil && !alike(*a.At, *b.At) {
		return false
	}
	if a.StateOf() != b.StateOf() || a.Words != b.Words || len(a.List) != len(b.List) {
		return false
	}
	for i := range a.List {
		if !alike(a.List[i], b.List[i]) {
			return false
		}
	}
	return sameNumber(a.SI, b.SI)
}

// rounding is how near two computed numbers come, relative to them, that are the same.
const rounding = 1e-9

func sameNumber(a, b float64) bool {
	return a == b || math.IsNaN(a) && math.IsNaN(b) || math.Abs(a-b) <= rounding*math.Max(math.Abs(a), math.Abs(b))
}

// screenWidth is the longest text of a design in a comparison on the screen, in
// characters.
const screenWidth = 28

func comparedTable(title string, list []across, designs []Sized) result.Table {
	t := result.Table{Shown: result.At(result.Screen), Title: result.Plain(title)}
	for _, d := range designs {
		c := headed(value, d.Name)
		c.Stars, c.Most = true, screenWidth
		t.Columns = append(t.Columns, c)
	}
	var rows result.List
	for _, x := range list {
		row := result.Row{Key: x.key, Label: result.Plain(x.key), Flush: true}
		for _, c := range x.cells {
			c.Star = !alike(c, x.cells[0])
			row.Cells = append(row.Cells, c)
		}
		rows.Add(row)
	}
	t.Rows = rows.Rows()
	return t
}

// comparedList is the comparison in texts, as a spreadsheet takes them.
func comparedList(list []across, designs []Sized) result.Table {
	t := result.Table{Shown: result.At(result.Listing)}
	for _, d := range designs {
		t.Columns = append(t.Columns, result.Column{Key: d.Name})
	}
	var rows result.List
	for _, x := range list {
		rows.Add(result.Row{Key: x.key, Cells: asTexts(x.cells)})
	}
	t.Rows = rows.Rows()
	return t
}

// asTexts returns cells as texts, with their units.
func asTexts(cells []result.Cell) []result.Cell {
	out := slices.Clone(cells)
	for i, c := range out {
		if c.State != result.Wording {
			out[i] = result.Phrase(result.Say("%s", c))
		}
	}
	return out
}

// comparedPage is a table of a comparison for the document, head over its labels. data
// are the ids of the designs' JSON there; nil for keys.
func comparedPage(title, head string, list []across, designs []Sized, data []string) result.Table {
	t := result.Table{Shown: result.At(result.Page), Title: result.Plain(title), Labels: head}
	for i, d := range designs {
		c := headed(value, d.Name)
		c.Most = pageWidth
		if data != nil {
			c.Data = data[i]
		}
		t.Columns = append(t.Columns, c)
	}
	var rows result.List
	for _, x := range list {
		label := x.key
		if x.figure != nil {
			label = x.figure.Name
		}
		rows.Add(result.Row{Key: x.key, Label: result.Plain(label), Cells: x.cells})
	}
	t.Rows = rows.Rows()
	return t
}

// pageWidth is the longest text of a value in a table of the document, in characters.
const pageWidth = 160

// Values lists for the document every key that a design gives.
func Values(d *design.Design) *result.Result {
	t := result.Table{Shown: result.At(result.Page), Title: result.Plain("Keys of the design file"), Labels: "key",
		Columns: []result.Column{{Key: "value", Left: true, Most: pageWidth}, headed(result.Column{Left: true}, "what it is")}}
	var rows result.List
	for i := range schema.Keys {
		k := &schema.Keys[i]
		if c := keyCell(k.ValueIn(d)); c.Given() && k.Table() != "review" {
			rows.Add(result.Row{Key: k.Path, Label: result.Plain(k.Path), Cells: []result.Cell{c, result.Word(k.Doc)}})
		}
	}
	t.Rows = rows.Rows()
	return &result.Result{Parts: []result.Part{t}}
}
