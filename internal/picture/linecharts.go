package picture

import (
	"fmt"
	"math"
	"strings"

	"gapline/cabinet/field"
	"gapline/internal/numeric"
	"gapline/internal/screen"
	"gapline/internal/study/line"
	"gapline/plots"
)

// mostCurves is how many frequencies a chart over distance can show apart.
const mostCurves = 4

// distance draws level along the axis with its slope below.
func (p *linePicture) distance() plots.Chart {
	d := p.r.Distance
	unit, factor := p.metre()
	x := scaled(d.Metre, factor)
	level := plots.Panel{Y: plots.Axis{Label: "Level", Unit: shortReference(p.r)}, Height: 230}
	slope := plots.Panel{Y: plots.Axis{Label: "Drop per doubling", Unit: "dB", Low: -3, High: 12, Step: 3}, Height: 120,
		Guides: []plots.Guide{{Value: 3, Text: "3 dB, cylinder"}, {Value: 6, Text: "6 dB, sphere"}, {Value: 4.5, Text: "4.5 dB"}}}
	shown := few(d.Spectrum, mostCurves, 250, 1000, 4000)
	for n, i := range shown {
		dash := []plots.Dash{plots.Solid, plots.Dashed, plots.DashDot, plots.LongDash}[n%4]
		level.Curves = append(level.Curves, plots.Curve{Label: hzName(d.Hz[i]), X: x, Y: finite(d.Level[i]), Colour: 1 + n, Dash: dash})
		slope.Curves = append(slope.Curves, plots.Curve{X: x, Y: finite(d.Slope[i]), Colour: 1 + n, Dash: dash})
		if c := d.Crossing[i]; numeric.Given(c) {
			level.Marks = append(level.Marks, plots.Mark{X: c * factor, Y: at(d.Metre, d.Level[i], c),
				Text: fmt.Sprintf("4.5 dB at %.3g %s", c*factor, unit)})
		}
	}
	law := middling(d, shown)
	level.Curves = append(level.Curves, p.laws(d, x, law)...)
	if h := d.Transition[law].HalfRule; h > d.Metre[0] && h < d.Metre[len(d.Metre)-1] {
		level.Guides = append(level.Guides, plots.Guide{Value: h * factor, Vertical: true, Text: "L²/(2λ) at " + hzName(d.Hz[law])})
	}
	subtitle := fmt.Sprintf("%s; along the axis, %s; %s; dotted: 3 and 6 dB per doubling about %s; in its near field a uniform line swings by about ±2.5 dB",
		p.stack(), d.Words(), screen.LineReference(p.r.Study), hzName(d.Hz[law]))
	if d.Bands != nil {
		subtitle += "; marks are those of the middle tones"
	}
	return plots.Chart{Caption: p.caption("Level against distance", subtitle, "Level against distance along the axis with the local slope below."),
		X: plots.Axis{Label: "Distance from the middle of the stack", Unit: unit, Kind: plots.Logarithmic, Low: x[0], High: x[len(x)-1]}, Panels: []plots.Panel{level, slope}}
}

// middling picks the curve whose turn lies nearest to the middle of the chart.
func middling(d *line.Distance, shown []int) int {
	middle := math.Sqrt(d.Metre[0] * d.Metre[len(d.Metre)-1])
	best, off := shown[0], math.Inf(1)
	for _, i := range shown {
		if o := math.Abs(math.Log(d.Transition[i].Asymptote / middle)); o < off {
			best, off = i, o
		}
	}
	return best
}

// at interpolates a curve over log distance.
func at(x, y []float64, where float64) float64 {
	for i := 1; i < len(x); i++ {
		if where <= x[i] {
			t := math.Log(where/x[i-1]) / math.Log(x[i]/x[i-1])
			return y[i-1] + t*(y[i]-y[i-1])
		}
	}
	return y[len(y)-1]
}

// laws are the guides of 3 and 6 dB per doubling: the sphere's through the far end
// of the curve, the cylinder's from where it crosses 4.5 dB inward.
func (p *linePicture) laws(d *line.Distance, x []float64, i int) []plots.Curve {
	last := len(d.Metre) - 1
	end := d.Level[i][last]
	sphere, cylinder := make([]float64, len(x)), make([]float64, len(x))
	knee := d.Crossing[i]
	if !numeric.Given(knee) {
		knee = d.Metre[last] / 2
	}
	base := end + 20*math.Log10(d.Metre[last]/knee)
	for j, m := range d.Metre {
		sphere[j] = end + 20*math.Log10(d.Metre[last]/m)
		cylinder[j] = base + 10*math.Log10(knee/m)
		if m < knee/4 {
			sphere[j] = math.NaN()
		}
	}
	var out []plots.Curve
	for _, c := range []struct {
		label string
		y     []float64
	}{{"6 dB", sphere}, {"3 dB", cylinder}} {
		if drawable(c.y) {
			out = append(out, plots.Curve{Label: c.label, X: x, Y: c.y, Colour: 6, Dash: plots.Dotted, Thin: true})
		}
	}
	return out
}

// audience draws the level along the seats, octave bands below.
func (p *linePicture) audience() plots.Chart {
	a := p.r.Audience
	unit, factor := p.metre()
	x := seatsOf(a, factor)
	unitA := "dBA"
	if !p.r.Model.Absolute {
		unitA = "dB(A), relative"
	}
	weighted := plots.Panel{Y: plots.Axis{Label: "Pink noise", Unit: unitA}, Height: 150,
		Curves: []plots.Curve{{Label: "as hung", X: x, Y: finite(a.AWeighted), Colour: 1, Dash: plots.Solid}}}
	if b := p.r.Before; b != nil {
		weighted.Curves[0].Label = "aimed"
		weighted.Curves = append(weighted.Curves, plots.Curve{Label: "before", X: seatsOf(b, factor), Y: finite(b.AWeighted), Colour: 2, Dash: plots.Dashed})
	}
	bands := plots.Panel{Y: plots.Axis{Label: "Octave bands", Unit: shortReference(p.r)}, Height: 200}
	for n, want := range []float64{125, 500, 2000, 8000} {
		i := nearestBand(a.Bands, want)
		dash := []plots.Dash{plots.Solid, plots.Dashed, plots.DashDot, plots.LongDash}[n]
		bands.Curves = append(bands.Curves, plots.Curve{Label: hzName(want), X: x, Y: finite(a.Level[i]), Colour: 1 + n, Dash: dash})
	}
	spread := fmt.Sprintf("largest less smallest %.1f dB", a.Spread)
	if p.r.Before != nil {
		spread += fmt.Sprintf(", before %.1f dB", p.r.Before.Spread)
	}
	absorbed := "without air absorption"
	if a.Absorbed {
		absorbed = "with air absorption"
	}
	return plots.Chart{Caption: p.caption("Level along the seats", fmt.Sprintf("%s; %s; %s, %s; %s", p.stack(), spread,
		screen.LineReference(p.r.Study), absorbed, p.conditions()), "Level along the seats, A-weighted and in octave bands."),
		X: plots.Axis{Label: "Distance", Unit: unit}, Panels: []plots.Panel{weighted, bands}}
}

func seatsOf(a *line.Audience, factor float64) []float64 {
	x := make([]float64, len(a.Seat))
	for i, s := range a.Seat {
		x[i] = s.X * factor
	}
	return x
}

func nearestBand(bands []field.Band, hz float64) int {
	best := 0
	for i, b := range bands {
		if math.Abs(math.Log(b.Mid/hz)) < math.Abs(math.Log(bands[best].Mid/hz)) {
			best = i
		}
	}
	return best
}

// minus writes a whole number with a true minus sign.
func minus(x float64) string { return strings.Replace(fmt.Sprintf("%.3g", x), "-", "−", 1) }

// coupling draws the highest lobe and the directivity of the line as built and
// otherwise.
func (p *linePicture) coupling() plots.Chart {
	c := p.r.Coupling
	lobes := plots.Panel{Y: plots.Axis{Label: "Highest lobe re axis", Unit: "dB", Low: -24, High: 0, Step: 6}, Height: 190,
		Guides: []plots.Guide{{Value: c.Target, Text: "target " + minus(c.Target) + " dB"}}}
	index := plots.Panel{Y: plots.Axis{Label: "Directivity index", Unit: "dB"}, Height: 190}
	for n := range c.Variants {
		v := &c.Variants[n]
		dash := []plots.Dash{plots.Solid, plots.Dashed, plots.DashDot, plots.LongDash, plots.ShortDash}[n%5]
		if y := finite(v.Lobe); drawable(y) {
			lobes.Curves = append(lobes.Curves, plots.Curve{Label: v.Name, X: c.Hz, Y: y, Colour: 1 + n%6, Dash: dash})
		}
		index.Curves = append(index.Curves, plots.Curve{Label: v.Name, X: c.Hz, Y: finite(v.Index), Colour: 1 + n%6, Dash: dash})
	}
	if len(c.Variants) > 0 && numeric.Given(c.Variants[0].Half) {
		h := c.Variants[0].Half
		lobes.Guides = append(lobes.Guides, plots.Guide{Value: h, Vertical: true, Text: "half-wave rule " + plots.Hz(h)})
	}
	return plots.Chart{Caption: p.caption("Coupling seen directly: the line hung straight", fmt.Sprintf("%d boxes, one band alone, each mouth in a wall, far field; largest spacing of centres beside each name; packed: cones frame to frame; spread: 1.5 times the pitch",
		p.r.Design.Line.Boxes), "Highest lobe and directivity index against frequency of the woofer line as built, packed and spread."),
		X: plots.Axis{Kind: plots.Frequency, Low: 100, High: 5000}, Panels: []plots.Panel{lobes, index}}
}
