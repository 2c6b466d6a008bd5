package picture

import (
	"fmt"

	"gapline/cabinet/design"
	"gapline/cabinet/section"
	"gapline/cabinet/sizing"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/screen"
	"gapline/plots"
)

// quarterWave is the spread of phase up to which a front counts as flat,
// degrees.
const quarterWave = 90

// FoldFlatness draws the spread of phase and level over the mouth against
// frequency, beside the rays'.
func FoldFlatness(d *design.Design, s *sizing.Sizing, c *section.FoldCheck, sys quantity.System) plots.Chart {
	r := c.Result
	var phase, rays, level, taper []float64
	for i, f := range r.Frequency {
		phase = append(phase, perRadian*r.PhaseSpread(i))
		rays = append(rays, perRadian*section.Spread(c.RayPhase(f)))
		level = append(level, section.Spread(r.Level(i)))
		taper = append(taper, section.Spread(c.Rays.Level))
	}
	curves := func(wave, ray []float64) []plots.Curve {
		return []plots.Curve{
			{Label: "wave", X: r.Frequency, Y: wave, Colour: 1, Dash: plots.Solid},
			{Label: "rays", X: r.Frequency, Y: ray, Colour: 2, Dash: plots.Dashed},
		}
	}
	chart := plots.Chart{X: frequencyAxis(r.Frequency), Panels: []plots.Panel{
		{Y: plots.Axis{Label: "Phase spread", Unit: "degrees"}, Curves: curves(phase, rays),
			Guides: []plots.Guide{{Value: quarterWave, Text: "quarter wave"}}},
		{Y: plots.Axis{Label: "Level spread", Unit: "dB"}, Curves: curves(level, taper)},
	}}
	if f := s.Wave.FlatTo; numeric.Given(f) {
		chart.Panels[0].Marks = []plots.Mark{{X: f, Y: quarterWave, Text: "flat to " + quantity.Format(f, quantity.Frequency, sys)}}
	}
	chart.Panels = withCrossMode(chart.Panels, c.ByRays.CrossMode(), r.Frequency)
	chart.Caption = caption("How flat the folded front is over the mouth", screen.FoldText(c, sys), d, s, "wave; rays (rule) beside it", "", sys)
	return chart
}

// withCrossMode marks on the upper panel where sheets end to describe the layers.
func withCrossMode(panels []plots.Panel, mode float64, f []float64) []plots.Panel {
	if mode > f[0] && mode < f[len(f)-1] {
		panels[0].Guides = append(panels[0].Guides, plots.Guide{Value: mode, Vertical: true, Text: "cross mode of a layer"})
	}
	return panels
}

// FoldMouth draws phase and level along the mouth at the solved frequencies
// nearest to those asked for, or at octaves, beside the rays'.
func FoldMouth(d *design.Design, s *sizing.Sizing, c *section.FoldCheck, wanted []float64, sys quantity.System) plots.Chart {
	r := c.Result
	if len(wanted) == 0 {
		wanted = octaves(r.Frequency)
	}
	y, unit := lengths(c.Y, sys)
	var phase, level []plots.Curve
	for k, i := range nearest(r.Frequency, wanted) {
		label := quantity.Format(r.Frequency[i], quantity.Frequency, sys)
		phase = append(phase,
			plots.Curve{Label: label, X: y, Y: anglesInDegrees(r.Phase(i)), Colour: 1 + k, Dash: plots.Solid},
			plots.Curve{X: y, Y: anglesInDegrees(c.RayPhase(r.Frequency[i])), Colour: 1 + k, Dash: plots.Dotted, Thin: true})
		level = append(level, plots.Curve{Label: label, X: y, Y: r.Level(i), Colour: 1 + k, Dash: plots.Solid})
	}
	level = append(level, plots.Curve{Label: "rays", X: y, Y: c.Rays.Level, Colour: 6, Dash: plots.Dotted})
	chart := plots.Chart{X: plots.Axis{Label: "Height on the mouth", Unit: unit}, Panels: []plots.Panel{
		{Y: plots.Axis{Label: "Phase", Unit: "degrees"}, Curves: phase},
		{Y: plots.Axis{Label: "Level", Unit: "dB re mean square"}, Curves: level},
	}}
	chart.Caption = caption("Phase and level along the mouth; dotted: by rays", screen.FoldText(c, sys), d, s, "wave; rays (rule) beside it", "", sys)
	return chart
}

// lengths returns lengths in the unit of text, and the unit.
func lengths(m []float64, sys quantity.System) (out []float64, unit string) {
	factor, unit := 1e3, "mm"
	if sys == quantity.Inch {
		factor, unit = 1/0.0254, "in"
	}
	for _, v := range m {
		out = append(out, v*factor)
	}
	return out, unit
}

// FoldThroat draws the load on the throat.
func FoldThroat(d *design.Design, s *sizing.Sizing, c *section.FoldCheck, sys quantity.System) plots.Chart {
	r := c.Result
	var resistance, reactance []float64
	for _, z := range r.Throat {
		resistance = append(resistance, real(z))
		reactance = append(reactance, imag(z))
	}
	chart := plots.Chart{X: frequencyAxis(r.Frequency), Panels: []plots.Panel{{
		Y: plots.Axis{Label: "Throat impedance over ρc"},
		Curves: []plots.Curve{
			{Label: "resistance", X: r.Frequency, Y: resistance, Colour: 1, Dash: plots.Solid},
			{Label: "reactance", X: r.Frequency, Y: reactance, Colour: 2, Dash: plots.Dashed},
		},
	}}}
	chart.Panels = withCrossMode(chart.Panels, c.ByRays.CrossMode(), r.Frequency)
	chart.Caption = caption("Load of the folded guide on its throat", screen.FoldText(c, sys), d, s, "wave", "", sys)
	return chart
}

// TurnChart draws what the turn reflects and passes on, plain and filleted, for
// the design's layer and for a thinner and a thicker one.
func TurnChart(d *design.Design, s *sizing.Sizing, c *section.TurnCheck, sys quantity.System) plots.Chart {
	var reflected, passed []plots.Curve
	low, high := 0.0, 0.0
	for i := range c.Turns {
		t := &c.Turns[i]
		if t.Result == nil {
			continue
		}
		f := t.Result.Frequency
		low, high = f[0], max(high, f[len(f)-1])
		label, dash := quantity.Format(t.Bend.Thickness, quantity.Length, sys)+" plain", plots.Solid
		if t.Filleted {
			label, dash = quantity.Format(t.Bend.Thickness, quantity.Length, sys)+" filleted", plots.Dashed
		}
		curve := plots.Curve{Label: label, X: f, Colour: 1 + i/2, Dash: dash}
		curve.Y = ratios(t.Result.Reflection)
		reflected = append(reflected, curve)
		curve.Y = ratios(t.Result.Transmission)
		passed = append(passed, curve)
	}
	chart := plots.Chart{X: frequencyAxis([]float64{low, high}), Panels: []plots.Panel{
		{Y: plots.Axis{Label: "Reflected", Unit: "% of power", Low: 0, High: 100}, Curves: reflected,
			Guides: []plots.Guide{{Value: 100 * section.LoudReflection * section.LoudReflection, Text: "a tenth"}}},
		{Y: plots.Axis{Label: "Passed on", Unit: "% of power", Low: 0, High: 100}, Curves: passed},
	}}
	chart.Caption = caption("What the turn between the layers throws back", screen.TurnText(c, sys), d, s, "wave",
		fmt.Sprintf("Reflected and passed power of the turn against frequency, %d curves.", len(reflected)), sys)
	return chart
}

// ratios returns the power of pressure ratios in per cent.
func ratios(z []complex128) []float64 {
	out := make([]float64, len(z))
	for i, v := range z {
		out[i] = 100 * (real(v)*real(v) + imag(v)*imag(v))
	}
	return out
}
