package describe

import (
	"math"
	"slices"
	"strings"

	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/trace"
)

// chart draws the traces over the prediction, the differences below, and a panel for
// each pair.
func (t traceParts) chart() result.Series {
	s := result.Series{Shown: result.At(result.Drawn | result.Page), X: t.axis(), Panels: []result.Panel{t.levels()}}
	if p, ok := t.differences(); ok {
		s.Panels = append(s.Panels, p)
	}
	for i := range t.Pairs {
		s.Panels = append(s.Panels, t.pairPanel(&t.Pairs[i]))
	}
	c := result.Caption{ID: "measured", Page: "Measured responses over the prediction", Title: "Measured responses",
		Subtitle: t.subtitle(), Origin: "traces as read from files", Alt: t.alt()}
	if p := t.Prediction; p != nil {
		c.Title = "Measured and predicted: " + predictionName(p)
		c.Trust, c.Origin = p.Trust.String()+" (predicted)", c.Origin+"; predicted by gapline"
	}
	s.Caption = captioned(c, t.Design, &t.Sizing)
	return s
}

func (t traceParts) subtitle() result.Text {
	text := result.Say("smoothing %s; levels %s", t.Options.Smoothing.String(), t.aligned())
	p := t.Prediction
	if p == nil {
		return result.Say("%s; no prediction: %s", text, t.Why)
	}
	dashed := result.Say("dashed: predicted, %s, up to %s (%s)", conditions(p), hertz(p.Limit), limitWhy)
	if slices.ContainsFunc(t.Pairs, func(q trace.Pair) bool { return q.Predicted != nil }) {
		dashed = dashed.And(result.Plain(", for a pair with minus without the insert"))
	}
	if t.Bare != nil {
		dashed = dashed.And(result.Say("; dotted: predicted of bare cones, for %s", joined(", ", t.bareNames()...)))
	}
	return result.Say("%s; %s", dashed, text)
}

func (t traceParts) alt() result.Text {
	var names []string
	for i := range t.Curves {
		names = append(names, t.Curves[i].Name)
	}
	text := "Levels against frequency of " + strings.Join(names, ", ")
	if t.Prediction != nil {
		text += " over the predicted " + predictionName(t.Prediction)
	}
	alt := result.Plain(text + ".")
	for _, f := range advice.TraceFindings(t.Overlay) {
		alt = alt.And(result.Say(" %s", f.Text))
	}
	return alt
}

// axis covers the traces, widened to 1, 2 or 5 times a power of ten.
func (t traceParts) axis() result.Axis {
	f := t.Frequency
	low, high := roundDown(math.Max(f[0], 10)), roundUp(math.Min(f[len(f)-1], 20e3))
	if !(low < high) {
		low, high = roundDown(f[0]), roundUp(f[len(f)-1])
	}
	return result.Axis{Kind: quantity.Frequency, Scale: result.FrequencyScale, Low: low, High: high}
}

// overhang is how far the data may reach beyond the axis, which saves an
// octave of empty axis beyond 20 kHz.
const overhang = 0.02

// axisEnds are the ends that a frequency axis may have within a decade.
var axisEnds = []float64{1, 2, 5, 10}

func roundDown(f float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(f)))
	best := p
	for _, s := range axisEnds {
		if s*p <= f*(1+1e-9) {
			best = s * p
		}
	}
	return best
}

func roundUp(f float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(f)))
	for _, s := range axisEnds {
		if s*p >= f*(1-overhang) {
			return s * p
		}
	}
	return 10 * p
}

// predictedCurve is the prediction, in the first colour of the palette and dashed in
// every panel.
func (t traceParts) predictedCurve(y []float64) result.Curve {
	return result.Curve{X: t.Frequency, Y: y, Colour: 1, Dash: result.Dashed}
}

// measuredCurve is trace i: the traces take the other colours in turn, and dashes that
// keep them apart in a grey print.
func (t traceParts) measuredCurve(i int, label string, y []float64) result.Curve {
	dashes := []result.Dash{result.Solid, result.LongDash, result.DashDot, result.Dotted, result.ShortDash}
	return result.Curve{Label: result.Plain(label), X: t.Frequency, Y: y, Colour: 2 + i%5, Dash: dashes[i%5]}
}

func (t traceParts) levels() result.Panel {
	p := result.Panel{Y: result.Axis{Label: "Level", Kind: quantity.Level, Unit: "dB"}, Proportion: result.LevelProportion}
	if q := t.Prediction; q != nil && numeric.AnyGiven(q.Level) {
		p.Y.Unit = "dB re 20 µPa"
		p.Curves = append(p.Curves, t.predictedCurve(q.Level))
	}
	if q := t.Bare; q != nil && numeric.AnyGiven(q.Level) {
		bare := t.predictedCurve(q.Level)
		bare.Dash = result.Dotted
		p.Curves = append(p.Curves, bare)
	}
	for i := range t.Curves {
		p.Curves = append(p.Curves, t.measuredCurve(i, t.Curves[i].Name, t.Curves[i].Level))
	}
	return withinTop(p)
}

// shownBelow is how far below the highest level of each curve a panel reaches:
// what lies deeper is noise or a notch, which would press the rest together.
const shownBelow = 50 // dB

// roundTo is the step in dB to which the ends of a panel are rounded.
const roundTo = 5

// withinTop limits the panel's range where a curve reaches deeper.
func withinTop(p result.Panel) result.Panel {
	bottom, high, deep := math.Inf(1), math.Inf(-1), false
	for _, c := range p.Curves {
		if all := sortedValues(c); len(all) > 0 {
			low, top := all[0], all[len(all)-1]
			bottom, high = math.Min(bottom, math.Max(low, top-shownBelow)), math.Max(high, top)
			deep = deep || low < top-shownBelow
		}
	}
	if deep {
		p.Y.Low, p.Y.High = math.Floor(bottom/roundTo)*roundTo, math.Ceil(high/roundTo)*roundTo
	}
	return p
}

// sortedValues are the values that curves have, rising.
func sortedValues(curves ...result.Curve) []float64 {
	var all []float64
	for _, c := range curves {
		for _, y := range c.Y {
			if numeric.Given(y) {
				all = append(all, y)
			}
		}
	}
	slices.Sort(all)
	return all
}

// differences is the panel of differences against the reference.
func (t traceParts) differences() (result.Panel, bool) {
	if t.Prediction == nil && len(t.Pairs) > 0 && len(t.Curves) == 2 {
		return result.Panel{}, false // the pair's own panel shows it
	}
	p := differencePanel("Measured − " + t.Reference)
	for i := range t.Curves {
		if c := &t.Curves[i]; numeric.AnyGiven(c.Difference) {
			p.Curves = append(p.Curves, t.measuredCurve(i, t.endLabel(c), c.Difference))
		}
	}
	return within(p), len(p.Curves) > 0
}

// endLabel names a difference at its end, unless the prediction ends it far from
// the panel's edge: a leader line across the panel would look like data. Colour
// and dash then tell which trace of the panel above it is.
func (t traceParts) endLabel(c *trace.Curve) string {
	if p := t.Prediction; p != nil && p.Limit < t.axis().High/2 {
		return ""
	}
	return c.Name
}

func differencePanel(title string) result.Panel {
	return result.Panel{Y: result.Axis{Label: title, Kind: quantity.Level, Unit: "dB"}, Guides: []result.Guide{{Value: 0, Strong: true}}, Proportion: result.LevelProportion}
}

// mostDifference bounds the panels of differences about their middle.
const mostDifference = 15 // dB, either way

// within limits the panel's range where the differences are wide.
func within(p result.Panel) result.Panel {
	all := sortedValues(p.Curves...)
	if len(all) == 0 {
		return p
	}
	middle := math.Round(all[len(all)/2]/roundTo) * roundTo
	if math.Abs(middle) < mostDifference {
		middle = 0 // keep the zero line in sight, and in the middle
	} else {
		p.Guides = nil // it would stretch the range to zero
	}
	if all[0] < middle-mostDifference || all[len(all)-1] > middle+mostDifference {
		p.Y.Low, p.Y.High = middle-mostDifference, middle+mostDifference
	}
	return p
}

// pairPanel is the panel of one pair: its difference, the band of agreement, and the
// limits.
func (t traceParts) pairPanel(q *trace.Pair) result.Panel {
	p := differencePanel("Difference of the pair")
	p.Curves = []result.Curve{t.measuredCurve(0, q.With+" − "+q.Without, q.Difference)}
	if q.Predicted != nil {
		p.Curves = append(p.Curves, t.predictedCurve(q.Predicted))
	}
	if q.Of == trace.OfEdge {
		return t.edgePanel(q, p)
	}
	db := t.Options.PartLevel
	either := level(db).As(quantity.Style{Verb: "±%.14g"})
	p.Zones = []result.Zone{{Low: -db, High: db, Text: result.Say("within %s", either)}}
	if f := q.Parting.Limit; numeric.Given(f) {
		p.Guides = append(p.Guides, result.Guide{Value: f, Vertical: true, Strong: true, Text: result.Say("parts by %s at %s", either, hertz(f))})
	}
	return within(withLimits(p, q))
}

// withLimits adds the predicted limits to the panel of a pair.
func withLimits(p result.Panel, q *trace.Pair) result.Panel {
	for _, l := range q.Limits {
		p.Guides = append(p.Guides, result.Guide{Value: l.Value, Vertical: true, Text: result.Plain(shortLimits[l.Figure] + " (" + l.Trust.String() + ")")})
	}
	return p
}

// edgePanel is the panel of a horn's pair: the axis less the edge, and from where it passes
// 6 dB.
func (t traceParts) edgePanel(q *trace.Pair, p result.Panel) result.Panel {
	p.Guides = append(p.Guides, result.Guide{Value: trace.EdgeFall, Text: result.Say("%s: the horn holds its pattern above", level(trace.EdgeFall))})
	if f := q.Control; numeric.Given(f) {
		p.Guides = append(p.Guides, result.Guide{Value: f, Vertical: true, Strong: true, Text: result.Say("holds from %s", hertz(f))})
	}
	return within(withLimits(p, q))
}

// shortLimits name predicted limits beside their lines.
var shortLimits = map[*figure.Def]string{
	figure.CouplingOpen.HalfWave: "cones, half-wave", figure.CouplingOpen.Lobe: "cones, lobe",
	figure.CouplingInsert.HalfWave: "insert, half-wave", figure.CouplingInsert.Lobe: "insert, lobe",
	figure.PairPredictedLimit: "parts by prediction", figure.CouplingInsertChamber: "chamber corner", figure.CouplingMid.HalfWave: "mids, half-wave", figure.CouplingMid.Lobe: "mids, lobe",
	figure.HornPatternRule: "pattern", figure.HornPatternComputed: "pattern", figure.HornPatternWave: "pattern",
}
