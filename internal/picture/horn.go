package picture

import (
	"fmt"
	"math"

	"gapline/cabinet"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/plots"
	"gapline/waveguide"
)

const degree = math.Pi / 180

// hornBand is the frequency axis of the pattern charts.
var hornBand = plots.Axis{Low: 100, High: 20000}

func inDegrees(xs []float64) []float64 {
	out := make([]float64, len(xs))
	for i, x := range xs {
		out[i] = x / degree
	}
	return out
}

// HornBeamwidth charts the -6 dB widths against frequency, with the coverage, the
// control frequency by rule and by integral, and the narrowest point.
func HornBeamwidth(st *cabinet.HornStudy, sys quantity.System) plots.Beamwidth {
	h := &st.Sizing.Horn
	b := plots.Beamwidth{X: hornBand, Nominal: math.Round(h.ExitCoverage/degree*100) / 100}
	add := func(label string, widths []float64) {
		if numeric.AnyGiven(widths) {
			b.Curves = append(b.Curves, plots.Curve{Label: label, X: st.Frequency, Y: inDegrees(widths)})
		}
	}
	horizontal := "horizontal"
	if st.Bare != nil {
		horizontal = "horizontal, with flares"
	}
	add(horizontal, st.Horizontal)
	add("vertical", st.Vertical)
	add("horizontal, mouth alone", st.Bare)
	mark := func(f, width float64, text string) {
		if numeric.Given(f) && numeric.Given(width) {
			b.Marks = append(b.Marks, plots.Mark{X: f, Y: width / degree, Text: text})
		}
	}
	mark(h.PatternRule, h.ExitCoverage, "rule "+plots.Hz(h.PatternRule))
	mark(h.PatternComputed, h.ExitCoverage, "computed "+plots.Hz(h.PatternComputed))
	mark(h.NarrowestAt, h.Narrowest, fmt.Sprintf("narrowest %s at %s", quantity.Format(h.Narrowest, quantity.Angle, sys), plots.Hz(h.NarrowestAt)))
	b.Caption = caption("Beamwidth of the horn", fmt.Sprintf("−6 dB full width by aperture integral, rigid baffle; exit %s wide; %s",
		quantity.Format(h.ExitWidth, quantity.Length, sys), verticalText(st, sys)), st.Design, &st.Sizing, "aperture; rule where marked",
		"Beamwidth against frequency: "+holdsText(h, sys), sys)
	return b
}

// holdsText says from where the horn holds its coverage.
func holdsText(h *cabinet.HornSizing, sys quantity.System) string {
	coverage := quantity.Format(h.ExitCoverage, quantity.Angle, sys)
	if !numeric.Given(h.PatternComputed) {
		return fmt.Sprintf("the horn does not narrow to %s.", coverage)
	}
	return fmt.Sprintf("the horn holds %s from %s by rule, %s computed.", coverage, plots.Hz(h.PatternRule), plots.Hz(h.PatternComputed))
}

// verticalText says which front the vertical width has.
func verticalText(st *cabinet.HornStudy, sys quantity.System) string {
	path := st.Sizing.Horn.Path
	switch {
	case st.Vertical == nil:
		return "vertical front not known"
	case math.IsInf(path, 1):
		return "vertical front plane"
	}
	return "vertical front about an apex " + quantity.Format(path, quantity.Length, sys) + " behind"
}

// HornMap charts the horizontal level over angle and frequency.
func HornMap(st *cabinet.HornStudy, angles []float64, level [][]float64, sys quantity.System) plots.AngleMap {
	h := &st.Sizing.Horn
	m := plots.AngleMap{FrequencyHz: st.Frequency, AngleDeg: inDegrees(angles), Level: level}
	m.Caption = caption("Horizontal pattern of the horn", fmt.Sprintf("aperture integral, rigid baffle, normalised to 0° on axis; exit %s wide, coverage %s",
		quantity.Format(h.ExitWidth, quantity.Length, sys), quantity.Format(h.ExitCoverage, quantity.Angle, sys)), st.Design, &st.Sizing, "aperture",
		"Map of the horizontal level over angle and frequency, with the −6 dB contours bold.", sys)
	return m
}

// HornImpedance charts the throat impedance over ρc/S and the power that a plane
// wave hands over.
func HornImpedance(st *cabinet.HornStudy, sys quantity.System) plots.Chart {
	l := st.Loading
	n := len(st.Frequency)
	r, x, tube, endless := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, len(l.Infinite))
	high, low := 1.0, 0.0
	for i, z := range l.Load.Impedance {
		r[i], x[i], tube[i] = real(z), imag(z), 100*l.Tube[i]
		high, low = math.Max(high, math.Max(r[i], x[i])), math.Min(low, x[i])
	}
	for i, z := range l.Infinite {
		endless[i] = real(z)
	}
	curves := []plots.Curve{{Label: "resistance", X: st.Frequency, Y: r}, {Label: "reactance", X: st.Frequency, Y: x}}
	if len(endless) == n {
		curves = append(curves, plots.Curve{Label: "resistance, endless horn", X: st.Frequency, Y: endless, Thin: true, Dash: plots.ShortDash, Colour: 1})
	}
	upper := plots.Panel{
		Y: plots.Axis{Label: "Throat impedance", Unit: "ρc/S", Low: math.Floor(2*low) / 2, High: math.Ceil(2*high) / 2}, Curves: curves, Height: 180,
	}
	for _, g := range []struct {
		f    float64
		text string
	}{{st.Sizing.Horn.Cutoff, "cutoff "}, {st.Sizing.Horn.Lower, "lower limit "}} {
		if numeric.Given(g.f) {
			upper.Guides = append(upper.Guides, plots.Guide{Value: g.f, Vertical: true, Text: g.text + plots.Hz(g.f)})
		}
	}
	c := plots.Chart{X: band(), Panels: []plots.Panel{upper, {
		Y: plots.Axis{Label: "Power taken", Unit: "%", Low: 0, High: 100}, Height: 110,
		Curves: []plots.Curve{{Label: "from a plane-wave tube", X: st.Frequency, Y: tube, Colour: 3}},
	}}}
	c.Caption = caption("Loading of the horn", hornModel(st, sys), st.Design, &st.Sizing, "aperture",
		"Throat resistance and reactance against frequency, and the share of a plane wave's power that enters.", sys)
	return c
}

func band() plots.Axis {
	return plots.Axis{Kind: plots.Frequency, Low: hornBand.Low, High: hornBand.High}
}

func hornModel(st *cabinet.HornStudy, sys quantity.System) string {
	d := st.Design
	profile := d.Horn.Profile
	if profile == "" || profile == waveguide.ByPoints {
		profile = fmt.Sprintf("%d points", len(d.Horn.Areas))
	}
	text := "profile: " + profile + "; plane fronts; mouth a piston in a rigid baffle"
	if st.Bare != nil {
		text += "; without the side flares"
	}
	return text
}

// HornEfficiency charts what the source makes of the horn: efficiency, and with a
// compression driver its impedance and excursion.
func HornEfficiency(st *cabinet.HornStudy, sys quantity.System) plots.Chart {
	l := st.Loading
	n := len(st.Frequency)
	eta, ohm, mm := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range st.Frequency {
		eta[i] = 100 * l.Efficiency(i)
		if l.Drives != nil {
			ohm[i] = math.Hypot(real(l.Drives[i].Impedance), imag(l.Drives[i].Impedance))
			mm[i] = 1e3 * l.Drives[i].Excursion
		}
	}
	label, subtitle := "share of a plane wave's power", hornModel(st, sys)
	if l.Drives != nil {
		label, subtitle = "compression driver", fmt.Sprintf("%g V r.m.s.; %s", l.Voltage, subtitle)
	}
	top := plots.Panel{
		Y: plots.Axis{Label: "Efficiency", Unit: "%", Low: 0, High: 100}, Height: 150,
		Curves: []plots.Curve{{Label: label, X: st.Frequency, Y: eta}},
	}
	if f := st.Sizing.Horn.Lower; numeric.Given(f) {
		top.Guides = []plots.Guide{{Value: f, Vertical: true, Text: "lower limit " + plots.Hz(f)}}
	}
	c := plots.Chart{X: band(), Panels: []plots.Panel{top}}
	if l.Drives != nil {
		c.Panels = append(c.Panels,
			plots.LogPanel("Impedance", "Ω", plots.Curve{Label: "electrical", X: st.Frequency, Y: ohm, Colour: 2}),
			plots.LogPanel("Peak excursion", "mm", plots.Curve{Label: "diaphragm", X: st.Frequency, Y: mm, Colour: 3}))
	}
	c.Caption = caption("Source on the horn", subtitle, st.Design, &st.Sizing, "aperture", "Efficiency of the source on the horn against frequency.", sys)
	return c
}

// HornRule charts Keele's rule against the aperture integral over the coverage.
func HornRule(st *cabinet.HornStudy, sys quantity.System) plots.Chart {
	var theta, rule, computed, deviation []float64
	for _, r := range st.Rule {
		theta = append(theta, r.Coverage/degree)
		rule, computed = append(rule, r.Rule), append(computed, r.Computed.Frequency)
		deviation = append(deviation, 100*r.Deviation)
	}
	h := &st.Sizing.Horn
	c := plots.Chart{X: plots.Axis{Label: "Coverage", Unit: "degrees"}, Panels: []plots.Panel{
		{
			Y:      plots.Axis{Label: "Holds the coverage from", Unit: "Hz", Kind: plots.Logarithmic},
			Curves: []plots.Curve{{Label: "rule", X: theta, Y: rule}, {Label: "aperture integral", X: theta, Y: computed}},
			Height: 180,
		},
		{
			Y:      plots.Axis{Label: "Rule − integral", Unit: "%"},
			Curves: []plots.Curve{{Label: "deviation", X: theta, Y: deviation, Colour: 3}},
			Guides: []plots.Guide{{Value: 0, Strong: true}},
			Height: 110,
		},
	}}
	if numeric.Given(h.PatternComputed) {
		c.Panels[0].Marks = []plots.Mark{{X: h.ExitCoverage / degree, Y: h.PatternComputed, Text: "this design"}}
	}
	c.Caption = caption("Rule against aperture integral", fmt.Sprintf("10⁶/(W·θ) against the −6 dB width of a mouth with a circular front; exit %s wide",
		quantity.Format(h.ExitWidth, quantity.Length, sys)), st.Design, &st.Sizing, "rule and aperture",
		"Frequency from which a mouth holds its coverage, by rule and by integral, against the coverage, and the deviation.", sys)
	return c
}
