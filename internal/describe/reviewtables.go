package describe

import (
	"math"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/result"
	"gapline/internal/study/line"
	"gapline/internal/study/maximum"
	"gapline/internal/study/size"
)

// Verdicts is for the document's first page what each level of trust says of the gap and
// what ends either side. data is the id of the design's JSON there; source returns the
// cell that refers to a source.
//
// traced is whether the document holds traces.
func Verdicts(d *design.Design, s *sizing.Sizing, j *advice.Judgement, data string, traced bool, source func(string) result.Cell) result.Table {
	below := "woofers serve to"
	if s.Coupling.HasMid {
		below = "mids serve to"
	}
	in := func(head string) result.Column { c := headed(value, head); c.Data = data; return c }
	left := func(head string) result.Column { return headed(result.Column{Left: true}, head) }
	t := result.Table{Shown: result.At(result.Page), Title: result.Plain("The gap at each level of trust"), Labels: "trust",
		Columns: []result.Column{in(below), left("set by"), in("horn serves from"), left("set by"), in("gap"), left("verdict"), left("source")}}
	var rows result.List
	for l := range sizing.LevelCount {
		g, f := &j.Levels[l], gapLevels[l]
		row := result.Row{Label: result.Plain(advice.LevelNames[l])}
		switch {
		case g.Given && numeric.Given(g.Gap):
			verdict := g.Verdict.String()
			switch {
			case j.Verdict == advice.GapMisfit:
				verdict += ", were it built"
			case !slices.Contains(j.Decides, l):
				verdict += ", does not decide"
			}
			row.Cells = []result.Cell{result.Fig(f.Low, g.Low.Hz), result.Word(advice.LimitWords[g.Low.By]), result.Fig(f.High, g.High.Hz), result.Word(advice.LimitWords[g.High.By]),
				result.Fig(f.Gap, g.Gap), result.Word(verdict), source(f.Gap.Source)}
		case l == sizing.ByWave:
			row.Cells = notThere("not run: gapline wave")
		case l == sizing.ByMeasured && traced:
			row.Cells = notThere("none kept of the traces given")
		case l == sizing.ByMeasured:
			row.Cells = notThere("no traces: gapline trace --write")
		case g.Given:
			row.Cells = notThere("a side is missing")
		default:
			continue
		}
		rows.Add(row)
	}
	t.Rows = rows.Rows()
	return t
}

// notThere is a row of a verdict that is not known.
func notThere(why string) []result.Cell {
	dash := result.Word("-")
	return []result.Cell{dash, dash, dash, dash, dash, result.Word(why), dash}
}

// Weighed is a design as a meeting weighs it: with the levels at its seats.
type Weighed struct {
	Sized
	Data  string        // id of its JSON in the document
	Seats *line.Maximum // nil: not known
}

// seat is the largest A-weighted level of programme at one of the seats, and how far out
// it is; NaN: not known.
func (w *Weighed) seat(of func(*maximum.Seats) int) (level, out float64) {
	if w.Seats == nil || w.Seats.Seats == nil {
		return numeric.Absent, numeric.Absent
	}
	s := w.Seats.Seats
	i := of(s)
	return s.LevelAt(i), s.Seat[i].X
}

func loudestSeat(s *maximum.Seats) int { return s.Loudest }

func lastSeat(s *maximum.Seats) int { return len(s.Seat) - 1 }

// seated is the row of one of the seats.
func seated(name string, of func(*maximum.Seats) int) weight {
	a := figure.ProgrammeA
	return weight{name: "largest programme at the " + name + ", A-weighted", trust: a.Trust, source: a.Source, better: 1,
		of: func(_ *traded, w *Weighed) result.Cell {
			l, out := w.seat(of)
			if !numeric.Given(l) {
				return result.None
			}
			return result.Phrase(result.Say("%s at %s", level(l), far(out)))
		}, value: func(_ *traded, w *Weighed) float64 { l, _ := w.seat(of); return l }}
}

// weight is a row of the table that a meeting needs. A hidden one only ranks.
type weight struct {
	name   string
	of     func(t *traded, w *Weighed) result.Cell
	value  func(t *traded, w *Weighed) float64 // to rank the designs by; nil: not ranked
	better float64                             // +1: more is better, −1: less
	trust  figure.Trust
	source string
	keyed  bool // the cells stand in the design's JSON
	hidden bool
}

// dull reports whether a row of the parts is the same for all of several designs, which
// nothing is weighed by.
func (w *weight) dull(list []traded, designs []Weighed) bool {
	if w.trust != figure.Geometry || w.keyed || len(list) == 1 {
		return false
	}
	first := w.value(&list[0], &designs[0])
	for i := range list {
		if !alikeShown(first, w.value(&list[i], &designs[i])) {
			return false
		}
	}
	return true
}

// unranked is a row by which designs are not ranked.
func unranked(w weight) weight {
	w.value = nil
	return w
}

// coversTo is up to where what plays below the horn covers its angle without a break: the
// mids' limit where the woofers cover up to their crossover, Hz.
func coversTo(s *sizing.Sizing) float64 {
	if s.Coupling.HasMid && s.Woofers.Covers() {
		return s.Mids.CoversTo
	}
	return s.Woofers.CoversTo
}

// weights are its rows under those of the gap.
func weights() []weight {
	var out []weight
	for i, e := range insertCosts {
		out = append(out, weight{name: e.figure.Name, of: func(t *traded, _ *Weighed) result.Cell { return t.cost(e) },
			value: func(t *traded, _ *Weighed) float64 {
				if !t.plate {
					return numeric.Absent
				}
				return e.of(&t.effect)
			}, better: []float64{-1, 1, -1}[i], trust: e.figure.Trust, source: e.figure.Source})
	}
	sized := func(f *figure.Def, better float64) weight {
		return weight{name: f.Name, keyed: true, trust: f.Trust, source: f.Source, better: better,
			of:    func(t *traded, _ *Weighed) result.Cell { return size.Cell(t.Sizing, f) },
			value: func(t *traded, _ *Weighed) float64 { return size.Of(t.Sizing, f) }}
	}
	out = append(out, sized(figure.BoxMaxSPL, 1), seated("loudest seat", loudestSeat), seated("last row", lastSeat),
		unranked(sized(figure.WoofersAcross.CoversTo, 0)), unranked(sized(figure.MidsAcross.CoversTo, 0)),
		weight{name: "all below the horn covers its angle up to", trust: figure.WoofersAcross.CoversTo.Trust, better: 1, hidden: true,
			of: func(t *traded, _ *Weighed) result.Cell { return hertz(coversTo(t.Sizing)) }, value: func(t *traded, _ *Weighed) float64 { return coversTo(t.Sizing) }},
		weight{name: "depth of the cabinet", trust: figure.Geometry, source: "cabinet.depth", better: -1,
			of:    func(t *traded, _ *Weighed) result.Cell { return length(t.Design.Cabinet.Depth.Value()) },
			value: func(t *traded, _ *Weighed) float64 { return t.Design.Cabinet.Depth.Value() }},
		sized(figure.BoxDrivers, -1), sized(figure.BoxCrossovers, -1), sized(figure.BoxCost, -1))
	return out
}

// Weigh is the table of all designs that a meeting needs, with trust and source of every
// row. What no design has is left out.
func Weigh(designs []Weighed, source func(string) result.Cell) result.Table {
	list := tradedOfAll(designs)
	t := result.Table{Shown: result.At(result.Page), Title: result.Plain("What each design gives and costs")}
	for _, d := range designs {
		c := headed(value, d.Name)
		c.Data, c.Most = d.Data, screenWidth
		t.Columns = append(t.Columns, c)
	}
	t.Columns = append(t.Columns, headed(result.Column{Left: true}, "trust"), headed(result.Column{Left: true}, "source"))
	var rows result.List
	add := func(name, trust string, from result.Cell, of func(i int) result.Cell) {
		row := result.Row{Label: result.Plain(name)}
		any := false
		for i := range list {
			c := of(i)
			any = any || c.Given()
			if !c.Given() && c.StateOf() == result.Wording {
				c = result.Word("-")
			}
			row.Cells = append(row.Cells, c)
		}
		if any {
			row.Cells = append(row.Cells, result.Word(trust), from)
			rows.Add(row)
		}
	}
	dash := result.Word("-")
	add("verdict", "of all", dash, func(i int) result.Cell { return result.Word(list[i].judged.Verdict.String()) })
	for l := range sizing.LevelCount {
		f := gapLevels[l].Gap
		add("gap", advice.LevelNames[l], source(f.Source), func(i int) result.Cell {
			if !list[i].known(l) {
				return result.None
			}
			return result.Fig(f, list[i].judged.Levels[l].Gap)
		})
	}
	for _, w := range weights() {
		if w.hidden || w.dull(list, designs) {
			continue
		}
		add(w.name, w.trust.String(), source(w.source), func(i int) result.Cell {
			c := w.of(&list[i], &designs[i])
			if c.Given() && !w.keyed {
				c = result.Phrase(result.Say("%s", c))
			}
			return c
		})
	}
	t.Rows = rows.Rows()
	return t
}

func tradedOfAll(designs []Weighed) []traded {
	var sized []Sized
	for _, d := range designs {
		sized = append(sized, d.Sized)
	}
	return tradedOf(sized)
}

// Against says in what the first design is better than each of the others, and in what
// worse: for each of them what follows "better" or "worse".
func Against(designs []Weighed) (better, worse []result.Text) {
	if len(designs) < 2 {
		return nil, nil
	}
	list := tradedOfAll(designs)
	for i := 1; i < len(list); i++ {
		var more, less []result.Text
		here, there := list[0].judged.Verdict, list[i].judged.Verdict
		switch d := verdictRank(here) - verdictRank(there); {
		case d > 0:
			more = append(more, result.Say("the verdict (%s, there %s)", here.String(), there.String()))
		case d < 0:
			less = append(less, result.Say("the verdict (%s, there %s)", here.String(), there.String()))
		}
		for _, w := range weights() {
			if w.value == nil {
				continue
			}
			first, x := w.value(&list[0], &designs[0]), w.value(&list[i], &designs[i])
			if !numeric.Given(first) || !numeric.Given(x) || alikeShown(first, x) {
				continue
			}
			text := result.Say(w.name+" (%s, there %s)", w.of(&list[0], &designs[0]), w.of(&list[i], &designs[i]))
			if (first-x)*w.better > 0 {
				more = append(more, text)
			} else {
				less = append(less, text)
			}
		}
		better, worse = than(better, designs[i].Name, more), than(worse, designs[i].Name, less)
	}
	return better, worse
}

// than adds the sentence of one alternative, where there is anything to say.
func than(list []result.Text, name string, in []result.Text) []result.Text {
	if len(in) == 0 {
		return list
	}
	return append(list, result.Say("than %s in ", name).And(joined(", ", in...)).And(result.Plain(".")))
}

// verdictRank orders the verdicts from worst to best; what is not known ranks with what is
// divided.
func verdictRank(v advice.Verdict) int {
	switch v {
	case advice.GapMet:
		return 2
	case advice.GapMissed, advice.GapMisfit:
		return 0
	}
	return 1
}

// alikeShown is whether two numbers are as near as a figure of three digits tells.
func alikeShown(a, b float64) bool { return math.Abs(a-b) <= 1e-3*math.Max(math.Abs(a), math.Abs(b)) }

// sentence begins a sentence with words.
func sentence(words string) string { return strings.ToUpper(words[:1]) + words[1:] }
