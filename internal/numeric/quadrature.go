package numeric

import (
	"sync"

	"gonum.org/v1/gonum/integrate/quad"
)

// Rule is a Gauss-Legendre rule on [-1, 1].
type Rule struct {
	X, W []float64 // abscissae and weights, ascending
}

var (
	rulesMu sync.RWMutex
	rules   = map[int]*Rule{}
)

// brokenRule is the one rule that gonum v0.17.0 gets wrong: its table for 26
// points sums to 1.979 instead of 2. TestLegendreRules checks the others.
const brokenRule = 26

// Legendre returns a Gauss-Legendre rule on [-1, 1] with n points, or one more
// where the library's table is wrong. Rules are built once and shared; callers
// must not write to them.
func Legendre(n int) *Rule {
	if n == brokenRule {
		n++
	}
	rulesMu.RLock()
	r := rules[n]
	rulesMu.RUnlock()
	if r != nil {
		return r
	}
	r = &Rule{X: make([]float64, n), W: make([]float64, n)}
	quad.Legendre{}.FixedLocations(r.X, r.W, -1, 1)
	rulesMu.Lock()
	rules[n] = r
	rulesMu.Unlock()
	return r
}

// Integrate returns the integral of f over [a, b] by the n-point
// Gauss-Legendre rule on each of panels equal panels.
func Integrate(f func(float64) float64, a, b float64, n, panels int) float64 {
	r := Legendre(n)
	h := (b - a) / float64(panels)
	sum := 0.0
	for i := range panels {
		mid := a + h*(float64(i)+0.5)
		for j, x := range r.X {
			sum += r.W[j] * f(mid+x*h/2)
		}
	}
	return sum * h / 2
}
