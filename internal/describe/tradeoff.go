package describe

import (
	"gapline/cabinet/sizing"
	"gapline/driver"
	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/result"
	"gapline/internal/study/box"
	"gapline/internal/study/fit"
	"gapline/internal/study/size"
)

// traded is a design with what a meeting weighs.
type traded struct {
	Sized
	judged advice.Judgement
	effect driver.InsertEffect
	plate  bool // effect is known
}

// tradeoff is the table that a meeting needs: the verdict and the gap by level of trust with
// what binds it, what an insert costs, and what the box can do, holds and costs. Rows that
// no design has are left out.
func tradeoff(designs []Sized) result.Table {
	list := make([]traded, len(designs))
	for i, d := range designs {
		list[i] = traded{Sized: d, judged: advice.Judge(d.Design, d.Sizing, fit.Of(d.Design, nil))}
		list[i].effect, list[i].plate = box.EffectOf(d.Design)
	}
	var rows result.List
	add := func(label string, of func(t *traded) result.Cell) {
		row := result.Row{Label: result.Plain(label)}
		any := false
		for i := range list {
			c := of(&list[i])
			any = any || c.Given() || c.StateOf() == result.Wording && c.Words != ""
			row.Cells = append(row.Cells, c)
		}
		if any {
			rows.Add(row)
		}
	}
	add("verdict", func(t *traded) result.Cell { return result.Word(t.judged.Verdict.String()) })
	for l := range sizing.LevelCount {
		add("gap "+advice.By(l), func(t *traded) result.Cell { return t.gap(l) })
		add("  between", func(t *traded) result.Cell { return t.binds(l) })
	}
	figureRow := func(f *figure.Def) { add(f.Name, func(t *traded) result.Cell { return size.Cell(t.Sizing, f) }) }
	effect := func(f *figure.Def, of func(*driver.InsertEffect) float64) {
		add(f.Name, func(t *traded) result.Cell {
			if !t.plate {
				return result.None
			}
			return result.Fig(f, of(&t.effect))
		})
	}
	effect(figure.InsertPeak, func(e *driver.InsertEffect) float64 { return e.Peak })
	effect(figure.InsertSensitivity, func(e *driver.InsertEffect) float64 { return e.Sensitivity })
	effect(figure.InsertLimitSpeed, func(e *driver.InsertEffect) float64 { return e.LimitSpeed })
	figureRow(figure.BoxMaxSPL)
	figureRow(figure.WoofersAcross.CoversTo)
	add("depth of the cabinet", func(t *traded) result.Cell { return length(t.Design.Cabinet.Depth.Value()) })
	for _, f := range []*figure.Def{figure.BoxDrivers, figure.BoxCrossovers, figure.BoxCost} {
		figureRow(f)
	}
	t := result.Table{Shown: result.At(result.Screen), Title: result.Plain("TRADEOFF"), Rows: rows.Rows()}
	for _, d := range designs {
		t.Columns = append(t.Columns, headed(value, d.Name))
	}
	return t
}

// gap is the design's gap at a level that has figures.
func (t *traded) gap(l sizing.Level) result.Cell {
	g := &t.judged.Levels[l]
	if !g.Given || !numeric.Given(g.Gap) {
		return result.None
	}
	return gapCell(gapLevels[l].Gap, g.Gap)
}

// binds names what ends the two sides of the gap at a level.
func (t *traded) binds(l sizing.Level) result.Cell {
	g := &t.judged.Levels[l]
	if !g.Given || !numeric.Given(g.Gap) {
		return result.None
	}
	return result.Word(advice.LimitWords[g.Low.By] + ", " + advice.LimitWords[g.High.By])
}
