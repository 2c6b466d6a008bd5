package picture

import (
	"fmt"
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/section"
	"gapline/cabinet/sizing"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/screen"
	"gapline/plots"
)

const perRadian = 180 / math.Pi

// PlanBeamwidth draws the −6 dB width of the plan section against frequency,
// beside aperture and rule.
func PlanBeamwidth(d *design.Design, s *sizing.Sizing, c *section.PlanCheck, sys quantity.System) plots.Beamwidth {
	r := c.Result
	b := plots.Beamwidth{X: frequencyAxis(r.Frequency)}
	b.Curves = []plots.Curve{{Label: "wave", X: r.Frequency, Y: anglesInDegrees(r.Beamwidth), Colour: 1, Dash: plots.Solid}}
	title, trust := "Horizontal −6 dB width of the woofers' openings", "wave"
	if c.Driven == section.ByHorn {
		title, trust = "Horizontal −6 dB width of the horn in its cabinet", "wave; aperture and rule beside it"
		b.Curves = append(b.Curves, given(
			plots.Curve{Label: "aperture", X: r.Frequency, Y: anglesInDegrees(c.Aperture), Colour: 2, Dash: plots.Dashed},
			plots.Curve{Label: "rule", X: r.Frequency, Y: anglesInDegrees(c.Rule), Colour: 3, Dash: plots.Dotted})...)
		b.Nominal = d.Horn.ExitCoverage() * perRadian
		if f := s.Wave.Pattern; numeric.Given(f) {
			b.Marks = []plots.Mark{{X: f, Y: b.Nominal, Text: "from " + quantity.Format(f, quantity.Frequency, sys)}}
		}
	}
	alt := fmt.Sprintf("Full -6 dB width against frequency at level wave; coverage first reached at %s.", quantity.Format(s.Wave.Pattern, quantity.Frequency, sys))
	b.Caption = caption(title, screen.PlanText(d, c, sys), d, s, trust, alt, sys)
	return b
}

// given drops curves that have no value at all.
func given(curves ...plots.Curve) []plots.Curve {
	var out []plots.Curve
	for _, c := range curves {
		for _, y := range c.Y {
			if numeric.Given(y) {
				out = append(out, c)
				break
			}
		}
	}
	return out
}

func anglesInDegrees(rad []float64) []float64 {
	out := make([]float64, len(rad))
	for i, v := range rad {
		out[i] = v * perRadian
	}
	return out
}

// frequencyAxis runs from the first to the last frequency, and a little to both
// sides of a single one.
func frequencyAxis(f []float64) plots.Axis {
	low, high := f[0], f[len(f)-1]
	if low == high {
		low, high = 0.8*low, 1.25*high
	}
	return plots.Axis{Kind: plots.Frequency, Low: low, High: high}
}

// maxPolars is the number of curves that a polar can carry.
const maxPolars = 5

// PlanPolar draws the pattern at the solved frequencies nearest to those asked
// for, or at octaves.
func PlanPolar(d *design.Design, s *sizing.Sizing, c *section.PlanCheck, wanted []float64, sys quantity.System) plots.Polar {
	r := c.Result
	if len(wanted) == 0 {
		wanted = octaves(r.Frequency)
	}
	var p plots.Polar
	for _, i := range nearest(r.Frequency, wanted) {
		p.Curves = append(p.Curves, plots.PolarCurve{
			Label:    quantity.Format(r.Frequency[i], quantity.Frequency, sys),
			AngleDeg: bothSides(anglesInDegrees(r.Angle), true), LevelDB: bothSides(r.Pattern[i], false),
		})
	}
	p.Caption = caption("Horizontal pattern, far field, relative to the axis", screen.PlanText(d, c, sys), d, s, "wave", "", sys)
	return p
}

// octaves returns frequencies an octave apart, the highest a preferred one, so
// that as many as fit lie in the run's upper part.
func octaves(f []float64) []float64 {
	low, high := f[0], f[len(f)-1]
	var out []float64
	for v := 16e3; v >= low && len(out) < maxPolars; v /= 2 {
		if v <= high {
			out = append([]float64{v}, out...)
		}
	}
	if len(out) == 0 {
		out = []float64{math.Sqrt(low * high)}
	}
	return out
}

// nearest returns the indices of the values nearest in ratio to those wanted,
// each once.
func nearest(f, wanted []float64) []int {
	var out []int
	seen := map[int]bool{}
	for _, w := range wanted {
		best := 0
		for i := range f {
			if math.Abs(math.Log(f[i]/w)) < math.Abs(math.Log(f[best]/w)) {
				best = i
			}
		}
		if !seen[best] && len(out) < maxPolars {
			seen[best] = true
			out = append(out, best)
		}
	}
	return out
}

// bothSides continues values given from 0 to 180° to the left side.
func bothSides(v []float64, odd bool) []float64 {
	var out []float64
	for i := len(v) - 1; i > 0; i-- {
		if odd {
			out = append(out, -v[i])
		} else {
			out = append(out, v[i])
		}
	}
	return append(out, v...)
}

// mapStep thins the angles of the map to two degrees.
const mapStep = 8

// PlanMap draws the pattern over frequency and angle.
func PlanMap(d *design.Design, s *sizing.Sizing, c *section.PlanCheck, sys quantity.System) plots.AngleMap {
	r := c.Result
	m := plots.AngleMap{FrequencyHz: r.Frequency}
	angles := bothSides(anglesInDegrees(r.Angle), true)
	rows := make([][]float64, len(r.Frequency))
	for i, level := range r.Pattern {
		rows[i] = bothSides(level, false)
	}
	for j := 0; j < len(angles); j += mapStep {
		m.AngleDeg = append(m.AngleDeg, angles[j])
		row := make([]float64, len(rows))
		for i := range rows {
			row[i] = math.Max(rows[i][j], mapFloor)
		}
		m.Level = append(m.Level, row)
	}
	m.Caption = caption("Horizontal pattern against frequency, relative to the axis", screen.PlanText(d, c, sys), d, s, "wave", "", sys)
	return m
}

// mapFloor is the lowest level of a map, dB: a null has no bottom.
const mapFloor = -100
