package describe

import (
	"math"
	"math/cmplx"
	"path/filepath"

	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/box"
)

// fitFigures are the figures of a fit by their keys under [woofer].
var fitFigures = map[string]*figure.Def{
	"fs": figure.FitFs, "qes": figure.FitQes, "qms": figure.FitQms, "qts": figure.FitQts, "re": figure.FitRe, "le": figure.FitLe,
	"le_exponent": figure.FitLeExponent, "vas": figure.FitVas, "mms": figure.FitMms, "cms": figure.FitCms, "bl": figure.FitBl,
}

// BoxFit describes what impedance sweeps say of a driver.
func BoxFit(f *box.Fit, findings []result.Finding) *result.Result {
	p := fitParts{f}
	r := &result.Result{Untitled: true}
	r.Add(p.head(), p.driver(), p.coil(), p.residuals(), p.data(), object(entry(figure.FitConfidence.Leaf(), result.Fig(figure.FitConfidence, 0.95))),
		p.sweepData(), listed(result.At(result.Listing), maybe(sweepCurves(&f.First))), p.chart(),
		result.Findings{Shown: result.At(result.Screen | result.Data), List: findings, Key: "remarks", Bare: true})
	return r
}

type fitParts struct{ *box.Fit }

// sweeps are the fitted ones, one or two.
func (p fitParts) sweeps() []*box.Fitted {
	if p.Second == nil {
		return []*box.Fitted{&p.First}
	}
	return []*box.Fitted{&p.First, p.Second}
}

func (p fitParts) head() result.Prose {
	lines := []result.Text{result.Say("driver fitted to %s", sweepText(&p.First))}
	if p.Second != nil {
		lines = append(lines, result.Say("second sweep, %s: %s; piston area %s", p.Method, sweepText(p.Second), result.Num(p.Sd, quantity.Area)))
	}
	return result.Prose{Shown: result.At(result.Screen), AsIs: true, Texts: lines}
}

// FitRemarks are the sweeps and the residual, for the head of a driver file.
func FitRemarks(f *box.Fit) []result.Text {
	lines := []result.Text{result.Say("Fitted by gapline to %s.", sweepText(&f.First))}
	if f.Second != nil {
		lines = append(lines, result.Say("Second sweep, %s: %s.", f.Method, sweepText(f.Second)))
	}
	if _, _, off := f.First.StandIn(); off > 0 {
		lines = append(lines, result.Say("le and le_exponent: the lossy inductance nearest to the fitted coil from half of fs to %s; |Z| off by up to %s.",
			result.Num(box.StandInTop, quantity.Frequency), result.Num(off, quantity.Fraction).As(quantity.Style{Verb: "%.1f"})))
	}
	return append(lines, result.Say("Residual %s (rms). Behind each value its 95 %% interval.", result.Fig(figure.SweepResidual, f.First.Fit.Residual)))
}

func sweepText(x *box.Fitted) result.Text {
	s := &x.Sweep
	columns := "magnitude only"
	if s.Phase != nil {
		columns = "magnitude and phase"
	}
	text := result.Say("%s: %s points, %s to %s, %s; "+x.Inductor.Called(), filepath.Base(x.File), result.Count(len(s.Frequency)),
		hertz(s.Frequency[0]), hertz(s.Frequency[len(s.Frequency)-1]), columns)
	if n := x.Fit.Points; n < len(s.Frequency) {
		low, high := fitBand(x)
		text = text.And(result.Say("; fitted to the %s points from %s to %s", result.Count(n), hertz(low), hertz(high)))
	}
	return text
}

// driver lists the fitted parameters with their intervals.
func (p fitParts) driver() result.Table {
	var rows result.List
	for _, e := range p.Estimates() {
		f := fitFigures[e.Key]
		interval := result.Phrase(result.Say("%s to %s", result.Fig(f, e.Low), result.Fig(f, e.High)))
		half := result.Num((e.High-e.Low)/(2*e.Value), quantity.Fraction).As(quantity.Style{Verb: "±%.2g"})
		if e.High == e.Low {
			interval, half = result.Word("held"), result.None
		}
		rows.Row(result.Plain(f.Name+", "+e.Key), result.Fig(f, e.Value), interval, half)
	}
	return result.Table{Shown: result.At(result.Screen), Title: result.Plain("DRIVER"), Rows: rows.Rows(),
		Columns: []result.Column{headed(value, "value"), headed(value, "95 % interval"), headed(value, "half-width")}}
}

// fitBand is the range of the points that were fitted, Hz.
func fitBand(x *box.Fitted) (low, high float64) {
	f := x.Sweep.Frequency
	return math.Max(f[0], x.From.Or(0)), math.Min(f[len(f)-1], x.To.Or(math.Inf(1)))
}

// coil lists the elements of the fitted coil where le and le_exponent do not hold
// them all.
func (p fitParts) coil() result.Table {
	f := p.First.Fit
	t := result.Table{Shown: result.At(result.Screen), Title: result.Say("COIL, %s (weight %s)", result.Plain(p.First.Inductor.Called()),
		result.Num(f.Share, quantity.Fraction).As(quantity.Style{Verb: "%.0f"})),
		Columns: []result.Column{headed(value, "value"), headed(value, "95 % interval"), headed(value, "exponent")}}
	parts := f.CoilParts()
	if len(parts) < 2 {
		return result.Table{}
	}
	var rows result.List
	for _, x := range parts {
		e, kind := x.Inductance, quantity.Inductance
		if !numeric.Given(e.Value) {
			e, kind = x.Resistance, quantity.Resistance
		}
		num := func(v float64) result.Cell { return result.Num(v, kind).As(quantity.Style{Verb: "%.4g"}) }
		exponent := result.None
		if x.Exponent.Value != 1 {
			exponent = result.Num(x.Exponent.Value, quantity.Number).As(quantity.Style{Verb: "%.3g"})
		}
		rows.Row(result.Plain(x.What), num(e.Value), result.Phrase(result.Say("%s to %s", num(e.Low), num(e.High))), exponent)
	}
	t.Rows = rows.Rows()
	return t
}

func (p fitParts) residuals() result.Table {
	var rows result.List
	for _, x := range p.sweeps() {
		name := filepath.Base(x.File)
		rows.Row(result.Plain("magnitude, "+name), result.Fig(figure.SweepResidual, x.Fit.Residual))
		rows.If(result.Plain("phase, "+name), result.Fig(figure.SweepPhaseResidual, x.Fit.PhaseResidual))
	}
	return result.Table{Shown: result.At(result.Screen), Title: result.Plain("RESIDUAL (rms)"), Columns: []result.Column{value}, Rows: rows.Rows()}
}

// data are the fitted parameters for programs.
func (p fitParts) data() result.Table {
	var rows result.List
	for _, e := range p.Estimates() {
		f := fitFigures[e.Key]
		rows.Add(result.Row{Key: f.Leaf(), Cells: []result.Cell{result.Fig(f, e.Value), result.Fig(f, e.Low), result.Fig(f, e.High)}})
	}
	return result.Table{Shown: result.At(result.Data), Key: "fit", Columns: []result.Column{value, {Key: "low"}, {Key: "high"}}, Rows: rows.Rows()}
}

// sweepData are the sweeps beside the fitted models.
func (p fitParts) sweepData() result.Section {
	s := group("sweeps")
	s.List = true
	for _, x := range p.sweeps() {
		s.Parts = append(s.Parts, group("",
			object(entry("file", result.Word(filepath.ToSlash(x.File))), entry("inductor", result.Word(x.Inductor.Name()))),
			facts(result.Fig(figure.SweepResidual, x.Fit.Residual), result.Fig(figure.SweepPhaseResidual, x.Fit.PhaseResidual)),
			listed(result.At(result.Data), maybe(sweepCurves(x)))))
	}
	return s
}

func sweepCurves(x *box.Fitted) []curve {
	s := &x.Sweep
	fitted := each(s.Frequency, func(f float64) float64 { return cmplx.Abs(x.Fit.Impedance(f)) })
	out := []curve{{figure: figure.SweepFrequency, y: s.Frequency}, {figure: figure.SweepImpedance, y: s.Magnitude}, {figure: figure.SweepFitted, y: fitted}}
	if s.Phase != nil {
		out = append(out, curve{figure: figure.SweepPhase, y: s.Phase})
	}
	return append(out, curve{figure: figure.SweepFittedPhase, y: each(s.Frequency, func(f float64) float64 { return cmplx.Phase(x.Fit.Impedance(f)) })})
}

// chart draws measured sweeps as dots and the fitted models as lines.
func (p fitParts) chart() result.Series {
	magnitude := result.Panel{Y: result.Axis{Label: "Impedance", Kind: quantity.Resistance, Unit: "Ω", Scale: result.Logarithmic}, Height: 200}
	phase := result.Panel{Y: phaseAxis, Height: 130}
	missed := result.Panel{Y: result.Axis{Label: "Residual of |Z|", Kind: quantity.Fraction, Unit: "%"}, Height: 90, Guides: []result.Guide{{Value: 0}}}
	turned := result.Panel{Y: result.Axis{Label: "of the phase", Kind: quantity.Angle, Unit: "°"}, Height: 90, Guides: []result.Guide{{Value: 0}}}
	low, high := math.Inf(1), 0.0
	for i, x := range p.sweeps() {
		s, colour := &x.Sweep, 1+2*i
		low, high = math.Min(low, s.Frequency[0]), math.Max(high, s.Frequency[len(s.Frequency)-1])
		measured, fitted := result.Plain("measured, "+filepath.Base(x.File)), result.Plain("fitted to "+filepath.Base(x.File))
		magnitude.Curves = append(magnitude.Curves, points(measured, s.Frequency, s.Magnitude, colour+1), modelled(x, fitted, colour, cmplx.Abs))
		if s.Phase != nil {
			phase.Curves = append(phase.Curves, points(measured, s.Frequency, s.Phase, colour+1), modelled(x, fitted, colour, cmplx.Phase))
		}
		of := func(i int) complex128 { return x.Fit.Impedance(s.Frequency[i]) }
		missed.Curves = append(missed.Curves, residual(x, colour+1, func(i int) float64 { return s.Magnitude[i]/cmplx.Abs(of(i)) - 1 }))
		if s.Phase != nil {
			turned.Curves = append(turned.Curves, residual(x, colour+1, func(i int) float64 { return math.Remainder(s.Phase[i]-cmplx.Phase(of(i)), 2*math.Pi) }))
		}
		fs := x.Fit.Fs.Value
		magnitude.Guides = append(magnitude.Guides, result.Guide{Value: fs, Vertical: true, Text: result.Say("%s", hertz(fs))})
	}
	panels := []result.Panel{magnitude}
	if len(phase.Curves) > 0 {
		panels = append(panels, phase)
	}
	panels = append(panels, missed)
	if len(turned.Curves) > 0 {
		panels = append(panels, turned)
	}
	for i := range panels {
		panels[i].Guides = append(panels[i].Guides, p.ends(low, high, i == 0)...)
	}
	x, q := p.First.Fit, quantity.Style{Verb: "%.3g"}
	title := "Impedance, measured and fitted"
	subtitle := result.Say("fs %s, Qes %s, Qms %s, Re %s; residual %s rms", hertz(x.Fs.Value), result.Num(x.Qes.Value, quantity.Number).As(q),
		result.Num(x.Qms.Value, quantity.Number).As(q), result.Num(x.Re.Value, quantity.Resistance), result.Fig(figure.SweepResidual, x.Residual))
	return result.Series{Shown: result.At(result.Drawn), Panels: panels,
		X: result.Axis{Scale: result.FrequencyScale, Kind: quantity.Frequency, Low: low, High: high},
		Caption: result.Caption{Title: title, Subtitle: subtitle, Design: filepath.Base(p.First.File), Trust: "fit to a measurement",
			Origin: "measured; fitted by gapline", Alt: result.Say("%s: %s.", title, subtitle)}}
}

// residual draws how far each point of the sweep lies from the model.
func residual(x *box.Fitted, colour int, of func(i int) float64) result.Curve {
	y := make([]float64, len(x.Sweep.Frequency))
	for i := range y {
		y[i] = of(i)
	}
	return points(result.Text{}, x.Sweep.Frequency, y, colour)
}

// ends are guides at the ends of the fit's band that lie between low and high.
func (p fitParts) ends(low, high float64, named bool) []result.Guide {
	var out []result.Guide
	end := func(at float64, word string) {
		if at > low && at < high { // false where it is not given
			g := result.Guide{Value: at, Vertical: true}
			if named {
				g.Text = result.Say("fitted "+word+" %s", hertz(at))
			}
			out = append(out, g)
		}
	}
	end(p.First.From.Value(), "from")
	end(p.First.To.Value(), "to")
	return out
}

// points draws single dots: a value that is not there stands between each two.
func points(label result.Text, x, y []float64, colour int) result.Curve {
	c := result.Curve{Label: label, Colour: colour, Dash: result.Solid}
	for i := range x {
		c.X = append(c.X, x[i], x[i])
		c.Y = append(c.Y, y[i], numeric.Absent)
	}
	return c
}

// modelled samples the model over the sweep's range, finer than its points.
func modelled(x *box.Fitted, label result.Text, colour int, of func(complex128) float64) result.Curve {
	const steps = 400
	s := x.Sweep.Frequency
	lo, ratio := s[0], math.Log(s[len(s)-1]/s[0])
	c := result.Curve{Label: label, Colour: colour, Dash: result.Solid}
	for i := range steps + 1 {
		f := lo * math.Exp(ratio*float64(i)/steps)
		c.X, c.Y = append(c.X, f), append(c.Y, of(x.Fit.Impedance(f)))
	}
	return c
}
