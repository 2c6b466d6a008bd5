package describe

import (
	"math"

	"gapline/cabinet/field"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/line"
)

// setting words a crossover.
func (x crossoverParts) setting(s summed) result.Text {
	c := &x.c.Crossing
	text := result.Say("%s order %s at %s", c.Alignment.String(), result.Count(c.Order), nominal(s.frequency))
	late := func(band string, by float64) {
		text = text.And(result.Say(", %s %s late", band, result.Num(by, quantity.Time).As(quantity.Style{Verb: "%.3f"})))
	}
	if d := s.High.Delay - s.Low.Delay; d > 0 {
		late(c.High, d)
	} else if d < 0 {
		late(c.Low, -d)
	}
	if s.High.Invert != s.Low.Invert {
		text = text.And(result.Plain(", " + c.High + " inverted"))
	}
	return text
}

// chart draws level on axis, and the phase below.
func (x crossoverParts) chart() result.Series {
	c, g := x.c, x.given()
	top := math.Inf(-1)
	for _, l := range g.OnAxis {
		top = math.Max(top, l)
	}
	low := 5*math.Ceil(top/5) - 35
	level := result.Panel{Y: result.Axis{Label: "Level", Kind: quantity.Level, Unit: x.levelUnit(), Low: low, High: low + 40}, Height: 230}
	phase := result.Panel{Y: result.Axis{Label: "Phase", Kind: quantity.Angle, Unit: "deg", Low: -math.Pi, High: math.Pi, Step: math.Pi / 2}, Height: 110}
	curve := func(label string, y []float64, colour int, dash result.Dash) result.Curve {
		return result.Curve{Label: result.Plain(label), X: c.Hz, Y: y, Colour: colour, Dash: dash}
	}
	level.Curves = []result.Curve{curve("sum", finite(g.OnAxis), 1, result.Solid), curve(c.Crossing.Low, finite(g.LowAxis), 2, result.Dashed),
		curve(c.Crossing.High, finite(g.HighAxis), 3, result.DashDot)}
	phase.Curves = []result.Curve{curve("sum", unjoined(g.OnAxisPhase), 1, result.Solid)}
	subtitle := result.Say("%s; far field, levels at 1 m; %s", x.boxes(), x.setting(g))
	if c.Best != nil {
		b := x.best()
		level.Curves = append(level.Curves, curve(x.bestSum(), finite(b.OnAxis), 4, result.LongDash))
		phase.Curves = append(phase.Curves, curve(x.bestSum(), unjoined(b.OnAxisPhase), 4, result.LongDash))
		subtitle = subtitle.And(result.Say("; "+x.found()+": %s", x.setting(b)))
	}
	if !math.IsInf(c.Distance, 1) {
		subtitle = result.Say("%s; %s; %s", x.boxes(), heardAt(c.Distance), x.setting(g))
	}
	return result.Series{Shown: result.View(string(line.ResponseView), result.Drawn|result.Page), Panels: []result.Panel{level, phase},
		X: result.Axis{Scale: result.FrequencyScale, Kind: quantity.Frequency, Low: c.Hz[0], High: c.Hz[len(c.Hz)-1]}, Caption: x.caption(result.Caption{
			ID: "crossover", Title: "Through the crossover, on axis", Subtitle: result.Say("%s; %s", subtitle, x.reference()),
			Page: "Both paths and their sum on axis", Alt: result.Plain("Level and phase on axis of both ways and their sum."),
		})}
}

// unjoined breaks a curve of phases where they jump by a turn.
func unjoined(rad []float64) []float64 {
	out := append([]float64(nil), rad...)
	for i := 1; i < len(rad); i++ {
		if math.Abs(rad[i]-rad[i-1]) > math.Pi {
			out[i] = numeric.Absent
		}
	}
	return out
}

// offAxis draws the sum over frequency and angle.
func (x crossoverParts) offAxis(s summed, view line.CrossoverView) result.Grid {
	title, side, coverage, m, f := "vertical", "positive up", x.c.Vertical, &s.Vertical, s.vertical
	shown := result.View(string(view), result.Drawn)
	c := result.Caption{ID: "crossover-upright"}
	if view == line.AcrossView {
		title, side, coverage, m, f = "horizontal", "positive to the left, seen from behind", x.c.Horizontal, &s.Horizontal, s.horizontal
		shown.Places |= result.Page
		c = result.Caption{ID: "crossover-across", Page: "Level through the crossover over frequency and horizontal angle, " + s.name}
	}
	c.Title = "Through the crossover, " + title + ", " + s.name
	c.Subtitle = result.Say("%s; %s; %s; 0 dB on the axis; angles %s; coverage %s", x.boxes(), heardAt(x.c.Distance), x.setting(s), side, angle(coverage))
	c.Alt = result.Plain("Map of relative level over frequency and angle in the " + title + " plane through the crossover.")
	var marks []result.Mark
	if n := s.Deepest; (n.Plane == field.Horizontal) == (view == line.AcrossView) && math.Abs(n.Angle) <= math.Abs(m.Angle[0]) {
		marks = append(marks, result.Mark{X: n.Frequency, Y: n.Angle, Text: result.Say("notch %s", level(n.Loss).As(quantity.Style{Short: true}))})
	}
	return angleGrid(shown, x.c.Hz, m.Angle, m.Normalised, f.Relative, x.caption(c), marks...)
}
