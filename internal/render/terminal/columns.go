package terminal

import (
	"strings"
	"unicode/utf8"
)

// columns is text in columns. The first is set left, the others right unless left
// says otherwise.
type columns struct {
	rows [][]string
	left []bool
}

func (t *columns) row(cells ...string) { t.rows = append(t.rows, cells) }

// write appends the rows with two blanks between columns.
func (t *columns) write(b *strings.Builder) {
	var widths []int
	for _, row := range t.rows {
		for i, c := range row {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], utf8.RuneCountInString(c))
		}
	}
	for _, row := range t.rows {
		var line strings.Builder
		for i, c := range row {
			pad := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(c))
			if i > 0 {
				line.WriteString("  ")
			}
			if i == 0 || i < len(t.left) && t.left[i] {
				line.WriteString(c + pad)
			} else {
				line.WriteString(pad + c)
			}
		}
		b.WriteString(strings.TrimRight(line.String(), " "))
		b.WriteByte('\n')
	}
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
