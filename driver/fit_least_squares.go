package driver

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/mat"
)

// fitProblem is the least-squares problem.
type fitProblem struct {
	sweep    ImpedanceSweep
	model    InductorModel
	exponent float64 // used when it is not fitted
}

// impedance evaluates the model.
func (p *fitProblem) impedance(theta []float64, f float64) complex128 {
	fs, qes, qms, re := math.Exp(theta[thetaFs]), math.Exp(theta[thetaQes]), math.Exp(theta[thetaQms]), math.Exp(theta[thetaRe])
	z := complex(re, 0) + complex(re*qms/qes, 0)/complex(1, qms*(f/fs-fs/f))
	if p.model == NoInductor {
		return z
	}
	exponent := p.exponent
	if p.model == LossyInductor {
		exponent = theta[thetaExponent]
	}
	return z + inductorImpedance(math.Exp(theta[thetaLe]), exponent, 2*math.Pi*f)
}

// residuals fills r: ln|Z| first, then phases.
func (p *fitProblem) residuals(r, theta []float64) {
	n := len(p.sweep.Frequency)
	for i, f := range p.sweep.Frequency {
		z := p.impedance(theta, f)
		r[i] = math.Log(cmplx.Abs(z) / p.sweep.Magnitude[i])
		if p.sweep.Phase != nil {
			r[n+i] = math.Remainder(cmplx.Phase(z)-p.sweep.Phase[i], 2*math.Pi)
		}
	}
}

// values returns the number of measured values.
func (p *fitProblem) values() int {
	if p.sweep.Phase != nil {
		return 2 * len(p.sweep.Frequency)
	}
	return len(p.sweep.Frequency)
}

// jacobian returns ∂r/∂θ by central differences.
func (p *fitProblem) jacobian(theta []float64) *mat.Dense {
	const h = 1e-5
	m, n := p.values(), len(theta)
	j := mat.NewDense(m, n, nil)
	up, down := make([]float64, m), make([]float64, m)
	t := append([]float64(nil), theta...)
	for k := range n {
		t[k] = theta[k] + h
		p.residuals(up, t)
		t[k] = theta[k] - h
		p.residuals(down, t)
		t[k] = theta[k]
		for i := range m {
			j.Set(i, k, (up[i]-down[i])/(2*h))
		}
	}
	return j
}

// Settings of the least-squares search.
const (
	fitSteps    = 200  // at most
	fitSmall    = 1e-9 // size of a step, in logarithms, that ends the search
	dampingGrow = 8.0
	dampingFall = 1.0 / 3
	dampingTop  = 1e12 // damping at which no step can improve any more
)

// minimize finds the least squares from start by the method of Levenberg and
// Marquardt (D. W. Marquardt, J. SIAM 11 (1963) 431-441): Gauss-Newton steps,
// damped while they do not improve.
func (p *fitProblem) minimize(ctx context.Context, start []float64) ([]float64, error) {
	theta := append([]float64(nil), start...)
	r, next := make([]float64, p.values()), make([]float64, len(start))
	p.residuals(r, theta)
	best, damping := sumSquares(r), 1e-3
	for range fitSteps {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		step, err := p.step(theta, damping)
		if err != nil {
			return nil, err
		}
		for i := range next {
			next[i] = theta[i] - step.AtVec(i)
		}
		p.residuals(r, next)
		if cost := sumSquares(r); cost <= best {
			best = cost
			copy(theta, next)
			damping *= dampingFall
		} else {
			damping *= dampingGrow
		}
		if mat.Norm(step, math.Inf(1)) < fitSmall || damping > dampingTop {
			return theta, nil
		}
	}
	return nil, fmt.Errorf("impedance fit: did not settle in %d steps", fitSteps)
}

// step returns the damped Gauss-Newton step, (JᵀJ + λ·diag(JᵀJ))⁻¹ Jᵀr.
func (p *fitProblem) step(theta []float64, damping float64) (*mat.VecDense, error) {
	r := make([]float64, p.values())
	p.residuals(r, theta)
	j := p.jacobian(theta)
	var normal mat.SymDense
	normal.SymOuterK(1, j.T())
	for i := range len(theta) {
		normal.SetSym(i, i, normal.At(i, i)*(1+damping))
	}
	var gradient, step mat.VecDense
	gradient.MulVec(j.T(), mat.NewVecDense(len(r), r))
	var factor mat.Cholesky
	if !factor.Factorize(&normal) {
		return nil, errUndetermined
	}
	if err := factor.SolveVecTo(&step, &gradient); err != nil {
		return nil, errUndetermined
	}
	return &step, nil
}

// errUndetermined says that some parameter does not act on the measured values.
var errUndetermined = errors.New("impedance fit: the sweep does not determine all parameters")

// sumSquares returns Σ v².
func sumSquares(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x * x
	}
	return sum
}
