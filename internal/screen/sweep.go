package screen

import (
	"bufio"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"

	"gapline/cabinet"
	"gapline/internal/designfile"
	"gapline/internal/part"
	"gapline/internal/quantity"
	"gapline/internal/study"
)

// RowFormat turns the designs of a grid into text, one line each. What stands
// between the lines belongs to the format too, so that rows written in slices
// can be joined to what one run would have written.
type RowFormat interface {
	// Head writes what stands before the rows, without a line end.
	Head(w *bufio.Writer) error
	// Row appends one design, without a line end.
	Row(dst []byte, values []designfile.Value, s *cabinet.Sizing) []byte
	// Skipped returns a line about a design that cannot exist, if there is to be
	// one.
	Skipped(values []designfile.Value, why error) []byte
}

// RowFormats lists the names of the formats.
const (
	TextFormat = "text"
	CSVFormat  = "csv"
	JSONFormat = "json"
)

// RowWriter takes the rows of a grid one by one, so that memory stays flat.
type RowWriter interface {
	Begin() error
	Row(values []designfile.Value, s *cabinet.Sizing) error
	Skip(values []designfile.Value, why error) error
	End() error
}

// maxSkipped bounds the skipped designs that are listed; the rest are counted.
const maxSkipped = 1000

// Joiner writes lines of a format the way they stand in one output.
type Joiner struct {
	W       *bufio.Writer
	Format  string
	rows    int
	skipped [][]byte
	more    int
}

// between is what stands before a row.
func (j *Joiner) between() string {
	if j.Format == JSONFormat && j.rows > 0 {
		return ",\n"
	}
	return "\n"
}

// NextRow writes what stands before the next row, which the caller writes.
func (j *Joiner) NextRow() error {
	_, err := j.W.WriteString(j.between())
	j.rows++
	return err
}

// Skipped takes a line about a design that cannot exist.
func (j *Joiner) Skipped(line []byte) {
	switch {
	case line == nil:
	case len(j.skipped) == maxSkipped:
		j.more++
	default:
		j.skipped = append(j.skipped, line)
	}
}

// SkippedMore counts designs that cannot exist and have no line.
func (j *Joiner) SkippedMore(n int) { j.more += n }

// End writes what stands behind the rows, and flushes.
func (j *Joiner) End() error {
	if j.Format != JSONFormat {
		j.W.WriteByte('\n')
		return j.W.Flush()
	}
	j.W.WriteString("],\n\"skipped\":[")
	for i, line := range j.skipped {
		if i > 0 {
			j.W.WriteByte(',')
		}
		j.W.Write(line)
	}
	fmt.Fprintf(j.W, "],\"skipped_not_listed\":%d}\n", j.more)
	return j.W.Flush() // a bufio.Writer keeps its first error
}

// WholeRows writes the rows of a whole grid.
type WholeRows struct {
	Format RowFormat
	Joiner
	buf []byte
}

// Begin writes the head.
func (r *WholeRows) Begin() error { return r.Format.Head(r.W) }

// Row writes one design.
func (r *WholeRows) Row(values []designfile.Value, s *cabinet.Sizing) error {
	if err := r.NextRow(); err != nil {
		return err
	}
	r.buf = r.Format.Row(r.buf[:0], values, s)
	_, err := r.W.Write(r.buf)
	return err
}

// Skip notes a design that cannot exist.
func (r *WholeRows) Skip(values []designfile.Value, why error) error {
	r.Skipped(r.Format.Skipped(values, why))
	return nil
}

// PartRows writes the rows of a slice of a grid as a part file.
type PartRows struct {
	Format RowFormat
	W      *part.Writer
	Foot   part.Foot
	buf    []byte
	listed int
}

// The letters of the lines of a sweep's part file.
const (
	headLine    = 'H'
	rowLine     = 'R'
	skippedLine = 'S'
)

// Begin writes the head.
func (r *PartRows) Begin() error {
	var head strings.Builder
	w := bufio.NewWriter(&head)
	if err := r.Format.Head(w); err != nil {
		return err
	}
	if err := w.Flush(); err != nil {
		return err
	}
	return r.W.Line(headLine, []byte(head.String()))
}

// Row writes one design.
func (r *PartRows) Row(values []designfile.Value, s *cabinet.Sizing) error {
	r.buf = r.Format.Row(r.buf[:0], values, s)
	return r.W.Line(rowLine, r.buf)
}

// Skip notes a design that cannot exist.
func (r *PartRows) Skip(values []designfile.Value, why error) error {
	if r.Foot.Skipped++; r.Foot.Skipped == 1 {
		r.Foot.First = SkippedText(values, why)
	}
	line := r.Format.Skipped(values, why)
	if line == nil || r.listed == maxSkipped {
		return nil
	}
	r.listed++
	return r.W.Line(skippedLine, line)
}

// End writes the foot.
func (r *PartRows) End() error { return r.W.End(r.Foot) }

// SkippedText says in words which design cannot exist, and why.
func SkippedText(values []designfile.Value, why error) string {
	text := ""
	for _, v := range values {
		text += v.Key.Path + " = " + v.Show(quantity.Metric) + ": "
	}
	return text + why.Error()
}

// TextRows is the format for people. Columns have fixed widths, since rows are
// not kept.
type TextRows struct {
	Axes    []study.Axis
	Figures []*cabinet.Figure
	System  quantity.System
}

const columnWidth = 18

// Head writes the names of the columns.
func (t *TextRows) Head(w *bufio.Writer) error {
	var cells []string
	for _, a := range t.Axes {
		cells = append(cells, a.Key.Path)
	}
	for _, f := range t.Figures {
		cells = append(cells, f.Key)
	}
	_, err := w.Write(textLine(nil, cells))
	return err
}

// Row appends one design.
func (t *TextRows) Row(dst []byte, values []designfile.Value, s *cabinet.Sizing) []byte {
	var cells []string
	for _, v := range values {
		cells = append(cells, v.Show(t.System))
	}
	for _, f := range t.Figures {
		cells = append(cells, FigureText(f, s, t.System))
	}
	return textLine(dst, cells)
}

func textLine(dst []byte, cells []string) []byte {
	var b strings.Builder
	for i, c := range cells {
		if i > 0 {
			b.WriteString("  ")
		}
		fmt.Fprintf(&b, "%*s", columnWidth, c)
	}
	return append(dst, strings.TrimRight(b.String(), " ")...)
}

// Skipped returns nothing: the command reports skipped designs.
func (t *TextRows) Skipped([]designfile.Value, error) []byte { return nil }

// CSVRows is CSV with every figure, in the units that the column heads name.
type CSVRows struct{ Axes []study.Axis }

// Head writes the names of the columns.
func (c *CSVRows) Head(w *bufio.Writer) error {
	var heads []string
	for _, a := range c.Axes {
		name, _ := a.Key.Column()
		heads = append(heads, name)
	}
	for i := range cabinet.Figures {
		heads = append(heads, cabinet.Figures[i].Key)
	}
	_, err := w.WriteString(strings.Join(heads, ","))
	return err
}

// Row appends one design. No key or choice needs quoting.
func (c *CSVRows) Row(b []byte, values []designfile.Value, s *cabinet.Sizing) []byte {
	for _, v := range values {
		if v.Key.Numeric() {
			_, factor := v.Key.Column()
			b = strconv.AppendFloat(b, v.Number*factor, 'g', 12, 64)
		} else {
			b = append(b, v.Text...)
		}
		b = append(b, ',')
	}
	for i := range cabinet.Figures {
		if x, ok := cabinet.Figures[i].JSON(s); ok {
			b = strconv.AppendFloat(b, x, 'g', 9, 64)
		}
		b = append(b, ',')
	}
	return b[:len(b)-1]
}

// Skipped returns nothing: a design that cannot exist has no row.
func (c *CSVRows) Skipped([]designfile.Value, error) []byte { return nil }

// JSONRows is one JSON object with the axes, a row for each design with every
// figure, and the designs skipped.
type JSONRows struct{ Axes []study.Axis }

// axisJSON is an axis value as JSON holds it.
func axisJSON(v designfile.Value) any {
	if v.Key.Numeric() {
		return Number(v.Number)
	}
	return v.Text
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
func axisHead(w *bufio.Writer, a *study.Axis) error {
	fmt.Fprintf(w, "{\"key\":%q,\"values\":[", a.Key.Path)
	for i := range a.Len() {
		if i > 0 {
			w.WriteByte(',')
		}
		value, err := json.Marshal(axisJSON(a.At(i)))
		if err != nil {
			return err
		}
		w.Write(value)
	}
	_, err := w.WriteString("]}") // a bufio.Writer keeps its first error
	return err
}

// Row appends one design.
func (j *JSONRows) Row(b []byte, values []designfile.Value, s *cabinet.Sizing) []byte {
	b = append(b, '{')
	for _, v := range values {
		b = strconv.AppendQuote(b, v.Key.Path)
		b = append(b, ':')
		switch {
		case !v.Key.Numeric():
			b = strconv.AppendQuote(b, v.Text)
		case math.IsInf(v.Number, 0): // such as a flat front's virtual path
			b = append(b, "null"...)
		default:
			b = strconv.AppendFloat(b, v.Number, 'g', -1, 64)
		}
		b = append(b, ',')
	}
	for i := range cabinet.Figures {
		f := &cabinet.Figures[i]
		b = strconv.AppendQuote(b, f.Key)
		b = append(b, ':')
		if x, ok := f.JSON(s); ok {
			b = appendJSONFloat(b, x)
		} else {
			b = append(b, "null"...)
		}
		b = append(b, ',')
	}
	b[len(b)-1] = '}'
	return b
}

// appendJSONFloat writes the shortest form; Go's exponents are valid JSON.
func appendJSONFloat(b []byte, x float64) []byte {
	if math.Abs(x) < 1e21 && math.Abs(x) >= 1e-6 || x == 0 {
		return strconv.AppendFloat(b, x, 'f', -1, 64)
	}
	return strconv.AppendFloat(b, x, 'e', -1, 64)
}

// Skipped returns the design that cannot exist with the reason.
func (j *JSONRows) Skipped(values []designfile.Value, why error) []byte {
	o := &Object{}
	for _, v := range values {
		o.Set(v.Key.Path, axisJSON(v))
	}
	line, err := json.Marshal(o.Set("reason", why.Error()))
	if err != nil {
		return nil // numbers and texts always marshal
	}
	return line
}
