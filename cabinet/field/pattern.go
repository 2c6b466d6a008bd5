package field

import (
	"math"
	"sync"

	"gapline/internal/numeric"
)

// Patterns of the two shapes. With t the coordinate along the direction in
// which phase runs, scaled to [-1, 1], and x the phase at t = 1, mean() being
// the mean over the shape:
//
//	even   mean(e^{jxt})                 sin x/x        2J1(x)/x
//	odd    mean(t e^{jxt})/j             −even'         −even'
//	bend   mean((t² − mean t²) e^{jxt})  −even''−even/3 −even''−even/4
//	ring   mean((ρ²−1/2) e^{jxt}), disc only, ρ the radius scaled to 1
//
// All are real and even in x but odd, which is odd.
type pattern int

const (
	lineEven pattern = iota
	lineOdd
	lineBend
	discEven
	discOdd
	discBend
	discRing
	patterns
)

// Tables are cubic Hermite pieces of width 1/tableDensity. The error is at most
// h⁴/384·max|f⁗|; with |f⁗| ≤ 1/5 that is 1.3e-7.
const (
	tableDensity = 8
	tableRange   = 256 // largest x in the tables; beyond, direct evaluation
	tableSize    = tableDensity * tableRange
)

// piece is a cubic a + bs + cs² + ds³, s from 0 to 1 across the piece.
type piece [4]float64

// at returns the cubic at s.
func (p *piece) at(s float64) float64 { return p[0] + s*(p[1]+s*(p[2]+s*p[3])) }

// table holds the pieces of one pattern.
type table [tableSize]piece

// patternTables holds all patterns.
type patternTables [patterns]table

// tables are built on first use and read-only after that.
var tables = sync.OnceValue(func() *patternTables {
	all := new(patternTables)
	for p := range patterns {
		for i := range all[p] {
			all[p][i] = hermite(p, float64(i)/tableDensity)
		}
	}
	return all
})

// hermite fits the piece that starts at x to values and slopes at its ends.
// Slopes come from a central difference of the analytic functions, good to
// 1e-10.
func hermite(p pattern, x float64) piece {
	const h, step = 1.0 / tableDensity, 1e-3
	slope := func(x float64) float64 {
		f := func(y float64) float64 { return exactPattern(p, y) }
		return (8*(f(x+step)-f(x-step)) - (f(x+2*step) - f(x-2*step))) / (12 * step)
	}
	f0, f1 := exactPattern(p, x), exactPattern(p, x+h)
	g0, g1 := h*slope(x), h*slope(x+h)
	return piece{f0, g0, 3*(f1-f0) - 2*g0 - g1, 2*(f0-f1) + g0 + g1}
}

// smallPattern is where series take over from formulas that cancel.
const smallPattern = 0.5

// exactPattern evaluates a pattern from its closed form, or from its series
// near 0. Closed forms follow from DLMF 10.6 (J recurrences).
func exactPattern(p pattern, x float64) float64 {
	if p == lineEven {
		return numeric.Sinc(x)
	}
	if math.Abs(x) < smallPattern {
		return patternSeries(p, x)
	}
	switch p {
	case lineOdd:
		return (math.Sin(x)/x - math.Cos(x)) / x
	case lineBend:
		return math.Sin(x)/x*2/3 + 2*(math.Cos(x)-math.Sin(x)/x)/(x*x)
	}
	j1 := math.J1(x) / x
	j2 := math.Jn(2, math.Abs(x)) / (x * x)
	switch p {
	case discEven:
		return 2 * j1
	case discOdd:
		return 2 * j2 * x
	case discBend:
		return 2*(j1-3*j2) - j1/2
	}
	return 2*(j1-2*j2) - j1 // discRing
}

// patternSeries sums Σ (−x²)^n/(2n)!·m_n (or its odd counterpart), with m_n the
// moments of the shape.
func patternSeries(p pattern, x float64) float64 {
	sum, power := 0.0, 1.0 // power is (−x²)^n/(2n)!
	for n := range 8 {
		switch p {
		case lineOdd, discOdd:
			sum += power * x / float64(2*n+1) * patternMoment(p, n)
		default:
			sum += power * patternMoment(p, n)
		}
		power *= -x * x / float64((2*n+1)*(2*n+2))
	}
	return sum
}

// patternMoment returns mean(weight·t^{2n}) of a pattern, with weight 1, t² …;
// for the odd ones mean(t^{2n+2}).
func patternMoment(p pattern, n int) float64 {
	line := func(n int) float64 { return 1 / float64(2*n+1) }
	disc := func(n int) float64 { // mean t^{2n} over the unit disc
		m := 1.0
		for i := 1; i <= n; i++ {
			m *= float64(2*i-1) / float64(2*i+2)
		}
		return m
	}
	switch p {
	case lineOdd:
		return line(n + 1)
	case lineBend:
		return line(n+1) - line(n)/3
	case discEven:
		return disc(n)
	case discOdd:
		return disc(n + 1)
	case discBend:
		return disc(n+1) - disc(n)/4
	case discRing: // mean(ρ² t^{2n}) = mean(t^{2n})·(2n+2)/(2n+4)
		return disc(n) * (float64(2*n+2)/float64(2*n+4) - 0.5)
	}
	return line(n)
}
