package describe

import (
	"fmt"

	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/measured"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/trace"
)

// TraceCurves is the view of the curves in CSV, in place of the statistics.
const TraceCurves = "curves"

// Trace describes measured responses laid over the prediction: what they are laid
// over, statistics per octave, and where pairs part.
func Trace(v *trace.Overlay) *result.Result {
	t := traceParts{v}
	r := &result.Result{Title: v.Design.Title, Head: t.head()}
	for i := range v.Curves {
		r.Add(t.curve(&v.Curves[i])...)
	}
	for i := range v.Pairs {
		r.Add(t.pair(&v.Pairs[i])...)
	}
	r.Add(t.statistics(), t.columns())
	r.Add(t.data()...)
	cautions := advice.TraceCautions(v)
	r.Add(t.chart(), t.remarks(), result.Findings{Shown: result.At(result.Page), List: advice.TraceFindings(v)},
		result.Findings{Shown: result.At(result.Screen), List: cautions}, result.Findings{Shown: result.At(result.Data), Key: "cautions", List: cautions, Bare: true})
	return r
}

type traceParts struct{ *trace.Overlay }

func (t traceParts) head() []result.Text {
	smoothing, levels := result.Plain("smoothing: "+t.Options.Smoothing.String()), result.Say("levels: %s", t.aligned())
	p := t.Prediction
	if p == nil {
		return []result.Text{result.Say("laid over no prediction: %s", t.Why), smoothing, levels}
	}
	out := []result.Text{result.Plain("laid over: " + predictionName(p) + ", trust: " + p.Trust.String())}
	if t.Bare != nil {
		out = append(out, result.Say("  and without the insert over bare cones: %s", joined(", ", t.bareNames()...)))
	}
	return append(out, result.Say("  %s; %s", conditions(p), shownUpTo(p)), smoothing, levels)
}

// bareNames are the traces that are laid over bare cones beside others with the insert.
func (t traceParts) bareNames() (out []result.Text) {
	for i := range t.Curves {
		if c := &t.Curves[i]; c.Prediction == t.Bare {
			out = append(out, result.Plain(c.Name))
		}
	}
	return out
}

// minus names what a trace is compared with.
func (t traceParts) minus(c *trace.Curve) string {
	if t.Bare != nil && c.Prediction == t.Bare {
		return t.Reference + " of bare cones"
	}
	return t.Reference
}

// predictionName says what is predicted.
func predictionName(p *trace.Prediction) string {
	if p.Insert {
		return "box low-frequency response, with the insert"
	}
	return "box low-frequency response, bare cones"
}

// conditions are model, boundary, distance and drive of a prediction.
func conditions(p *trace.Prediction) result.Text {
	return result.Say("lumped circuit with exact radiation, one box, half space, 1 m, %s", result.Num(p.Volts, quantity.Voltage))
}

// limitWhy says what ends a prediction.
var limitWhy = fmt.Sprintf("k·a = %d of the cone", trace.PistonLimit)

func shownUpTo(p *trace.Prediction) result.Text {
	return result.Say("shown up to %s (%s)", hertz(p.Limit), limitWhy)
}

// aligned says what was done to the levels.
func (t traceParts) aligned() result.Text {
	if t.Band[1] == 0 {
		return result.Plain("as measured")
	}
	return result.Say("moved to match %s from %s to %s", t.Reference, hertz(t.Band[0]), hertz(t.Band[1]))
}

// shift is what a level was moved by.
func shift(db float64) result.Cell { return level(db).As(quantity.Style{Verb: "%+.1f"}) }

// curve is one trace for people.
func (t traceParts) curve(c *trace.Curve) []result.Part {
	title := result.Say("TRACE %s", c.Name)
	switch {
	case t.Band[1] == 0 || c.Difference == nil:
	case !numeric.Given(c.Moved):
		title = title.And(result.Plain(", not moved: it does not cover the band"))
	default:
		title = title.And(result.Say(", moved by %s", shift(c.Moved)))
	}
	on := result.At(result.Screen)
	s := result.Section{Shown: on, Title: title, Spaced: true}
	notes := result.Prose{Shown: on, Indent: "  ", Hang: "  "}
	for _, n := range c.Notes {
		notes.Texts = append(notes.Texts, result.Plain(n))
	}
	s.Parts = append(s.Parts, notes)
	if c.Octaves == nil {
		s.Parts = append(s.Parts, result.Prose{Shown: on, Indent: "  ", Texts: []result.Text{result.Say("no frequency in common with %s", t.Reference)}})
		return []result.Part{s}
	}
	if hint := advice.Apart(t.Overlay, c); !hint.Empty() {
		s.Parts = append(s.Parts, result.Prose{Shown: on, Indent: "  ", Texts: []result.Text{hint}})
	}
	labels := "level, octave"
	if c.Difference != nil {
		labels = "minus " + t.minus(c) + ", octave"
	}
	table := bandTable(c.Octaves, c.Difference != nil, figure.TraceBands)
	s.Parts = append(s.Parts, forScreen(table, labels))
	return []result.Part{s, forPage(table, "Trace "+c.Name, labels)}
}

// pair is one pair for people.
func (t traceParts) pair(p *trace.Pair) []result.Part {
	title := result.Say("PAIR %s", pairName(p))
	if p.Moved != 0 {
		title = title.And(result.Say(", the second moved by %s", shift(p.Moved)))
	}
	s := result.Section{Shown: result.At(result.Screen), Title: title, Spaced: true, Parts: []result.Part{
		result.Prose{Shown: result.At(result.Screen), Indent: "  ", Texts: []result.Text{advice.Parting(t.Overlay, p), result.Plain(advice.Rule(p))}}}}
	var page []result.Part
	caption := "Pair " + pairName(p)
	if len(p.Limits) > 0 {
		limits := limitTable(p)
		s.Parts = append(s.Parts, alone(forScreen(limits, "predicted limits")))
		page = append(page, forPage(limits, caption+": predicted limits", "limit"))
	}
	const labels = "difference, octave"
	table := bandTable(p.Octaves, true, figure.PairBands)
	s.Parts = append(s.Parts, forScreen(table, labels))
	return append([]result.Part{s}, append(page, forPage(table, caption, labels))...)
}

func pairName(p *trace.Pair) string { return p.With + " minus " + p.Without }

// forScreen heads the labels of a table within a section.
func forScreen(t result.Table, labels string) result.Table {
	t.Shown, t.Title = result.At(result.Screen), result.Plain("  "+labels)
	return t
}

// forPage is the table under its own caption.
func forPage(t result.Table, caption, labels string) result.Table {
	t.Shown, t.Title, t.Labels = result.At(result.Page), result.Plain(caption), labels
	return t
}

// bandTable holds statistics per octave. The worst value makes sense of differences
// only.
func bandTable(bands []measured.Band, difference bool, f figure.Bands) result.Table {
	heads := []string{"mean dB", "std dB"}
	if difference {
		heads = append(heads, "worst dB", "at")
	}
	var t result.Table
	for _, head := range append(heads, "covered") {
		t.Columns = append(t.Columns, headed(value, head))
	}
	var rows result.List
	for _, b := range bands {
		mean := result.Fig(f.Mean, b.Mean)
		if !difference {
			mean = mean.As(f.Deviation.Style)
		}
		cells := []result.Cell{mean, result.Fig(f.Deviation, b.Deviation)}
		if difference {
			cells = append(cells, result.Fig(f.Worst, b.Worst), result.Fig(f.WorstAt, b.WorstAt))
		}
		rows.Row(bandName(b), append(cells, shareCovered(b, f))...)
	}
	t.Rows = rows.Rows()
	return t
}

// leastCovered is the share of a band up to which people are told how much of it has
// values.
const leastCovered = 0.95

func shareCovered(b measured.Band, f figure.Bands) result.Cell {
	if b.Covered < leastCovered {
		return result.Fig(f.Covered, b.Covered)
	}
	return result.None
}

func bandName(b measured.Band) result.Text {
	if !numeric.Given(b.Nominal) {
		return result.Say("%s to %s", hertz(b.Low), hertz(b.High))
	}
	return result.Say("%s", short(b.Nominal))
}

// limitTable sets the predicted limits beside the measured one.
func limitTable(p *trace.Pair) result.Table {
	var rows result.List
	for _, l := range p.Limits {
		rows.Row(result.Plain(limitName(l.Figure)), result.Fig(l.Figure, l.Value).Trusted(l.Trust), above(l.Octaves))
	}
	return result.Table{Columns: []result.Column{value, headed(trust, "trust"), headed(value, "measured is")}, Rows: rows.Rows()}
}

// lineNames tell the lines of mouths apart, whose figures share their names.
var lineNames = map[string]string{figure.HornPatternRule.Group(): "horn", figure.CouplingOpen.Lobe.Group(): "bare cones", figure.CouplingInsert.Lobe.Group(): "with insert", figure.CouplingMid.Lobe.Group(): "mids"}

func limitName(f *figure.Def) string {
	if line := lineNames[f.Group()]; line != "" {
		return line + ": " + f.Name
	}
	return "one box: " + f.Name
}

// above says how far the measured limit is above or below the predicted one.
func above(octaves float64) result.Cell {
	switch {
	case !numeric.Given(octaves):
		return result.Fig(figure.PairAbove, octaves)
	case octaves >= 0:
		return result.Phrase(result.Say("%s above", result.Fig(figure.PairAbove, octaves)))
	}
	return result.Phrase(result.Say("%s below", result.Fig(figure.PairAbove, -octaves)))
}

// remarks are what was done while the traces were read, for the document.
func (t traceParts) remarks() result.Prose {
	p := result.Prose{Shown: result.At(result.Page)}
	for i := range t.Curves {
		for _, n := range t.Curves[i].Notes {
			p.Texts = append(p.Texts, result.Plain(t.Curves[i].Name+": "+n))
		}
	}
	return p
}
