package picture

import (
	"fmt"
	"math"
	"strings"

	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/screen"
	"gapline/plots"
)

// Leveled is a design with its maximum level over frequency.
type Leveled struct {
	Sized
	Frequency []float64 // Hz
	Level     []float64 // of one box, dB at 1 m in half space
}

// Levels overlays the maximum level of designs, each labelled with its gap, so
// that what closes the gap and what it costs at the bottom stand in one picture.
func Levels(designs []Leveled, sys quantity.System) plots.Chart {
	var curves []plots.Curve
	var alt []string
	p := plots.Panel{Proportion: plots.LevelProportion}
	for _, d := range designs {
		gap := d.Sizing.Gap.AsGiven()
		label := d.Name
		switch {
		case gap > 0:
			label += fmt.Sprintf(", gap %.2f oct", gap)
		case !math.IsNaN(gap):
			label += ", " + screen.OctaveText(gap)
		}
		curves = append(curves, plots.Curve{Label: label, X: d.Frequency, Y: finite(d.Level)})
		b := &d.Sizing.Box
		if numeric.Given(b.MaxLevel) {
			p.Marks = addMark(p.Marks, plots.Mark{X: b.LevelAt, Y: b.MaxLevel, Text: quantity.Format(b.MaxLevel, quantity.Level, sys)})
			alt = append(alt, fmt.Sprintf("%s %s at %s", label, quantity.Format(b.MaxLevel, quantity.Level, sys), quantity.Format(b.LevelAt, quantity.Frequency, sys)))
		}
	}
	p.Curves = curves
	p.Y = levelAxis("Maximum level of one box re 20 µPa", 40, curves...)
	first := designs[0]
	title := "Maximum level at the low end, and the gap at the top"
	c := caption(title, "one box without insert, 1 m, half space; power compression left out; diamonds: the frequency asked for",
		first.Design, &first.Sizing, figure.Aperture.String()+", lumped circuit", title+": "+strings.Join(alt, "; ")+".", sys)
	c.Design = fmt.Sprintf("%d designs", len(designs))
	f := first.Frequency
	return plots.Chart{Caption: c, X: plots.Axis{Kind: plots.Frequency, Low: f[0], High: f[len(f)-1]}, Panels: []plots.Panel{p}}
}

// addMark adds a mark unless one with the same text stands there already.
func addMark(marks []plots.Mark, m plots.Mark) []plots.Mark {
	for _, x := range marks {
		if x.Text == m.Text && math.Abs(x.X/m.X-1) < 1e-3 {
			return marks
		}
	}
	return append(marks, m)
}

// levelAxis fits a level axis around curves, in steps of 5 dB and no more than
// span high: what lies lower is of no use to anybody.
func levelAxis(label string, span float64, curves ...plots.Curve) plots.Axis {
	low, high := math.Inf(1), math.Inf(-1)
	for _, c := range curves {
		for _, y := range c.Y {
			if numeric.Given(y) {
				low, high = math.Min(low, y), math.Max(high, y)
			}
		}
	}
	high = 5 * math.Ceil(high/5+0.2)
	low = math.Max(5*math.Floor(low/5), high-span)
	return plots.Axis{Label: label, Unit: "dB", Low: math.Min(low, high-20), High: high}
}
