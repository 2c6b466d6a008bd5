package result

import (
	"iter"
	"slices"

	"gapline/internal/figure"
)

// Table is rows of cells. Its rows are read once, front to back, so that a table of
// millions of rows need not be held.
type Table struct {
	Shown
	Key     string // in JSON; empty: the table's contents stand in the object around it
	As      Layout
	Title   Text   // stands over the labels
	Labels  string // what the labels are, over them in the document; empty: figures
	Columns []Column
	Rows    iter.Seq[Row]
	// Continued leaves the heads off the terminal: those of the table above hold.
	Continued bool
	// Spaced sets a blank line before it on the terminal.
	Spaced bool
}

// Layout is the form of a table in JSON.
type Layout uint8

// The layouts.
const (
	// ByRow holds under each row's dotted key its value, or an object by column where
	// there are several columns.
	ByRow    Layout = iota
	ByName          // as ByRow, the dots of the keys being part of the names
	ByColumn        // under each column's key an array
	Records         // an array of an object for each row
)

// Column is one column behind the labels.
type Column struct {
	Key  string // in JSON and CSV; empty: the figure's last part
	Head Text
	Fig  *figure.Def
	// Trust marks the column that holds the cells' level of trust, on which a
	// renderer fills in what the row says.
	Trust bool
	Left  bool // set left
	Stars bool // its cells may have stars, and the terminal leaves room for them
	Most  int  // characters of a cell that are shown to people; 0: all
	// Data is, in the document, the id of the JSON that holds the column's figures;
	// rows then tell their keys.
	Data string
	// Empty marks a column in which no row has a value: null in JSON, where it would be
	// an array, and left out of CSV.
	Empty bool
}

// Name returns the column's name in JSON and CSV.
func (c *Column) Name() string {
	if c.Key == "" && c.Fig != nil {
		return c.Fig.Leaf()
	}
	return c.Key
}

// Row is one row.
type Row struct {
	Key    string // in JSON
	Label  Text
	Marked bool // points out a row that the verdict rests on
	Flush  bool // a label without the indent of rows under a title
	Cells  []Cell
	Trust  figure.Trust // for a Trust column; NoTrust: that of the first cell
}

// Rows makes the sequence of rows that are at hand.
func Rows(rows ...Row) iter.Seq[Row] { return slices.Values(rows) }

// Curves makes the rows of columns of values in SI that belong together, such as
// curves over frequency. All have the first one's length.
func Curves(columns []Column, values ...[]float64) iter.Seq[Row] {
	return func(yield func(Row) bool) {
		cells := make([]Cell, len(columns))
		for i := range values[0] {
			for j := range columns {
				cells[j] = Cell{Fig: columns[j].Fig, SI: values[j][i]}
			}
			if !yield(Row{Cells: cells}) {
				return
			}
		}
	}
}

// FigureRow is a figure in a row of its own: its name, value and trust.
func FigureRow(c Cell) Row {
	return Row{Key: c.Fig.Key, Label: Plain(c.Fig.Name), Cells: []Cell{c}, Trust: c.TrustOf()}
}

// List is rows being put together.
type List struct{ rows []Row }

// Add appends rows.
func (l *List) Add(rows ...Row) { l.rows = append(l.rows, rows...) }

// Row appends a row of a label and cells whose trust is the first cell's.
func (l *List) Row(label Text, cells ...Cell) {
	r := Row{Label: label, Cells: cells}
	if len(cells) > 0 {
		r.Trust = cells[0].TrustOf()
	}
	l.rows = append(l.rows, r)
}

// If appends the row only if its first cell holds something.
func (l *List) If(label Text, cells ...Cell) {
	if cells[0].Given() {
		l.Row(label, cells...)
	}
}

// Rows returns the rows as a table takes them.
func (l *List) Rows() iter.Seq[Row] { return slices.Values(l.rows) }

// Len returns how many rows there are.
func (l *List) Len() int { return len(l.rows) }
