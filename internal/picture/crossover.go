package picture

import (
	"fmt"
	"math"

	"gapline/cabinet/field"
	"gapline/cabinet/filter"
	"gapline/internal/quantity"
	"gapline/internal/screen"
	"gapline/internal/study/line"
	"gapline/plots"
)

// Crossover draws one view of a crossover, of the best one found when best is set.
func Crossover(c *line.Crossover, s *line.Study, view line.CrossoverView, best bool, sys quantity.System) plots.Figure {
	p := crossoverPicture{linePicture{&line.Result{Study: s}, sys}, c}
	sum, name := c.Given, "as given"
	if best && c.Best != nil {
		sum, name = c.Best.Sum, "best found"
	}
	switch view {
	case line.UprightView:
		return p.offAxis(sum, &sum.Vertical, field.Vertical, name)
	case line.AcrossView:
		return p.offAxis(sum, &sum.Horizontal, field.Horizontal, name)
	}
	return p.response()
}

type crossoverPicture struct {
	linePicture
	c *line.Crossover
}

// setting words a crossover.
func (p *crossoverPicture) setting(s *filter.Sum, frequency float64) string {
	text := fmt.Sprintf("%s order %d at %s", p.c.Crossing.Alignment, p.c.Crossing.Order, hzName(frequency))
	if d := s.High.Delay - s.Low.Delay; d > 0 {
		text += fmt.Sprintf(", %s %.2f ms late", p.c.Crossing.High, d*1e3)
	} else if d < 0 {
		text += fmt.Sprintf(", %s %.2f ms late", p.c.Crossing.Low, -d*1e3)
	}
	if s.High.Invert != s.Low.Invert {
		text += ", " + p.c.Crossing.High + " inverted"
	}
	return text
}

func (p *crossoverPicture) frequencyOf(s *filter.Sum) float64 {
	if p.c.Best != nil && s == p.c.Best.Sum {
		return p.c.Best.Frequency
	}
	return p.c.Crossing.Frequency
}

// axis is the frequency axis, widened to the ends of the data.
func (p *crossoverPicture) axis() plots.Axis {
	return plots.Axis{Kind: plots.Frequency, Low: p.c.Hz[0], High: p.c.Hz[len(p.c.Hz)-1]}
}

// response draws level on axis, and the phase below.
func (p *crossoverPicture) response() plots.Chart {
	c, g := p.c, p.c.Given
	top := math.Inf(-1)
	for _, l := range g.OnAxis {
		top = math.Max(top, l)
	}
	low := 5*math.Ceil(top/5) - 35
	level := plots.Panel{Y: plots.Axis{Label: "Level", Unit: shortReference(p.r), Low: low, High: low + 40}, Height: 230}
	curve := func(label string, y []float64, colour int, dash plots.Dash) {
		level.Curves = append(level.Curves, plots.Curve{Label: label, X: c.Hz, Y: finite(y), Colour: colour, Dash: dash})
	}
	curve("sum", g.OnAxis, 1, plots.Solid)
	curve(c.Crossing.Low, g.LowAxis, 2, plots.Dashed)
	curve(c.Crossing.High, g.HighAxis, 3, plots.DashDot)
	phase := plots.Panel{Y: plots.Axis{Label: "Phase", Unit: "degrees", Low: -180, High: 180, Step: 90}, Height: 110,
		Curves: []plots.Curve{{Label: "sum", X: c.Hz, Y: wrapped(g.OnAxisPhase), Colour: 1, Dash: plots.Solid}}}
	subtitle := p.stack() + "; far field, levels at 1 m; " + p.setting(g, c.Crossing.Frequency)
	if c.Best != nil {
		curve("best sum", c.Best.Sum.OnAxis, 4, plots.LongDash)
		phase.Curves = append(phase.Curves, plots.Curve{Label: "best sum", X: c.Hz, Y: wrapped(c.Best.Sum.OnAxisPhase), Colour: 4, Dash: plots.LongDash})
		subtitle += "; best found: " + p.setting(c.Best.Sum, c.Best.Frequency)
	}
	if !math.IsInf(c.Distance, 1) {
		subtitle = p.stack() + "; " + p.where(c.Distance) + "; " + p.setting(g, c.Crossing.Frequency)
	}
	return plots.Chart{Caption: p.caption("Through the crossover, on axis", subtitle+"; "+screen.LineReference(p.r.Study),
		"Level and phase on axis of both ways and their sum."), X: p.axis(), Panels: []plots.Panel{level, phase}}
}

// wrapped turns phases into degrees and breaks the curve where they jump.
func wrapped(rad []float64) []float64 {
	out := make([]float64, len(rad))
	for i, x := range rad {
		out[i] = x * degrees
		if i > 0 && math.Abs(rad[i]-rad[i-1]) > math.Pi {
			out[i] = math.NaN()
		}
	}
	return out
}

// offAxis draws the sum over frequency and angle.
func (p *crossoverPicture) offAxis(s *filter.Sum, m *filter.Map, plane field.Plane, name string) plots.AngleMap {
	title, side, coverage := "vertical", "positive up", p.c.Vertical
	if plane == field.Horizontal {
		title, side, coverage = "horizontal", "positive to the left, seen from behind", p.c.Horizontal
	}
	chart := plots.AngleMap{FrequencyHz: p.c.Hz, AngleDeg: scaled(m.Angle, degrees)}
	for j := range m.Angle {
		row := make([]float64, len(p.c.Hz))
		for i := range row {
			row[i] = relative(m.Normalised[i][j])
		}
		chart.Level = append(chart.Level, row)
	}
	level(chart.Level)
	if n := s.Deepest; n.Plane == plane && math.Abs(n.Angle) <= math.Abs(m.Angle[0]) {
		chart.Marks = append(chart.Marks, plots.Mark{X: n.Frequency, Y: n.Angle * degrees, Text: fmt.Sprintf("notch %s dB", minus(n.Loss))})
	}
	chart.Caption = p.caption("Through the crossover, "+title+", "+name, fmt.Sprintf("%s; %s; %s; 0 dB on the axis; angles %s; coverage %s",
		p.stack(), p.where(p.c.Distance), p.setting(s, p.frequencyOf(s)), side, quantity.Format(coverage, quantity.Angle, p.sys)),
		"Map of relative level over frequency and angle in the "+title+" plane through the crossover.")
	return chart
}
