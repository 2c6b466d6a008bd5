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
	r.Add(x.settings(), x.paste(), x.ways(), x.response())
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
	return summed{x.c.Best.Sum, x.found(), x.c.Best.Frequency, figure.BestSum, figure.BestVertical, figure.BestHorizontal}
}

// found names what the search found.
func (x crossoverParts) found() string {
	if x.c.LeastBad() {
		return "least bad"
	}
	return "best found"
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
		t.Columns = append(t.Columns, headed(value, x.found()))
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
	of("delay of the "+c.Low+" at the mouths", func(s summed) result.Cell { return delay(s.Low.Delay) })
	of("delay of the "+c.High+" at the mouths", func(s summed) result.Cell { return delay(s.High.Delay) })
	of("  at the processor, "+c.Low, func(s summed) result.Cell { low, _ := x.c.Outputs(s.Sum); return result.Fig(s.figs.LowOutput, low) })
	of("  at the processor, "+c.High, func(s summed) result.Cell { _, high := x.c.Outputs(s.Sum); return result.Fig(s.figs.HighOutput, high) })
	of("polarity", func(s summed) result.Cell { return result.Word(x.polarity(s)) })
	of("deepest notch in the coverage", func(s summed) result.Cell { return result.Fig(s.figs.Notch, s.Deepest.Loss) })
	of("  where", func(s summed) result.Cell {
		return result.Phrase(result.Say("%s, %s", hertz(s.Deepest.Frequency), aside(s.Deepest)))
	})
	of("  against the axis there", func(s summed) result.Cell { return result.Fig(s.figs.NotchRelative, s.Deepest.Level) })
	of("largest loss on axis", func(s summed) result.Cell { return result.Fig(s.figs.AxisLoss, s.Axis) })
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

// ways tells how far the sound goes inside the boxes, and where that is counted.
func (x crossoverParts) ways() result.Table {
	t := result.Table{Shown: result.At(result.People), Title: result.Plain("WAYS inside a box"), Labels: "band",
		Columns: []result.Column{headed(value, "driver to mouth"), headed(value, "takes"), headed(value, "mouth to front"), headed(value, "takes")}}
	var rows result.List
	for _, w := range []struct {
		name string
		way  line.Way
		f    figure.Way
	}{{x.c.Crossing.Low, x.c.Low, figure.LowWay}, {x.c.Crossing.High, x.c.High, figure.HighWay}} {
		rows.Row(result.Plain(w.name), result.Fig(w.f.Inside, w.way.Inside), result.Fig(w.f.InsideTime, w.way.Time()),
			result.Fig(w.f.Setback, w.way.Setback), result.Fig(w.f.SetbackTime, w.way.SetbackTime()))
	}
	t.Rows = rows.Rows()
	return t
}

// bandTables are the tables of the file that hold each band's keys.
var bandTables = map[string]string{"woofers": "woofer", "mids": "mid", "horn": "horn"}

// PasteCrossover returns the lines of a design file that set the best crossover. Its
// frequency and delay are in the steps of filter.Best, so that nothing is rounded here.
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
		{frequency, quoted(b.Frequency, "Hz")},
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
		best.head = x.bestSum()
		cs = append(cs, best)
	}
	return sampled(result.At(result.People), "ON AXIS, dB", each(x.c.Hz, preferred.Nominal), max(1, len(x.c.Hz)/responseRows), cs)
}

// bestSum names the sum of what the search found.
func (x crossoverParts) bestSum() string {
	if x.c.LeastBad() {
		return "least bad sum"
	}
	return "best sum"
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
