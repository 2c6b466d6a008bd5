package describe

import (
	"fmt"
	"strings"

	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/schema"
)

// Explainable is what can be explained.
type Explainable struct {
	Figures []*figure.Def
	Spoken  []*figure.Spoken // what is said in words
	Keys    []*schema.Key    // of the design file
	Terms   []*figure.Entry
}

// Explained lists what can be explained with a line for each.
func Explained(x *Explainable) *result.Result {
	r := &result.Result{Untitled: true}
	r.Add(objects("figures", figureColumns, x.Figures, figureCells), objects("words", spokenColumns, x.Spoken, spokenCells),
		objects("keys", keyColumns, x.Keys, keyCells), objects("terms", termColumns, x.Terms, termCells))
	var list chapters
	for _, f := range x.Figures {
		list.add(figureChapter(f), f.Key, fmt.Sprintf("%s (%s)", f.Name, f.Trust))
	}
	for _, s := range x.Spoken {
		list.add("Verdicts and texts", s.Key, s.Name)
	}
	for _, k := range x.Keys {
		list.add(keyChapter(k), k.Path, k.Doc)
	}
	for _, e := range x.Terms {
		list.add("Terms", e.Name, firstSentence(e.Text))
	}
	r.Add(list.tables()...)
	return r
}

// figureChapter is the heading that a figure stands under: the part of a sizing that it
// belongs to, or the command that adds it.
func figureChapter(f *figure.Def) string {
	part, _, _ := strings.Cut(f.Key, ".")
	if figure.FindSized(f.Key) == f {
		return "Figures of a sizing, " + part
	}
	return "Figures of gapline " + part
}

// keyChapter is the heading that a key of the design file stands under: its table.
func keyChapter(k *schema.Key) string {
	part, _, inTable := strings.Cut(k.Path, ".")
	if !inTable {
		return "Keys of the design file"
	}
	return "Keys of the design file, [" + part + "]"
}

// chapters are rows under headings, in the order in which these first come.
type chapters struct {
	heads []string
	rows  map[string]*result.List
}

func (c *chapters) add(head, name, text string) {
	if c.rows == nil {
		c.rows = map[string]*result.List{}
	}
	if c.rows[head] == nil {
		c.heads, c.rows[head] = append(c.heads, head), &result.List{}
	}
	c.rows[head].Row(result.Plain(name), result.Word(text))
}

func (c *chapters) tables() []result.Part {
	var out []result.Part
	for i, head := range c.heads {
		out = append(out, result.Table{Shown: result.At(result.Screen), Title: result.Plain(head), Columns: []result.Column{{Left: true}},
			Rows: c.rows[head].Rows(), Spaced: i > 0})
	}
	return out
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

var figureColumns = []string{"key", "name", "symbol", "measures", "trust", "formula", "inputs", "source", "note", "domain", "terms", "by_hand", "higher"}

func figureCells(f *figure.Def) []result.Cell {
	return []result.Cell{result.Name(f.Key), result.Name(f.Name), result.Name(f.Symbol), result.Name(f.Kind.String()), result.Name(f.Trust.String()),
		result.Name(f.Formula), result.Words(f.Inputs()), result.Name(f.Source), result.Name(f.Note), result.Name(f.Domain), result.Words(terms(f)), result.Words(f.Hand), result.Name(f.Higher)}
}

var spokenColumns = []string{"key", "name", "takes", "rule", "inputs", "note"}

func spokenCells(s *figure.Spoken) []result.Cell {
	return []result.Cell{result.Name(s.Key), result.Name(s.Name), result.Words(s.Takes), result.Name(s.Rule), result.Words(s.Inputs()), result.Name(s.Note)}
}

// ExplainSpoken tells how something that is said in words comes about.
func ExplainSpoken(s *figure.Spoken) *result.Result {
	e := explanation{title: fmt.Sprintf("%s: %s", s.Key, s.Name)}
	e.line("is", strings.Join(s.Takes, ", "))
	e.line("rule", s.Rule)
	e.line("inputs", strings.Join(s.Inputs(), ", "))
	e.line("note", s.Note)
	return e.result(fields(spokenColumns, spokenCells(s)))
}

var termColumns = []string{"term", "also", "text", "formula", "symbol", "unit", "keys", "source"}

func termCells(e *figure.Entry) []result.Cell {
	return []result.Cell{result.Name(e.Name), result.Words(e.Also), result.Name(e.Text), result.Name(e.Formula), result.Name(e.Symbol),
		result.Name(e.Unit), result.Words(e.Keys), result.Name(e.Source)}
}

// firstSentence is a text up to its first full stop at the end of a sentence.
func firstSentence(text string) string {
	if i := strings.Index(text, ". "); i >= 0 {
		return text[:i]
	}
	return strings.TrimSuffix(text, ".")
}

// ExplainTerm tells what a term means and where it occurs. others are names of figures and
// keys that have the term in them beside those that the term lists.
func ExplainTerm(e *figure.Entry, others []string) *result.Result {
	x := explanation{title: e.Name + " (term)", doc: e.Text}
	x.line("also", strings.Join(e.Also, ", "))
	x.line("formula", e.Formula)
	x.line("symbol", e.Symbol)
	x.line("unit", e.Unit)
	x.line("see", strings.Join(e.Keys, ", "))
	x.line("source", e.Source)
	x.line("named so", namedSo(others))
	return x.result(fields(termColumns, termCells(e)))
}

// mostNamed is how many names a line lists.
const mostNamed = 8

func namedSo(names []string) string {
	if len(names) <= mostNamed {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:mostNamed], ", "), len(names)-mostNamed)
}

var keyColumns = []string{"key", "text", "takes"}

func keyCells(k *schema.Key) []result.Cell {
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
	inputs := strings.Join(terms(f), ", ")
	if f.Chosen {
		inputs = "none: it is chosen"
	}
	e.line("inputs", inputs)
	e.line("holds in", f.Domain)
	e.line("measures", f.Kind.String())
	e.line("trust", f.Trust.String()+": "+f.Trust.Meaning())
	e.line("higher", f.Higher)
	e.line("source", f.Source)
	e.line("note", f.Note)
	r := e.result(fields(figureColumns, figureCells(f)))
	r.Add(inFullText(f.Hand, nil)...)
	return r
}

// terms are the inputs of a figure with their symbols in its formula: "p =
// cabinet.pitch".
func terms(f *figure.Def) []string {
	out := f.Inputs()
	for i, t := range f.Terms {
		if t.Symbol != "" {
			out[i] = t.Symbol + " = " + t.Key
		}
	}
	return out
}

// ExplainKey tells what a key of the design file takes.
func ExplainKey(k *schema.Key) *result.Result {
	e := explanation{title: k.Path + " (key of the design file)", doc: k.Doc}
	e.line("takes", k.Accepted())
	e.line("sweep", sweepUnits(k))
	return e.result(fields(keyColumns, keyCells(k)))
}

// sweepUnits says in which units the output of a sweep holds an angle; other keys are
// in SI in either format.
func sweepUnits(k *schema.Key) string {
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

// Starter is a design that the program brings along: its name and what it shows.
type Starter struct{ Name, Doc string }

// Starters lists the designs that the program brings along.
func Starters(list []Starter) *result.Result {
	r := &result.Result{Untitled: true}
	t := objects("starters", []string{"name", "text"}, list, func(s Starter) []result.Cell {
		return []result.Cell{result.Name(s.Name), result.Name(s.Doc)}
	})
	var rows result.List
	for _, s := range list {
		rows.Add(result.Row{Label: result.Plain(s.Name), Flush: true, Cells: []result.Cell{result.Word(s.Doc)}})
	}
	r.Add(t, result.Table{Shown: result.At(result.Screen), Columns: []result.Column{{Left: true}}, Rows: rows.Rows()})
	return r
}
