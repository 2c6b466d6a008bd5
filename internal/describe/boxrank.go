package describe

import (
	"fmt"

	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/result"
	"gapline/internal/study/box"
	"gapline/internal/study/size"
)

// BoxRank describes a ranking of drivers in the cabinet of a design of that title.
func BoxRank(title string, r *box.Ranking) *result.Result {
	where := result.Plain("each at its own f3")
	if numeric.Given(r.At) {
		where = result.Say("at %s", result.Fig(figure.RankAt, r.At))
	}
	out := &result.Result{Title: title, Head: []result.Text{
		result.Say("drivers in this cabinet by %s; maximum level of one box %s, 1 m, half space", r.By.Name(), where)}}
	p := rankParts{r}
	out.Add(p.screen(), p.listing(), object(entry("by", result.Word(r.By.Name())), entry(figure.RankAt.Leaf(), result.Fig(figure.RankAt, r.At))),
		p.data(), p.refused(), p.chart(title),
		result.Findings{Shown: result.At(result.Screen), List: advice.RankFindings(r)},
		result.Findings{Shown: result.At(result.Data), List: advice.RankCautions()})
	return out
}

type rankParts struct{ *box.Ranking }

// rankFigures are the columns of figures in a ranking, of which one is the gap as
// the design is given.
var rankFigures = []struct {
	figure *figure.Def // nil: the gap
	head   string
}{
	{figure.BoxMaxSPL, "max level"}, {figure.BoxF3, "f3"}, {nil, "gap"}, {figure.BoxSweptVolume, "swept volume"}, {figure.BoxCost, "cost of box"},
}

func (p rankParts) screen() result.Table {
	t := result.Table{Shown: result.At(result.Screen), Title: result.Plain("   driver file")}
	for _, f := range rankFigures {
		t.Columns = append(t.Columns, headed(value, f.head))
	}
	t.Columns = append(t.Columns, headed(value, "limit"), headed(value, "driver"))
	var rows result.List
	for i := range p.Ranked {
		c := &p.Ranked[i]
		mark := ""
		if len(c.Contradictions) > 0 {
			mark = " (?)"
		}
		row := result.Row{Flush: true, Label: result.Plain(fmt.Sprintf("%2d %s%s", i+1, c.File, mark))}
		for _, f := range rankFigures {
			cell := gapAsGiven(c)
			if f.figure != nil {
				cell = result.Fig(f.figure, size.Of(&c.Sizing, f.figure))
			}
			row.Cells = append(row.Cells, cell)
		}
		row.Cells = append(row.Cells, result.Word(c.Sizing.Box.Limit.String()), result.Word(clipped(c.Title)))
		rows.Add(row)
	}
	t.Rows = rows.Rows()
	return t
}

func gapAsGiven(c *box.Candidate) result.Cell {
	f := figure.GapOpen
	if c.Sizing.Coupling.HasInsert {
		f = figure.GapInsert
	}
	return result.Fig(f, c.Sizing.Gap.AsGiven())
}

// clipped keeps a long text from widening a table.
func clipped(s string) string {
	const most = 28
	r := []rune(s)
	if len(r) <= most {
		return s
	}
	return string(r[:most-1]) + "…"
}

// rankColumns are a driver's columns for programs.
var rankColumns = []result.Column{
	{Key: "file"}, {Key: "title"}, {Fig: figure.BoxMaxSPL}, {Fig: figure.BoxMaxSPLAt}, {Key: "limit"}, {Fig: figure.BoxF3}, {Key: "gap_oct"},
	{Fig: figure.BoxSweptVolume}, {Fig: figure.BoxCost}, {Key: "contradictions"},
}

func rankCells(c *box.Candidate) []result.Cell {
	b := &c.Sizing.Box
	return []result.Cell{result.Name(c.File), result.Name(c.Title), result.Fig(figure.BoxMaxSPL, b.MaxLevel), result.Fig(figure.BoxMaxSPLAt, b.LevelAt),
		result.Word(b.Limit.String()), result.Fig(figure.BoxF3, b.F3), gapAsGiven(c), result.Fig(figure.BoxSweptVolume, b.SweptVolume),
		result.Fig(figure.BoxCost, b.Cost), result.Phrases(advice.Contradictions(c.Contradictions))}
}

func (p rankParts) data() result.Table {
	var rows result.List
	for i := range p.Ranked {
		rows.Row(result.Text{}, rankCells(&p.Ranked[i])...)
	}
	return records("drivers", rankColumns, rows)
}

// listing is the same with the place in front, for CSV.
func (p rankParts) listing() result.Table {
	var rows result.List
	for i := range p.Ranked {
		place := result.Fig(figure.RankPlace, float64(i+1))
		rows.Row(result.Text{}, append([]result.Cell{place}, rankCells(&p.Ranked[i])...)...)
	}
	return result.Table{Shown: result.At(result.Listing), As: result.Records,
		Columns: append([]result.Column{{Fig: figure.RankPlace}}, rankColumns...), Rows: rows.Rows()}
}

// refused are the files that cannot be ranked, and why.
func (p rankParts) refused() result.Table {
	var rows result.List
	for _, x := range p.Refused {
		rows.Row(result.Text{}, result.Name(x.File), result.Words(x.Reasons))
	}
	return records("refused", []result.Column{{Key: "file"}, {Key: "reasons"}}, rows)
}
