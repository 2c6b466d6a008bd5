package describe

import (
	"math"
	"math/cmplx"

	"gapline/cabinet/outside"
	"gapline/cabinet/surface"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/size"
	"gapline/internal/study/wave"
)

// WaveResponse is the view of the levels against frequency, WaveSurface that of the pressure
// on the surface.
const (
	WaveResponse = "response"
	WaveSurface  = "surface"
)

// WaveFrontViews are the views of the outside in space, the usual one first.
var WaveFrontViews = []string{WaveResponse, WavePolar, WaveMap, WaveBeamwidth, WaveSurface, WaveField}

// WaveFront describes the outside of a box or of some boxes, solved in space. The polar shows
// the frequencies nearest to at, Hz, or octaves.
func WaveFront(st *wave.Front, at []float64) *result.Result {
	p := frontParts{st}
	r := waved(st.Design, &st.Sizing, p.text(), "front")
	s := p.solution()
	f := st.With.Frequency
	r.Add(p.limits(), p.causes())
	every := p.curves()
	r.Add(alone(sampled(result.At(result.Screen), "AT", f, stride(len(f)), every)), p.neighbours(), p.remarks(),
		everyColumn(append(append([]curve{{figure: figure.WaveFrequency, y: f}}, every...), s.sizes("unknowns"), p.steps())...),
		named("driven", result.Word(frontDriven[st.Driven])), facts(result.Fig(figure.WaveFrontBoxes, float64(st.Boxes))), s.data(), listed(result.At(result.Data), []curve{p.steps()}),
		listed(result.At(result.Data), []curve{{figure: figure.WaveFrontAngle, y: st.With.Angle}}))
	r.Add(p.patterns()...)
	r.Add(p.mouths()...)
	r.Add(p.loads())
	r.Add(p.middleData()...)
	r.Add(p.causeData(), listed(result.At(result.Data), p.data()), p.limitData(), p.response(), p.polar(at), p.angleMap(), p.widths())
	r.Add(p.seen()...)
	return r
}

var frontDriven = [...]string{outside.ByWoofers: "woofers", outside.ByMids: "mids", outside.ByHorn: "horn"}

type frontParts struct{ *wave.Front }

// text says what was solved.
func (p frontParts) text() result.Text {
	s := p.With.Surface
	text := result.Say("Outside in three dimensions: ")
	if p.Boxes == 1 {
		text = text.And(result.Plain("one box").And(p.where()))
	} else {
		how := " boxes with their splay"
		if p.Straight {
			how = " straight boxes"
		}
		text = text.And(result.Say("%s"+how, result.Count(p.Boxes)).And(p.where()))
		if s.Joined {
			text = text.And(result.Plain(", the joints between them closed"))
		}
	}
	text = text.And(result.Plain("; driven by the " + frontDriven[p.Driven]))
	switch {
	case p.Driven == outside.ByHorn:
		text = text.And(result.Plain(", whose exit moves as its front does"))
	case p.ByCircuit:
		text = text.And(result.Say(", %s at each box", result.Num(p.With.Task.Volts, quantity.Voltage)))
	default:
		text = text.And(result.Plain(", each cone with 1 m/s²"))
	}
	planes := [...]string{"no mirror plane", "one mirror plane", "two mirror planes"}
	return text.And(result.Plain("; " + planes[s.Planes.Count()] + ". Vents stand still."))
}

// where is what the boxes hang or stand in.
func (p frontParts) where() result.Text {
	s := p.With.Surface
	switch {
	case s.Stands:
		return result.Plain(" standing on a rigid floor")
	case s.Floor:
		return result.Say(" %s above a rigid floor", length(p.With.Task.Floor.Value()))
	}
	return result.Plain(" in free air")
}

func (p frontParts) solution() *solution {
	r := p.With
	return &solution{r.Frequency, r.Seconds, r.Unknowns, nil}
}

// steps are those of the iteration at each frequency.
func (p frontParts) steps() curve {
	return curve{figure: figure.WaveFrontSteps, y: each(p.With.Steps, func(n int) float64 { return float64(n) })}
}

// loads are the radiation impedances between what moves, for programs.
func (p frontParts) loads() result.Section {
	z := p.With.Impedance()
	part := func(f *figure.Def, of func(complex128) float64) result.Part {
		g := result.Grid{Shown: result.At(result.Data), Fig: f, Split: len(p.With.Area)}
		for _, matrix := range z {
			var flat []float64
			for _, row := range matrix {
				flat = append(flat, each(row, of)...)
			}
			g.Z = append(g.Z, flat)
		}
		return g
	}
	return result.Section{Shown: result.At(result.Data), Key: "load", Parts: []result.Part{
		part(figure.WaveFrontResistance, func(z complex128) float64 { return real(z) }),
		part(figure.WaveFrontReactance, func(z complex128) float64 { return imag(z) }),
	}}
}

func (p frontParts) caption(c result.Caption) result.Caption {
	c.Subtitle = p.text()
	return captioned(c, p.Design, &p.Sizing)
}

// curves are the figures against frequency.
func (p frontParts) curves() []curve {
	r := p.With
	out := []curve{{figure: figure.WaveFrontAxis, head: "ahead", y: r.OnAxis()}}
	if p.Bare != nil {
		bare := p.Bare.OnAxis()
		gain := make([]float64, len(bare))
		for i, x := range out[0].y {
			gain[i] = x - bare[i]
		}
		out = append(out, curve{figure: figure.WaveFrontAxisWithout, head: "without insert", y: bare}, curve{figure: figure.WaveFrontGain, head: "insert adds", y: gain})
	}
	out = append(out, curve{figure: figure.WaveFrontWidth, head: "width", y: r.Widths(r.Horizontal)}, curve{figure: figure.WaveFrontHeight, head: "height", y: r.Widths(r.Vertical)},
		curve{figure: figure.WaveFrontBehind, head: "behind", y: r.Behind()})
	if lag := r.ChamberLag(); lag != nil {
		out = append(out, curve{figure: figure.WaveFrontPassed, head: "mouths", y: p.passed()}, curve{figure: figure.WaveFrontLag, head: "lag", y: lag},
			curve{figure: figure.WaveFrontApart, head: "apart", y: r.Apart()})
	}
	return out
}

// passed is the level of the mouths' flow against the cones'.
func (p frontParts) passed() []float64 {
	out := make([]float64, len(p.With.Out))
	for i, u := range p.With.Out {
		out[i] = numeric.DB(cmplx.Abs(u / p.With.Cones[i]))
	}
	return out
}

// mouths are the flows through each mouth, for programs.
func (p frontParts) mouths() []result.Part {
	passed := p.With.Passed()
	if passed == nil {
		return []result.Part{named(figure.WaveFrontMouth.Leaf(), result.None), named(figure.WaveFrontMouthLag.Leaf(), result.None)}
	}
	flow := result.Grid{Shown: result.At(result.Data), Fig: figure.WaveFrontMouth}
	lag := result.Grid{Shown: result.At(result.Data), Fig: figure.WaveFrontMouthLag}
	all := p.With.ChamberLag()
	for i, row := range passed {
		flow.Z = append(flow.Z, each(row, cmplx.Abs))
		lag.Z = append(lag.Z, each(row, func(u complex128) float64 {
			phase := -cmplx.Phase(u)
			return phase + 2*math.Pi*math.Round((all[i]-phase)/(2*math.Pi))
		}))
	}
	return []result.Part{flow, lag}
}

// data are the curves for programs, under their keys.
func (p frontParts) data() []curve {
	out := p.curves()
	have := map[*figure.Def]bool{}
	for _, c := range out {
		have[c.figure] = true
	}
	for _, f := range []*figure.Def{figure.WaveFrontAxisWithout, figure.WaveFrontGain, figure.WaveFrontPassed, figure.WaveFrontLag, figure.WaveFrontApart} {
		if !have[f] {
			out = append(out, curve{figure: f, y: absent(len(p.With.Frequency))})
		}
	}
	for i := range out {
		out[i].maybe = true
	}
	return out
}

// patterns are the levels over angle at every frequency, for programs.
func (p frontParts) patterns() []result.Part {
	grid := func(f *figure.Def, key string, z [][]float64) result.Part {
		return result.Grid{Shown: result.At(result.Data), Fig: f, ValueOf: key, Z: z}
	}
	out := []result.Part{grid(figure.WaveFrontLevel, "level_db", p.With.Levels(p.With.Vertical)), grid(figure.WaveFrontHorizontal, "", p.With.Levels(p.With.Horizontal))}
	if p.Bare == nil {
		return append(out, named("level_without_insert_db", result.None))
	}
	return append(out, grid(figure.WaveFrontLevelWithout, "", p.Bare.Levels(p.Bare.Vertical)))
}

// limitsOf is a limit of the wave level beside those of the lower ones.
type limitsOf struct {
	wave  *figure.Def
	lower []*figure.Def
}

// limits are what the run found, beside the rules, and how far those are off.
func (p frontParts) limits() result.Part {
	list := p.besides()
	if len(list) == 0 {
		return result.Section{}
	}
	var rows result.List
	for _, c := range list {
		top := size.Of(&p.Sizing, c.wave)
		cell := result.Fig(c.wave, top)
		if !numeric.Given(top) {
			cell.Words = "none up to " + p.end()
		}
		rows.Add(result.Row{Label: result.Plain(c.wave.Name), Cells: []result.Cell{cell, result.None}, Trust: c.wave.Trust})
		for _, f := range c.lower {
			v := size.Of(&p.Sizing, f)
			if !numeric.Given(v) {
				continue
			}
			off := result.None
			if numeric.Given(top) && !math.IsInf(v, 0) {
				off = result.Fig(figure.WaveFrontOff, math.Log2(v/top)).As(quantity.Style{Verb: "%+.2f"})
			}
			rows.Add(result.Row{Label: result.Plain("  " + f.Name), Cells: []result.Cell{size.Cell(&p.Sizing, f), off}, Trust: f.Trust})
		}
	}
	return alone(result.Table{Shown: result.At(result.Screen), Title: result.Plain("LIMITS"),
		Columns: []result.Column{value, headed(value, "off by"), headed(trust, "trust")}, Rows: rows.Rows()})
}

func (p frontParts) besides() []limitsOf {
	if !p.Stands() {
		return nil
	}
	line := figure.CouplingOpen
	switch {
	case p.Sizing.Coupling.HasMid:
		line = figure.CouplingMid
	case p.Sizing.Coupling.HasInsert:
		line = figure.CouplingInsert
	}
	out := []limitsOf{{figure.CouplingLobeWave, []*figure.Def{line.Lobe}}}
	if p.Sizing.Coupling.HasInsert {
		out = append(out, limitsOf{figure.CouplingInsertChamberWave, []*figure.Def{figure.CouplingInsertChamber, figure.CouplingInsertCoupled}},
			limitsOf{figure.CouplingInsertPartWave, []*figure.Def{figure.CouplingInsertInPhase, figure.CouplingInsertPart}})
	}
	return out
}

// limitData are the limits for programs.
func (p frontParts) limitData() result.Table {
	var rows result.List
	for _, f := range []*figure.Def{figure.CouplingLobeWave, figure.CouplingInsertChamberWave, figure.CouplingInsertPartWave} {
		rows.Add(result.FigureRow(size.Cell(&p.Sizing, f)))
	}
	control := numeric.Absent
	if p.Driven == outside.ByHorn {
		control = p.With.Control(p.Design.Horn.ExitCoverage()).Hz
	}
	rows.Add(result.FigureRow(result.Fig(figure.WaveFrontControl, control)))
	return result.Table{Shown: result.At(result.Data), Columns: []result.Column{value}, Rows: rows.Rows()}
}

// remarks say what to know of the run.
func (p frontParts) remarks() result.Findings {
	var list []result.Finding
	note := func(key string, text result.Text) {
		list = append(list, result.Finding{Severity: result.Note, Key: key, Text: text})
	}
	if p.Driven == outside.ByHorn {
		c := p.With.Control(p.Design.Horn.ExitCoverage())
		text := result.Say("The horn does not come to hold its %s within this run.", angle(p.Design.Horn.ExitCoverage()))
		if numeric.Given(c.Hz) {
			text = result.Say("In space the horn holds its %s from %s on, by rule from %s, by aperture from %s.", angle(p.Design.Horn.ExitCoverage()), hertz(c.Hz),
				hertz(p.Sizing.Horn.PatternRule), hertz(p.Sizing.Horn.PatternComputed))
		}
		note(figure.WaveFrontControl.Key, text)
	}
	if !p.ByCircuit && p.Driven == outside.ByWoofers {
		note(figure.WaveFrontAxis.Key, result.Say("Levels are for equal accelerations: %s.", result.Name(p.Why)))
	}
	p.whyRemarks(note)
	for _, d := range p.With.Surface.Defaults {
		note(takenKeys[d.Of], result.Say(takenWords[d.Of], length(d.Value)))
	}
	if p.Bare != nil {
		if i, most := p.greatestGain(); most > 0 {
			note(figure.WaveFrontGain.Key, result.Say("The insert adds %s ahead at %s, the most of this run.", level(most), hertz(p.With.Frequency[i])))
		}
	}
	return notes(list)
}

// takenKeys are the keys that would say what the surface takes, takenWords say what it took.
var (
	takenKeys  = [...]string{surface.PlateThickness: "insert.slot_depth", surface.WallThickness: "cabinet.wall", surface.ChamberDepth: "insert.chamber_volume"}
	takenWords = [...]string{
		surface.PlateThickness: "The insert's plate is taken to be %s thick, the least that is solved: insert.slot_depth says less, or nothing.",
		surface.WallThickness:  "An opening reaches to the side of the cabinet; beside it the wall is taken to be %s.",
		surface.ChamberDepth:   "The chamber is %s deep, as its volume asks for.",
	}
)

func (p frontParts) greatestGain() (at int, most float64) {
	bare := p.Bare.OnAxis()
	for i, x := range p.With.OnAxis() {
		if x-bare[i] > most {
			at, most = i, x-bare[i]
		}
	}
	return at, most
}

// response charts the level ahead with and without the insert, and to the rear.
func (p frontParts) response() result.Series {
	r := p.With
	f := r.Frequency
	curves := []result.Curve{{Label: result.Plain("ahead"), X: f, Y: r.OnAxis(), Colour: 1, Dash: result.Solid}}
	if p.Bare != nil {
		curves[0].Label = result.Plain("with insert")
		curves = append(curves, result.Curve{Label: result.Plain("without insert"), X: f, Y: p.Bare.OnAxis(), Colour: 2, Dash: result.Dashed})
	}
	behind := r.OnAxis()
	for i, x := range r.Behind() {
		behind[i] += x
	}
	curves = append(curves, result.Curve{Label: result.Plain("behind"), X: f, Y: behind, Colour: 3, Dash: result.Dotted})
	panel := result.Panel{Curves: curves, Y: result.Axis{Label: "Level at 1 m by the far field", Kind: quantity.Level, Unit: "dB"}, Proportion: result.LevelProportion}
	if c := p.Sizing.Wave.Chamber; numeric.Given(c) {
		panel.Guides = append(panel.Guides, result.Guide{Value: c, Vertical: true, Text: result.Say("chamber corner %s", hertz(c))})
	}
	return result.Series{Shown: result.View(WaveResponse, result.Drawn), X: runBand(f), Panels: []result.Panel{panel},
		Caption: p.caption(result.Caption{Title: "Response of the " + frontDriven[p.Driven] + ", solved in space", Trust: "wave"})}
}

// polar charts the upright pattern at a few frequencies.
func (p frontParts) polar(wanted []float64) result.Series {
	r := p.With
	levels := r.Levels(r.Vertical)
	var panel result.Panel
	for _, i := range shownAt(r.Frequency, wanted) {
		panel.Curves = append(panel.Curves, result.Curve{Label: result.Say("%s", hertz(r.Frequency[i])), X: r.Angle, Y: levels[i]})
	}
	return result.Series{Shown: result.View(WavePolar, result.Drawn), Form: result.Polar, Panels: []result.Panel{panel}, Left: true,
		Caption: p.caption(result.Caption{Title: "Upright pattern, far field, relative to the axis, positive up", Trust: "wave"})}
}

// angleMap is the upright pattern over frequency and angle.
func (p frontParts) angleMap() result.Grid {
	r := p.With
	var angles []float64
	const step = 2
	first := 0
	if r.Surface.Floor {
		first = len(r.Angle) / 2 // ahead
	}
	for i := first; i < len(r.Angle); i += step {
		angles = append(angles, r.Angle[i])
	}
	g := result.Grid{Shown: result.View(WaveMap, result.Drawn), Fig: figure.WaveFrontLevel,
		X: result.Values{Fig: figure.WaveFrequency, SI: r.Frequency}, Y: result.Values{Fig: figure.WaveFrontAngle, SI: angles}, Z: make([][]float64, len(angles))}
	for _, row := range r.Levels(r.Vertical) {
		for j := range angles {
			g.Z[j] = append(g.Z[j], math.Max(row[first+step*j], mapFloor))
		}
	}
	g.Look = &result.Map{Form: result.AngleMap, Caption: p.caption(result.Caption{Title: "Upright pattern against frequency, relative to the axis, positive up", Trust: "wave"})}
	return g
}

// widths charts the widths in both planes.
func (p frontParts) widths() result.Series {
	r := p.With
	f := r.Frequency
	panel := result.Panel{Curves: []result.Curve{
		{Label: result.Plain("across"), X: f, Y: r.Widths(r.Horizontal), Colour: 1, Dash: result.Solid},
		{Label: result.Plain("upright"), X: f, Y: r.Widths(r.Vertical), Colour: 2, Dash: result.Dashed},
	}}
	out := result.Series{Shown: result.View(WaveBeamwidth, result.Drawn), Form: result.Beamwidth, X: runBand(f), Panels: []result.Panel{panel},
		Caption: p.caption(result.Caption{Title: "−6 dB widths of the " + frontDriven[p.Driven] + ", solved in space", Trust: "wave"})}
	if p.Driven == outside.ByHorn {
		out.Nominal = p.Design.Horn.ExitCoverage()
	}
	return out
}
