package describe

import (
	"math"

	"gapline/cabinet/field"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/line"
)

// dashOf tells the n-th curve of a chart from its neighbours.
func dashOf(n int) result.Dash {
	dashes := []result.Dash{result.Solid, result.Dashed, result.DashDot, result.LongDash, result.ShortDash}
	return dashes[n%len(dashes)]
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

// between interpolates a curve over log distance.
func between(x, y []float64, where float64) float64 {
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
func laws(d *line.Distance, i int) []result.Curve {
	last := len(d.Metre) - 1
	end := d.Level[i][last]
	sphere, cylinder := make([]float64, len(d.Metre)), make([]float64, len(d.Metre))
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
	var out []result.Curve
	for _, c := range []struct {
		label string
		y     []float64
	}{{"6 dB", sphere}, {"3 dB", cylinder}} {
		if numeric.AnyGiven(finite(c.y)) {
			out = append(out, result.Curve{Label: result.Plain(c.label), X: d.Metre, Y: c.y, Colour: 6, Dash: result.Dotted, Thin: true})
		}
	}
	return out
}

// seats draws the level along the seats, octave bands below.
func (v lineParts) seats() result.Series {
	a := v.r.Audience
	x := each(a.Seat, seatX)
	unit := "dBA"
	if !v.Model.Absolute {
		unit = "dB(A), relative"
	}
	weighted := result.Panel{Y: result.Axis{Label: "Pink noise", Kind: quantity.Level, Unit: unit}, Height: 150,
		Curves: []result.Curve{{Label: result.Plain("as hung"), X: x, Y: finite(a.AWeighted), Colour: 1, Dash: result.Solid}}}
	spread := result.Say("largest less smallest %s", level(a.Spread))
	if b := v.r.Before; b != nil {
		weighted.Curves[0].Label = result.Plain("aimed")
		weighted.Curves = append(weighted.Curves, result.Curve{Label: result.Plain("before"), X: each(b.Seat, seatX), Y: finite(b.AWeighted), Colour: 2, Dash: result.Dashed})
		spread = spread.And(result.Say(", before %s", level(b.Spread)))
	}
	bands := result.Panel{Y: result.Axis{Label: "Octave bands", Kind: quantity.Level, Unit: v.levelUnit()}, Height: 200}
	for n, want := range []float64{125, 500, 2000, 8000} {
		i := nearestBand(a.Bands, want)
		bands.Curves = append(bands.Curves, result.Curve{Label: result.Say("%s", nominal(want)), X: x, Y: finite(a.Level[i]), Colour: 1 + n, Dash: dashOf(n)})
	}
	return result.Series{Shown: drawnIn(line.AudienceView, result.Page), X: inHall("Distance"), Panels: []result.Panel{weighted, bands}, Caption: v.caption(result.Caption{
		ID: "audience", Title: "Level along the seats", Page: "Level along the seats",
		Subtitle: result.Say("%s; %s; %s, %s; %s", v.boxes(), spread, v.reference(), absorbed(a.Absorbed), v.conditions()),
		Alt:      result.Plain("Level along the seats, A-weighted and in octave bands."),
	})}
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

// coupling draws the highest lobe and the directivity of the line as built and
// otherwise.
func (v lineParts) coupling() result.Series {
	c := v.r.Coupling
	target := level(c.Target).As(quantity.Style{Short: true})
	lobes := result.Panel{Y: result.Axis{Label: "Highest lobe re axis", Kind: quantity.Level, Unit: "dB", Low: -24, High: 0, Step: 6}, Height: 190,
		Guides: []result.Guide{{Value: c.Target, Text: result.Say("target %s", target)}}}
	index := result.Panel{Y: result.Axis{Label: "Directivity index", Kind: quantity.Level, Unit: "dB"}, Height: 190}
	for n := range c.Variants {
		x := &c.Variants[n]
		curve := result.Curve{Label: result.Plain(x.Name), X: c.Hz, Y: finite(x.Lobe), Colour: 1 + n%6, Dash: dashOf(n)}
		if numeric.AnyGiven(curve.Y) {
			lobes.Curves = append(lobes.Curves, curve)
		}
		curve.Y = finite(x.Index)
		index.Curves = append(index.Curves, curve)
	}
	if len(c.Variants) > 0 {
		lobes.Guides = append(lobes.Guides, at("half-wave rule %s", c.Variants[0].Half)...)
	}
	return result.Series{Shown: drawnIn(line.CouplingView, 0), Panels: []result.Panel{lobes, index},
		X: result.Axis{Scale: result.FrequencyScale, Kind: quantity.Frequency, Low: 100, High: 5000}, Caption: v.caption(result.Caption{
			ID: "coupling", Title: "Coupling seen directly: the line hung straight",
			Subtitle: result.Say("%s boxes, one band alone, each mouth in a wall, far field; largest spacing of centres beside each name; packed: cones frame to frame; spread: 1.5 times the pitch",
				result.Count(v.Design.Line.Boxes)),
			Alt: result.Plain("Highest lobe and directivity index against frequency of the woofer line as built, packed and spread."),
		})}
}
