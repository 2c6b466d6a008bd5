package driver

import (
	"context"
	"fmt"
	"math"
	"math/cmplx"
	"sort"

	"gapline/internal/numeric"
	"gapline/internal/optional"
)

// Estimate is a fitted value with its 95 % confidence interval.
type Estimate struct {
	Value, Low, High float64
}

// Held reports whether the value was given, not fitted.
func (e Estimate) Held() bool { return e.Low == e.High }

// InductorModel is how the fit treats the voice coil's inductance.
type InductorModel int

// The inductor models of a fit.
const (
	AnyInductor        InductorModel = iota // all below, weighed against each other
	NoInductor                              // for a sweep that ends well below the rise
	PlainInductor                           // jωLe
	LossyInductor                           // jωLe·(jω/ω₁)^{n−1}, n between ½ and 1 (Leach 2002)
	LossyPlainInductor                      // that, and a plain inductance in series
	RingInductor                            // plain, and in series plain beside a resistance (Dodd, Klippel and Oclee-Brown 2004)
	SemiInductor                            // plain, and in series plain beside n = ½, with or without a resistance (Thorborg and Unruh 2008)
	SplitInductor                           // resistance and reactance each with its own power of ω (Wright 1990)
	inductorModelCount
)

// inductorModels are the coil models that each weighs.
var inductorModels = [inductorModelCount][]int{
	AnyInductor: {noCoil, plainCoil, halfCoil, lossyCoil, halfPlainCoil, lossyPlainCoil, ringCoil, semiCoil, semiRingCoil, splitCoil},
	NoInductor:  {noCoil}, PlainInductor: {plainCoil}, LossyInductor: {lossyCoil}, LossyPlainInductor: {halfPlainCoil, lossyPlainCoil},
	RingInductor: {ringCoil}, SemiInductor: {semiCoil, semiRingCoil}, SplitInductor: {splitCoil},
}

// FitOptions say how a sweep is fitted. The zero value fits everything.
type FitOptions struct {
	Inductor InductorModel
	Re       optional.Float // Ω, measured with direct current: held; not given: fitted
	From, To optional.Float // Hz, band of the points used; not given: the whole sweep
}

// ImpedanceFit is a driver's electrical model fitted to a sweep,
//
//	Z = Re + Z_L + Re·(Qms/Qes)/(1 + jQms(f/fs − fs/f))
//
// in the free air or, with fc, Qec and Qmc in place of fs, Qes and Qms, in a
// closed box (Small 1972).
type ImpedanceFit struct {
	Fs, Qes, Qms, Qts, Re Estimate
	Le                    Estimate      // H, at 1 kHz: |Z_L| there is ω₁Le; NaN for NoInductor
	LeExponent            Estimate      // ∠Z_L/(π/2) at 1 kHz; 1 for a plain inductance
	Residual              float64       // rms relative deviation of |Z|
	PhaseResidual         float64       // rms deviation of the phase, rad; NaN without phases
	Serial                float64       // correlation of a residual with its neighbour's: near 0 for scatter
	Points                int           // used
	Model                 InductorModel // the one taken
	Share                 float64       // weight of the model taken among those weighed

	models []modelFit // the heaviest first
	values int        // measured values used
}

// spareValues is how many measured values a fit wants beyond its parameters.
const spareValues = 4

// FitImpedance fits fs, Qes, Qms, Re and the coil's inductance to a sweep by least
// squares of the logarithm of |Z| and, when measured, of the phase in rad.
//
// What the coil's inductance adds near the resonance depends on its model, and so
// does Re. So the models that the options name are all fitted and weighed by
// Akaike's criterion, exp(−AICc/2) (K. P. Burnham and D. R. Anderson, Model
// Selection and Multimodel Inference, 2002, ch. 2). The values are those of the
// heaviest. The 95 % intervals average the tails over the models by their weights
// (D. Turek and D. Fletcher, Comput. Stat. Data Anal. 56 (2012) 2809-2815), each
// model with the covariance s²(JᵀJ)⁻¹ and Student's t (G. A. F. Seber and C. J.
// Wild, Nonlinear Regression, 1989, ch. 5). They hold for independent errors of
// equal size in ln|Z| and phase. A coil that follows none of the models is not in
// them: look at the residual.
//
// It returns an error for too few points, for a sweep without a resonance peak
// inside, when the fit does not settle, and that of ctx when that ends.
func FitImpedance(ctx context.Context, s ImpedanceSweep, o FitOptions) (*ImpedanceFit, error) {
	if err := s.check(); err != nil {
		return nil, fmt.Errorf("impedance sweep: %w", err)
	}
	s, err := s.band(o)
	if err != nil {
		return nil, fmt.Errorf("impedance sweep: %w", err)
	}
	start, err := s.start(o)
	if err != nil {
		return nil, fmt.Errorf("impedance sweep: %w", err)
	}
	search := newCoilSearch(s, o, start)
	models, err := search.run(ctx, inductorModels[o.Inductor])
	if err != nil {
		return nil, err
	}
	return newImpedanceFit(s, models), nil
}

// check refuses sweeps that cannot be fitted.
func (s ImpedanceSweep) check() error {
	n := len(s.Frequency)
	if len(s.Magnitude) != n || (s.Phase != nil && len(s.Phase) != n) {
		return fmt.Errorf("%d frequencies, %d magnitudes and %d phases", n, len(s.Magnitude), len(s.Phase))
	}
	for i, f := range s.Frequency {
		if !(f > 0) || math.IsInf(f, 0) || !(s.Magnitude[i] > 0) || math.IsInf(s.Magnitude[i], 0) {
			return fmt.Errorf("point %d: %g Hz, %g ohm: both must be positive numbers", i+1, f, s.Magnitude[i])
		}
		if s.Phase != nil && (math.IsNaN(s.Phase[i]) || math.IsInf(s.Phase[i], 0)) {
			return fmt.Errorf("point %d: phase %g rad: must be a number", i+1, s.Phase[i])
		}
		if i > 0 && f <= s.Frequency[i-1] {
			return fmt.Errorf("point %d: %g Hz after %g Hz: frequencies must rise", i+1, f, s.Frequency[i-1])
		}
	}
	return nil
}

// band returns the points within the options' band, of which there must be enough
// for the plainest of its models.
func (s ImpedanceSweep) band(o FitOptions) (ImpedanceSweep, error) {
	low, high := o.From.Or(0), o.To.Or(math.Inf(1))
	first, last := sort.SearchFloat64s(s.Frequency, low), len(s.Frequency)
	for last > first && s.Frequency[last-1] > high {
		last--
	}
	least := thetaSeries + spareValues + len(coilModels[inductorModels[o.Inductor][0]].slots)
	if n := last - first; n < least {
		where := ""
		if n < len(s.Frequency) {
			where = fmt.Sprintf(" between %.4g and %.4g Hz", low, math.Min(high, s.Frequency[len(s.Frequency)-1]))
		}
		return s, fmt.Errorf("%d points%s: this fit needs at least %d", n, where, least)
	}
	out := ImpedanceSweep{Frequency: s.Frequency[first:last], Magnitude: s.Magnitude[first:last]}
	if s.Phase != nil {
		out.Phase = s.Phase[first:last]
	}
	return out, nil
}

// start estimates the motional parameters from the peak's height and width (Small
// 1972, appendix): r₀ = Rmax/Re, Qms = fs√r₀/(f₂ − f₁) with |Z(f₁,₂)| = Re√r₀; and a
// plain inductance from the last point.
func (s ImpedanceSweep) start(o FitOptions) (vector, error) {
	var t vector
	peak, re := s.peak()
	if peak < 0 {
		return t, fmt.Errorf("no resonance peak inside %.4g to %.4g Hz", s.Frequency[0], s.Frequency[len(s.Frequency)-1])
	}
	re = o.Re.Or(re)
	fs := s.Frequency[peak]
	r0 := math.Max(s.Magnitude[peak]/re, 1.05)
	level := re * math.Sqrt(r0)
	lo, hi := peak, peak
	for lo > 0 && s.Magnitude[lo] > level {
		lo--
	}
	for hi < len(s.Frequency)-1 && s.Magnitude[hi] > level {
		hi++
	}
	qms := fs * math.Sqrt(r0) / (s.Frequency[hi] - s.Frequency[lo])
	last := len(s.Frequency) - 1
	reactance := math.Sqrt(math.Max(s.Magnitude[last]*s.Magnitude[last]-re*re, re*re/100))
	t[thetaFs], t[thetaQes], t[thetaQms], t[thetaRe] = math.Log(fs), math.Log(qms/(r0-1)), math.Log(qms), math.Log(re)
	t[thetaSeries] = math.Log(reactance / (2 * math.Pi * s.Frequency[last]))
	return t, nil
}

// peak returns the index of the interior point that stands highest above the
// lowest points on both of its sides, and the lower of these as a first Re; −1
// when no point does.
func (s ImpedanceSweep) peak() (index int, re float64) {
	n := len(s.Magnitude)
	right := make([]float64, n)
	right[n-1] = s.Magnitude[n-1]
	for i := n - 2; i >= 0; i-- {
		right[i] = math.Min(right[i+1], s.Magnitude[i])
	}
	best := 1.1 // a bump of 10 % is no resonance
	index = -1
	left := s.Magnitude[0]
	for i := 1; i < n-1; i++ {
		left = math.Min(left, s.Magnitude[i])
		if height := s.Magnitude[i] / math.Max(left, right[i]); height > best {
			best, index, re = height, i, math.Min(left, right[i])
		}
	}
	return index, re
}

// newImpedanceFit makes the estimates of the weighed models, the heaviest first.
func newImpedanceFit(s ImpedanceSweep, models []modelFit) *ImpedanceFit {
	best := &models[0]
	points := len(s.Frequency)
	f := &ImpedanceFit{Points: points, models: models, values: points, Model: best.model.named, Share: best.weight,
		Residual: math.Sqrt(best.magnitude / float64(points)), PhaseResidual: numeric.Absent}
	if s.Phase != nil {
		f.values = 2 * points
		f.PhaseResidual = math.Sqrt(best.phase / float64(points))
	}
	f.Serial = f.serial(s)
	value := func(slot int) Estimate {
		return f.estimate(func(m *modelFit) (float64, vector) { return m.theta[slot], unit(slot) }).exp()
	}
	f.Fs, f.Qes, f.Qms, f.Re = value(thetaFs), value(thetaQes), value(thetaQms), value(thetaRe)
	f.Qts = f.estimate(func(m *modelFit) (float64, vector) {
		qes, qms := math.Exp(m.theta[thetaQes]), math.Exp(m.theta[thetaQms])
		var g vector
		g[thetaQes], g[thetaQms] = qms/(qes+qms), qes/(qes+qms)
		return math.Log(qes * qms / (qes + qms)), g
	}).exp()
	f.coil(s.Frequency[points-1])
	return f
}

// serial returns the correlation of neighbouring residuals at lag one (J. Durbin and
// G. S. Watson, Biometrika 37 (1950) 409-428, who take 2 − 2 of it).
func (f *ImpedanceFit) serial(s ImpedanceSweep) float64 {
	var product, square float64
	miss := func(of func(i int, z complex128) float64) {
		last := 0.0
		for i, x := range s.Frequency {
			r := of(i, f.Impedance(x))
			product += r * last
			square += r * r
			last = r
		}
	}
	miss(func(i int, z complex128) float64 { return lnAbs(z) - math.Log(s.Magnitude[i]) })
	if s.Phase != nil {
		miss(func(i int, z complex128) float64 { return math.Remainder(cmplx.Phase(z)-s.Phase[i], 2*math.Pi) })
	}
	return product / square
}

// Systematic reports whether the model misses the sweep by more than scatter: the
// correlation of neighbours lies four standard deviations, 1/√N each, above zero.
func (f *ImpedanceFit) Systematic() bool {
	return f.Serial*math.Sqrt(float64(f.values)) > 4
}

// coil fills in the inductance: that of the lossy inductance with the coil's
// impedance at 1 kHz, or at the top of the sweep if that is lower.
func (f *ImpedanceFit) coil(top float64) {
	f.Le, f.LeExponent = Estimate{numeric.Absent, numeric.Absent, numeric.Absent}, Estimate{1, 1, 1}
	if f.Model == NoInductor {
		return
	}
	at := math.Min(top, inductorReference)
	f.Le = f.estimate(func(m *modelFit) (float64, vector) {
		lnL, _, g, _ := m.model.equivalent(&m.theta, at)
		return lnL, g
	}).exp()
	f.LeExponent = f.estimate(func(m *modelFit) (float64, vector) {
		_, n, _, g := m.model.equivalent(&m.theta, at)
		return n, g
	})
}

// Impedance returns the fitted model at frequency f in Hz, Ω.
func (f *ImpedanceFit) Impedance(frequency float64) complex128 {
	best := &f.models[0]
	return best.model.impedance(&best.theta, frequency)
}

// Parameters returns the fitted values as driver parameters; what a sweep cannot
// tell stays absent.
func (f *ImpedanceFit) Parameters() Parameters {
	p := Parameters{}
	p.Fs, p.Qes, p.Qms, p.Re, p.Le = optional.Of(f.Fs.Value), optional.Of(f.Qes.Value), optional.Of(f.Qms.Value), optional.Of(f.Re.Value), optional.Of(f.Le.Value)
	if n := f.LeExponent.Value; n != 1 {
		p.LeExponent = optional.Of(math.Min(math.Max(n, 0.5), 1))
	}
	return p
}

// A CoilPart is one element of the coil's inductance as fitted.
type CoilPart struct {
	Inductance, Resistance Estimate // H or Ω; the other is NaN
	Exponent               Estimate // of a lossy inductance, else 1; of a part of two, of its power of ω
	What                   string
}

// CoilParts lists the elements of the model taken, with the intervals that they have
// in this model.
func (f *ImpedanceFit) CoilParts() []CoilPart {
	best := ImpedanceFit{models: f.models[:1]}
	none := Estimate{numeric.Absent, numeric.Absent, numeric.Absent}
	of := func(slot int) Estimate {
		return best.estimate(func(m *modelFit) (float64, vector) { return m.theta[slot], unit(slot) })
	}
	m := f.models[0].model
	var out []CoilPart
	inductance := func(slot int, what string) {
		if m.has(slot) {
			out = append(out, CoilPart{of(slot).exp(), none, Estimate{1, 1, 1}, what})
		}
	}
	resistance := func(slot, power int, what string) {
		if m.has(slot) {
			p := CoilPart{none, of(slot).exp(), Estimate{1, 1, 1}, what}
			if power != slot {
				p.Exponent = of(power)
			}
			out = append(out, p)
		}
	}
	inductance(thetaSeries, "plain, in series")
	inductance(thetaParallel, "plain, beside the next")
	inductance(thetaLossy, "lossy, at 1 kHz")
	if m.has(thetaExponent) {
		out[len(out)-1].Exponent = of(thetaExponent)
	} else if m.has(thetaLossy) {
		out[len(out)-1].Exponent = Estimate{m.exponent, m.exponent, m.exponent}
	}
	resistance(thetaRing, thetaRing, "shunt of eddy currents")
	resistance(thetaReal, thetaRealSlope, "resistance at 1 kHz")
	resistance(thetaImaginary, thetaImaginSlope, "reactance at 1 kHz")
	return out
}

// StandIn returns the lossy inductance, le in H at 1 kHz and the exponent, that comes
// nearest to the fitted coil from low to high in Hz: the least squares of the relative
// error of the whole impedance. That is what a driver file holds, for the circuit
// knows no other coil. off is the largest error of |Z|.
func (f *ImpedanceFit) StandIn(low, high float64) (le, exponent, off float64) {
	le, exponent = f.Le.Value, f.LeExponent.Value
	if f.Model == NoInductor || f.Model == PlainInductor || f.Model == LossyInductor || !(high > low) {
		return le, exponent, 0
	}
	const points = 60
	best := &f.models[0]
	var at []float64
	var z, coil []complex128
	for i := range points + 1 {
		x := low * math.Pow(high/low, float64(i)/points)
		at, z, coil = append(at, 2*math.Pi*x), append(z, f.Impedance(x)), append(coil, best.coil(x))
	}
	// nearest gives the inductance for an exponent, in which the error is linear.
	nearest := func(n float64) (le, square float64) {
		var product, own float64
		for i, w := range at {
			u, c := inductorImpedance(1, n, w)/z[i], coil[i]/z[i]
			product += real(u)*real(c) + imag(u)*imag(c)
			own += real(u)*real(u) + imag(u)*imag(u)
			square += real(c)*real(c) + imag(c)*imag(c)
		}
		return product / own, square - product*product/own
	}
	exponent = numeric.Minimum(func(n float64) float64 { _, square := nearest(n); return square }, 0.5, 1, 1e-6)
	le, _ = nearest(exponent)
	for i, w := range at {
		stand := z[i] - coil[i] + inductorImpedance(le, exponent, w)
		off = math.Max(off, math.Abs(cmplx.Abs(stand)/cmplx.Abs(z[i])-1))
	}
	return le, exponent, off
}
