package describe

import (
	"math"

	"gapline/cabinet/section"
	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/size"
	"gapline/internal/study/wave"
	guide "gapline/waveguide/wave"
)

// WaveFold describes the folded guide solved. The chart along the mouth shows the
// frequencies nearest to at, Hz, or octaves.
func WaveFold(st *wave.Fold, at []float64) *result.Result {
	f := foldFront{st}
	r := waved(st.Design, &st.Sizing, f.text(), "fold")
	s := f.solution()
	r.Add(alone(f.front()), alone(f.table()), notes(advice.WaveFoldFindings(st.Check, stride(len(s.frequency)))), f.listing(s),
		named("exit", result.Word(exitWords[st.Check.Exit])), s.data(), listed(result.At(result.Data), []curve{s.sizes("")}))
	r.Add(f.data()...)
	r.Add(listed(result.At(result.Data), []curve{s.changes()}), f.flatness(), f.mouth(at), f.throatChart())
	if st.Field != nil {
		r.Add(f.field(result.View(WaveField, result.Drawn), false, 0), f.field(result.View(WaveInstant, result.Drawn), true, 0))
	}
	return r
}

// WaveFoldFrame is the field in the layers at a phase in rad.
func WaveFoldFrame(st *wave.Fold, phase float64) result.Part {
	return foldFront{st}.field(result.At(result.Drawn), true, phase)
}

var exitWords = map[guide.Exit]string{guide.Matched: "matched", guide.Slot: "slot"}

type foldFront struct{ *wave.Fold }

func (f foldFront) solution() *solution {
	r := f.Check.Result
	return &solution{r.Frequency, r.Seconds, r.Unknowns, r.Change}
}

func (f foldFront) caption(c result.Caption) result.Caption {
	c.Subtitle = f.text()
	return captioned(c, f.Design, &f.Sizing)
}

// unlimited is the length or frequency from which a number of the rays stands for no
// limit.
const unlimited = 1e9

// text describes the folded guide in one sentence.
func (f foldFront) text() result.Text {
	w := &f.Check.ByRays
	front := result.Plain("a plane front")
	if v := w.Spec.VirtualPath; v < unlimited {
		front = result.Say("the front of a path of %s", length(v))
	}
	exit := "the mouth ended in ρc"
	if f.Check.Exit == guide.Slot {
		exit = "the mouth ended as a slot in a wide wall"
	}
	return result.Say("Folded guide as two layers joined along the wall: %s wall %s behind the throat for %s, mouth %s high, layers %s thick; "+exit+".",
		string(w.Wall.Kind()), length(w.Spec.ThroatToWall), front, length(w.Spec.MouthHeight), length(w.Spec.Layer))
}

// front tells how far up the front is flat.
func (f foldFront) front() result.Table {
	byRays := result.Fig(figure.WaveRayFlatTo, f.Check.ByRays.FlatTo())
	if byRays.SI >= unlimited {
		byRays.Words = "no limit"
	}
	rows := append([]result.Row{result.FigureRow(byRays)}, known(&f.Sizing, figure.FoldFlatToWave)...)
	return result.Table{Shown: result.At(result.Screen), Title: result.Plain("FRONT AT THE MOUTH"),
		Columns: []result.Column{value, headed(trust, "trust")}, Rows: result.Rows(rows...)}
}

// spreads are the spreads over the mouth at every frequency, by both models.
func (f foldFront) spreads() (phase, byRays, level, taper curve) {
	c := f.Check
	r := c.Result
	n := len(r.Frequency)
	phase = curve{figure: figure.WavePhaseSpread, head: "phase, wave", y: make([]float64, n)}
	byRays = curve{figure: figure.WaveRayPhaseSpread, key: "ray_phase_spread_deg", head: "by rays", y: make([]float64, n)}
	level = curve{figure: figure.WaveLevelSpread, head: "level, wave", y: make([]float64, n)}
	taper = curve{figure: figure.WaveRayLevelSpread, key: "ray_level_spread_db", head: "by rays", y: make([]float64, n)}
	for i, hz := range r.Frequency {
		phase.y[i], byRays.y[i] = r.PhaseSpread(i), section.Spread(c.RayPhase(hz))
		level.y[i], taper.y[i] = section.Spread(r.Level(i)), section.Spread(c.Rays.Level)
	}
	return phase, byRays, level, taper
}

// table is the front against frequency and the load on the throat, for people.
func (f foldFront) table() result.Table {
	phase, byRays, level, taper := f.spreads()
	load := loads(f.Check.Result.Throat)
	load[0].head, load[1].head = "throat R/ρc", "X/ρc"
	hz := f.Check.Result.Frequency
	return sampled(result.At(result.Screen), "OVER THE MOUTH AT", hz, stride(len(hz)), append([]curve{phase, byRays, level, taper}, load...))
}

// listing is the same at every frequency, for programs.
func (f foldFront) listing(s *solution) result.Table {
	phase, byRays, level, taper := f.spreads()
	load := loads(f.Check.Result.Throat)
	load[0].key, load[1].key = "throat_resistance", "throat_reactance"
	return everyColumn(curve{figure: figure.WaveFrequency, y: s.frequency}, phase, byRays, level, taper, load[0], load[1],
		f.imbalance(), s.sizes("unknowns"), s.changes())
}

func (f foldFront) imbalance() curve {
	return curve{figure: figure.WaveImbalance, y: f.Check.Result.Imbalance}
}

// data holds phases and levels at the heights mouth.y_m, a row for each frequency.
func (f foldFront) data() []result.Part {
	c := f.Check
	r := c.Result
	over := func(fig *figure.Def, row func(i int) []float64) result.Grid {
		g := result.Grid{Shown: result.At(result.Data), Fig: fig}
		for i := range r.Frequency {
			g.Z = append(g.Z, row(i))
		}
		return g
	}
	phase, byRays, level, _ := f.spreads()
	byRays.key = ""
	list := func(curves ...curve) result.Table { return listed(result.At(result.Data), curves) }
	return []result.Part{
		group("mouth", list(curve{figure: figure.WaveMouthY, y: c.Y})),
		over(figure.WavePhase, r.Phase), over(figure.WaveLevel, r.Level),
		group("ray", over(figure.WaveRayPhase, func(i int) []float64 { return c.RayPhase(r.Frequency[i]) }),
			list(curve{figure: figure.WaveRayLevel, y: c.Rays.Level}), facts(result.Fig(figure.WaveRayFlatTo, c.ByRays.FlatTo())), list(byRays)),
		list(phase, level),
		result.Table{Shown: result.At(result.Data), Columns: []result.Column{value}, Rows: result.Rows(
			result.FigureRow(size.Cell(&f.Sizing, figure.FoldFlatToWave)), result.FigureRow(result.Fig(figure.FoldCrossMode, c.ByRays.CrossMode())))},
		throat(r.Throat), list(f.imbalance()),
	}
}

// quarterWave is the spread of phase up to which a front counts as flat, rad.
const quarterWave = math.Pi / 2

// beside are the curves of the wave and of the rays.
func beside(f, wave, rays []float64) []result.Curve {
	return []result.Curve{
		{Label: result.Plain("wave"), X: f, Y: wave, Colour: 1, Dash: result.Solid},
		{Label: result.Plain("rays"), X: f, Y: rays, Colour: 2, Dash: result.Dashed},
	}
}

// flatness charts the spread of phase and level over the mouth against frequency,
// beside the rays'.
func (f foldFront) flatness() result.Series {
	phase, byRays, level, taper := f.spreads()
	hz := f.Check.Result.Frequency
	panels := []result.Panel{
		{Y: result.Axis{Label: "Phase spread", Kind: quantity.Angle, Unit: "deg"}, Curves: beside(hz, phase.y, byRays.y),
			Guides: []result.Guide{{Value: quarterWave, Text: result.Plain("quarter wave")}}},
		{Y: result.Axis{Label: "Level spread", Unit: "dB"}, Curves: beside(hz, level.y, taper.y)},
	}
	if to := f.Sizing.Wave.FlatTo; numeric.Given(to) {
		panels[0].Marks = []result.Mark{{X: to, Y: quarterWave, Text: result.Say("flat to %s", hertz(to))}}
	}
	f.markMode(panels)
	return result.Series{Shown: result.View(WaveFlatness, result.Drawn), X: runBand(hz), Panels: panels,
		Caption: f.caption(result.Caption{Title: "How flat the folded front is over the mouth", Trust: "wave; rays (rule) beside it"})}
}

// markMode marks on the upper panel where sheets end to describe the layers.
func (f foldFront) markMode(panels []result.Panel) {
	hz, mode := f.Check.Result.Frequency, f.Check.ByRays.CrossMode()
	if mode > hz[0] && mode < hz[len(hz)-1] {
		panels[0].Guides = append(panels[0].Guides, result.Guide{Value: mode, Vertical: true, Text: result.Plain("cross mode of a layer")})
	}
}

// mouth charts phase and level along the mouth, beside the rays'.
func (f foldFront) mouth(wanted []float64) result.Series {
	c := f.Check
	r := c.Result
	var phase, level []result.Curve
	for k, i := range shownAt(r.Frequency, wanted) {
		label := result.Say("%s", hertz(r.Frequency[i]))
		phase = append(phase,
			result.Curve{Label: label, X: c.Y, Y: r.Phase(i), Colour: 1 + k, Dash: result.Solid},
			result.Curve{X: c.Y, Y: c.RayPhase(r.Frequency[i]), Colour: 1 + k, Dash: result.Dotted, Thin: true})
		level = append(level, result.Curve{Label: label, X: c.Y, Y: r.Level(i), Colour: 1 + k, Dash: result.Solid})
	}
	level = append(level, result.Curve{Label: result.Plain("rays"), X: c.Y, Y: c.Rays.Level, Colour: 6, Dash: result.Dotted})
	return result.Series{Shown: result.View(WaveMouth, result.Drawn), X: result.Axis{Label: "Height on the mouth", Kind: quantity.Length}, Panels: []result.Panel{
		{Y: result.Axis{Label: "Phase", Kind: quantity.Angle, Unit: "deg"}, Curves: phase},
		{Y: result.Axis{Label: "Level", Unit: "dB re mean square"}, Curves: level},
	}, Caption: f.caption(result.Caption{Title: "Phase and level along the mouth; dotted: by rays", Trust: "wave; rays (rule) beside it"})}
}

// throatChart charts the load on the throat.
func (f foldFront) throatChart() result.Series {
	r := f.Check.Result
	load := loads(r.Throat)
	panels := []result.Panel{{Y: result.Axis{Label: "Throat impedance over ρc"}, Curves: []result.Curve{
		{Label: result.Plain("resistance"), X: r.Frequency, Y: load[0].y, Colour: 1, Dash: result.Solid},
		{Label: result.Plain("reactance"), X: r.Frequency, Y: load[1].y, Colour: 2, Dash: result.Dashed},
	}}}
	f.markMode(panels)
	return result.Series{Shown: result.View(WaveThroat, result.Drawn), X: runBand(r.Frequency), Panels: panels,
		Caption: f.caption(result.Caption{Title: "Load of the folded guide on its throat", Trust: "wave"})}
}

// field is the field in both layers of the guide side by side.
func (f foldFront) field(shown result.Shown, instant bool, phase float64) result.Grid {
	first, second := f.Fold.Field.First, f.Fold.Field.Second
	shift := first.X[len(first.X)-1] - first.X[0] + 2*(first.X[1]-first.X[0])
	x := append([]float64{}, first.X...)
	for _, right := range second.X {
		x = append(x, right+shift)
	}
	v := fieldView{instant, phase}
	g := v.grid(shown, x, first.Y, "the middle of the mouth", 1.5)
	left, right := v.values(first, f.Fold.Field.Reference), v.values(second, f.Fold.Field.Reference)
	for j := range left {
		g.Z = append(g.Z, append(append([]float64{}, left[j]...), right[j]...))
	}
	g.Look.X.Label, g.Look.Y.Label = "z forward", "y"
	g.Look.Overlays = append(walls(first.Outlines, 0), walls(second.Outlines, shift)...)
	g.Look.Caption = f.caption(v.caption("in the first layer (left) and the second", first.Frequency))
	g.Look.Caption.Subtitle = g.Look.Caption.Subtitle.And(result.Say(" The second layer is drawn %s further right.", length(shift)))
	return g
}
