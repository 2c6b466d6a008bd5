package driver

import (
	"context"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"strings"
	"testing"

	"gapline/internal/optional"
	"gapline/internal/reftable"
)

// synthetic measures an invented driver: the model's impedance with relative
// noise on the magnitude and the same, in rad, on the phase.
func synthetic(p fitProblem, theta []float64, f []float64, noise float64, phase bool, r *rand.Rand) ImpedanceSweep {
	s := ImpedanceSweep{Frequency: f}
	for _, x := range f {
		z := p.impedance(theta, x)
		s.Magnitude = append(s.Magnitude, cmplx.Abs(z)*math.Exp(noise*r.NormFloat64()))
		if phase {
			s.Phase = append(s.Phase, cmplx.Phase(z)+noise*r.NormFloat64())
		}
	}
	return s
}

func logs(v ...float64) []float64 {
	out := make([]float64, len(v))
	for i, x := range v {
		out[i] = math.Log(x)
	}
	return out
}

func (e Estimate) holds(want float64) bool { return e.Low <= want && want <= e.High }

func TestFitRecoversExactly(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	f := Frequencies(10, 2000, 80)
	for _, phase := range []bool{false, true} {
		truth := logs(48, 0.37, 5.5, 5.6, 0.9e-3)
		fit, err := FitImpedance(context.Background(), synthetic(fitProblem{exponent: 1}, truth, f, 0, phase, r), PlainInductor)
		if err != nil {
			t.Fatal(err)
		}
		for i, got := range []float64{fit.Fs.Value, fit.Qes.Value, fit.Qms.Value, fit.Re.Value, fit.Le.Value} {
			reftable.Near(t, "parameter", got, math.Exp(truth[i]), 1e-7)
		}
		lossy := append(logs(48, 0.37, 5.5, 5.6, 0.9e-3), 0.68)
		fit, err = FitImpedance(context.Background(), synthetic(fitProblem{model: LossyInductor}, lossy, f, 0, phase, r), LossyInductor)
		if err != nil {
			t.Fatal(err)
		}
		reftable.Near(t, "exponent", fit.LeExponent.Value, 0.68, 1e-6)
		reftable.Near(t, "lossy Qms", fit.Qms.Value, 5.5, 1e-6)
	}
}

// The circuit's own impedance in a huge closed box is the fit's model: two
// routes to the same curve.
func TestFitOfTheCircuitsImpedance(t *testing.T) {
	d := ratedDriver(t)
	d.Le = optional.Of(0.8e-3)
	c := circuit(t, Setup{Driver: d, Enclosure: closedBox(1e6)})
	s := ImpedanceSweep{Frequency: Frequencies(12, 1500, 70)}
	for _, p := range c.Sweep(nil, s.Frequency, 1) {
		s.Magnitude = append(s.Magnitude, cmplx.Abs(p.Impedance))
		s.Phase = append(s.Phase, cmplx.Phase(p.Impedance))
	}
	fit, err := FitImpedance(context.Background(), s, PlainInductor)
	if err != nil {
		t.Fatal(err)
	}
	reftable.Near(t, "fs", fit.Fs.Value, d.Fs.Value(), 1e-6)
	reftable.Near(t, "Qes", fit.Qes.Value, d.Qes.Value(), 1e-6)
	reftable.Near(t, "Qms", fit.Qms.Value, d.Qms.Value(), 1e-6)
	reftable.Near(t, "Re", fit.Re.Value, d.Re.Value(), 1e-6)
	reftable.Near(t, "Le", fit.Le.Value, d.Le.Value(), 1e-6)
	reftable.Near(t, "model", cmplx.Abs(fit.Impedance(100)), cmplx.Abs(c.At(100, 1).Impedance), 1e-6)
}

// Coverage: over many noisy sweeps the 95 % intervals must hold the truth about
// 95 times in 100. With 5 × 60 trials the count has a standard deviation of
// under 4; 270 is 4 deviations below the expected 285.
func TestConfidenceIntervalsCoverTheTruth(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	f := Frequencies(12, 1500, 60)
	truth := logs(52, 0.42, 6.1, 5.3, 0.7e-3)
	held, total := 0, 0
	for range 60 {
		fit, err := FitImpedance(context.Background(), synthetic(fitProblem{exponent: 1}, truth, f, 0.01, true, r), PlainInductor)
		if err != nil {
			t.Fatal(err)
		}
		for i, e := range []Estimate{fit.Fs, fit.Qes, fit.Qms, fit.Re, fit.Le} {
			total++
			if e.holds(math.Exp(truth[i])) {
				held++
			}
		}
		if !(fit.Residual > 0.006 && fit.Residual < 0.014) {
			t.Errorf("residual %g for noise of 0.01", fit.Residual)
		}
	}
	if held < 270 || held == total {
		t.Errorf("%d of %d intervals hold the truth, want about %.0f", held, total, 0.95*float64(total))
	}
}

func TestVasByBothMethods(t *testing.T) {
	d := ratedDriver(t)
	r := rand.New(rand.NewPCG(3, 5))
	f := Frequencies(12, 1200, 90)
	measure := func(fs, qes, qms, noise float64) *ImpedanceFit {
		fit, err := FitImpedance(context.Background(), synthetic(fitProblem{exponent: 1}, logs(fs, qes, qms, d.Re.Value(), 0.7e-3), f, noise, true, r), PlainInductor)
		if err != nil {
			t.Fatal(err)
		}
		return fit
	}
	const added, volume = 0.03, 0.04
	heavy := math.Sqrt(1 + added/d.Mms.Value()) // fs falls and Q rises by this
	stiff := math.Sqrt(1 + d.Vas.Value()/volume)
	for _, noise := range []float64{0, 0.005} {
		free := measure(d.Fs.Value(), d.Qes.Value(), d.Qms.Value(), noise)
		mass, err := VasByAddedMass(free, measure(d.Fs.Value()/heavy, d.Qes.Value()*heavy, d.Qms.Value()*heavy, noise), added, d.Sd.Value(), testAir)
		if err != nil {
			t.Fatal(err)
		}
		box, err := VasByKnownVolume(free, measure(d.Fs.Value()*stiff, d.Qes.Value()*stiff, d.Qms.Value()*stiff, noise), volume, d.Sd.Value(), testAir)
		if err != nil {
			t.Fatal(err)
		}
		for name, s := range map[string]SecondSweep{"mass": mass, "box": box} {
			for key, c := range map[string]struct {
				e    Estimate
				want float64
			}{"Vas": {s.Vas, d.Vas.Value()}, "Mms": {s.Mms, d.Mms.Value()}, "Cms": {s.Cms, d.Cms.Value()}, "Bl": {s.Bl, d.Bl.Value()}} {
				if noise == 0 {
					reftable.Near(t, name+" "+key, c.e.Value, c.want, 1e-6)
				} else if !c.e.holds(c.want) || c.e.High/c.e.Low > 1.2 {
					t.Errorf("%s %s: %g in [%g, %g], want %g", name, key, c.e.Value, c.e.Low, c.e.High, c.want)
				}
			}
		}
	}
	free := measure(50, 0.4, 5, 0)
	if _, err := VasByAddedMass(free, free, added, d.Sd.Value(), testAir); err == nil {
		t.Error("a mass that changes nothing was accepted")
	}
	if _, err := VasByKnownVolume(free, free, volume, d.Sd.Value(), testAir); err == nil {
		t.Error("a box that changes nothing was accepted")
	}
}

// A sweep that stops below the coil's rise, without an inductor in the model.
func TestFitWithoutInductor(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	s := synthetic(fitProblem{model: NoInductor}, logs(60, 0.5, 4, 7), Frequencies(20, 200, 12), 0.002, false, r)
	fit, err := FitImpedance(context.Background(), s, NoInductor)
	if err != nil {
		t.Fatal(err)
	}
	if !fit.Fs.holds(60) || !fit.Qes.holds(0.5) || !fit.Re.holds(7) {
		t.Errorf("fit %+v", fit)
	}
	if p := fit.Parameters(); p.Le.Given() || p.Fs.Value() != fit.Fs.Value || p.Vas.Given() {
		t.Errorf("parameters %+v", p)
	}
}

// An exponent outside ½ to 1 is held at the nearer end.
func TestFitHoldsTheExponentInRange(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	truth := append(logs(48, 0.37, 5.5, 5.6, 0.9e-3), 1.1)
	fit, err := FitImpedance(context.Background(), synthetic(fitProblem{model: LossyInductor}, truth, Frequencies(10, 3000, 60), 0, true, r), LossyInductor)
	if err != nil {
		t.Fatal(err)
	}
	if fit.LeExponent.Value != 1 {
		t.Errorf("exponent %g, want 1", fit.LeExponent.Value)
	}
}

func TestUnfittableSweepsAreRefused(t *testing.T) {
	good := synthetic(fitProblem{exponent: 1}, logs(48, 0.37, 5.5, 5.6, 0.9e-3), Frequencies(10, 2000, 40), 0, true, rand.New(rand.NewPCG(1, 1)))
	cut := func(a, b int) ImpedanceSweep {
		return ImpedanceSweep{Frequency: good.Frequency[a:b], Magnitude: good.Magnitude[a:b], Phase: good.Phase[a:b]}
	}
	with := func(change func(*ImpedanceSweep)) ImpedanceSweep {
		s := ImpedanceSweep{append([]float64(nil), good.Frequency...), append([]float64(nil), good.Magnitude...), append([]float64(nil), good.Phase...)}
		change(&s)
		return s
	}
	for want, s := range map[string]ImpedanceSweep{
		"2 points":         cut(0, 2),
		"no resonance":     cut(24, 40),
		"must be positive": with(func(s *ImpedanceSweep) { s.Magnitude[3] = math.NaN() }),
		"must be a number": with(func(s *ImpedanceSweep) { s.Phase[3] = math.NaN() }),
		"must rise":        with(func(s *ImpedanceSweep) { s.Frequency[4] = s.Frequency[3] }),
		"39 magnitudes":    with(func(s *ImpedanceSweep) { s.Magnitude = s.Magnitude[:39] }),
	} {
		if _, err := FitImpedance(context.Background(), s, PlainInductor); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("err = %v, want %q in it", err, want)
		}
	}
}
