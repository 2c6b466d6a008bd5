package rows

import (
	"bufio"
	"fmt"
	"iter"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"gapline/internal/cleantext"
	"gapline/internal/quantity"
	"gapline/internal/render/machine"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
)

// Layout sets the rows of one table, a line each. What stands between the lines is
// the Joiner's.
type Layout struct {
	Format Format
	System quantity.System // of text

	names  []string
	widths []int    // of text
	quoted [][]byte // the names with a colon, of JSON
}

// Axis is a column whose values are known before the rows; JSON lists them.
type Axis struct {
	Key    string
	Values iter.Seq[result.Cell]
}

// columnWidth is that of the widest value; a longer name widens its column.
const columnWidth = 18

// New returns the layout of a table of those columns.
func New(format Format, sys quantity.System, columns []result.Column) *Layout {
	l := &Layout{Format: format, System: sys}
	for i := range columns {
		name := columns[i].Name()
		l.names = append(l.names, name)
		l.widths = append(l.widths, max(columnWidth, utf8.RuneCountInString(name)))
		l.quoted = append(l.quoted, append(strconv.AppendQuote(nil, name), ':'))
	}
	return l
}

// Head writes what stands before the rows, without a line end.
func (l *Layout) Head(w *bufio.Writer, axes []Axis) error {
	switch l.Format {
	case Text:
		w.Write(l.padded(nil, func(i int) string { return l.names[i] }, len(l.names)))
	case CSV:
		w.WriteString(strings.Join(l.names, ","))
	case JSON:
		fmt.Fprintf(w, "{\"schema_version\":%d,\"vary\":[", machine.SchemaVersion)
		for i, a := range axes {
			if i > 0 {
				w.WriteByte(',')
			}
			a.write(w)
		}
		w.WriteString("],\"rows\":[")
	}
	_, err := w.Write(nil) // a bufio.Writer keeps its first error
	return err
}

// write writes the values one by one: there may be millions.
func (a *Axis) write(w *bufio.Writer) {
	fmt.Fprintf(w, "{\"key\":%q,\"values\":[", a.Key)
	var b []byte
	first := true
	for c := range a.Values {
		b = b[:0]
		if !first {
			b = append(b, ',')
		}
		first = false
		b = machine.AppendCell(b, &c)
		w.Write(b)
	}
	w.WriteString("]}")
}

// Setter sets rows one after the other, on one goroutine. It remembers each column's
// last number and its digits: neighbouring rows share most of them.
type Setter struct {
	*Layout
	last []digits
}

// digits are a number as it was set.
type digits struct {
	bits uint64
	text []byte // nil: nothing yet
}

// NewSetter returns a setter of rows.
func (l *Layout) NewSetter() *Setter { return &Setter{l, make([]digits, len(l.names))} }

// Row appends one row of cells, without a line end.
func (s *Setter) Row(dst []byte, cells []result.Cell) []byte {
	switch s.Format {
	case Text:
		return s.padded(dst, func(i int) string { return terminal.Cell(cells[i], s.System) }, len(cells))
	case CSV:
		for i := range cells {
			if i > 0 {
				dst = append(dst, ',')
			}
			dst = s.cell(dst, i, &cells[i], machine.AppendCSV)
		}
		return dst
	}
	dst = append(dst, '{')
	for i := range cells {
		if i > 0 {
			dst = append(dst, ',')
		}
		dst = s.cell(append(dst, s.quoted[i]...), i, &cells[i], machine.AppendCell)
	}
	return append(dst, '}')
}

// cell appends the cell of column i.
func (s *Setter) cell(dst []byte, i int, c *result.Cell, set func([]byte, *result.Cell) []byte) []byte {
	if c.StateOf() != result.Value {
		return set(dst, c)
	}
	last, bits := &s.last[i], math.Float64bits(c.SI)
	if last.text == nil || last.bits != bits {
		last.bits, last.text = bits, set(last.text[:0], c)
	}
	return append(dst, last.text...)
}

func (l *Layout) padded(dst []byte, cell func(int) string, n int) []byte {
	var b strings.Builder
	for i := range n {
		if i > 0 {
			b.WriteString("  ")
		}
		fmt.Fprintf(&b, "%*s", l.widths[i], cell(i))
	}
	return append(dst, strings.TrimRight(b.String(), " ")...)
}

// Skipped returns a line about a row that cannot be, whose first cells are known; nil
// in the formats that have no such lines.
func (l *Layout) Skipped(cells []result.Cell, reason string) []byte {
	if l.Format != JSON {
		return nil
	}
	dst := []byte{'{'}
	for i := range cells {
		dst = append(machine.AppendCell(append(dst, l.quoted[i]...), &cells[i]), ',')
	}
	dst = append(dst, `"reason":`...)
	why := result.Name(cleantext.Line(reason))
	return append(machine.AppendCell(dst, &why), '}')
}
