package describe

import (
	"math"
	"strconv"
	"strings"

	"gapline/cabinet/sizing"
	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/result"
	"gapline/internal/study/size"
	"gapline/internal/study/space"
)

// Tolerance describes how a design spreads within its tolerances. lever is the gap
// along a key with its band; nil without one.
func Tolerance(t *space.Tolerance, found *space.ToleranceResult, lever []space.LeverBand) *result.Result {
	v := tolerance{t, found}
	r := &result.Result{Title: t.Base.Title, Head: []result.Text{v.sampled()}}
	r.Add(v.counts(), v.targets(), v.effects(), v.figures())
	if len(found.Targets) > 0 {
		r.Add(apart(v.chances()))
	}
	r.Add(apart(v.ranked()), apart(v.bands()))
	if lever == nil {
		r.Add(v.listing(), v.ranking())
	} else {
		r.Add(apart(v.along(lever)), v.alongListing(lever), v.alongData(lever), v.bandChart(lever))
	}
	r.Add(belowCautions(advice.DesignCautions(v.loud())))
	return r
}

type tolerance struct {
	*space.Tolerance
	found *space.ToleranceResult
}

func (v tolerance) trust(f *figure.Def) figure.Trust { return size.Trust(&v.found.Sizing, f) }

// loud reports whether a level is among the figures.
func (v tolerance) loud() bool {
	for i := range v.found.Figures {
		if b := &v.found.Figures[i]; b.Figure == figure.BoxMaxSPL && !math.IsNaN(b.Value) {
			return true
		}
	}
	return false
}

func (v tolerance) sampled() result.Text {
	r := v.found
	text := result.Say("%s designs within the tolerances (Latin hypercube, seed %s); ", result.Count(r.Samples), strconv.FormatUint(v.Seed, 10))
	if r.Impossible == 0 {
		return text.And(result.Say("all can exist, %s can be built as the file places their parts.", result.Fig(figure.ToleranceFits, v.fits())))
	}
	return text.And(result.Say("%s of them cannot exist (%s): they miss every target and are in no band. The first: %s. %s can be built as the file places their parts.",
		result.Count(r.Impossible), share(r.Impossible, r.Samples), strings.TrimSuffix(r.First, "."), result.Fig(figure.ToleranceFits, v.fits())))
}

// fits is the share of the designs that can be built.
func (v tolerance) fits() float64 { return float64(v.found.Fits) / float64(v.found.Samples) }

// chances says how likely each target is met.
func (v tolerance) chances() result.Table {
	t := result.Table{Shown: result.At(result.People), Title: result.Plain("CHANCE TO MEET A TARGET"),
		Columns: append(columns("chance", "95 % interval"), headed(trust, "trust"))}
	var rows result.List
	for _, c := range v.found.Targets {
		low, high := result.Fig(figure.ToleranceChanceLow, c.Low), result.Fig(figure.ToleranceChanceHigh, c.High)
		bare := low.Fig.Style
		bare.Bare = true
		rows.Add(result.Row{Label: limitText(c.Target), Trust: v.trust(c.Target.Of.Figure),
			Cells: []result.Cell{result.Fig(figure.ToleranceChance, c.Share), result.Phrase(result.Say("%s to %s", low.As(bare), high))}})
	}
	for l, f := range toleranceLevels {
		if share := v.closed(sizing.Level(l)); numeric.Given(share) {
			rows.Add(result.Row{Label: result.Plain("gap closed " + advice.By(sizing.Level(l))), Trust: f.Trust, Cells: []result.Cell{result.Fig(f, share)}})
		}
	}
	if v.found.Divided > 0 {
		rows.Add(result.Row{Label: result.Plain("gap divided: one of them closes it, the other not"), Trust: figure.Aperture, Cells: []result.Cell{result.Fig(figure.ToleranceDivided, v.divided())}})
	}
	t.Rows = rows.Rows()
	return t
}

// toleranceLevels are the levels of trust of which chances are told: a run of the wave
// level is for one design.
var toleranceLevels = [2]*figure.Def{sizing.ByRule: figure.ToleranceByRule, sizing.ByAperture: figure.ToleranceByAperture}

// closed is the share of the designs whose gap a level closes; NaN where it knows none.
func (v tolerance) closed(l sizing.Level) float64 {
	if v.found.Known[l] == 0 {
		return numeric.Absent
	}
	return float64(v.found.Closed[l]) / float64(v.found.Samples)
}

func (v tolerance) divided() float64 { return float64(v.found.Divided) / float64(v.found.Samples) }

// ranked ranks the tolerances by what each does to the gap.
func (v tolerance) ranked() result.Table {
	t := result.Table{Shown: result.At(result.People), Title: result.Plain("ONE TOLERANCE AT A TIME"),
		Columns: columns("as designed", "low end: gap", "high end: gap", "moves it by")}
	var rows result.List
	gap := space.GapFigure(v.Base)
	rows.Row(result.Plain(gap.Key), result.Fig(gap, v.found.Gap))
	for _, e := range v.found.Effects {
		if math.IsNaN(v.found.Gap) {
			break // the design does not give enough for a gap
		}
		k := e.Tolerance.Key
		end := func(in float64, f *figure.Def, gap float64) result.Cell {
			there := gapCell(f, gap)
			if math.IsNaN(gap) {
				there.Words = "cannot exist"
			}
			return result.Phrase(result.Say("%s: %s", result.Num(in, k.Kind), there))
		}
		rows.Row(result.Say("%s %s", k.Path, toleranceText(&e.Tolerance)), result.Num(e.At, k.Kind),
			end(e.InLow, figure.ToleranceGapAtLow, e.AtLow), end(e.InHigh, figure.ToleranceGapAtHigh, e.AtHigh), result.Fig(figure.ToleranceMoves, e.Swing))
	}
	t.Rows = rows.Rows()
	return t
}

// bands shows the figures that the tolerances move.
func (v tolerance) bands() result.Table {
	t := result.Table{Shown: result.At(result.People), Title: result.Plain("FIGURES"),
		Columns: append(columns("as designed", "5 % below", "median", "5 % above"), headed(trust, "trust"))}
	var rows result.List
	still := 0
	for i := range v.found.Figures {
		switch b := &v.found.Figures[i]; {
		case math.IsNaN(b.Value):
		case !b.Moves():
			still++
		default:
			rows.Add(result.Row{Label: result.Plain(b.Figure.Key), Cells: spreadCells(b, figureCell), Trust: v.trust(b.Figure)})
		}
	}
	if still > 0 {
		rows.Row(result.Say("(%s more that no tolerance moves)", result.Count(still)))
	}
	t.Rows = rows.Rows()
	return t
}

// spreadCells are a figure as designed and its band.
func spreadCells(b *space.FigureBand, cell func(*figure.Def, float64) result.Cell) []result.Cell {
	return []result.Cell{cell(b.Figure, b.Value), cell(b.Figure, b.Low), cell(b.Figure, b.Median), cell(b.Figure, b.High)}
}

// along shows the gap at each value of a lever.
func (v tolerance) along(lever []space.LeverBand) result.Table {
	t := result.Table{Shown: result.At(result.People), Title: result.Plain("GAP AGAINST " + lever[0].Value.Key.Path),
		Columns: columns("no tolerance", "5 % below", "median", "5 % above", "cannot exist", "can be built")}
	var rows result.List
	for i := range lever {
		b := &lever[i]
		none := result.Cell{State: result.Absent}
		if b.Impossible > 0 {
			none = share(b.Impossible, b.Given+b.Impossible)
		}
		rows.Row(result.Say("%s", keyCell(b.Value)), append(leverCells(b), none, result.Fig(figure.ToleranceLeverFits, b.Fits))...)
	}
	t.Rows = rows.Rows()
	return t
}
