package picture

import (
	"fmt"
	"math"
	"math/cmplx"
	"path/filepath"

	"gapline/internal/quantity"
	"gapline/internal/study/box"
	"gapline/plots"
)

// Fit draws measured impedance sweeps as dots and the fitted models as lines.
func Fit(f *box.Fit, sys quantity.System) plots.Chart {
	sweeps := []*box.Fitted{&f.First}
	if f.Second != nil {
		sweeps = append(sweeps, f.Second)
	}
	magnitude := plots.Panel{Y: plots.Axis{Label: "Impedance", Unit: "Ω", Kind: plots.Logarithmic}, Height: 200}
	phase := plots.Panel{Y: plots.Axis{Label: "Phase", Unit: "degrees", Low: -90, High: 90}, Height: 130}
	low, high := math.Inf(1), 0.0
	for i, x := range sweeps {
		s := &x.Sweep
		low, high = math.Min(low, s.Frequency[0]), math.Max(high, s.Frequency[len(s.Frequency)-1])
		colour := 1 + 2*i
		magnitude.Curves = append(magnitude.Curves,
			points("measured, "+filepath.Base(x.File), s.Frequency, s.Magnitude, 1, colour+1),
			fitted(x, "fitted to "+filepath.Base(x.File), colour, func(z complex128) float64 { return cmplx.Abs(z) }))
		if s.Phase != nil {
			phase.Curves = append(phase.Curves,
				points("measured, "+filepath.Base(x.File), s.Frequency, s.Phase, 180/math.Pi, colour+1),
				fitted(x, "fitted to "+filepath.Base(x.File), colour, func(z complex128) float64 { return cmplx.Phase(z) * 180 / math.Pi }))
		}
		fs := x.Fit.Fs.Value
		magnitude.Guides = append(magnitude.Guides, plots.Guide{Value: fs, Vertical: true, Text: quantity.Format(fs, quantity.Frequency, sys)})
	}
	panels := []plots.Panel{magnitude}
	if len(phase.Curves) > 0 {
		panels = append(panels, phase)
	}
	x := f.First.Fit
	title := "Impedance, measured and fitted"
	subtitle := fmt.Sprintf("fs %s, Qes %.3g, Qms %.3g, Re %s; residual %.2g %% rms", quantity.Format(x.Fs.Value, quantity.Frequency, sys),
		x.Qes.Value, x.Qms.Value, quantity.Format(x.Re.Value, quantity.Resistance, sys), 100*x.Residual)
	return plots.Chart{
		Caption: plots.Caption{Title: title, Subtitle: subtitle, Design: filepath.Base(f.First.File), Trust: "fit to a measurement",
			Origin: "measured; fitted by gapline", Alt: title + ": " + subtitle + "."},
		X:      plots.Axis{Kind: plots.Frequency, Low: low, High: high},
		Panels: panels,
	}
}

// points draws single dots: a value that is not there stands between each two.
func points(label string, x, y []float64, factor float64, colour int) plots.Curve {
	c := plots.Curve{Label: label, Colour: colour, Dash: plots.Solid}
	for i := range x {
		c.X = append(c.X, x[i], x[i])
		c.Y = append(c.Y, factor*y[i], math.NaN())
	}
	return c
}

// fitted samples the model at the sweep's frequencies, and between them.
func fitted(x *box.Fitted, label string, colour int, of func(complex128) float64) plots.Curve {
	const steps = 400
	s := x.Sweep.Frequency
	lo, ratio := s[0], math.Log(s[len(s)-1]/s[0])
	c := plots.Curve{Label: label, Colour: colour, Dash: plots.Solid}
	for i := range steps + 1 {
		f := lo * math.Exp(ratio*float64(i)/steps)
		c.X, c.Y = append(c.X, f), append(c.Y, of(x.Fit.Impedance(f)))
	}
	return c
}
