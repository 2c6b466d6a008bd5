package driver

import (
	"context"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"strings"
	"testing"

	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/reftable"
)

// plainly is a specimen with a plain inductance in H.
func plainly(fs, qes, qms, re, le float64) specimen {
	return specimen{fs, qes, qms, re, func(w float64) complex128 { return complex(0, w*le) }}
}

// lossily is one with a lossy inductance, le at 1 kHz.
func lossily(fs, qes, qms, re, le, n float64) specimen {
	return specimen{fs, qes, qms, re, func(w float64) complex128 {
		return complex(le*kilohertz, 0) * cmplx.Pow(complex(0, w/kilohertz), complex(n, 0))
	}}
}

func fitted(t *testing.T, s ImpedanceSweep, o FitOptions) *ImpedanceFit {
	t.Helper()
	fit, err := FitImpedance(context.Background(), s, o)
	if err != nil {
		t.Fatal(err)
	}
	return fit
}

// Without noise every kind of driver comes back, whatever the models beside the one
// that made it. The arithmetic's errors, 1e-16 in each value, and a search that ends
// at steps of 1e-8 leave less than the tolerance.
func TestFitRecoversExactly(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	f := Frequencies(10, 20000, 80)
	for _, phase := range []bool{true, false} {
		specimens := map[string]specimen{"plain": plainly(48, 0.37, 5.5, 5.6, 0.9e-3), "lossy": lossily(48, 0.37, 5.5, 5.6, 0.9e-3, 0.68)}
		for _, kind := range coilKinds {
			specimens[kind.name] = kind.drawn(r)
		}
		for name, s := range specimens {
			if !phase && name == "Wright" {
				continue // without phases its two parts can change places
			}
			fit := fitted(t, s.measured(f, 0, phase, r), FitOptions{})
			for k, want := range s.truths() {
				reftable.Near(t, name+" "+estimated[k].name, estimated[k].of(fit).Value, want, 1e-5)
			}
			if fit.Systematic() && fit.Residual > 1e-6 {
				t.Errorf("%s: residual %g", name, fit.Residual)
			}
		}
	}
}

// The case that Re fell to: a half-power inductance beside a plain one, 0.4 % noise.
// A fit of the lossy inductance alone gave 5.9 ± 0.08 Ω.
func TestResistanceBesideALossyInductance(t *testing.T) {
	s := specimen{48, 0.37, 5.5, 5.2, func(w float64) complex128 {
		return complex(0, w*0.3e-3) + complex(0.6e-3*kilohertz, 0)*cmplx.Sqrt(complex(0, w/kilohertz))
	}}
	for seed := range uint64(5) {
		fit := fitted(t, s.measured(Frequencies(10, 20000, 120), 0.004, true, rand.New(rand.NewPCG(seed, 2))), FitOptions{})
		if slack := (fit.Re.High - fit.Re.Low) / 2; fit.Re.High-fit.Re.Low > 0.2 || math.Abs(fit.Re.Value-s.re) > 2*slack {
			t.Errorf("Re %g, %g to %g, want %g", fit.Re.Value, fit.Re.Low, fit.Re.High, s.re)
		}
	}
}

// The inductance that stands for a coil against a search over a grid of both its
// numbers, which steps by 1 % and 0.005.
func TestStandInAgainstAGrid(t *testing.T) {
	s := coilKinds[3].drawn(rand.New(rand.NewPCG(9, 9)))
	fit := fitted(t, s.measured(Frequencies(10, 20000, 120), 0, true, rand.New(rand.NewPCG(5, 2))), FitOptions{})
	const low, high = 25, 1000
	square := func(le, n float64) float64 {
		sum := 0.0
		for _, f := range Frequencies(low, high, 60) {
			w := 2 * math.Pi * f
			z := s.impedance(f)
			d := (complex(le*kilohertz, 0)*cmplx.Pow(complex(0, w/kilohertz), complex(n, 0)) - s.coil(w)) / z
			sum += real(d)*real(d) + imag(d)*imag(d)
		}
		return sum
	}
	le, n, off := fit.StandIn(low, high)
	found, least := square(le, n), math.Inf(1)
	for a := 0.5; a <= 1; a += 0.005 {
		for l := 1e-4; l < 3e-3; l *= 1.01 {
			least = math.Min(least, square(l, a))
		}
	}
	if found > least*1.001 || !(off > 0 && off < 0.2) {
		t.Errorf("le %g, n %g: squares %g, off by %g; least on the grid %g", le, n, found, off, least)
	}
}

// A given Re stays, and what depends on it becomes surer.
func TestHeldResistance(t *testing.T) {
	s := coilKinds[1].drawn(rand.New(rand.NewPCG(5, 6)))
	sweep := s.measured(Frequencies(10, 20000, 120), 0.004, true, rand.New(rand.NewPCG(5, 2)))
	free, held := fitted(t, sweep, FitOptions{}), fitted(t, sweep, FitOptions{Re: optional.Of(s.re)})
	if !held.Re.Held() || math.Abs(held.Re.Value-s.re) > 1e-12 || free.Re.Held() {
		t.Errorf("Re %+v held, %+v free, want %g", held.Re, free.Re, s.re)
	}
	if a, b := held.Qes.High-held.Qes.Low, free.Qes.High-free.Qes.Low; !(a < b) || !held.Qes.holds(s.qes) {
		t.Errorf("Qes %+v with Re held, %+v without, want %g", held.Qes, free.Qes, s.qes)
	}
}

// Outside the band nothing counts: the same fit as of a sweep that ends there.
func TestBandOfTheFit(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	sweep := coilKinds[0].drawn(r).measured(Frequencies(10, 20000, 120), 0.004, true, r)
	low, high := 20, 90
	cut := ImpedanceSweep{sweep.Frequency[low:high], sweep.Magnitude[low:high], sweep.Phase[low:high]}
	a := fitted(t, sweep, FitOptions{From: optional.Of(cut.Frequency[0]), To: optional.Of(cut.Frequency[high-low-1])})
	b := fitted(t, cut, FitOptions{})
	if a.Points != high-low || a.Re != b.Re || a.Le != b.Le || a.Residual != b.Residual {
		t.Errorf("in the band %+v, %d points; of the part %+v", a.Re, a.Points, b.Re)
	}
	_, err := FitImpedance(context.Background(), sweep, FitOptions{From: optional.Of(1e3), To: optional.Of(1.1e3)})
	if err == nil || !strings.Contains(err.Error(), "between 1000 and 1100 Hz") {
		t.Errorf("err = %v", err)
	}
}

// The derivatives of every model against central differences.
func TestDerivativesOfTheModels(t *testing.T) {
	theta := vector{math.Log(50), math.Log(0.4), math.Log(5), math.Log(6), math.Log(3e-4), math.Log(1e-3), math.Log(7e-4), 0.63, math.Log(20), math.Log(2), 0.7, math.Log(4), 0.65}
	for i := range coilModels {
		m := &coilModels[i]
		for _, f := range []float64{20, 50, 300, 4000} {
			for _, slot := range append([]int{thetaFs, thetaQes, thetaQms, thetaRe}, m.slots...) {
				const h = 1e-5
				up, down := theta, theta
				up[slot] += h
				down[slot] -= h
				var dz vectorOfImpedances
				e := m.prepared(&theta)
				e.at(f, f/1000, math.Log(f/1000), &dz)
				want := (m.impedance(&up, f) - m.impedance(&down, f)) / (2 * h)
				// Beside a resonance of Q = 5 differences of 1e-5 err by h²/6·(2Q)³ of it.
				if got := dz[slot]; cmplx.Abs(got-want) > 1e-7*cmplx.Abs(m.impedance(&theta, f)) {
					t.Errorf("model %d, parameter %d at %g Hz: %v, by differences %v", i, slot, f, got, want)
				}
			}
		}
	}
}

type vectorOfImpedances = [thetaCount]complex128

// The ends of an averaged interval against the distribution summed apart: beyond each
// end lies a fortieth of the mixture of the models' distributions.
func TestAveragedIntervals(t *testing.T) {
	tails := []tail{{0.6, 1, 0.2, 20}, {0.3, 1.7, 0.1, 19}, {0.1, -3, 1.5, 18}}
	low, high := averaged(tails)
	density := func(x float64) float64 {
		sum := 0.0
		for _, t := range tails {
			u, n := (x-t.value)/t.error, t.freedom
			a, _ := math.Lgamma((n + 1) / 2)
			b, _ := math.Lgamma(n / 2)
			sum += t.weight * math.Exp(a-b) / (t.error * math.Sqrt(n*math.Pi)) * math.Pow(1+u*u/n, -(n+1)/2)
		}
		return sum
	}
	// Student's t with 18 degrees of freedom leaves 1e-12 beyond 20 of its widths.
	reftable.Within(t, "below", numeric.Integrate(density, -40, low, 24, 60), 0.025, 1e-5)
	reftable.Within(t, "above", numeric.Integrate(density, high, 40, 24, 60), 0.025, 1e-5)
	// Two models that agree are one: 2.086 is Student's t of 20 degrees in the tables.
	low, high = averaged([]tail{{0.5, 1, 0.2, 20}, {0.5, 1, 0.2, 20}})
	reftable.Within(t, "low", low, 1-2.086*0.2, 1e-4)
	reftable.Within(t, "high", high, 1+2.086*0.2, 1e-4)
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
	fit, err := FitImpedance(context.Background(), s, FitOptions{Inductor: PlainInductor})
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

func TestVasByBothMethods(t *testing.T) {
	d := ratedDriver(t)
	r := rand.New(rand.NewPCG(3, 5))
	f := Frequencies(12, 1200, 90)
	measure := func(fs, qes, qms, noise float64) *ImpedanceFit {
		fit, err := FitImpedance(context.Background(), plainly(fs, qes, qms, d.Re.Value(), 0.7e-3).measured(f, noise, true, r), FitOptions{})
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
	s := plainly(60, 0.5, 4, 7, 0).measured(Frequencies(20, 200, 12), 0.002, false, r)
	fit, err := FitImpedance(context.Background(), s, FitOptions{Inductor: NoInductor})
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
	fit := fitted(t, lossily(48, 0.37, 5.5, 5.6, 0.9e-3, 1.1).measured(Frequencies(10, 3000, 60), 0, true, r), FitOptions{Inductor: LossyInductor})
	if fit.LeExponent.Value != 1 {
		t.Errorf("exponent %g, want 1", fit.LeExponent.Value)
	}
}

func TestUnfittableSweepsAreRefused(t *testing.T) {
	good := plainly(48, 0.37, 5.5, 5.6, 0.9e-3).measured(Frequencies(10, 2000, 40), 0, true, rand.New(rand.NewPCG(1, 1)))
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
		if _, err := FitImpedance(context.Background(), s, FitOptions{Inductor: PlainInductor}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("err = %v, want %q in it", err, want)
		}
	}
}
