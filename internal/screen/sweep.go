package screen

import (
	"bufio"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"

	"gapline/cabinet/sizing"
	"gapline/internal/cleantext"
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/render/machine"
	"gapline/internal/schema"
	"gapline/internal/study/size"
	"gapline/internal/study/space"
)

// RowFormat turns the designs of a grid into text, one line each. What stands
// between the lines belongs to the format too, so that rows written in slices
// can be joined to what one run would have written.
type RowFormat interface {
	// Head writes what stands before the rows, without a line end.
	Head(w *bufio.Writer) error
	// Row appends one design, without a line end.
	Row(dst []byte, values []schema.Value, s *sizing.Sizing) []byte
	// Skipped returns a line about a design that cannot exist, if there is to be
	// one.
	Skipped(values []schema.Value, why error) []byte
}

// RowFormats lists the names of the formats.
const (
	TextFormat = "text"
	CSVFormat  = "csv"
	JSONFormat = "json"
)

// TextRows is the format for people. Columns have fixed widths, since rows are
// not kept.
type TextRows struct {
	Axes    []space.Axis
	Figures []*figure.Def
	System  quantity.System
}

// columnWidth is that of the widest value; a longer name widens its column.
const columnWidth = 18

// names are the heads of the columns.
func (t *TextRows) names() []string {
	var cells []string
	for _, a := range t.Axes {
		cells = append(cells, a.Key.Path)
	}
	for _, f := range t.Figures {
		cells = append(cells, f.Key)
	}
	return cells
}

// Head writes the names of the columns.
func (t *TextRows) Head(w *bufio.Writer) error {
	_, err := w.Write(t.line(nil, t.names()))
	return err
}

// Row appends one design.
func (t *TextRows) Row(dst []byte, values []schema.Value, s *sizing.Sizing) []byte {
	var cells []string
	for _, v := range values {
		cells = append(cells, v.Show(t.System))
	}
	for _, f := range t.Figures {
		cells = append(cells, FigureText(f, s, t.System))
	}
	return t.line(dst, cells)
}

func (t *TextRows) line(dst []byte, cells []string) []byte {
	var b strings.Builder
	names := t.names()
	for i, c := range cells {
		if i > 0 {
			b.WriteString("  ")
		}
		fmt.Fprintf(&b, "%*s", max(columnWidth, len(names[i])), c)
	}
	return append(dst, strings.TrimRight(b.String(), " ")...)
}

// Skipped returns nothing: the command reports skipped designs.
func (t *TextRows) Skipped([]schema.Value, error) []byte { return nil }

// CSVRows is CSV with every figure, in the units that the column heads name.
type CSVRows struct{ Axes []space.Axis }

// Head writes the names of the columns.
func (c *CSVRows) Head(w *bufio.Writer) error {
	var heads []string
	for _, a := range c.Axes {
		name, _ := a.Key.Column()
		heads = append(heads, name)
	}
	for _, f := range size.Table {
		heads = append(heads, f.Key)
	}
	_, err := w.WriteString(strings.Join(heads, ","))
	return err
}

// Row appends one design. No key or choice needs quoting.
func (c *CSVRows) Row(b []byte, values []schema.Value, s *sizing.Sizing) []byte {
	for _, v := range values {
		if word, ok := axisWord(v); ok {
			b = append(b, word...)
		} else {
			_, factor := v.Key.Column()
			b = strconv.AppendFloat(b, v.Number*factor, 'g', 12, 64)
		}
		b = append(b, ',')
	}
	for _, f := range size.Table {
		if x := f.Machine(f.Of(s)); !math.IsNaN(x) && !math.IsInf(x, 0) {
			b = strconv.AppendFloat(b, x, 'g', 9, 64)
		}
		b = append(b, ',')
	}
	return b[:len(b)-1]
}

// Skipped returns nothing: a design that cannot exist has no row.
func (c *CSVRows) Skipped([]schema.Value, error) []byte { return nil }

// JSONRows is one JSON object with the axes, a row for each design with every
// figure, and the designs skipped.
type JSONRows struct{ Axes []space.Axis }

// appendAxis appends an axis value as JSON holds it: a number in SI, a choice or
// a word that stands for a number ("flat") as text.
func appendAxis(b []byte, v schema.Value) []byte {
	if word, ok := axisWord(v); ok {
		return strconv.AppendQuote(b, word)
	}
	return machine.AppendNumber(b, v.Number)
}

// axisWord returns the text of an axis value that is not a finite number.
func axisWord(v schema.Value) (word string, ok bool) {
	if v.Key.Numeric() && !math.IsInf(v.Number, 0) {
		return "", false
	}
	return v.Show(quantity.Metric), true
}

// Head writes the axes.
func (j *JSONRows) Head(w *bufio.Writer) error {
	fmt.Fprintf(w, "{\"schema_version\":%d,\"vary\":[", SchemaVersion)
	for i := range j.Axes {
		if i > 0 {
			w.WriteByte(',')
		}
		if err := axisHead(w, &j.Axes[i]); err != nil {
			return err
		}
	}
	_, err := w.WriteString("],\"rows\":[")
	return err
}

// axisHead writes the values of one axis, one by one: there may be millions.
func axisHead(w *bufio.Writer, a *space.Axis) error {
	fmt.Fprintf(w, "{\"key\":%q,\"values\":[", a.Key.Path)
	var b []byte
	for i := range a.Len() {
		b = b[:0]
		if i > 0 {
			b = append(b, ',')
		}
		b = appendAxis(b, a.At(i))
		w.Write(b)
	}
	_, err := w.WriteString("]}") // a bufio.Writer keeps its first error
	return err
}

// Row appends one design.
func (j *JSONRows) Row(b []byte, values []schema.Value, s *sizing.Sizing) []byte {
	b = append(b, '{')
	for _, v := range values {
		b = strconv.AppendQuote(b, v.Key.Path)
		b = append(b, ':')
		b = append(appendAxis(b, v), ',')
	}
	for _, f := range size.Table {
		b = strconv.AppendQuote(b, f.Key)
		b = append(b, ':')
		b = append(machine.AppendNumber(b, f.Machine(f.Of(s))), ',')
	}
	b[len(b)-1] = '}'
	return b
}

// Skipped returns the design that cannot exist with the reason.
func (j *JSONRows) Skipped(values []schema.Value, why error) []byte {
	o := &Object{}
	for _, v := range values {
		o.Set(v.Key.Path, json.RawMessage(appendAxis(nil, v)))
	}
	line, err := json.Marshal(o.Set("reason", cleantext.Line(why.Error())))
	if err != nil {
		return nil // numbers and texts always marshal
	}
	return line
}
