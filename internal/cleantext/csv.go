package cleantext

import (
	"encoding/csv"
	"io"
	"regexp"
	"strings"
)

// CSV writes a table as encoding/csv does, each cell as one line. A text that a
// spreadsheet would take for a formula gets an apostrophe in front, which tells it
// that this is text; a number, or a list of them, with a unit or without, stays.
type CSV struct{ csv *csv.Writer }

// NewCSV returns a writer of a table.
func NewCSV(w io.Writer) *CSV { return &CSV{csv.NewWriter(w)} }

// Write writes one row.
func (c *CSV) Write(cells []string) error {
	row := make([]string, len(cells))
	for i, cell := range cells {
		row[i] = Cell(cell)
	}
	return c.csv.Write(row)
}

// WriteAll writes rows and flushes.
func (c *CSV) WriteAll(rows [][]string) error {
	for _, row := range rows {
		if err := c.Write(row); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

// Flush writes what is buffered.
func (c *CSV) Flush() { c.csv.Flush() }

// Error returns the first error of a Write or Flush.
func (c *CSV) Error() error { return c.csv.Error() }

// numbers matches one number or several, each with a unit or without as in the head
// of a column, a limit that does not exist, and the dash for what is not given.
var numbers = regexp.MustCompile(`^(-|[-+]∞|` + number + `(, ` + number + `)*)$`)

const number = `[-+]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][-+]?[0-9]+)?( ?[\pL_°%²³/·]+)?`

// Cell returns a text as a cell of a table.
func Cell(s string) string {
	s = Line(s)
	inner := strings.TrimLeft(s, " ") // a line end or tab before it is a blank now
	if inner == "" || !strings.ContainsRune("=@+-", rune(inner[0])) || numbers.MatchString(inner) {
		return s
	}
	return "'" + s
}
