package screen

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"gapline/cabinet"
	"gapline/internal/designfile"
	"gapline/internal/quantity"
	"gapline/internal/study"
)

// RowWriter takes the rows of a grid one by one, so that memory stays flat.
type RowWriter interface {
	Begin() error
	Row(values []designfile.Value, s *cabinet.Sizing) error
	Skip(values []designfile.Value, why error) error
	End() error
}

// axisName and axisNumber give an axis value as JSON and CSV hold it.
func axisJSON(v designfile.Value) any {
	if v.Key.Numeric() {
		return Number(v.Number)
	}
	return v.Text
}

// TextRows writes rows as a table for people. Columns have fixed widths, since
// rows are not kept.
type TextRows struct {
	W       io.Writer
	Axes    []study.Axis
	Figures []*cabinet.Figure
	System  quantity.System
}

const columnWidth = 18

// Begin writes the heading.
func (t *TextRows) Begin() error {
	var cells []string
	for _, a := range t.Axes {
		cells = append(cells, a.Key.Path)
	}
	for _, f := range t.Figures {
		cells = append(cells, f.Key)
	}
	return t.line(cells)
}

// Row writes one design.
func (t *TextRows) Row(values []designfile.Value, s *cabinet.Sizing) error {
	var cells []string
	for _, v := range values {
		cells = append(cells, v.Show(t.System))
	}
	for _, f := range t.Figures {
		cells = append(cells, FigureText(f, s, t.System))
	}
	return t.line(cells)
}

func (t *TextRows) line(cells []string) error {
	var b strings.Builder
	for i, c := range cells {
		if i > 0 {
			b.WriteString("  ")
		}
		fmt.Fprintf(&b, "%*s", columnWidth, c)
	}
	_, err := io.WriteString(t.W, strings.TrimRight(b.String(), " ")+"\n")
	return err
}

// Skip writes nothing: the command reports skipped designs.
func (t *TextRows) Skip([]designfile.Value, error) error { return nil }

// End writes nothing.
func (t *TextRows) End() error { return nil }

// CSVRows writes rows as CSV, every figure, in the units that the column heads
// name.
type CSVRows struct {
	W    *bufio.Writer
	Axes []study.Axis
	buf  []byte
}

// Begin writes the heading.
func (c *CSVRows) Begin() error {
	var heads []string
	for _, a := range c.Axes {
		name, _ := a.Key.Column()
		heads = append(heads, name)
	}
	for i := range cabinet.Figures {
		heads = append(heads, cabinet.Figures[i].Key)
	}
	_, err := c.W.WriteString(strings.Join(heads, ",") + "\n")
	return err
}

// Row writes one design. No key or choice needs quoting.
func (c *CSVRows) Row(values []designfile.Value, s *cabinet.Sizing) error {
	b := c.buf[:0]
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
	b[len(b)-1] = '\n'
	c.buf = b
	_, err := c.W.Write(b)
	return err
}

// Skip writes nothing: a design that cannot exist has no row.
func (c *CSVRows) Skip([]designfile.Value, error) error { return nil }

// End flushes.
func (c *CSVRows) End() error { return c.W.Flush() }

// JSONRows writes one JSON object with the axes, a row for each design with
// every figure, and the designs skipped.
type JSONRows struct {
	W       *bufio.Writer
	Axes    []study.Axis
	buf     []byte
	any     bool
	skipped []*Object
	more    int
}

// maxSkipped bounds the skipped designs that are listed; the rest are counted.
const maxSkipped = 1000

// Begin writes the axes.
func (j *JSONRows) Begin() error {
	fmt.Fprintf(j.W, "{\"schema_version\":%d,\"vary\":[", SchemaVersion)
	for i := range j.Axes {
		if err := j.axis(i); err != nil {
			return err
		}
	}
	_, err := j.W.WriteString("],\"rows\":[")
	return err
}

// axis writes the values of one axis, one by one: there may be millions.
func (j *JSONRows) axis(n int) error {
	a := &j.Axes[n]
	if n > 0 {
		j.W.WriteByte(',')
	}
	fmt.Fprintf(j.W, "{\"key\":%q,\"values\":[", a.Key.Path)
	for i := range a.Len() {
		if i > 0 {
			j.W.WriteByte(',')
		}
		value, err := json.Marshal(axisJSON(a.At(i)))
		if err != nil {
			return err
		}
		j.W.Write(value)
	}
	_, err := j.W.WriteString("]}") // a bufio.Writer keeps its first error
	return err
}

// Row writes one design.
func (j *JSONRows) Row(values []designfile.Value, s *cabinet.Sizing) error {
	b := j.buf[:0]
	if j.any {
		b = append(b, ',')
	}
	j.any = true
	b = append(b, "\n{"...)
	for _, v := range values {
		b = strconv.AppendQuote(b, v.Key.Path)
		b = append(b, ':')
		if v.Key.Numeric() {
			b = strconv.AppendFloat(b, v.Number, 'g', -1, 64)
		} else {
			b = strconv.AppendQuote(b, v.Text)
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
	j.buf = b
	_, err := j.W.Write(b)
	return err
}

// appendJSONFloat writes the shortest form; Go's exponents are valid JSON.
func appendJSONFloat(b []byte, x float64) []byte {
	if math.Abs(x) < 1e21 && math.Abs(x) >= 1e-6 || x == 0 {
		return strconv.AppendFloat(b, x, 'f', -1, 64)
	}
	return strconv.AppendFloat(b, x, 'e', -1, 64)
}

// Skip remembers a design that cannot exist.
func (j *JSONRows) Skip(values []designfile.Value, why error) error {
	if len(j.skipped) == maxSkipped {
		j.more++
		return nil
	}
	o := &Object{}
	for _, v := range values {
		o.Set(v.Key.Path, axisJSON(v))
	}
	j.skipped = append(j.skipped, o.Set("reason", why.Error()))
	return nil
}

// End writes the skipped designs and closes the object.
func (j *JSONRows) End() error {
	if j.skipped == nil {
		j.skipped = []*Object{}
	}
	list, err := json.Marshal(j.skipped)
	if err != nil {
		return err
	}
	if _, err := fmt.Fprintf(j.W, "],\n\"skipped\":%s,\"skipped_not_listed\":%d}\n", list, j.more); err != nil {
		return err
	}
	return j.W.Flush()
}
