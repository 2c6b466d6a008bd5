package screen

import (
	"io"
	"strings"
	"unicode/utf8"

	"gapline/internal/cleantext"
)

// Table is text in columns. The first column is set left, the others right.
type Table struct {
	rows [][]string
}

// Row adds a row. Each cell is one line.
func (t *Table) Row(cells ...string) {
	row := make([]string, len(cells))
	for i, c := range cells {
		row[i] = cleantext.Line(c)
	}
	t.rows = append(t.rows, row)
}

// WriteTo writes the table with two blanks between columns.
func (t *Table) WriteTo(w io.Writer) (int64, error) {
	var widths []int
	for _, row := range t.rows {
		for i, c := range row {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], utf8.RuneCountInString(c))
		}
	}
	var b strings.Builder
	for _, row := range t.rows {
		var line strings.Builder
		for i, c := range row {
			pad := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(c))
			if i > 0 {
				line.WriteString("  ")
				line.WriteString(pad)
				line.WriteString(c)
			} else {
				line.WriteString(c)
				line.WriteString(pad)
			}
		}
		b.WriteString(strings.TrimRight(line.String(), " "))
		b.WriteByte('\n')
	}
	n, err := io.WriteString(w, b.String())
	return int64(n), err
}

// Wrap breaks text into lines of at most width characters, with a first and a
// following indent.
func Wrap(text string, width int, first, rest string) string {
	var b strings.Builder
	line, indent := first, rest
	empty := true
	for _, word := range strings.Fields(text) {
		if !empty && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > width {
			b.WriteString(line + "\n")
			line, empty = indent, true
		}
		if !empty {
			line += " "
		}
		line += word
		empty = false
	}
	b.WriteString(line + "\n")
	return b.String()
}
