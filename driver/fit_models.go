package driver

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// modelFit is one coil model fitted to a sweep.
type modelFit struct {
	model            *coilModel
	theta            vector
	free             []int         // parameters that are fitted; the rest is held
	covariance       *mat.SymDense // of these
	freedom          float64
	magnitude, phase float64 // sums of squares
	criterion        float64 // AICc
	weight           float64
}

// coilSearch fits coil models to one sweep.
type coilSearch struct {
	data  fitData
	start vector // motional parameters and a plain inductance
}

// newCoilSearch makes the sweep ready.
func newCoilSearch(s ImpedanceSweep, o FitOptions, start vector) *coilSearch {
	c := &coilSearch{start: start, data: fitData{frequency: s.Frequency, phase: s.Phase, re: o.Re.Value()}}
	for i, f := range s.Frequency {
		x := f / inductorReference
		c.data.x, c.data.lnx = append(c.data.x, x), append(c.data.lnx, math.Log(x))
		c.data.lnMagnitude = append(c.data.lnMagnitude, math.Log(s.Magnitude[i]))
	}
	c.limit()
	return c
}

// limit sets the ends of the parameters. At those of the coil's parts their effect on
// the sweep lies far below any measurement's error, so that a fit that ends there is
// one without the part.
func (c *coilSearch) limit() {
	const reference = 2 * math.Pi * inductorReference
	n := len(c.data.x)
	lowest, highest := reference*c.data.x[0], reference*c.data.x[n-1]
	re := c.start[thetaRe]
	for i := range thetaCount {
		c.data.low[i], c.data.high[i] = c.start[i]-5, c.start[i]+5
	}
	set := func(slot int, low, high float64) { c.data.low[slot], c.data.high[slot] = low, high }
	for _, slot := range []int{thetaSeries, thetaParallel, thetaLossy} {
		set(slot, re+math.Log(1e-4/highest), re+math.Log(1e3/lowest))
	}
	set(thetaExponent, 0.5, 1)
	set(thetaRing, re+math.Log(1e-3), re+math.Log(1e4))
	set(thetaReal, re-9, re+5)
	set(thetaImaginary, re-9, re+5)
	set(thetaRealSlope, 0, 2)
	set(thetaImaginSlope, 0, 2)
}

// run fits the models and returns those that the sweep determines, the heaviest
// first, with their weights. A model whose parts have left it, because they lie at
// their ends, is one of the plainer ones and counts only where it stands alone.
func (c *coilSearch) run(ctx context.Context, wanted []int) ([]modelFit, error) {
	var out, ended []modelFit
	var failed error
	for _, i := range wanted {
		minima, err := c.fit(ctx, &coilModels[i])
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err != nil {
			failed = err
		}
		for _, m := range minima {
			if len(m.free) < m.parameters(&c.data) {
				ended = append(ended, m)
			} else {
				out = append(out, m)
			}
		}
	}
	if len(out) == 0 {
		out = ended
	}
	if len(out) == 0 {
		return nil, failed
	}
	weigh(out)
	return out, nil
}

// parameters returns how many parameters the model has to fit to the data.
func (m *modelFit) parameters(d *fitData) int {
	n := thetaRe + len(m.model.slots)
	if math.IsNaN(d.re) {
		n++
	}
	return n
}

// fit finds one model's minima from several starts, the lowest first. Without phases
// resistance and reactance of the coil can change places, so that there may be two of
// nearly equal depth, each as good a reading of the sweep as the other.
func (c *coilSearch) fit(ctx context.Context, model *coilModel) ([]modelFit, error) {
	p := newFitProblem(&c.data, model)
	if c.data.values() < len(p.free)+spareValues {
		return nil, errUndetermined
	}
	type minimum struct {
		theta vector
		cost  float64
	}
	var found []minimum
	failed := errUndetermined
	for _, t := range c.starts(model) {
		cost, err := p.minimize(ctx, &t)
		switch {
		case ctx.Err() != nil:
			return nil, ctx.Err()
		case err != nil:
			failed = err
			continue
		}
		if !slices.ContainsFunc(found, func(m minimum) bool { return p.same(&m.theta, &t) }) {
			found = append(found, minimum{t, cost})
		}
	}
	slices.SortStableFunc(found, func(a, b minimum) int { return cmp.Compare(a.cost, b.cost) })
	all := p.free
	var out []modelFit
	for i, m := range found {
		held := c.ended(all, &m.theta)
		if i > 0 && (len(held) > 0 || !(m.cost < 1.5*found[0].cost)) {
			continue
		}
		fit := modelFit{model: model, theta: m.theta}
		p.release(slices.DeleteFunc(slices.Clone(all), func(slot int) bool { return slices.Contains(held, slot) }))
		if err := p.finish(&fit); err != nil {
			failed = err
			continue
		}
		out = append(out, fit)
	}
	if len(out) == 0 {
		return nil, failed
	}
	return out, nil
}

// same reports whether two minima are one, as far as the search tells them apart.
func (p *fitProblem) same(a, b *vector) bool {
	for _, slot := range p.free {
		if math.Abs(a[slot]-b[slot]) > 1e-3 {
			return false
		}
	}
	return true
}

// ended lists the free parameters that lie at one of their ends.
func (c *coilSearch) ended(free []int, t *vector) []int {
	var out []int
	for _, slot := range free {
		if t[slot] <= c.data.low[slot] || t[slot] >= c.data.high[slot] {
			out = append(out, slot)
		}
	}
	return out
}

// finish adds covariance and criterion at the minimum.
func (p *fitProblem) finish(m *modelFit) error {
	m.free = slices.Clone(p.free)
	m.magnitude, m.phase = p.cost(&m.theta)
	p.linearize(&m.theta)
	var factor mat.Cholesky
	m.covariance = mat.NewSymDense(len(m.free), nil)
	if !factor.Factorize(p.normal) || factor.InverseTo(m.covariance) != nil {
		return errUndetermined
	}
	values, parameters := float64(p.data.values()), float64(len(m.free)+1)
	m.freedom = values - parameters + 1
	sum := m.magnitude + m.phase
	m.covariance.ScaleSym(sum/m.freedom, m.covariance)
	// Errors below a ten-millionth are the arithmetic's, and say nothing of a model.
	m.criterion = values*math.Log(sum/values+1e-14) + 2*parameters*values/(values-parameters-1)
	return nil
}

// coil returns the coil's impedance at f in Hz.
func (m *modelFit) coil(f float64) complex128 {
	var dz [thetaCount]complex128
	e := m.model.prepared(&m.theta)
	return e.coil(f/inductorReference, math.Log(f/inductorReference), &dz)
}

// weigh sorts the models by their criterion and gives them their weights.
func weigh(models []modelFit) {
	slices.SortStableFunc(models, func(a, b modelFit) int { return cmp.Compare(a.criterion, b.criterion) })
	sum := 0.0
	for i := range models {
		models[i].weight = math.Exp((models[0].criterion - models[i].criterion) / 2)
		sum += models[i].weight
	}
	for i := range models {
		models[i].weight /= sum
	}
}

// starts lists where the search for a model begins: a coil whose impedance rises about
// as the root of the frequency to what it is at the top, its parts at several corners.
func (c *coilSearch) starts(model *coilModel) []vector {
	const reference = 2 * math.Pi * inductorReference
	lnL := c.start[thetaSeries] + c.data.lnx[len(c.data.lnx)-1]/2
	t := c.start
	t[thetaLossy], t[thetaExponent] = lnL, 0.7
	t[thetaReal], t[thetaImaginary] = math.Log(reference)+lnL-1, math.Log(reference)+lnL
	t[thetaRealSlope], t[thetaImaginSlope] = 0.65, 0.7
	out := []vector{t}
	switch {
	case model.has(thetaReal):
		// Resistance above or below reactance at the top, and from how far down.
		for _, x := range [][2]float64{{0.5, 0.8}, {0.9, 0.6}, {1.1, 0.6}} {
			t[thetaRealSlope], t[thetaImaginSlope] = x[0], x[1]
			t[thetaReal] = t[thetaImaginary] - 0.5
			out = append(out, t)
		}
	case model.has(thetaParallel):
		out = nil
		for _, corner := range []float64{0.1, 0.5, 2.5} { // kHz
			t[thetaParallel] = lnL - math.Log(corner)/2
			t[thetaRing] = math.Log(reference*corner) + t[thetaParallel]
			out = append(out, t)
		}
	}
	return out
}
