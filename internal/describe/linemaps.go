package describe

import (
	"math"
	"slices"

	"gapline/cabinet/field"
	"gapline/cabinet/sizing"
	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/line"
)

// deepest keeps exact cancellations drawable, dB.
const deepest = -60

// caption carries the caution that belongs to every picture of a stack.
func (h hung) caption(c result.Caption) result.Caption {
	var s sizing.Sizing
	s.Air.SoundSpeed = h.SoundSpeed()
	c.Subtitle = result.Say("%s. %s", c.Subtitle, advice.SuspensionCaution)
	c.Trust = h.trustWords()
	return captioned(c, h.Design, &s)
}

// boxes says what is heard in a few words.
func (h hung) boxes() result.Text {
	n := result.Count(h.Design.Line.Boxes)
	if turn := h.TotalSplay(); turn != 0 {
		return result.Say("%s boxes, %s of splay", n, angle(turn))
	}
	return result.Say("%s boxes, straight", n)
}

func heardAt(distance float64) result.Text {
	if math.IsInf(distance, 1) {
		return result.Plain("far field")
	}
	return result.Say("at %s", nearly(distance))
}

// levelUnit is the unit of an axis of levels.
func (h hung) levelUnit() string {
	if h.Model.Absolute {
		return "dB SPL"
	}
	return "dB, relative"
}

// inHall is an axis of distances in the hall.
func inHall(label string) result.Axis {
	return result.Axis{Label: label, Kind: quantity.Length, Unit: "m", InchUnit: "ft"}
}

// drawnIn says where the picture of a view shows.
func drawnIn(view line.View, also result.Place) result.Shown {
	return result.View(string(view), result.Drawn|also)
}

func (v lineParts) pictures() []result.Part {
	r := v.r
	var out []result.Part
	if r.Polar != nil {
		out = append(out, v.polar())
	}
	if r.Map != nil {
		out = append(out, v.angleMap(line.AngleMapView, r.Map))
	}
	if r.HorizontalMap != nil {
		out = append(out, v.angleMap(line.HorizontalView, r.HorizontalMap))
	}
	if r.Side != nil {
		out = append(out, v.side())
	}
	if r.Distance != nil {
		out = append(out, v.distance())
	}
	if r.Audience != nil {
		out = append(out, v.seats())
	}
	if r.Coupling != nil {
		out = append(out, v.coupling())
	}
	if r.Maximum != nil {
		out = append(out, v.loudestCharts()...)
	}
	return out
}

// Polar draws the vertical polars of a stack alone.
func Polar(s *line.Study, p *line.Polar) result.Series {
	v := lineParts{hung{s, figure.LineHung}, &line.Result{Study: s, Few: p.Spectrum, Polar: p}}
	return v.polar()
}

// polar draws the vertical polars of a few octaves.
func (v lineParts) polar() result.Series {
	p := v.r.Polar
	from, to := front(p.Angle)
	shown := few(p.Spectrum, 250, 500, 1000, 4000)
	var curves []result.Curve
	for n, i := range shown {
		curves = append(curves, result.Curve{Label: result.Say("%s", nominal(p.Hz[i])), X: p.Angle[from:to], Y: floored(p.Referred(i)[from:to]), Colour: 1 + n})
	}
	curves = append(curves, seatSpokes(p)...)
	return result.Series{Shown: drawnIn(line.PolarView, result.Page), Form: result.Polar, Panels: []result.Panel{{Curves: curves}},
		Caption: v.caption(result.Caption{
			ID: "polar", Title: "Vertical polar: up is to the right", Page: "Level against angle up and down",
			Subtitle: result.Say("%s; %s; %s, %s; %s", v.boxes(), heardAt(p.Distance), p.Words(), v.referred(p), v.conditions()),
			Alt:      result.Say("Vertical polar of the stack at %s.", nominals(p.Hz, shown)),
		})}
}

// front returns the range of angles in front: behind the stack the model only
// mirrors them.
func front(angle []float64) (from, to int) {
	const slack = 1e-9
	for from < len(angle) && angle[from] < -math.Pi/2-slack {
		from++
	}
	for to = from; to < len(angle) && angle[to] <= math.Pi/2+slack; {
		to++
	}
	return from, to
}

// mostCurves is how many frequencies a chart can show apart.
const mostCurves = 4

// few returns every frequency where there are no more than a chart can show, else the
// nearest to the ones given.
func few(s line.Spectrum, otherwise ...float64) []int {
	if len(s.Hz) > mostCurves {
		return s.Pick(otherwise...)
	}
	all := make([]int, len(s.Hz))
	for i := range all {
		all[i] = i
	}
	return all
}

// nominals lists frequencies by their preferred names.
func nominals(hz []float64, shown []int) result.Cell {
	c := result.Cell{State: result.Many}
	for _, i := range shown {
		c.List = append(c.List, nominal(hz[i]))
	}
	return c
}

func floored(xs []float64) []float64 {
	return each(xs, func(x float64) float64 { return math.Max(x, deepest) })
}

// angleMap draws level over frequency and angle, or a polar of a single frequency.
func (v lineParts) angleMap(view line.View, p *line.Polar) result.Part {
	plane, side := "vertical", "positive up"
	if p.Plane == field.Horizontal {
		plane, side = "horizontal", "positive to the left, seen from behind; even amplitude over the horn's mouth (real horns taper)"
		if p.Across > 0 {
			side += "; mean over the boxes' directions"
		}
	}
	subtitle := result.Say("%s; %s; %s, %s; angles %s", v.boxes(), heardAt(p.Distance), p.Words(), v.referred(p), side)
	if p.Plane == field.Vertical {
		subtitle = result.Say("%s; %s", subtitle, v.conditions())
	}
	c := result.Caption{ID: string(view), Title: "Level over frequency and angle, " + plane, Subtitle: subtitle,
		Alt: result.Say("Map of relative level over frequency and angle in the %s plane, −6 dB contours bold.", plane)}
	if len(p.Hz) < 2 {
		c.Title = "Polar, " + plane
		return result.Series{Shown: drawnIn(view, 0), Form: result.Polar, Caption: v.caption(c), Panels: []result.Panel{{Curves: []result.Curve{
			{Label: result.Say("%s", nominal(p.Hz[0])), X: p.Angle, Y: floored(p.Referred(0))}}}}}
	}
	g := angleGrid(drawnIn(view, 0), p.Hz, p.Angle, referredLevels(p), figure.LineAngleMap.Level, v.caption(c))
	g.Look.Overlays = seatEdges(p)
	return g
}

// angleGrid draws relative levels, held by frequency, over frequency and angle.
func angleGrid(shown result.Shown, hz, angle []float64, level [][]float64, f *figure.Def, c result.Caption, marks ...result.Mark) result.Grid {
	g := result.Grid{Shown: shown, Fig: f, X: result.Values{Fig: figure.LineAngleMap.Frequency, SI: hz}, Y: result.Values{Fig: figure.LineAngleMap.Angle, SI: angle},
		Look: &result.Map{Form: result.AngleMap, Caption: c, Marks: marks}}
	for j := range angle {
		g.Z = append(g.Z, floored(column(level, j)))
	}
	capped(g.Z)
	return g
}

// capped keeps a map that nowhere lies more than a hair above the axis from opening a
// colour of its own for that.
func capped(rows [][]float64) {
	const hair = 0.25 // dB
	top := math.Inf(-1)
	for _, row := range rows {
		top = math.Max(top, slices.Max(row))
	}
	if top > hair {
		return
	}
	for _, row := range rows {
		for i := range row {
			row[i] = math.Min(row[i], 0)
		}
	}
}

func absorbed(yes bool) string {
	if yes {
		return "with air absorption"
	}
	return "without air absorption"
}
