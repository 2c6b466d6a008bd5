package describe

import (
	"fmt"
	"math/cmplx"
	"slices"

	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/horn"
	"gapline/internal/study/size"
	"gapline/waveguide"
)

// The views of a horn.
const (
	HornBeamwidth  = "beamwidth"
	HornMap        = "map"
	HornImpedance  = "impedance"
	HornEfficiency = "efficiency"
	HornRule       = "rule"
)

// HornViews lists the views, the usual one first.
var HornViews = []string{HornBeamwidth, HornMap, HornImpedance, HornEfficiency, HornRule}

// Horn describes how low a horn holds its coverage and how it loads its driver. The
// map of its pattern is in it when the study holds one.
func Horn(st *horn.Study, findings []result.Finding) *result.Result {
	h := hornParts{st}
	r := &result.Result{Title: st.Design.Title, Head: h.head()}
	r.Add(h.pattern())
	if st.Loading != nil {
		r.Add(h.loading())
	}
	r.Add(h.octaves(), h.rule(), h.ruleWords(), h.figures(), h.curves(), h.loadingFigures(), h.ruleRecords())
	if st.Map != nil {
		r.Add(h.angleMap())
	}
	r.Add(h.charts()...)
	r.Add(result.Findings{Shown: result.At(result.People | result.Data), List: findings})
	return r
}

type hornParts struct{ *horn.Study }

func (h hornParts) fig(f *figure.Def) result.Cell { return size.Cell(&h.Sizing, f) }

func (h hornParts) head() []result.Text {
	d := h.Design
	text := result.Say("horn mouth %s wide", length(d.Horn.MouthWidth.Value()))
	if d.Horn.MouthHeight.Given() {
		text = text.And(result.Say(", %s high", length(d.Horn.MouthHeight.Value())))
	}
	return []result.Text{result.Say("%s, coverage %s; air %s", text, angle(d.Horn.ExitCoverage()), Air(d, &h.Sizing))}
}

// pattern lists how low the horn holds its coverage. With side flares a second
// column shows the mouth without them.
func (h hornParts) pattern() result.Section {
	t := result.Table{Shown: result.At(result.People), Title: result.Plain("PATTERN, horizontal")}
	var rows result.List
	if h.Bare == nil {
		t.Columns = []result.Column{value, headed(trust, "trust")}
		rows.Add(figureRows(&h.Sizing, figure.HornPatternRule, figure.HornPatternComputed, figure.HornRuleDeviation, figure.HornNarrowest)...)
	} else {
		t.Columns = []result.Column{headed(value, "with flares"), headed(value, "mouth alone"), headed(trust, "trust")}
		h.flared(&rows)
	}
	for _, f := range []*figure.Def{figure.HornPatternWave, figure.HornNarrowestWave} {
		if c := h.fig(f); c.Given() {
			rows.Add(result.FigureRow(c))
		}
	}
	if height := h.Design.Horn.MouthHeight.Value(); h.Bare != nil {
		rows.Add(result.FigureRow(h.fig(figure.HornFlaresFilled)))
		if numeric.Given(height) {
			area := func(w float64) result.Cell { return result.Fig(figure.HornExitArea, w*height) }
			rows.Row(result.Plain(figure.HornExitArea.Name), area(h.Design.Horn.ExitWidth()), area(h.Design.Horn.MouthWidth.Value()))
		}
	}
	t.Rows = rows.Rows()
	return result.Section{Shown: result.At(result.People), Parts: []result.Part{t, h.lower(t.Columns)}}
}

// flared sets the exit with flares beside the mouth alone.
func (h hornParts) flared(rows *result.List) {
	d, bare := &h.Design.Horn, h.BareMouth
	// A mouth of a very wide coverage does not narrow to it.
	computed := func(c result.Cell) result.Cell {
		if !numeric.Given(bare.Frequency) {
			c.Words = "none"
		}
		return c
	}
	for _, x := range []struct {
		f     *figure.Def
		alone result.Cell
	}{
		{figure.HornExitWidth, result.Fig(figure.HornExitWidth, d.MouthWidth.Value())},
		{figure.HornExitCoverage, result.Fig(figure.HornExitCoverage, d.Coverage.Value())},
		{figure.HornPatternRule, result.Fig(figure.HornPatternRule, h.BareRule)},
		{figure.HornPatternComputed, computed(result.Fig(figure.HornPatternComputed, bare.Frequency))},
		{figure.HornRuleDeviation, computed(result.Fig(figure.HornRuleDeviation, h.BareRule/bare.Frequency-1))},
		{figure.HornNarrowest, computed(result.FigAt(figure.HornNarrowest, bare.Narrowest, hertz(bare.NarrowestAt)))},
	} {
		rows.Row(result.Plain(x.f.Name), h.fig(x.f), x.alone)
	}
}

// bindings says in words what sets the lower limit.
var bindings = map[horn.Binding]string{
	horn.PatternBinds: "pattern", horn.FlareBinds: "flare's cutoff", horn.DriverBinds: "compression driver",
}

func (h hornParts) lower(columns []result.Column) result.Table {
	var rows result.List
	rows.If(result.Plain("1.2 × flare cutoff"), result.Fig(figure.HornFlareLimit, waveguide.FlareMargin*h.Sizing.Horn.Cutoff))
	rows.If(result.Plain("lowest crossover of the compression driver"), result.Fig(figure.HornLowest, h.Design.Horn.Lowest.Value()))
	low := result.FigureRow(h.fig(figure.HornLower))
	low.Marked = true
	rows.Add(low)
	return result.Table{Shown: result.At(result.People), Title: result.Plain("LOWER LIMIT, set by the " + bindings[h.Binds]),
		Columns: columns, Rows: rows.Rows(), Continued: true}
}

func (h hornParts) loading() result.Section {
	t := result.Table{Shown: result.At(result.People), Title: result.Say("LOADING, %s", h.profile()),
		Columns: []result.Column{value, headed(trust, "trust")}}
	var rows result.List
	if c := h.fig(figure.HornCutoff); c.Given() {
		rows.Add(result.FigureRow(c))
	}
	rows.Add(figureRows(&h.Sizing, figure.HornHalfLoaded, figure.HornRipple)...)
	what := "share of a plane wave's power taken at the lower limit"
	if h.Loading.Drives != nil {
		what = "efficiency of the compression driver at the lower limit"
	}
	share := quantity.Style{}
	rows.Row(result.Plain(what), result.Cell{Kind: quantity.Fraction, SI: h.Sizing.Horn.EfficiencyLow, Trust: figure.Aperture, Style: &share})
	rows.If(result.Plain(figure.HornListError.Name), result.Fig(figure.HornListError, h.Loading.ListError))
	t.Rows = rows.Rows()
	return result.Section{Shown: result.At(result.People), Parts: []result.Part{t}}
}

func (h hornParts) profile() result.Text {
	d := &h.Design.Horn
	if d.Profile == 0 || d.Profile == waveguide.ByPoints {
		return result.Plain(fmt.Sprintf("profile of %d points", len(d.Areas)))
	}
	text := result.Plain(d.Profile.Name() + " profile")
	if d.Throat.Given() {
		text = text.And(result.Say(" from a throat of %s", length(d.Throat.Value())))
	}
	return text
}

// curves over frequency, SI: what is listed, and what the screen samples at the
// octaves.
func (h hornParts) columns() []curve {
	out := []curve{
		{figure: figure.HornCurveFrequency, y: h.Frequency},
		{figure: figure.HornHorizontal, head: "horizontal", y: h.Horizontal, absent: wide},
	}
	if h.Bare != nil {
		out = append(out, curve{figure: figure.HornHorizontalBare, head: "mouth alone", y: h.Bare, absent: wide})
	}
	if h.Vertical != nil {
		out = append(out, curve{figure: figure.HornVertical, head: "vertical", y: h.Vertical, absent: wide})
	}
	l := h.Loading
	if l == nil {
		return out
	}
	z := l.Load.Impedance
	out = append(out,
		curve{figure: figure.HornThroatResistance, head: "R", y: each(z, func(z complex128) float64 { return real(z) })},
		curve{figure: figure.HornThroatReactance, head: "X", y: each(z, func(z complex128) float64 { return imag(z) })},
		curve{figure: figure.HornTubeTransmission, y: l.Tube})
	if l.Drives == nil {
		out[len(out)-1].head = "power taken"
		return out
	}
	drive := func(f func(waveguide.Drive) float64) []float64 { return each(l.Drives, f) }
	return append(out,
		curve{figure: figure.HornDriverEfficiency, key: "efficiency", head: "efficiency", y: drive(func(d waveguide.Drive) float64 { return d.Efficiency })},
		curve{figure: figure.HornDriverPower, y: drive(func(d waveguide.Drive) float64 { return d.Power })},
		curve{figure: figure.HornDriverImpedance, head: "impedance", y: drive(func(d waveguide.Drive) float64 { return cmplx.Abs(d.Impedance) })},
		curve{figure: figure.HornDriverExcursion, head: "excursion", y: drive(func(d waveguide.Drive) float64 { return d.Excursion })})
}

// wide stands for a width that does not exist: the level falls nowhere by 6 dB.
const wide = "over 180°"

// octaves samples the curves. The vertical column is there even when the front is
// not known.
func (h hornParts) octaves() result.Table {
	cs := h.columns()[1:]
	if h.Vertical == nil {
		at := slices.IndexFunc(cs, func(c curve) bool { return c.figure == figure.HornThroatResistance })
		if at < 0 {
			at = len(cs)
		}
		cs = slices.Insert(cs, at, curve{figure: figure.HornVertical, head: "vertical", y: absent(len(h.Frequency))})
	}
	return sampled(result.At(result.People), "OVER FREQUENCY (aperture)", h.Frequency, horn.PerOctave, cs)
}

// curves holds every curve at every frequency, for programs.
func (h hornParts) curves() result.Table {
	return listed(result.At(result.Data|result.Listing), h.columns())
}

// figures are the horn's figures, as in size.
func (h hornParts) figures() result.Table {
	var rows result.List
	for _, f := range size.Group("horn") {
		rows.Add(result.FigureRow(h.fig(f)))
	}
	rows.Add(result.Row{Key: "horn.lower_set_by", Cells: []result.Cell{result.Word(h.Binds.String())}})
	return result.Table{Shown: result.At(result.Data), Columns: []result.Column{value}, Rows: rows.Rows()}
}

// loadingFigures says how the loading was worked out.
func (h hornParts) loadingFigures() result.Section {
	s := result.Section{Shown: result.At(result.Data), Key: "loading", Null: h.Loading == nil}
	if l := h.Loading; l != nil {
		s.Parts = []result.Part{facts(
			result.Fig(figure.HornLoadingSegments, float64(l.Load.Segments)), result.Fig(figure.HornLoadingError, l.Load.Error),
			result.Fig(figure.HornListError, l.ListError), result.Fig(figure.HornDriveVoltage, l.Voltage))}
	}
	return s
}

// rule sets Keele's rule against the aperture integral over coverages.
func (h hornParts) rule() result.Table {
	t := result.Table{Shown: result.View(HornRule, result.Screen),
		Title: result.Say("COVERAGE, exit %s wide", length(h.Design.Horn.ExitWidth()))}
	for _, head := range []string{"rule", "aperture", "deviation", "W/λ", "narrowest", "at"} {
		t.Columns = append(t.Columns, headed(value, head))
	}
	var rows result.List
	for _, r := range h.Rule {
		rows.Row(result.Say("%s", angle(r.Coverage)), ruleCells(r)...)
	}
	s := &h.Sizing.Horn
	here := ruleCells(horn.RuleRow{
		Coverage: s.ExitCoverage, Rule: s.PatternRule, Deviation: s.RuleDeviation,
		Computed: waveguide.Control{Frequency: s.PatternComputed, Narrowest: s.Narrowest, NarrowestAt: s.NarrowestAt,
			WidthInWavelength: s.PatternComputed * s.ExitWidth / h.Sizing.Air.SoundSpeed},
	})
	here[1] = h.fig(figure.HornPatternComputed)
	rows.Add(result.Row{Marked: true, Label: result.Say("%s, this design", angle(s.ExitCoverage)), Cells: here})
	t.Rows = rows.Rows()
	return t
}

func ruleCells(r horn.RuleRow) []result.Cell {
	k := r.Computed
	return []result.Cell{
		result.Fig(figure.RuleFrequency, r.Rule), result.Fig(figure.RuleComputed, k.Frequency), result.Fig(figure.RuleDeviation, r.Deviation),
		result.Fig(figure.RuleWidth, k.WidthInWavelength), result.Fig(figure.RuleNarrowest, k.Narrowest), result.Fig(figure.RuleNarrowestAt, k.NarrowestAt),
	}
}

func (h hornParts) ruleWords() result.Prose {
	return result.Prose{Shown: result.View(HornRule, result.Screen), Texts: []result.Text{result.Plain(
		"The rule 10⁶/(W·θ), inches and degrees (rule), against the lowest frequency at which the −6 dB width of a mouth " +
			"with a circular front equals the coverage (aperture: rigid baffle, uniform amplitude).")}}
}

// ruleRecords is the same for programs.
func (h hornParts) ruleRecords() result.Table {
	defs := []*figure.Def{figure.RuleCoverage, figure.RuleFrequency, figure.RuleComputed, figure.RuleDeviation,
		figure.RuleWidth, figure.RuleNarrowest, figure.RuleNarrowestAt}
	t := result.Table{Shown: result.View(HornRule, result.Data|result.Listing), Key: "rule", As: result.Records}
	for _, f := range defs {
		t.Columns = append(t.Columns, result.Column{Fig: f})
	}
	var rows result.List
	for _, r := range h.Rule {
		rows.Add(result.Row{Cells: append([]result.Cell{result.Fig(figure.RuleCoverage, r.Coverage)}, ruleCells(r)...)})
	}
	t.Rows = rows.Rows()
	return t
}
