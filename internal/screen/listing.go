package screen

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// Listing is a list of names with a text each, under headings.
type Listing struct {
	rows [][3]string // name, text, remark; a heading has only a name
}

// Heading starts a section.
func (l *Listing) Heading(text string) { l.rows = append(l.rows, [3]string{text}) }

// Item adds a name, its text and a short remark.
func (l *Listing) Item(name, text, remark string) {
	l.rows = append(l.rows, [3]string{name, text, remark})
}

// Write prints the list, names padded to one width.
func (l *Listing) Write(w io.Writer) error {
	width := 0
	for _, r := range l.rows {
		if r[1] != "" {
			width = max(width, utf8.RuneCountInString(r[0]))
		}
	}
	var b strings.Builder
	for i, r := range l.rows {
		switch {
		case r[1] == "" && i > 0:
			b.WriteString("\n" + r[0] + "\n")
		case r[1] == "":
			b.WriteString(r[0] + "\n")
		case r[2] == "":
			fmt.Fprintf(&b, "  %-*s  %s\n", width, r[0], r[1])
		default:
			fmt.Fprintf(&b, "  %-*s  %s (%s)\n", width, r[0], r[1], r[2])
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}
