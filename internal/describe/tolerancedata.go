package describe

import (
	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/result"
	"gapline/internal/study/space"
)

// counts is what was sampled, for programs.
func (v tolerance) counts() result.Table {
	return object(
		entry("samples", result.Fig(figure.ToleranceSamples, float64(v.found.Samples))),
		entry("seed", result.Fig(figure.ToleranceSeed, float64(v.Seed))),
		entry("impossible", result.Fig(figure.ToleranceImpossible, float64(v.found.Impossible))),
		entry("fits", result.Fig(figure.ToleranceFits, v.fits())),
		under("by_trust.rule", result.Fig(figure.ToleranceByRule, v.closed(sizing.ByRule))),
		under("by_trust.aperture", result.Fig(figure.ToleranceByAperture, v.closed(sizing.ByAperture))),
		under("by_trust.divided", result.Fig(figure.ToleranceDivided, v.divided())),
		entry("first_impossible", result.Name(v.found.First)),
		entry("gap", result.Name(space.GapFigure(v.Base).Key)))
}

// targets is the chance of each target, for programs.
func (v tolerance) targets() result.Table {
	cols := append(keys("figure", "sign"), columnsOf(figure.ToleranceTarget, figure.ToleranceChance, figure.ToleranceChanceLow,
		figure.ToleranceChanceHigh, figure.ToleranceMet, figure.ToleranceOf)...)
	var rows result.List
	for _, c := range v.found.Targets {
		rows.Row(result.Text{}, result.Name(c.Target.Of.Name()), result.Name(c.Target.Sign()), result.Fig(figure.ToleranceTarget, c.Target.Value),
			result.Fig(figure.ToleranceChance, c.Share), result.Fig(figure.ToleranceChanceLow, c.Low), result.Fig(figure.ToleranceChanceHigh, c.High),
			result.Fig(figure.ToleranceMet, float64(c.Met)), result.Fig(figure.ToleranceOf, float64(c.Of)))
	}
	return records("targets", cols, rows)
}

// effects is what each tolerance by itself does to the gap, for programs: values of
// keys in the unit that column names.
func (v tolerance) effects() result.Table {
	cols := append(keys("key", "column"), columnsOf(figure.ToleranceKeyValue, figure.ToleranceKeyLow, figure.ToleranceKeyHigh,
		figure.ToleranceGapAtLow, figure.ToleranceGapAtHigh, figure.ToleranceMoves)...)
	var rows result.List
	for _, e := range v.found.Effects {
		name, _ := e.Tolerance.Key.Column()
		in := e.Tolerance.Key.InColumn
		rows.Row(result.Text{}, result.Name(e.Tolerance.Key.Path), result.Name(name),
			result.Fig(figure.ToleranceKeyValue, in(e.At)), result.Fig(figure.ToleranceKeyLow, in(e.InLow)), result.Fig(figure.ToleranceKeyHigh, in(e.InHigh)),
			result.Fig(figure.ToleranceGapAtLow, e.AtLow), result.Fig(figure.ToleranceGapAtHigh, e.AtHigh), result.Fig(figure.ToleranceMoves, e.Swing))
	}
	return records("effects", cols, rows)
}

// spreadColumns are the columns of spreadCells for programs.
var spreadColumns = columnsOf(figure.ToleranceDesigned, figure.ToleranceLow, figure.ToleranceMedian, figure.ToleranceHigh)

// figures is the band of every figure, under its key.
func (v tolerance) figures() result.Table {
	t := result.Table{Shown: result.At(result.Data), Key: "figures", As: result.ByName,
		Columns: append(spreadColumns[:len(spreadColumns):len(spreadColumns)], result.Column{Fig: figure.ToleranceComputed}, trust)}
	var rows result.List
	for i := range v.found.Figures {
		b := &v.found.Figures[i]
		rows.Add(result.Row{Key: b.Figure.Key, Trust: v.trust(b.Figure),
			Cells: append(spreadCells(b, result.Fig), result.Fig(figure.ToleranceComputed, float64(b.Given)))})
	}
	t.Rows = rows.Rows()
	return t
}

// listing is the band of every figure for CSV.
func (v tolerance) listing() result.Table {
	var rows result.List
	for i := range v.found.Figures {
		b := &v.found.Figures[i]
		rows.Add(result.Row{Trust: v.trust(b.Figure), Cells: append([]result.Cell{result.Name(b.Figure.Key)}, spreadCells(b, result.Fig)...)})
	}
	return result.Table{Shown: result.At(result.Listing), As: result.Records, Rows: rows.Rows(),
		Columns: append(append(keys("figure"), spreadColumns...), trust)}
}

// leverColumns are the gap along a lever and its band.
var leverColumns = columnsOf(figure.ToleranceLeverGap, figure.ToleranceLeverLow, figure.ToleranceLeverMedian, figure.ToleranceLeverHigh)

func leverCells(b *space.LeverBand) []result.Cell {
	out := make([]result.Cell, len(leverColumns))
	for i, x := range []float64{b.Nominal, b.Low, b.Median, b.High} {
		out[i] = result.Fig(leverColumns[i].Fig, x)
	}
	return out
}

// alongData is the gap along a lever for programs.
func (v tolerance) alongData(lever []space.LeverBand) result.Section {
	t := leverTable(result.Data, result.Column{Fig: figure.ToleranceLeverValue}, lever, func(b *space.LeverBand) result.Cell {
		return result.Fig(figure.ToleranceLeverValue, b.Value.Number)
	})
	t.As = result.ByColumn
	return group("lever", named("key", result.Name(lever[0].Value.Key.Path)), t)
}

// alongListing is the same for CSV, the lever in the unit that its column names.
func (v tolerance) alongListing(lever []space.LeverBand) result.Table {
	name, _ := lever[0].Value.Key.Column()
	t := leverTable(result.Listing, result.Column{Key: name}, lever, func(b *space.LeverBand) result.Cell { return columnCell(b.Value) })
	t.As = result.Records
	return t
}

func leverTable(where result.Place, first result.Column, lever []space.LeverBand, at func(*space.LeverBand) result.Cell) result.Table {
	var rows result.List
	for i := range lever {
		b := &lever[i]
		cells := append([]result.Cell{at(b)}, leverCells(b)...)
		rows.Row(result.Text{}, append(cells, result.Fig(figure.ToleranceLeverImpossible, float64(b.Impossible)), result.Fig(figure.ToleranceLeverFits, b.Fits))...)
	}
	return result.Table{Shown: result.At(where), Rows: rows.Rows(),
		Columns: append(append([]result.Column{first}, leverColumns...), result.Column{Fig: figure.ToleranceLeverImpossible}, result.Column{Fig: figure.ToleranceLeverFits})}
}
