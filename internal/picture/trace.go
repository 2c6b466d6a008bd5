package picture

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/screen"
	"gapline/internal/study/trace"
	"gapline/plots"
)

// Overlay draws measured traces over the prediction, the differences below, and
// a panel for each pair.
func Overlay(d *design.Design, v *trace.Overlay, sys quantity.System) plots.Figure {
	t := tracePicture{v: v, sys: sys}
	s := sizing.Size(d)
	chart := plots.Chart{X: t.axis()}
	chart.Panels = append(chart.Panels, t.levels())
	if p, ok := t.differences(); ok {
		chart.Panels = append(chart.Panels, p)
	}
	for i := range v.Pairs {
		chart.Panels = append(chart.Panels, t.pair(&v.Pairs[i]))
	}
	trust, origin := "", "traces as read from files"
	if v.Prediction != nil {
		trust, origin = v.Prediction.Trust.String()+" (predicted)", origin+"; predicted by gapline"
	}
	chart.Caption = caption(t.title(), t.subtitle(), d, &s, trust, t.alt(), sys)
	chart.Origin = origin
	return chart
}

type tracePicture struct {
	v   *trace.Overlay
	sys quantity.System
}

func (t *tracePicture) title() string {
	if t.v.Prediction == nil {
		return "Measured responses"
	}
	return "Measured and predicted: " + t.v.Prediction.Name
}

func (t *tracePicture) subtitle() string {
	parts := []string{"smoothing " + t.v.Options.Smoothing.String(), "levels " + screen.AlignText(t.v, t.sys)}
	if p := t.v.Prediction; p != nil {
		dashed := fmt.Sprintf("dashed: predicted, %s, up to %s (%s)", p.Conditions, quantity.Format(p.Limit, quantity.Frequency, t.sys), p.LimitWhy)
		if slices.ContainsFunc(t.v.Pairs, func(q trace.Pair) bool { return q.Predicted != nil }) {
			dashed += ", for a pair with minus without the insert"
		}
		parts = append([]string{dashed}, parts...)
	} else {
		parts = append(parts, "no prediction: "+t.v.Why)
	}
	return strings.Join(parts, "; ")
}

// axis covers the traces, widened to 1, 2 or 5 times a power of ten.
func (t *tracePicture) axis() plots.Axis {
	f := t.v.Frequency
	low, high := roundDown(math.Max(f[0], 10)), roundUp(math.Min(f[len(f)-1], 20e3))
	if !(low < high) {
		low, high = roundDown(f[0]), roundUp(f[len(f)-1])
	}
	return plots.Axis{Kind: plots.Frequency, Low: low, High: high}
}

// overhang is how far the data may reach beyond the axis, which saves an
// octave of empty axis beyond 20 kHz.
const overhang = 0.02

// steps are the ends that a frequency axis may have within a decade.
var steps = []float64{1, 2, 5, 10}

func roundDown(f float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(f)))
	best := p
	for _, s := range steps {
		if s*p <= f*(1+1e-9) {
			best = s * p
		}
	}
	return best
}

func roundUp(f float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(f)))
	for _, s := range steps {
		if s*p >= f*(1-overhang) {
			return s * p
		}
	}
	return 10 * p
}

// Colours: the prediction has the first of the palette and a dashed line in every
// panel, the traces take the others in turn.
const predictedColour = 1

func traceColour(i int) int { return 2 + i%5 }

// measuredDash keeps the traces apart in a grey print.
func measuredDash(i int) plots.Dash {
	return []plots.Dash{plots.Solid, plots.LongDash, plots.DashDot, plots.Dotted, plots.ShortDash}[i%5]
}

func (t *tracePicture) levels() plots.Panel {
	p := plots.Panel{Y: plots.Axis{Label: "Level", Unit: "dB"}, Proportion: plots.LevelProportion}
	if q := t.v.Prediction; q != nil && numeric.AnyGiven(q.Level) {
		p.Y.Unit = "dB re 20 µPa"
		p.Curves = append(p.Curves, plots.Curve{X: t.v.Frequency, Y: q.Level, Colour: predictedColour, Dash: plots.Dashed})
	}
	for i := range t.v.Curves {
		c := &t.v.Curves[i]
		p.Curves = append(p.Curves, plots.Curve{Label: c.Name, X: t.v.Frequency, Y: c.Level, Colour: traceColour(i), Dash: measuredDash(i)})
	}
	return withinTop(p)
}

// shownBelow is how far below the highest level of each curve a panel reaches:
// what lies deeper is noise or a notch, which would press the rest together.
const shownBelow = 50 // dB

// withinTop limits the panel's range where a curve reaches deeper.
func withinTop(p plots.Panel) plots.Panel {
	bottom, high, deep := math.Inf(1), math.Inf(-1), false
	for _, c := range p.Curves {
		low, top := extent(c.Y)
		if low <= top {
			bottom, high = math.Min(bottom, math.Max(low, top-shownBelow)), math.Max(high, top)
			deep = deep || low < top-shownBelow
		}
	}
	if deep {
		const step = 5
		p.Y.Low, p.Y.High = math.Floor(bottom/step)*step, math.Ceil(high/step)*step
	}
	return p
}

// extent returns the least and the greatest of the values that there are.
func extent(ys []float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, y := range ys {
		if numeric.Given(y) {
			low, high = math.Min(low, y), math.Max(high, y)
		}
	}
	return low, high
}

// differences is the panel of differences against the reference.
func (t *tracePicture) differences() (plots.Panel, bool) {
	if t.v.Prediction == nil && len(t.v.Pairs) > 0 && len(t.v.Curves) == 2 {
		return plots.Panel{}, false // the pair's own panel shows it
	}
	p := differencePanel("Measured − " + t.v.Reference)
	for i := range t.v.Curves {
		if c := &t.v.Curves[i]; numeric.AnyGiven(c.Difference) {
			p.Curves = append(p.Curves, plots.Curve{Label: t.endLabel(c), X: t.v.Frequency, Y: c.Difference, Colour: traceColour(i), Dash: measuredDash(i)})
		}
	}
	return within(p), len(p.Curves) > 0
}

// endLabel names a difference at its end, unless the prediction ends it far from
// the panel's edge: a leader line across the panel would look like data. Colour
// and dash then tell which trace of the panel above it is.
func (t *tracePicture) endLabel(c *trace.Curve) string {
	if p := t.v.Prediction; p != nil && p.Limit < t.axis().High/2 {
		return ""
	}
	return c.Name
}

func differencePanel(title string) plots.Panel {
	return plots.Panel{Y: plots.Axis{Label: title, Unit: "dB"}, Guides: []plots.Guide{{Value: 0, Strong: true}}, Proportion: plots.LevelProportion}
}

// mostDifference bounds the panels of differences about their middle.
const mostDifference = 15 // dB, either way

// within limits the panel's range where the differences are wide.
func within(p plots.Panel) plots.Panel {
	var all []float64
	for _, c := range p.Curves {
		for _, y := range c.Y {
			if numeric.Given(y) {
				all = append(all, y)
			}
		}
	}
	if len(all) == 0 {
		return p
	}
	slices.Sort(all)
	const step = 5
	middle := math.Round(all[len(all)/2]/step) * step
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

// pair is the panel of one pair: its difference, the band of agreement, and the
// limits.
func (t *tracePicture) pair(q *trace.Pair) plots.Panel {
	p := differencePanel("Difference of the pair")
	p.Curves = []plots.Curve{{Label: q.With + " − " + q.Without, X: t.v.Frequency, Y: q.Difference, Colour: traceColour(0), Dash: plots.Solid}}
	if q.Predicted != nil {
		p.Curves = append(p.Curves, plots.Curve{X: t.v.Frequency, Y: q.Predicted, Colour: predictedColour, Dash: plots.Dashed})
	}
	db := t.v.Options.PartLevel
	p.Zones = []plots.Zone{{Low: -db, High: db, Text: fmt.Sprintf("within ±%g dB", db)}}
	if f := q.Parting.Limit; numeric.Given(f) {
		p.Guides = append(p.Guides, plots.Guide{Value: f, Vertical: true, Strong: true,
			Text: fmt.Sprintf("parts by ±%g dB at %s", db, quantity.Format(f, quantity.Frequency, t.sys))})
	}
	for _, l := range q.Limits {
		p.Guides = append(p.Guides, plots.Guide{Value: l.Value, Vertical: true, Text: shortLimit(l)})
	}
	return within(p)
}

// shortLimit names a predicted limit beside its line.
func shortLimit(l trace.Limit) string {
	words := map[*figure.Def]string{
		figure.CouplingOpen.HalfWave: "cones, half-wave", figure.CouplingOpen.Lobe: "cones, lobe",
		figure.CouplingInsert.HalfWave: "insert, half-wave", figure.CouplingInsert.Lobe: "insert, lobe",
		figure.CouplingInsertChamber: "chamber corner", figure.CouplingMid.HalfWave: "mids, half-wave", figure.CouplingMid.Lobe: "mids, lobe",
	}
	return words[l.Figure] + " (" + l.Trust.String() + ")"
}

func (t *tracePicture) alt() string {
	var names []string
	for i := range t.v.Curves {
		names = append(names, t.v.Curves[i].Name)
	}
	text := fmt.Sprintf("Levels against frequency of %s", strings.Join(names, ", "))
	if t.v.Prediction != nil {
		text += " over the predicted " + t.v.Prediction.Name
	}
	text += "."
	for i := range t.v.Pairs {
		q := &t.v.Pairs[i]
		text += fmt.Sprintf(" %s minus %s: %s", q.With, q.Without, screen.PartingText(t.v, q, t.sys))
	}
	return text
}
