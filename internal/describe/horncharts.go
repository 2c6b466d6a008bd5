package describe

import (
	"fmt"
	"math"

	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/waveguide"
)

// hornBand is the frequency axis of the charts.
var hornBand = result.Axis{Scale: result.FrequencyScale, Kind: quantity.Frequency, Low: 100, High: 20e3}

func (h hornParts) caption(c result.Caption) result.Caption {
	return captioned(c, h.Design, &h.Sizing)
}

func (h hornParts) charts() []result.Part {
	out := []result.Part{h.beamwidth()}
	if h.Loading != nil {
		out = append(out, h.impedance(), h.efficiency())
	}
	return append(out, h.ruleChart())
}

// hornChart shows where a view is drawn and, but for views that ask more of a reader,
// in the document.
func hornChart(view string) result.Shown {
	places := result.Drawn
	if view != HornMap && view != HornRule {
		places |= result.Page
	}
	return result.View(view, places)
}

// beamwidth charts the widths against frequency, with the coverage, the control
// frequency by rule and by integral, and the narrowest point.
func (h hornParts) beamwidth() result.Series {
	s := &h.Sizing.Horn
	var p result.Panel
	add := func(label string, widths []float64) {
		if numeric.AnyGiven(widths) {
			p.Curves = append(p.Curves, result.Curve{Label: result.Plain(label), X: h.Frequency, Y: widths})
		}
	}
	horizontal := "horizontal"
	if h.Bare != nil {
		horizontal = "horizontal, with flares"
	}
	add(horizontal, h.Horizontal)
	add("vertical", h.Vertical)
	add("horizontal, mouth alone", h.Bare)
	mark := func(f, width float64, text result.Text) {
		if numeric.Given(f) && numeric.Given(width) {
			p.Marks = append(p.Marks, result.Mark{X: f, Y: width, Text: text})
		}
	}
	mark(s.PatternRule, s.ExitCoverage, result.Say("rule %s", short(s.PatternRule)))
	mark(s.PatternComputed, s.ExitCoverage, result.Say("computed %s", short(s.PatternComputed)))
	mark(s.NarrowestAt, s.Narrowest, result.Say("narrowest %s at %s", angle(s.Narrowest), short(s.NarrowestAt)))
	return result.Series{Shown: hornChart(HornBeamwidth), Form: result.Beamwidth, X: hornBand, Panels: []result.Panel{p},
		Nominal: math.Round(s.ExitCoverage*180/math.Pi*100) / 100 * math.Pi / 180,
		Caption: h.caption(result.Caption{
			ID: "beamwidth", Title: "Beamwidth of the horn", Trust: "aperture; rule where marked", Page: "−6 dB width of the horn against frequency",
			Subtitle: result.Say("−6 dB full width by aperture integral, rigid baffle; exit %s wide; %s", length(s.ExitWidth), h.verticalText()),
			Alt:      result.Say("Beamwidth against frequency: %s", holds(s)),
		})}
}

// holds says from where the horn holds its coverage.
func holds(s *sizing.HornSizing) result.Text {
	if !numeric.Given(s.PatternComputed) {
		return result.Say("the horn does not narrow to %s.", angle(s.ExitCoverage))
	}
	return result.Say("the horn holds %s from %s by rule, %s computed.", angle(s.ExitCoverage), short(s.PatternRule), short(s.PatternComputed))
}

// verticalText says which front the vertical width has.
func (h hornParts) verticalText() result.Text {
	path := h.Sizing.Horn.Path
	switch {
	case h.Vertical == nil:
		return result.Plain("vertical front not known")
	case math.IsInf(path, 1):
		return result.Plain("vertical front plane")
	}
	return result.Say("vertical front about an apex %s behind", length(path))
}

// angleMap is the horizontal level over angle and frequency.
func (h hornParts) angleMap() result.Grid {
	s := &h.Sizing.Horn
	g := result.Grid{Shown: result.View(HornMap, result.Data|result.Listing|result.Drawn), Key: "map", Fig: figure.HornMapLevel,
		X: result.Values{Fig: figure.HornCurveFrequency, SI: h.Frequency}, Y: result.Values{Key: "angle_deg", Fig: figure.HornMapAngle, SI: h.Map.Angles},
		Z: h.Map.Level, Turned: true}
	for _, a := range h.Map.Angles {
		g.Heads = append(g.Heads, fmt.Sprintf("%.0f_deg_db", figure.HornMapAngle.Machine(a)))
	}
	g.Look = &result.Map{Form: result.AngleMap, Caption: h.caption(result.Caption{
		ID: "map", Title: "Horizontal pattern of the horn", Trust: "aperture",
		Subtitle: result.Say("aperture integral, rigid baffle, normalised to 0° on axis; exit %s wide, coverage %s", length(s.ExitWidth), angle(s.ExitCoverage)),
		Alt:      result.Plain("Map of the horizontal level over angle and frequency, with the −6 dB contours bold."),
	})}
	return g
}

// impedance charts the throat impedance over ρc/S and the power that a plane wave
// hands over.
func (h hornParts) impedance() result.Series {
	l, s := h.Loading, &h.Sizing.Horn
	r := each(l.Load.Impedance, func(z complex128) float64 { return real(z) })
	x := each(l.Load.Impedance, func(z complex128) float64 { return imag(z) })
	high, low := 1.0, 0.0
	for i := range r {
		high, low = math.Max(high, math.Max(r[i], x[i])), math.Min(low, x[i])
	}
	upper := result.Panel{Y: result.Axis{Label: "Throat impedance", Unit: "ρc/S", Low: math.Floor(2*low) / 2, High: math.Ceil(2*high) / 2},
		Height: 180, Curves: []result.Curve{
			{Label: result.Plain("resistance"), X: h.Frequency, Y: r}, {Label: result.Plain("reactance"), X: h.Frequency, Y: x}}}
	if len(l.Infinite) == len(r) {
		upper.Curves = append(upper.Curves, result.Curve{Label: result.Plain("resistance, endless horn"), X: h.Frequency,
			Y: each(l.Infinite, func(z complex128) float64 { return real(z) }), Thin: true, Dash: result.ShortDash, Colour: 1})
	}
	upper.Guides = append(at("cutoff %s", s.Cutoff), at("lower limit %s", s.Lower)...)
	return result.Series{Shown: hornChart(HornImpedance), X: hornBand, Panels: []result.Panel{upper, {
		Y: result.Axis{Label: "Power taken", Kind: quantity.Fraction, Unit: "%", Low: 0, High: 1}, Height: 110,
		Curves: []result.Curve{{Label: result.Plain("from a plane-wave tube"), X: h.Frequency, Y: l.Tube, Colour: 3}},
	}}, Caption: h.caption(result.Caption{
		ID: "impedance", Title: "Loading of the horn", Subtitle: h.model(), Trust: "aperture", Page: "Throat impedance of the horn",
		Alt: result.Plain("Throat resistance and reactance against frequency, and the share of a plane wave's power that enters."),
	})}
}

// at is a vertical guide at a frequency that exists.
func at(form string, f float64) []result.Guide {
	if !numeric.Given(f) {
		return nil
	}
	return []result.Guide{{Value: f, Vertical: true, Text: result.Say(form, short(f))}}
}

func (h hornParts) model() result.Text {
	d := &h.Design.Horn
	profile := d.Profile.Name()
	if d.Profile == 0 || d.Profile == waveguide.ByPoints {
		profile = fmt.Sprintf("%d points", len(d.Areas))
	}
	text := "profile: " + profile + "; plane fronts; mouth a piston in a rigid baffle"
	if h.Bare != nil {
		text += "; without the side flares"
	}
	return result.Plain(text)
}

// efficiency charts what the source makes of the horn: efficiency, and with a
// compression driver its impedance and excursion.
func (h hornParts) efficiency() result.Series {
	l := h.Loading
	label, subtitle := "share of a plane wave's power", h.model()
	if l.Drives != nil {
		label = "compression driver"
		subtitle = result.Say("%s r.m.s.; %s", result.Num(l.Voltage, quantity.Voltage).As(quantity.Style{Verb: "%g"}), h.model())
	}
	eta := l.Tube
	if l.Drives != nil {
		eta = each(l.Drives, func(d waveguide.Drive) float64 { return d.Efficiency })
	}
	panels := []result.Panel{{
		Y: result.Axis{Label: "Efficiency", Kind: quantity.Fraction, Unit: "%", Low: 0, High: 1}, Height: 150,
		Curves: []result.Curve{{Label: result.Plain(label), X: h.Frequency, Y: eta}}, Guides: at("lower limit %s", h.Sizing.Horn.Lower),
	}}
	if l.Drives != nil {
		panels = append(panels,
			logPanel("Impedance", quantity.Resistance, "Ω", result.Curve{Label: result.Plain("electrical"), X: h.Frequency,
				Y: each(l.Drives, func(d waveguide.Drive) float64 { return math.Hypot(real(d.Impedance), imag(d.Impedance)) }), Colour: 2}),
			logPanel("Peak excursion", quantity.Length, "mm", result.Curve{Label: result.Plain("diaphragm"), X: h.Frequency,
				Y: each(l.Drives, func(d waveguide.Drive) float64 { return d.Excursion }), Colour: 3}))
	}
	return result.Series{Shown: hornChart(HornEfficiency), X: hornBand, Panels: panels, Caption: h.caption(result.Caption{
		ID: "efficiency", Title: "Source on the horn", Subtitle: subtitle, Trust: "aperture", Page: "How much power enters the horn",
		Alt: result.Plain("Efficiency of the source on the horn against frequency."),
	})}
}

// logPanel shows a positive quantity on a logarithmic axis.
func logPanel(title string, k quantity.Kind, unit string, curves ...result.Curve) result.Panel {
	return result.Panel{Y: result.Axis{Label: title, Kind: k, Unit: unit, Scale: result.Logarithmic}, Curves: curves, Proportion: result.LogProportion}
}

// ruleChart charts Keele's rule against the aperture integral over the coverage.
func (h hornParts) ruleChart() result.Series {
	var theta, rule, computed, deviation []float64
	for _, r := range h.Rule {
		theta, rule = append(theta, r.Coverage), append(rule, r.Rule)
		computed, deviation = append(computed, r.Computed.Frequency), append(deviation, r.Deviation)
	}
	s := &h.Sizing.Horn
	var here []result.Mark
	if numeric.Given(s.PatternComputed) {
		here = []result.Mark{{X: s.ExitCoverage, Y: s.PatternComputed, Text: result.Plain("this design")}}
	}
	return result.Series{Shown: hornChart(HornRule), X: result.Axis{Label: "Coverage", Kind: quantity.Angle, Unit: "deg"}, Panels: []result.Panel{
		{
			Y:      result.Axis{Label: "Holds the coverage from", Kind: quantity.Frequency, Unit: "Hz", Scale: result.Logarithmic},
			Curves: []result.Curve{{Label: result.Plain("rule"), X: theta, Y: rule}, {Label: result.Plain("aperture integral"), X: theta, Y: computed}},
			Marks:  here,
			Height: 180,
		},
		{
			Y:      result.Axis{Label: "Rule − integral", Kind: quantity.Fraction, Unit: "%"},
			Curves: []result.Curve{{Label: result.Plain("deviation"), X: theta, Y: deviation, Colour: 3}},
			Guides: []result.Guide{{Value: 0, Strong: true}},
			Height: 110,
		},
	}, Caption: h.caption(result.Caption{
		ID: "rule", Title: "Rule against aperture integral", Trust: "rule and aperture",
		Subtitle: result.Say("10⁶/(W·θ) against the −6 dB width of a mouth with a circular front; exit %s wide", length(s.ExitWidth)),
		Alt:      result.Plain("Frequency from which a mouth holds its coverage, by rule and by integral, against the coverage, and the deviation."),
	})}
}
