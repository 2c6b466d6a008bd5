package describe

import (
	"slices"

	"gapline/cabinet/sizing"
	"gapline/driver"
	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
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
	list := tradedOf(designs)
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
	add("both serve, at all deciding levels", func(t *traded) result.Cell {
		low, high, _ := served(&t.judged)
		if !numeric.Given(low.SI) {
			return result.None
		}
		return result.Phrase(result.Say("%s to %s", low, high))
	})
	add("  crossover between", func(t *traded) result.Cell { _, _, x := served(&t.judged); return x })
	figureRow := func(f *figure.Def) { add(f.Name, func(t *traded) result.Cell { return size.Cell(t.Sizing, f) }) }
	for _, e := range insertCosts {
		add(e.figure.Name, func(t *traded) result.Cell { return t.cost(e) })
	}
	for _, f := range tradedLow {
		figureRow(f)
	}
	add("depth of the cabinet", func(t *traded) result.Cell { return length(t.Design.Cabinet.Depth.Value()) })
	for _, f := range tradedParts {
		figureRow(f)
	}
	t := result.Table{Shown: result.At(result.Screen), Title: result.Plain("TRADEOFF"), Rows: rows.Rows()}
	for _, d := range designs {
		t.Columns = append(t.Columns, headed(value, d.Name))
	}
	return t
}

// insertCost is a figure of what an insert costs.
type insertCost struct {
	figure *figure.Def
	of     func(*driver.InsertEffect) float64
}

var insertCosts = []insertCost{
	{figure.InsertPeak, func(e *driver.InsertEffect) float64 { return e.Peak }},
	{figure.InsertSensitivity, func(e *driver.InsertEffect) float64 { return e.Sensitivity }},
	{figure.InsertLimitSpeed, func(e *driver.InsertEffect) float64 { return e.LimitSpeed }},
}

// Figures of a sizing that a meeting weighs: what the box can do, and what it is made of.
var (
	tradedLow   = []*figure.Def{figure.BoxMaxSPL, figure.WoofersAcross.CoversTo}
	tradedParts = []*figure.Def{figure.BoxDrivers, figure.BoxCrossovers, figure.BoxCost}
)

func tradedOf(designs []Sized) []traded {
	list := make([]traded, len(designs))
	for i, d := range designs {
		list[i] = traded{Sized: d, judged: advice.Judge(d.Design, d.Sizing, fit.Of(d.Design, nil))}
		list[i].effect, list[i].plate = box.EffectOf(d.Design)
	}
	return list
}

// TradeoffTable is the table that a meeting needs, for people.
func TradeoffTable(designs []Sized) result.Table { return tradeoff(designs) }

// Tradeoff is the same table for programs: an object for each design, in which every figure
// stands under its own key, and what ends a side of the gap is the key of a figure. What a
// design does not have is null.
func Tradeoff(designs []Sized) *result.Result {
	t := result.Table{Shown: result.At(result.Data), Key: "tradeoff", As: result.Records}
	var rows result.List
	for i, x := range tradedOf(designs) {
		row := result.Row{}
		add := func(key string, c result.Cell) {
			if i == 0 {
				t.Columns = append(t.Columns, result.Column{Key: key})
			}
			row.Cells = append(row.Cells, c)
		}
		add("name", result.Name(x.Name))
		add("gap.verdict", result.Word(x.judged.Verdict.String()))
		for l := range sizing.LevelCount {
			at := "gap.by_trust." + advice.LevelNames[l] + "."
			g := &x.judged.Levels[l]
			verdict, low, high := result.None, result.None, result.None
			if x.known(l) {
				verdict, low, high = result.Word(g.Verdict.String()), result.Word(advice.LimitFigure(advice.Below(x.Sizing), g.Low.By)), result.Word(advice.LimitFigure(advice.Below(x.Sizing), g.High.By))
			}
			add(at+"oct", x.gap(l))
			add(at+"verdict", verdict)
			add(at+"low_limit", low)
			add(at+"high_limit", high)
		}
		low, high, crossover := served(&x.judged)
		add(low.Fig.Key, low)
		add(high.Fig.Key, high)
		add(crossover.Fig.Key, crossover)
		for _, e := range insertCosts {
			add(e.figure.Key, x.cost(e))
		}
		for _, f := range slices.Concat(tradedLow, tradedParts) {
			add(f.Key, result.Fig(f, size.Of(x.Sizing, f)))
		}
		add("cabinet.depth", result.Num(x.Design.Cabinet.Depth.Value(), quantity.Length))
		rows.Add(row)
	}
	t.Rows = rows.Rows()
	return &result.Result{Parts: []result.Part{t}}
}

// cost is a figure of what the design's insert costs.
func (t *traded) cost(e insertCost) result.Cell {
	if !t.plate {
		return result.None
	}
	return result.Fig(e.figure, e.of(&t.effect))
}

// known reports whether a level has a gap.
func (t *traded) known(l sizing.Level) bool {
	g := &t.judged.Levels[l]
	return g.Given && numeric.Given(g.Gap)
}

// gap is the design's gap at a level that has figures.
func (t *traded) gap(l sizing.Level) result.Cell {
	g := &t.judged.Levels[l]
	if !t.known(l) {
		return result.None
	}
	return gapCell(gapLevels[l].Gap, g.Gap)
}

// binds names what ends the two sides of the gap at a level.
func (t *traded) binds(l sizing.Level) result.Cell {
	g := &t.judged.Levels[l]
	if !t.known(l) {
		return result.None
	}
	return result.Word(advice.LimitWords[g.Low.By] + ", " + advice.LimitWords[g.High.By])
}
