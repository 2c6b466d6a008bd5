package describe

import (
	"fmt"
	"strings"

	"gapline/internal/designfile"
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/result"
)

// Explained lists figures and keys of the design file with a line for each.
func Explained(figures []*figure.Def, keys []*designfile.Key) *result.Result {
	r := &result.Result{Untitled: true}
	r.Add(objects("figures", figureColumns, figures, figureCells), objects("keys", keyColumns, keys, keyCells))
	var all result.List
	for _, f := range figures {
		all.Row(result.Plain(f.Key), result.Word(fmt.Sprintf("%s (%s)", f.Name, f.Trust)))
	}
	listed := explainedTable("Figures", all)
	if all.Len() > 0 {
		r.Add(listed)
	}
	var lines result.List
	for _, k := range keys {
		lines.Row(result.Plain(k.Path), result.Word(k.Doc))
	}
	if lines.Len() > 0 {
		t := explainedTable("Keys of the design file", lines)
		t.Spaced = all.Len() > 0
		r.Add(t)
	}
	return r
}

func explainedTable(title string, rows result.List) result.Table {
	return result.Table{Shown: result.At(result.Screen), Title: result.Plain(title), Columns: []result.Column{{Left: true}}, Rows: rows.Rows()}
}

// objects is a table for programs of an object for each item.
func objects[T any](key string, columns []string, items []T, cells func(T) []result.Cell) result.Table {
	t := result.Table{Shown: result.At(result.Data), Key: key, As: result.Records}
	for _, c := range columns {
		t.Columns = append(t.Columns, result.Column{Key: c})
	}
	var rows result.List
	for _, x := range items {
		rows.Add(result.Row{Cells: cells(x)})
	}
	t.Rows = rows.Rows()
	return t
}

var figureColumns = []string{"key", "name", "symbol", "measures", "trust", "formula", "inputs", "source", "note"}

func figureCells(f *figure.Def) []result.Cell {
	return []result.Cell{result.Name(f.Key), result.Name(f.Name), result.Name(f.Symbol), result.Name(f.Kind.String()), result.Name(f.Trust.String()),
		result.Name(f.Formula), result.Words(f.Inputs()), result.Name(f.Source), result.Name(f.Note)}
}

var keyColumns = []string{"key", "text", "takes"}

func keyCells(k *designfile.Key) []result.Cell {
	return []result.Cell{result.Name(k.Path), result.Name(k.Doc), result.Name(k.Accepted())}
}

// fields is a table for programs of cells under names of their own.
func fields(names []string, cells []result.Cell) result.Table {
	var rows result.List
	for i, name := range names {
		rows.Add(result.Row{Key: name, Cells: cells[i : i+1]})
	}
	return result.Table{Shown: result.At(result.Data), Columns: []result.Column{value}, Rows: rows.Rows()}
}

// ExplainFigure tells what stands behind a figure.
func ExplainFigure(f *figure.Def) *result.Result {
	e := explanation{title: fmt.Sprintf("%s: %s, %s", f.Key, f.Name, f.Symbol)}
	e.line("formula", f.Formula)
	e.line("inputs", strings.Join(f.Inputs(), ", "))
	e.line("measures", f.Kind.String())
	e.line("trust", f.Trust.String()+": "+f.Trust.Meaning())
	e.line("source", f.Source)
	e.line("note", f.Note)
	return e.result(fields(figureColumns, figureCells(f)))
}

// ExplainKey tells what a key of the design file takes.
func ExplainKey(k *designfile.Key) *result.Result {
	e := explanation{title: k.Path + " (key of the design file)", doc: k.Doc}
	e.line("takes", k.Accepted())
	e.line("sweep", sweepUnits(k))
	return e.result(fields(keyColumns, keyCells(k)))
}

// sweepUnits says in which units the output of a sweep holds an angle; other keys are
// in SI in either format.
func sweepUnits(k *designfile.Key) string {
	if !k.Numeric() || k.Kind != quantity.Angle {
		return ""
	}
	column, _ := k.Column()
	return fmt.Sprintf("--json holds it as %s in rad, --csv as %s in degrees", k.Path, column)
}

// explanation is a title with labelled lines below.
type explanation struct {
	title string
	doc   string // the first line, without a label
	lines result.Prose
}

// labelWidth is the room for the label of a line, in characters.
const labelWidth = len("measures")

func (e *explanation) line(label, text string) {
	if text == "" {
		return
	}
	e.lines.Marks, e.lines.Texts = append(e.lines.Marks, fmt.Sprintf("%-*s", labelWidth, label)), append(e.lines.Texts, result.Plain(text))
}

func (e *explanation) result(data result.Table) *result.Result {
	shown := result.At(result.Screen)
	e.lines.Shown, e.lines.Indent = shown, "  "
	s := result.Section{Shown: shown, Title: result.Plain(e.title)}
	if e.doc != "" {
		s.Parts = append(s.Parts, result.Prose{Shown: shown, Indent: "  ", Texts: []result.Text{result.Plain(e.doc)}})
	}
	s.Parts = append(s.Parts, e.lines)
	return &result.Result{Untitled: true, Parts: []result.Part{data, s}}
}

// Starters lists the designs that the program brings along.
func Starters(list []designfile.Starter) *result.Result {
	r := &result.Result{Untitled: true}
	t := objects("starters", []string{"name", "text"}, list, func(s designfile.Starter) []result.Cell {
		return []result.Cell{result.Name(s.Name), result.Name(s.Doc)}
	})
	var rows result.List
	for _, s := range list {
		rows.Add(result.Row{Label: result.Plain(s.Name), Flush: true, Cells: []result.Cell{result.Word(s.Doc)}})
	}
	r.Add(t, result.Table{Shown: result.At(result.Screen), Columns: []result.Column{{Left: true}}, Rows: rows.Rows()})
	return r
}
