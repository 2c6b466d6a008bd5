package describe

import (
	"fmt"
	"math"
	"math/cmplx"

	"gapline/cabinet/field"
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/line"
)

// PolarTable is level and phase against frequency at one angle.
type PolarTable struct {
	Name   string // of a file
	Result *result.Result
}

// PolarTables describes a polar of tones, a table for each angle. The phase is that at
// the polar's distance; in the far field it is referred to the stack's centre.
func PolarTables(p *line.Polar, s *line.Study) []PolarTable {
	h := hung{s, figure.LineHung}
	plane, sides, f := "vertical", [2]string{"up", "down"}, figure.LinePolar
	if p.Plane == field.Horizontal {
		plane, sides, f = "horizontal", [2]string{"left", "right"}, figure.LineHorizontal
	}
	where := "far field, level at 1 m, phase at the stack's centre"
	if !math.IsInf(p.Distance, 1) {
		where = fmt.Sprintf("at %g m", p.Distance)
	}
	var out []PolarTable
	for j := range p.Angle {
		deg := math.Round(f.Angle.Machine(p.Angle[j])*1e9) / 1e9
		side := sides[0]
		switch {
		case deg == 0:
			side, deg = "axis", 0
		case deg < 0:
			side, deg = sides[1], -deg
		}
		out = append(out, PolarTable{fmt.Sprintf("%s-%s-%05.1f.txt", plane, side, deg), &result.Result{
			Title: s.Design.Title,
			Head: []result.Text{result.Say("gapline predicted; "+h.tableTrust()+"; %s; %s", h.conditions(), result.Word(boxes(s.Design.Line.Boxes))),
				result.Plain(fmt.Sprintf("%s plane, %g deg %s; %s", plane, deg, side, where)), h.reference()},
			Parts: []result.Part{atAngle(p, j, f)},
		}})
	}
	return out
}

// atAngle is level and phase against frequency at the polar's j-th angle.
func atAngle(p *line.Polar, j int, f figure.Polar) result.Table {
	var rows result.List
	for i, hz := range p.Hz {
		rows.Row(result.Text{}, result.Fig(f.Frequency, hz).As(quantity.Style{Verb: "%.6g", Unit: "Hz", Bare: true}),
			result.Fig(f.Total, p.OnAxis[i]+p.Level[i][j]).As(quantity.Style{Verb: "%.4f", Bare: true}),
			result.Fig(f.Phase, cmplx.Phase(p.Pressure[i][j])).As(quantity.Style{Verb: "%.3f", Bare: true}))
	}
	return result.Table{Shown: result.At(result.Listing), As: result.Records, Rows: rows.Rows(), Columns: []result.Column{
		{Fig: f.Frequency, Head: result.Plain("frequency, Hz")}, {Fig: f.Total, Head: result.Plain("level, dB")}, {Fig: f.Phase, Head: result.Plain("phase, deg")}}}
}
