package driver

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/mat"
)

// fitData is a sweep made ready for the search.
type fitData struct {
	frequency, x, lnx []float64 // Hz, ω/ω₁ and its logarithm
	lnMagnitude       []float64
	phase             []float64 // rad; nil without phases
	re                float64   // Ω, held; NaN: fitted
	low, high         vector    // ends of the parameters
}

// values returns the number of measured values.
func (d *fitData) values() int { return len(d.lnMagnitude) + len(d.phase) }

// fitProblem is one model's least squares over the data.
type fitProblem struct {
	data  *fitData
	model *coilModel
	free  []int // parameters that are fitted

	residual []float64 // of the last cost: ln|Z|, then phases
	normal   *mat.SymDense
	gradient *mat.VecDense
	step     mat.VecDense
	damped   *mat.SymDense
	factor   mat.Cholesky
}

// newFitProblem prepares the search for one model.
func newFitProblem(d *fitData, m *coilModel) *fitProblem {
	p := &fitProblem{data: d, model: m, free: []int{thetaFs, thetaQes, thetaQms}, residual: make([]float64, d.values())}
	if math.IsNaN(d.re) {
		p.free = append(p.free, thetaRe)
	}
	p.release(append(p.free, m.slots...))
	return p
}

// release makes these parameters the fitted ones.
func (p *fitProblem) release(free []int) {
	n := len(free)
	p.free = free
	p.normal, p.damped, p.gradient = mat.NewSymDense(n, nil), mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	p.step, p.factor = mat.VecDense{}, mat.Cholesky{}
}

// cost returns the sum of squares of the residuals of ln|Z| and of the phases.
func (p *fitProblem) cost(t *vector) (magnitude, phase float64) {
	var dz [thetaCount]complex128
	d, e, n := p.data, p.model.prepared(t), len(p.data.frequency)
	for i, f := range d.frequency {
		z := e.at(f, d.x[i], d.lnx[i], &dz)
		r := lnAbs(z) - d.lnMagnitude[i]
		p.residual[i] = r
		magnitude += r * r
		if d.phase != nil {
			r = math.Remainder(cmplx.Phase(z)-d.phase[i], 2*math.Pi)
			p.residual[n+i] = r
			phase += r * r
		}
	}
	return magnitude, phase
}

// linearize fills in JᵀJ and Jᵀr where cost was evaluated last. The derivative of ln Z holds that of ln|Z| as its
// real and that of the phase as its imaginary part.
func (p *fitProblem) linearize(t *vector) {
	var dz [thetaCount]complex128
	var normal [thetaCount][thetaCount]float64
	var gradient, a, b vector
	d, n, e := p.data, len(p.free), p.model.prepared(t)
	for i, f := range d.frequency {
		z := e.at(f, d.x[i], d.lnx[i], &dz)
		over := inverse(z)
		for k, slot := range p.free {
			q := dz[slot] * over
			a[k], b[k] = real(q), imag(q)
		}
		r := p.residual[i]
		for k := range n {
			gradient[k] += a[k] * r
			for l := k; l < n; l++ {
				normal[k][l] += a[k] * a[l]
			}
		}
		if d.phase == nil {
			continue
		}
		r = p.residual[len(d.frequency)+i]
		for k := range n {
			gradient[k] += b[k] * r
			for l := k; l < n; l++ {
				normal[k][l] += b[k] * b[l]
			}
		}
	}
	for k := range n {
		p.gradient.SetVec(k, gradient[k])
		for l := k; l < n; l++ {
			p.normal.SetSym(k, l, normal[k][l])
		}
	}
}

// lnAbs is ln|z|.
func lnAbs(z complex128) float64 { return 0.5 * math.Log(real(z)*real(z)+imag(z)*imag(z)) }

// Settings of the least-squares search.
const (
	fitSteps    = 200  // at most
	fitSmall    = 1e-8 // size of a step, in logarithms, that ends the search
	fitFlat     = 1e-9 // relative gain that ends it after fitFlatSteps
	dampingGrow = 8.0
	dampingFall = 1.0 / 5
	dampingTop  = 1e12 // damping at which no step can improve any more
)

// fitFlatSteps is how many steps in a row may gain nothing before the search ends.
const fitFlatSteps = 3

// minimize finds the least squares from t by the method of Levenberg and
// Marquardt (D. W. Marquardt, J. SIAM 11 (1963) 431-441): Gauss-Newton steps,
// damped while they do not improve, and cut at the parameters' ends.
func (p *fitProblem) minimize(ctx context.Context, t *vector) (float64, error) {
	magnitude, phase := p.cost(t)
	best, damping, flat := magnitude+phase, 1e-3, 0
	p.linearize(t)
	for range fitSteps {
		if err := ctx.Err(); err != nil {
			return 0, err
		}
		if !p.solve(t, damping) {
			damping *= dampingGrow
			if damping > dampingTop {
				return 0, errUndetermined
			}
			continue
		}
		next, moved := *t, 0.0
		for k, slot := range p.free {
			next[slot] = math.Min(math.Max(t[slot]-p.step.AtVec(k), p.data.low[slot]), p.data.high[slot])
			moved = math.Max(moved, math.Abs(next[slot]-t[slot]))
		}
		magnitude, phase = p.cost(&next)
		if cost := magnitude + phase; cost <= best {
			if best-cost <= fitFlat*best {
				flat++
			} else {
				flat = 0
			}
			best, *t = cost, next
			damping *= dampingFall
			p.linearize(t)
		} else {
			damping *= dampingGrow
		}
		if moved < fitSmall || damping > dampingTop || flat >= fitFlatSteps {
			return best, nil
		}
	}
	return best, fmt.Errorf("impedance fit: did not settle in %d steps", fitSteps)
}

// solve finds the damped Gauss-Newton step, (JᵀJ + λ·diag(JᵀJ))⁻¹ Jᵀr. A parameter at
// an end beyond which the least squares pull it takes no part in the others' step.
func (p *fitProblem) solve(t *vector, damping float64) bool {
	p.damped.CopySym(p.normal)
	for k, slot := range p.free {
		pull := p.gradient.AtVec(k)
		if (t[slot] <= p.data.low[slot] && pull > 0) || (t[slot] >= p.data.high[slot] && pull < 0) {
			for l := range p.free {
				p.damped.SetSym(k, l, 0)
			}
			p.damped.SetSym(k, k, p.normal.At(k, k))
		}
		p.damped.SetSym(k, k, p.damped.At(k, k)*(1+damping)+math.SmallestNonzeroFloat64)
	}
	return p.factor.Factorize(p.damped) && p.factor.SolveVecTo(&p.step, p.gradient) == nil
}

// errUndetermined says that some parameter does not act on the measured values.
var errUndetermined = errors.New("impedance fit: the sweep does not determine all parameters")
