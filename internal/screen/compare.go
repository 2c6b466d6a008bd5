package screen

import (
	"io"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/advice"
	"gapline/internal/designfile"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/study/size"
)

// Column is one design of a comparison.
type Column struct {
	Name   string
	Design *design.Design
	Sizing *sizing.Sizing
}

// CompareRow is one key or figure across all designs.
type CompareRow struct {
	Key     string
	Name    string
	Figure  *figure.Def // nil for a key
	Cells   []string
	Differs bool
}

// CompareRows lists every key and figure that any of the designs has.
func CompareRows(columns []Column, sys quantity.System) []CompareRow {
	var rows []CompareRow
	for i := range designfile.Keys {
		k := &designfile.Keys[i]
		row := CompareRow{Key: k.Path, Name: k.Path}
		for _, c := range columns {
			row.Cells = append(row.Cells, k.Text(c.Design, sys))
		}
		rows = appendRow(rows, row)
	}
	for _, f := range size.Table {
		row := CompareRow{Key: f.Key, Name: f.Key, Figure: f.Def}
		for _, c := range columns {
			row.Cells = append(row.Cells, FigureText(f.Def, c.Sizing, sys))
		}
		rows = appendRow(rows, row)
	}
	return rows
}

// appendRow drops rows that no design fills and marks those that differ.
func appendRow(rows []CompareRow, row CompareRow) []CompareRow {
	filled := false
	for _, c := range row.Cells {
		filled = filled || c != "-"
		row.Differs = row.Differs || c != row.Cells[0]
	}
	if !filled {
		return rows
	}
	return append(rows, row)
}

// WriteCompare prints the rows as a table, a star at each cell that differs from
// the first design.
func WriteCompare(w io.Writer, columns []Column, rows []CompareRow, all bool) error {
	t := &Table{}
	head := []string{""}
	for _, c := range columns {
		head = append(head, c.Name+" ")
	}
	figures := false
	for _, r := range rows {
		if !r.Differs && !all {
			continue
		}
		if r.Figure != nil && !figures {
			figures = true
			t.Row()
			t.Row(append([]string{"FIGURES"}, head[1:]...)...)
		} else if len(t.rows) == 0 {
			t.Row(append([]string{"DESIGN"}, head[1:]...)...)
		}
		cells := []string{r.Key}
		for _, c := range r.Cells {
			mark := " "
			if c != r.Cells[0] {
				mark = "*"
			}
			cells = append(cells, clipCell(c)+mark)
		}
		t.Row(cells...)
	}
	if len(t.rows) == 0 {
		_, err := io.WriteString(w, "the designs do not differ\n")
		return err
	}
	var b strings.Builder
	if _, err := t.WriteTo(&b); err != nil {
		return err
	}
	writeCautions(&b, advice.DesignCautions(slices.ContainsFunc(columns, func(c Column) bool { return numeric.Given(c.Sizing.Box.MaxLevel) })))
	_, err := io.WriteString(w, b.String())
	return err
}

// clipCell keeps long texts from widening the table.
func clipCell(s string) string {
	const most = 28
	r := []rune(strings.ReplaceAll(s, "\n", " "))
	if len(r) <= most {
		return string(r)
	}
	return string(r[:most-1]) + "…"
}
