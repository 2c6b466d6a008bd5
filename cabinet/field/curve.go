package field

import (
	"math"
	"sync"

	"gapline/internal/numeric"
)

// terms are the patterns of one side of a patch by frequency: with t from
// −1 to 1 along the side, X = k·half·(direction cosine) and g = e^{-jkδ} the
// front,
//
//	e0 = mean(g e^{jXt}), e1 = mean(t g e^{jXt}), e2 = mean((t²−1/3) g e^{jXt})
//
// each as real and imaginary part.
type terms struct{ e0r, e0i, e1r, e1i, e2r, e2i []float64 }

// newTerms returns room for n frequencies.
func newTerms(n int) terms {
	room := make([]float64, 6*n)
	return terms{room[:n], room[n : 2*n], room[2*n : 3*n], room[3*n : 4*n], room[4*n : 5*n], room[5*n:]}
}

// curveShape is one side of a mouth with a curved front: half its length and
// its virtual apex, m.
type curveShape struct{ half, apex float64 }

// curveLevels is how often a curved side is halved with tables for each part.
// Finer parts are flat and tilted, see addPatch.
const curveLevels = 4

// curve holds the patterns of a curved side and of its halves, quarters …,
// tabulated over X on first use for all frequencies of the plan.
type curve struct {
	curveShape
	waves []float64
	parts [curveLevels][]curvePart
}

func newCurve(s curveShape, waves []float64) *curve {
	c := &curve{curveShape: s, waves: waves}
	for l := range c.parts {
		c.parts[l] = make([]curvePart, 1<<l)
	}
	return c
}

// curvePart is the tables of one part.
type curvePart struct {
	once   sync.Once
	groups []curveGroup
}

// curveGroup is the table of neighbouring frequencies, which stand side by side in it
// over the same direction cosines u from −1 to 1, X = u·k·half. The steps are even and fit
// the highest of the frequencies; between them stand cubic Hermite pieces, whose error is
// at most step⁴/384·mean t⁴ = 4e-7 for a step of 1/6 in X. Slopes come from e0' = j·e1,
// e1' = j·square and e2' = j·third, square = mean(t² g e^{jXt}) = e2 + e0/3 and third =
// mean((t³−t/3) g e^{jXt}).
type curveGroup struct {
	lo, hi int       // frequencies
	nodes  int       // over u
	step   float64   // in u
	reach  []float64 // k·half of each frequency: X for each u
	values []float64 // [node][quantity][frequency]
}

// The quantities of a node, real and imaginary part one after the other.
const (
	qE0, qE1, qE2, qSquare, qThird = 0, 2, 4, 6, 8
	quantities                     = 10
)

// groupSpan is the ratio of the highest to the lowest frequency of a group: large, so
// that one place between nodes serves many of them, and not so large that the low ones
// fill the memory. All frequencies up to X = lowestReach are one group, whose nodes are
// few.
const (
	groupSpan   = 4
	lowestReach = 5
)

const curveDensity = 6 // nodes for each unit of X

// maxCurveNodes keeps tables for absurd sizes and frequencies from filling the
// memory; such sides are cut into flat parts at once.
const maxCurveNodes = 20000

// usable reports whether a part of that level may have a table.
func (c *curve) usable(level int) bool {
	return c != nil && level < curveLevels &&
		2*curveDensity*c.half*c.waves[len(c.waves)-1] < maxCurveNodes
}

// part returns the tables of one part, built when first asked for.
func (c *curve) part(level, index int) *curvePart {
	p := &c.parts[level][index]
	p.once.Do(func() {
		half := c.half / float64(int(1)<<level)
		middle := -c.half + half*float64(2*index+1)
		for lo := 0; lo < len(c.waves); {
			hi := lo + 1
			for hi < len(c.waves) && (c.waves[hi] <= groupSpan*c.waves[lo] || c.waves[hi]*half <= lowestReach) {
				hi++
			}
			p.groups = append(p.groups, c.tabulate(lo, hi, middle, half))
			lo = hi
		}
	})
	return p
}

// tabulate integrates over the part by one Gauss-Legendre rule for each frequency, long
// enough for the phase it has to follow; e^{jXt} runs by rotation from node to node.
func (c *curve) tabulate(lo, hi int, middle, half float64) curveGroup {
	nf, top := hi-lo, c.waves[hi-1]*half
	n := int(2*top*curveDensity) + 2
	g := curveGroup{lo: lo, hi: hi, nodes: n, step: 2 / float64(n-1), reach: make([]float64, nf), values: make([]float64, n*quantities*nf)}
	bulge, _, _ := front(c.apex, math.Abs(middle)+half)
	sum := make([]float64, quantities*n)
	for i, k := range c.waves[lo:hi] {
		g.reach[i] = k * half
		// A multiple of 8 keeps clear of the faulty 26-point rule, see eights.
		rule := numeric.Legendre(eights(0.6*k*(half+math.Abs(bulge)) + 16))
		clear(sum)
		for r, x := range rule.X {
			delay, _, _ := front(c.apex, middle+half*x)
			integrateNodes(sum, x, rule.W[r]/2, k*half, k*delay, k*half*g.step)
		}
		for j := range n {
			s := sum[quantities*j : quantities*j+quantities]
			s[qSquare], s[qSquare+1] = s[qE2]+s[qE0]/3, s[qE2+1]+s[qE0+1]/3
			for q, v := range s {
				g.values[(j*quantities+q)*nf+i] = v
			}
		}
	}
	return g
}

// integrateNodes adds the place x of a rule, of weight w, to all nodes from X = −top on
// in steps.
func integrateNodes(sum []float64, x, w, top, delay, step float64) {
	sin, cos := math.Sincos(-top*x - delay)
	re, im := w*cos, w*sin
	turnIm, turnRe := math.Sincos(step * x)
	t2 := x*x - 1.0/3
	for len(sum) >= quantities {
		s := sum[:quantities:quantities]
		s[qE0] += re
		s[qE0+1] += im
		s[qE1] += x * re
		s[qE1+1] += x * im
		s[qE2] += t2 * re
		s[qE2+1] += t2 * im
		s[qThird] += x * t2 * re
		s[qThird+1] += x * t2 * im
		re, im = re*turnRe-im*turnIm, re*turnIm+im*turnRe
		sum = sum[quantities:]
	}
}

// hermite4 are the weights of the values and slopes at both ends of a step.
type hermite4 struct{ v0, v1, d0, d1 float64 }

// hermiteWeights returns the weights, s from 0 to 1 over a step of length h.
func hermiteWeights(s, h float64) hermite4 {
	u := 1 - s
	return hermite4{(1 + 2*s) * u * u, s * s * (3 - 2*s), h * s * u * u, -h * s * s * u}
}

// at finds the nodes about u for the frequencies from lo on: where their quantities
// begin, and the weights between them.
func (g *curveGroup) at(u float64, lo int) (a, b []float64, w hermite4) {
	s := (u + 1) / g.step
	i := min(max(int(s), 0), g.nodes-2)
	row := quantities * (g.hi - g.lo)
	a = g.values[i*row+lo-g.lo : (i+1)*row]
	b = g.values[(i+1)*row+lo-g.lo : (i+2)*row]
	return a, b, hermiteWeights(s-float64(i), g.step)
}

// within calls do for each group that has frequencies from lo to hi, with those.
func (p *curvePart) within(lo, hi int, do func(g *curveGroup, lo, hi int)) {
	for i := range p.groups {
		if g := &p.groups[i]; g.lo < hi && g.hi > lo {
			do(g, max(lo, g.lo), min(hi, g.hi))
		}
	}
}

// times multiplies pr and pi by e0 at the direction cosine u, frequencies lo to hi.
func (p *curvePart) times(pr, pi []float64, u float64, lo, hi int) {
	p.within(lo, hi, func(g *curveGroup, from, to int) {
		a, b, w := g.at(u, from)
		nf := g.hi - g.lo
		timesBlend(pr[from:to], pi[from:to], a[qE0*nf:], b[qE0*nf:], a[qE1*nf:], b[qE1*nf:], nf, g.reach[from-g.lo:], &w)
	})
}

// terms puts all terms at the direction cosine u into out, frequencies lo to hi.
func (p *curvePart) terms(out *terms, u float64, lo, hi int) {
	p.within(lo, hi, func(g *curveGroup, from, to int) {
		a, b, w := g.at(u, from)
		nf := g.hi - g.lo
		reach := g.reach[from-g.lo:]
		setBlend(out.e0r[from:to], out.e0i[from:to], a[qE0*nf:], b[qE0*nf:], a[qE1*nf:], b[qE1*nf:], nf, reach, &w)
		setBlend(out.e1r[from:to], out.e1i[from:to], a[qE1*nf:], b[qE1*nf:], a[qSquare*nf:], b[qSquare*nf:], nf, reach, &w)
		setBlend(out.e2r[from:to], out.e2i[from:to], a[qE2*nf:], b[qE2*nf:], a[qThird*nf:], b[qThird*nf:], nf, reach, &w)
	})
}
