package describe

import (
	"math"
	"slices"

	"gapline/cabinet/section"
	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/result"
	"gapline/internal/study/wave"
)

// WavePlan describes the plan section solved. The polar shows the frequencies
// nearest to at, Hz, or octaves.
func WavePlan(st *wave.Plan, at []float64) *result.Result {
	p := planParts{st}
	r := waved(st.Design, &st.Sizing, p.text(), "plan")
	s := p.solution()
	byHorn := st.Check.Driven == section.ByHorn
	if byHorn {
		r.Add(alone(result.Table{Shown: result.At(result.Screen), Title: result.Plain("HORIZONTAL PATTERN"), Columns: []result.Column{value, headed(trust, "trust")},
			Rows: result.Rows(known(&st.Sizing, figure.HornPatternRule, figure.HornPatternComputed, figure.HornPatternWave, figure.HornNarrowest, figure.HornNarrowestWave)...)}))
	}
	widths := p.widths()
	every := append(widths, p.others()...)
	f := st.Check.Result.Frequency
	r.Add(alone(sampled(result.At(result.Screen), "-6 dB WIDTH AT", f, stride(len(f)), p.shown(every))),
		notes(advice.PlanFindings(st.Check, stride(len(f)))),
		everyColumn(append(append([]curve{{figure: figure.WaveFrequency, y: f}}, every...), s.sizes("unknowns"), s.changes())...),
		named("driven", result.Word(drivenWords[st.Check.Driven])), s.data(), listed(result.At(result.Data), append([]curve{s.sizes("")}, every...)))
	if byHorn {
		r.Add(result.Table{Shown: result.At(result.Data), Columns: []result.Column{value}, Rows: result.Rows(figureRows(&st.Sizing, planFigures...)...)})
	}
	r.Add(p.pattern())
	if byHorn {
		r.Add(throat(st.Check.Result.Throat))
	}
	r.Add(listed(result.At(result.Data), []curve{s.changes()}), p.beamwidth(), p.polar(at), p.angleMap())
	if st.Field != nil {
		r.Add(p.field(result.View(WaveField, result.Drawn), false, 0), p.field(result.View(WaveInstant, result.Drawn), true, 0))
	}
	return r
}

// WavePlanFrame is the field of the plan at a phase in rad.
func WavePlanFrame(st *wave.Plan, phase float64) result.Part {
	return planParts{st}.field(result.At(result.Drawn), true, phase)
}

// planFigures are the figures that the plan section stands beside.
var planFigures = []*figure.Def{figure.HornPatternRule, figure.HornPatternComputed, figure.HornPatternWave,
	figure.HornNarrowest, figure.HornNarrowestAt, figure.HornNarrowestWave, figure.HornNarrowestWaveAt}

var drivenWords = map[section.Driven]string{section.ByHorn: "horn", section.ByWoofers: "woofers"}

type planParts struct{ *wave.Plan }

func (p planParts) solution() *solution {
	r := p.Check.Result
	return &solution{r.Frequency, r.Seconds, r.Unknowns, r.Change}
}

func (p planParts) caption(c result.Caption) result.Caption {
	c.Subtitle = p.text()
	return captioned(c, p.Design, &p.Sizing)
}

// widths are the -6 dB widths over frequency.
func (p planParts) widths() []curve {
	c := p.Check
	out := []curve{{figure: figure.WaveBeamwidth, head: "wave", y: c.Result.Beamwidth}}
	if c.Driven == section.ByHorn {
		out = append(out, curve{figure: figure.WaveBeamwidthAperture, head: "aperture", y: c.Aperture},
			curve{figure: figure.WaveBeamwidthRule, head: "rule", y: c.Rule})
	}
	return out
}

// others are the edges of the pattern over frequency, its aim, and the width that
// refers to the greatest level.
func (p planParts) others() []curve {
	r := p.Check.Result
	return []curve{{figure: figure.WaveLeftEdge, head: "left edge", y: r.Left}, {figure: figure.WaveRightEdge, head: "right edge", y: r.Right},
		{figure: figure.WaveAim, head: "aim", y: r.Aim()}, {figure: figure.WavePeakWidth, head: "re greatest", y: r.PeakWidth}}
}

// sameWidth is how little two widths may differ to be shown as one, rad.
const sameWidth = math.Pi / 180

// shown are the curves that the screen has: without edges and aim where the pattern
// is the same on both sides, and without the width re the greatest level where that
// is the axis's everywhere.
func (p planParts) shown(all []curve) []curve {
	r := p.Check.Result
	same := true
	for i, w := range r.Beamwidth {
		same = same && (math.Abs(w-r.PeakWidth[i]) <= sameWidth || !numeric.Given(w) && !numeric.Given(r.PeakWidth[i]))
	}
	return slices.DeleteFunc(slices.Clone(all), func(c curve) bool {
		switch c.figure {
		case figure.WavePeakWidth:
			return same
		case figure.WaveLeftEdge, figure.WaveRightEdge, figure.WaveAim:
			return r.Symmetric()
		}
		return false
	})
}

// patternStep thins the angles of the pattern to two degrees.
const patternStep = 8

func thinned(v []float64) []float64 {
	var out []float64
	for j := 0; j < len(v); j += patternStep {
		out = append(out, v[j])
	}
	return out
}

// pattern is the level over angle at every frequency, for programs.
func (p planParts) pattern() result.Grid {
	r := p.Check.Result
	g := result.Grid{Shown: result.At(result.Data), Key: "polar", Fig: figure.WavePolarLevel,
		X: result.Values{Key: "angle_deg", Fig: figure.WavePolarAngle, SI: thinned(r.Angle)}, Y: result.Values{Fig: figure.WaveFrequency, SI: r.Frequency}}
	for _, row := range r.Pattern {
		g.Z = append(g.Z, thinned(row))
	}
	return g
}

// beamwidth charts the −6 dB width against frequency, beside aperture and rule.
func (p planParts) beamwidth() result.Series {
	c := p.Check
	f := c.Result.Frequency
	panel := result.Panel{Curves: []result.Curve{{Label: result.Plain("wave"), X: f, Y: c.Result.Beamwidth, Colour: 1, Dash: result.Solid}}}
	caption := result.Caption{Title: "Horizontal −6 dB width of the woofers' openings", Trust: "wave",
		Alt: result.Say("Full -6 dB width against frequency at level wave; coverage first reached at %s.", hertz(p.Sizing.Wave.Pattern))}
	out := result.Series{Shown: result.View(WaveBeamwidth, result.Drawn), Form: result.Beamwidth, X: runBand(f)}
	if c.Driven == section.ByHorn {
		caption.Title, caption.Trust = "Horizontal −6 dB width of the horn in its cabinet", "wave; aperture and rule beside it"
		for _, x := range []result.Curve{
			{Label: result.Plain("aperture"), X: f, Y: c.Aperture, Colour: 2, Dash: result.Dashed},
			{Label: result.Plain("rule"), X: f, Y: c.Rule, Colour: 3, Dash: result.Dotted},
		} {
			if numeric.AnyGiven(x.Y) {
				panel.Curves = append(panel.Curves, x)
			}
		}
		out.Nominal = p.Design.Horn.ExitCoverage()
		if from := p.Sizing.Wave.Pattern; numeric.Given(from) {
			panel.Marks = []result.Mark{{X: from, Y: out.Nominal, Text: result.Say("from %s", hertz(from))}}
		}
	}
	out.Panels, out.Caption = []result.Panel{panel}, p.caption(caption)
	return out
}

// polar charts the pattern at a few frequencies.
func (p planParts) polar(wanted []float64) result.Series {
	r := p.Check.Result
	var panel result.Panel
	title := "Horizontal pattern, far field, relative to the axis"
	if !r.Symmetric() {
		title += ", seen from above, positive to the left"
	}
	for _, i := range shownAt(r.Frequency, wanted) {
		panel.Curves = append(panel.Curves, result.Curve{Label: result.Say("%s", hertz(r.Frequency[i])),
			X: p.round(r.Angle, -1), Y: p.round(r.Pattern[i], 1)})
	}
	return result.Series{Shown: result.View(WavePolar, result.Drawn), Form: result.Polar, Panels: []result.Panel{panel}, Left: !r.Symmetric(),
		Caption: p.caption(result.Caption{Title: title, Trust: "wave"})}
}

// round continues values given from 0 to 180° to the other side, times sign; a
// pattern that is not symmetric has them all.
func (p planParts) round(v []float64, sign float64) []float64 {
	if !p.Check.Result.Symmetric() {
		return v
	}
	var out []float64
	for i := len(v) - 1; i > 0; i-- {
		out = append(out, sign*v[i])
	}
	return append(out, v...)
}

// mapFloor is the lowest level of a map, dB: a null has no bottom.
const mapFloor = -100

// angleMap is the pattern over frequency and angle.
func (p planParts) angleMap() result.Grid {
	r := p.Check.Result
	g := result.Grid{Shown: result.View(WaveMap, result.Drawn), Fig: figure.WavePolarLevel,
		X: result.Values{Fig: figure.WaveFrequency, SI: r.Frequency}, Y: result.Values{Fig: figure.WavePolarAngle, SI: thinned(p.round(r.Angle, -1))}}
	g.Z = make([][]float64, len(g.Y.SI))
	for i := range r.Pattern {
		for j, level := range thinned(p.round(r.Pattern[i], 1)) {
			g.Z[j] = append(g.Z[j], math.Max(level, mapFloor))
		}
	}
	title := "Horizontal pattern against frequency, relative to the axis"
	if !r.Symmetric() {
		title += ", positive to the left"
	}
	g.Look = &result.Map{Form: result.AngleMap, Caption: p.caption(result.Caption{Title: title, Trust: "wave"})}
	return g
}

// field is the field around the section.
func (p planParts) field(shown result.Shown, instant bool, phase float64) result.Grid {
	f := p.Plan.Field.First
	v := fieldView{instant, phase}
	g := v.grid(shown, f.X, f.Y, "the far end of the axis", 3)
	g.Z = v.values(f, p.Plan.Field.Reference)
	bleed(g.Z)
	g.Look.X.Label, g.Look.Y.Label = "Across", "Forward of the front"
	if !p.Check.Plan.Symmetric() {
		g.Look.X.Label = "To the right of the middle"
	}
	g.Look.Overlays = walls(f.Outlines, 0)
	for i := range g.Look.Overlays {
		g.Look.Overlays[i].Solid = true
	}
	g.Look.Caption = p.caption(v.caption("around the box in plan", f.Frequency))
	return g
}
