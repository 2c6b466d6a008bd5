package describe

import (
	"math"
	"strconv"

	"gapline/cabinet/field"
	"gapline/cabinet/filter"
	"gapline/internal/figure"
	"gapline/internal/preferred"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/line"
)

// Crossover describes two bands summed through their crossover. The pictures over
// angle and the listings are of the file's crossover, or of the best found.
func Crossover(c *line.Crossover, s *line.Study, best bool, findings []result.Finding) *result.Result {
	x := crossoverParts{hung{s, figure.CrossoverHung}, c}
	r := &result.Result{Title: s.Design.Title, Head: x.head()}
	r.Add(x.data()...)
	r.Add(x.settings(), x.paste(), x.response())
	shown := x.given()
	if best && c.Best != nil {
		shown = x.best()
	}
	r.Add(x.lists(shown)...)
	r.Add(x.chart(), x.offAxis(shown, line.AcrossView), x.offAxis(shown, line.UprightView))
	r.Add(result.Findings{Shown: result.At(result.People | result.Data), List: findings})
	return r
}

type crossoverParts struct {
	hung
	c *line.Crossover
}

// summed is a sum with its frequency and its figures.
type summed struct {
	*filter.Sum
	name                 string
	frequency            float64
	figs                 figure.Sum
	vertical, horizontal figure.SumMap
}

func (x crossoverParts) given() summed {
	return summed{x.c.Given, "as given", x.c.Crossing.Frequency, figure.GivenSum, figure.GivenVertical, figure.GivenHorizontal}
}

func (x crossoverParts) best() summed {
	return summed{x.c.Best.Sum, "best found", x.c.Best.Frequency, figure.BestSum, figure.BestVertical, figure.BestHorizontal}
}

// sums are the file's and, where it was looked for, the best found.
func (x crossoverParts) sums() []summed {
	if x.c.Best == nil {
		return []summed{x.given()}
	}
	return []summed{x.given(), x.best()}
}

func delay(s float64) result.Cell {
	return result.Num(math.Max(s, 0), quantity.Time).As(quantity.Style{Verb: "%.3f"})
}

// settings puts what the file has beside the best found.
func (x crossoverParts) settings() result.Table {
	c := &x.c.Crossing
	t := result.Table{Shown: result.At(result.People), Columns: []result.Column{headed(value, "as given")},
		Title: result.Say("CROSSOVER %s to %s, %s order %s", c.Low, c.High, c.Alignment.String(), result.Count(c.Order))}
	if x.c.Best != nil {
		t.Columns = append(t.Columns, headed(value, "best found"))
	}
	t.Columns = append(t.Columns, headed(trust, "trust"))
	var rows result.List
	of := func(label string, cell func(s summed) result.Cell) {
		var cells []result.Cell
		for _, s := range x.sums() {
			cells = append(cells, cell(s))
		}
		rows.Row(result.Plain(label), cells...)
	}
	of("frequency", func(s summed) result.Cell { return hertz(s.frequency) })
	of("delay of the "+c.Low, func(s summed) result.Cell { return delay(s.Low.Delay) })
	of("delay of the "+c.High, func(s summed) result.Cell { return delay(s.High.Delay) })
	of("polarity", func(s summed) result.Cell { return result.Word(x.polarity(s)) })
	of("deepest notch in the coverage", func(s summed) result.Cell { return result.Fig(s.figs.Notch, s.Deepest.Loss) })
	of("  where", func(s summed) result.Cell {
		return result.Phrase(result.Say("%s, %s", hertz(s.Deepest.Frequency), aside(s.Deepest)))
	})
	of("  against the axis there", func(s summed) result.Cell { return result.Fig(s.figs.NotchRelative, s.Deepest.Level) })
	of("largest loss on axis", func(s summed) result.Cell { return result.Fig(s.figs.AxisLoss, axisLoss(s.Sum)) })
	t.Rows = rows.Rows()
	return t
}

func (x crossoverParts) polarity(s summed) string {
	if s.High.Invert != s.Low.Invert {
		return x.c.Crossing.High + " inverted"
	}
	return "alike"
}

// aside says to which side of the axis a notch lies.
func aside(n filter.Notch) result.Text {
	sides := [2]string{"up", "down"}
	if n.Plane == field.Horizontal {
		sides = [2]string{"left", "right"}
	}
	switch {
	case math.Abs(n.Angle) < 1e-9:
		return result.Plain("on axis")
	case n.Angle > 0:
		return result.Say("%s %s", angle(n.Angle), sides[0])
	}
	return result.Say("%s %s", angle(-n.Angle), sides[1])
}

// axisLoss is the most that the two ways fail to help each other on axis, dB.
func axisLoss(s *filter.Sum) float64 {
	worst := 0.0
	middle := len(s.Vertical.Angle) / 2
	for _, row := range s.Vertical.Loss {
		worst = math.Min(worst, row[middle])
	}
	return worst
}

// bandTables are the tables of the file that hold each band's keys.
var bandTables = map[string]string{"woofers": "woofer", "mids": "mid", "horn": "horn"}

// PasteCrossover returns the lines of a design file that set the best crossover.
func PasteCrossover(c *line.Crossover) []PasteLine {
	low, high := bandTables[c.Crossing.Low], bandTables[c.Crossing.High]
	frequency := "crossover.frequency"
	if c.Crossing.High == "mids" {
		frequency = "crossover.low_frequency"
	}
	b := c.Best
	polarity := filter.Normal
	if b.Invert {
		polarity = filter.Inverted
	}
	milli := func(s float64) string { return quoted(math.Max(s, 0)*1e3, "ms") }
	return []PasteLine{
		{frequency, quoted(math.Round(b.Frequency), "Hz")},
		{low + ".delay", milli(-b.Delay)}, {high + ".delay", milli(b.Delay)}, {high + ".polarity", strconv.Quote(polarity.String())},
	}
}

// paste is what sets the best crossover found, and where it was looked for.
func (x crossoverParts) paste() result.Prose {
	p := result.Prose{Shown: result.At(result.People), Indent: "  "}
	if x.c.Best == nil {
		return p
	}
	var parts []result.Text
	for _, l := range PasteCrossover(x.c) {
		parts = append(parts, result.Plain(l.Key+" = "+l.Value))
	}
	p.Texts = []result.Text{result.Say("to paste: %s", joined("; ", parts...)),
		result.Say("searched from %s to %s; coverage %s by %s", hertz(x.c.From), hertz(x.c.To), angle(x.c.Horizontal), angle(x.c.Vertical))}
	return p
}

// curves are levels and phase on axis of one sum.
func (x crossoverParts) curves(s summed) []curve {
	return []curve{
		{figure: s.figs.OnAxis, y: s.OnAxis, head: "sum"}, {figure: s.figs.Low, y: s.LowAxis, head: x.c.Crossing.Low},
		{figure: s.figs.High, y: s.HighAxis, head: x.c.Crossing.High}, {figure: s.figs.Phase, y: s.OnAxisPhase, head: "phase"},
	}
}

// responseRows is about how many frequencies the screen shows.
const responseRows = 14

// response samples the level on axis.
func (x crossoverParts) response() result.Table {
	cs := x.curves(x.given())
	if x.c.Best != nil {
		best := x.curves(x.best())[0]
		best.head = "best sum"
		cs = append(cs, best)
	}
	return sampled(result.At(result.People), "ON AXIS, dB", each(x.c.Hz, preferred.Nominal), max(1, len(x.c.Hz)/responseRows), cs)
}

// lists are the views of a sum as CSV.
func (x crossoverParts) lists(s summed) []result.Part {
	frequency := curve{figure: figure.CrossoverFrequency, y: x.c.Hz}
	out := []result.Part{listed(result.View(string(line.ResponseView), result.Listing), append([]curve{frequency}, x.curves(s)...))}
	for _, v := range []struct {
		view line.CrossoverView
		m    *filter.Map
		f    figure.SumMap
	}{{line.UprightView, &s.Vertical, s.vertical}, {line.AcrossView, &s.Horizontal, s.horizontal}} {
		columns := columnsOf(figure.CrossoverFrequency, v.f.Angle, v.f.Relative, v.f.Level, v.f.Loss)
		rows := func(row func(...float64) bool) {
			for i, f := range x.c.Hz {
				for j, a := range v.m.Angle {
					if !row(f, a, v.m.Normalised[i][j], v.m.Level[i][j], v.m.Loss[i][j]) {
						return
					}
				}
			}
		}
		out = append(out, long(string(v.view), columns, rows))
	}
	return out
}

// data is stack, crossover and sums for programs.
func (x crossoverParts) data() []result.Part {
	c := x.c
	cross := &c.Crossing
	out := append(x.hung.data(),
		group("crossing", object(under("low", result.Word(cross.Low)), under("high", result.Word(cross.High)), fact(figure.CrossingFrequency, cross.Frequency),
			fact(figure.CrossingOrder, float64(cross.Order)), under("alignment", result.Word(cross.Alignment.String())),
			under("frequency_from_file", result.Yes(cross.FromFile)))),
		object(fact(figure.CoverageVertical, c.Vertical), fact(figure.CoverageHorizontal, c.Horizontal), fact(figure.CrossoverDistance, c.Distance),
			list(figure.CrossoverWindow, []float64{c.From, c.To}), list(figure.CrossoverFrequency, c.Hz)),
		group("given", x.given().data()...))
	if b := c.Best; b != nil {
		out = append(out, group("best", object(fact(figure.BestFrequency, b.Frequency), fact(figure.BestDelay, b.Delay), under("inverted", result.Yes(b.Invert)),
			fact(figure.BestTried, float64(b.Evaluations))), group("sum", x.best().data()...)))
	}
	return out
}

func (s summed) data() []result.Part {
	f, n := s.figs, s.Deepest
	plane := "vertical"
	if n.Plane == field.Horizontal {
		plane = "horizontal"
	}
	return []result.Part{
		object(list(f.OnAxis, s.OnAxis), list(f.Low, s.LowAxis), list(f.High, s.HighAxis), list(f.Phase, s.OnAxisPhase), fact(f.AxisLoss, axisLoss(s.Sum))),
		group("notch", object(fact(f.Notch, n.Loss), fact(f.NotchRelative, n.Level), fact(f.NotchAt, n.Frequency), fact(f.NotchAngle, n.Angle),
			under("plane", result.Word(plane)))),
		mapData("vertical", &s.Vertical, s.vertical), mapData("horizontal", &s.Horizontal, s.horizontal),
	}
}

func mapData(key string, m *filter.Map, f figure.SumMap) result.Section {
	return group(key, object(list(f.Angle, m.Angle)), levels(f.Level, m.Level), levels(f.Relative, m.Normalised), levels(f.Loss, m.Loss))
}
