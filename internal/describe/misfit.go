package describe

import (
	"gapline/cabinet/design"
	"gapline/internal/advice"
	"gapline/internal/result"
	"gapline/internal/schema"
	"gapline/internal/study/fit"
)

// Fitted is a design with what of it cannot be built together.
type Fitted struct {
	Name   string // of its file
	Design *design.Design
	Fit    *fit.Fit
	Refits []schema.Refit // lists that were made to fit another number of boxes
}

// Misfits puts what cannot be built together before everything else of a result: on the
// screen as findings, in JSON as misfits[]. Behind them stands which lists were made to
// fit another number of boxes, in JSON as refits[] where there are any.
func Misfits(r *result.Result, designs []Fitted) *result.Result {
	var found []result.Finding
	var rows result.List
	for i := range designs {
		d := &designs[i]
		list := advice.Misfits(d.Design, d.Fit)
		for j := range list {
			row := misfitRow(&d.Fit.Misfits[j], list[j].Text)
			if len(designs) > 1 {
				list[j].Text = result.Say("%s: %s", d.Name, list[j].Text)
				row.Cells = append(row.Cells, result.Word(d.Name))
			}
			rows.Add(row)
		}
		found = append(found, list...)
	}
	columns := []result.Column{{Key: "text"}, {Key: "keys"}, {Key: "fits"}, {Key: "bound"}}
	if len(designs) > 1 {
		columns = append(columns, result.Column{Key: "file"})
	}
	parts := []result.Part{result.Table{Shown: result.At(result.Data), Key: "misfits", As: result.Records, Columns: columns, Rows: rows.Rows()}}
	notes, refits := refitted(designs)
	if refits.Len() > 0 {
		found = append(found, notes...)
		parts = append(parts, result.Table{Shown: result.At(result.Data), Key: "refits", As: result.Records,
			Columns: []result.Column{{Key: "key"}, {Key: "text"}, {Key: "file"}}, Rows: refits.Rows()})
	}
	if len(found) > 0 {
		parts = append(parts, result.Findings{Shown: result.At(result.Screen), List: found})
	}
	out := *r
	out.Parts = append(parts, r.Parts...)
	return &out
}

// refitted are the lists that were made to fit, as findings and as rows for programs.
func refitted(designs []Fitted) (found []result.Finding, rows result.List) {
	for i := range designs {
		d := &designs[i]
		for _, f := range advice.Refits(d.Refits) {
			rows.Add(result.Row{Cells: []result.Cell{result.Name(f.Key), result.Phrase(f.Text), result.Word(d.Name)}})
			if len(designs) > 1 {
				f.Text = result.Say("%s: %s", d.Name, f.Text)
			}
			found = append(found, f)
		}
	}
	return found, rows
}

// misfitRow is a misfit as programs read it: what is wrong, between which keys, and the
// setting that mends it.
func misfitRow(c *fit.Conflict, text result.Text) result.Row {
	row := result.Row{Cells: []result.Cell{result.Phrase(text), result.Words(c.Keys), result.None, result.None}}
	if m := c.Mend; m != nil {
		row.Cells[2], row.Cells[3] = result.Word(m.Setting()), result.Word(m.Bound.String())
	}
	return row
}
