package driver

import (
	"context"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"gapline/internal/numeric"
	"gapline/internal/optional"
)

// Estimate is a fitted value with its 95 % confidence interval.
type Estimate struct {
	Value, Low, High float64
}

// InductorModel is how the fit treats the voice coil's inductance.
type InductorModel int

// The inductor models of a fit.
const (
	PlainInductor InductorModel = iota // jωLe
	LossyInductor                      // jωLe·(jω/ω₁)^{n−1}, n fitted between ½ and 1
	NoInductor                         // for a sweep that ends well below the rise
)

// ImpedanceFit is a driver's electrical model fitted to a sweep,
//
//	Z = Re + Z_L + Re·(Qms/Qes)/(1 + jQms(f/fs − fs/f))
//
// in the free air or, with fc, Qec and Qmc in place of fs, Qes and Qms, in a
// closed box (Small 1972).
type ImpedanceFit struct {
	Fs, Qes, Qms, Qts, Re Estimate
	Le                    Estimate // H, at 1 kHz for LossyInductor; NaN for NoInductor
	LeExponent            Estimate // 1 unless fitted
	Residual              float64  // rms relative deviation of |Z|
	PhaseResidual         float64  // rms deviation of the phase, rad; NaN without phases
	Points                int

	model      InductorModel
	theta      []float64
	covariance *mat.SymDense
	freedom    float64
}

// The fitted parameters, all as logarithms but the exponent.
const (
	thetaFs = iota
	thetaQes
	thetaQms
	thetaRe
	thetaLe
	thetaExponent
)

// size returns how many parameters the model has.
func (m InductorModel) size() int {
	switch m {
	case NoInductor:
		return thetaLe
	case LossyInductor:
		return thetaExponent + 1
	}
	return thetaExponent
}

// spareValues is how many measured values a fit wants beyond its parameters.
const spareValues = 4

// FitImpedance fits fs, Qes, Qms, Re and the inductance to a sweep by least
// squares of the logarithm of |Z| and, when measured, of the phase in rad.
//
// The intervals hold for independent errors of equal size in these quantities,
// from the covariance s²(JᵀJ)⁻¹ and Student's t (G. A. F. Seber and C. J. Wild,
// Nonlinear Regression, 1989, ch. 5). A systematic error of the model is not in
// them: look at the residual.
//
// It returns an error for too few points, for a sweep without a resonance peak
// inside, when the fit does not settle, and that of ctx when that ends.
func FitImpedance(ctx context.Context, s ImpedanceSweep, model InductorModel) (*ImpedanceFit, error) {
	if err := s.check(model); err != nil {
		return nil, fmt.Errorf("impedance sweep: %w", err)
	}
	start, err := s.start(model)
	if err != nil {
		return nil, fmt.Errorf("impedance sweep: %w", err)
	}
	p := &fitProblem{sweep: s, model: model, exponent: 1}
	theta, err := p.minimize(ctx, start)
	if err != nil {
		return nil, err
	}
	if model == LossyInductor && !(theta[thetaExponent] >= 0.5 && theta[thetaExponent] <= 1) {
		// The best exponent lies outside its physical range: hold it at the end.
		p.exponent = math.Min(math.Max(theta[thetaExponent], 0.5), 1)
		p.model = PlainInductor
		if theta, err = p.minimize(ctx, theta[:thetaExponent]); err != nil {
			return nil, err
		}
	}
	return p.result(theta)
}

// check refuses sweeps that cannot be fitted.
func (s ImpedanceSweep) check(model InductorModel) error {
	n := len(s.Frequency)
	if len(s.Magnitude) != n || (s.Phase != nil && len(s.Phase) != n) {
		return fmt.Errorf("%d frequencies, %d magnitudes and %d phases", n, len(s.Magnitude), len(s.Phase))
	}
	if least := model.size() + spareValues; n < least {
		return fmt.Errorf("%d points: this fit needs at least %d", n, least)
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

// start estimates the parameters from the peak's height and width (Small 1972,
// appendix): r₀ = Rmax/Re, Qms = fs√r₀/(f₂ − f₁) with |Z(f₁,₂)| = Re√r₀.
func (s ImpedanceSweep) start(model InductorModel) ([]float64, error) {
	peak, re := s.peak()
	if peak < 0 {
		return nil, fmt.Errorf("no resonance peak inside %.4g to %.4g Hz", s.Frequency[0], s.Frequency[len(s.Frequency)-1])
	}
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
	le := reactance / (2 * math.Pi * s.Frequency[last])
	theta := []float64{math.Log(fs), math.Log(qms / (r0 - 1)), math.Log(qms), math.Log(re), math.Log(le), 0.8}
	return theta[:model.size()], nil
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

// result turns the minimum into estimates with intervals.
func (p *fitProblem) result(theta []float64) (*ImpedanceFit, error) {
	r := make([]float64, p.values())
	p.residuals(r, theta)
	points := len(p.sweep.Frequency)
	f := &ImpedanceFit{
		Points: points, model: p.model, theta: theta, freedom: float64(len(r) - len(theta)),
		Residual: rms(r[:points]), PhaseResidual: rms(r[points:]),
	}
	j := p.jacobian(theta)
	var normal mat.SymDense
	normal.SymOuterK(1, j.T())
	var factor mat.Cholesky
	if !factor.Factorize(&normal) {
		return nil, errUndetermined
	}
	f.covariance = mat.NewSymDense(len(theta), nil)
	if err := factor.InverseTo(f.covariance); err != nil {
		return nil, errUndetermined
	}
	variance := sumSquares(r) / f.freedom
	f.covariance.ScaleSym(variance, f.covariance)
	f.estimates(p.exponent)
	return f, nil
}

// rms returns the root mean square, NaN of nothing.
func rms(v []float64) float64 {
	if len(v) == 0 {
		return numeric.Absent
	}
	return math.Sqrt(sumSquares(v) / float64(len(v)))
}

// estimates fills in the values and intervals.
func (f *ImpedanceFit) estimates(exponent float64) {
	unit := func(i int) []float64 {
		g := make([]float64, len(f.theta))
		g[i] = 1
		return g
	}
	value := func(i int) Estimate { return f.estimate(math.Exp(f.theta[i]), unit(i)) }
	f.Fs, f.Qes, f.Qms, f.Re = value(thetaFs), value(thetaQes), value(thetaQms), value(thetaRe)
	qes, qms := f.Qes.Value, f.Qms.Value
	g := make([]float64, len(f.theta))
	g[thetaQes], g[thetaQms] = qms/(qes+qms), qes/(qes+qms)
	f.Qts = f.estimate(qes*qms/(qes+qms), g)
	f.Le = Estimate{numeric.Absent, numeric.Absent, numeric.Absent}
	f.LeExponent = Estimate{exponent, exponent, exponent}
	if f.model == NoInductor {
		return
	}
	f.Le = value(thetaLe)
	if f.model == LossyInductor {
		half := f.quantile() * math.Sqrt(f.covariance.At(thetaExponent, thetaExponent))
		n := f.theta[thetaExponent]
		f.LeExponent = Estimate{n, n - half, n + half}
	}
}

// variance returns gᵀ·C·g, the variance of a logarithm with gradient g.
func (f *ImpedanceFit) variance(g []float64) float64 {
	v := mat.NewVecDense(len(g), g)
	return mat.Inner(v, f.covariance, v)
}

// quantile is Student's t for a two-sided 95 % interval.
func (f *ImpedanceFit) quantile() float64 { return studentQuantile(f.freedom) }

func studentQuantile(freedom float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: freedom}.Quantile(0.975)
}

// estimate returns the value with its interval from the gradient of its
// logarithm.
func (f *ImpedanceFit) estimate(value float64, g []float64) Estimate {
	return logInterval(value, f.quantile()*math.Sqrt(f.variance(g)))
}

// logInterval returns the interval value·e^{±half}.
func logInterval(value, half float64) Estimate {
	return Estimate{Value: value, Low: value * math.Exp(-half), High: value * math.Exp(half)}
}

// Impedance returns the fitted model at frequency f in Hz, Ω.
func (f *ImpedanceFit) Impedance(frequency float64) complex128 {
	p := fitProblem{model: f.model, exponent: f.LeExponent.Value}
	return p.impedance(f.theta, frequency)
}

// Parameters returns the fitted values as driver parameters; what a sweep cannot
// tell stays absent.
func (f *ImpedanceFit) Parameters() Parameters {
	p := Parameters{}
	p.Fs, p.Qes, p.Qms, p.Re, p.Le = optional.Of(f.Fs.Value), optional.Of(f.Qes.Value), optional.Of(f.Qms.Value), optional.Of(f.Re.Value), optional.Of(f.Le.Value)
	if f.LeExponent.Value != 1 {
		p.LeExponent = optional.Of(f.LeExponent.Value)
	}
	return p
}
