package field

import (
	"math"
	"sync"

	"gapline/internal/numeric"
)

// terms are the patterns of one side of a patch at one frequency: with t from
// −1 to 1 along the side, X = k·half·(direction cosine) and g = e^{-jkδ} the
// front,
//
//	e0 = mean(g e^{jXt}), e1 = mean(t g e^{jXt}), e2 = mean((t²−1/3) g e^{jXt})
type terms struct{ e0, e1, e2 complex128 }

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

// curvePart is the table of one part.
type curvePart struct {
	once   sync.Once
	tables []curveTable // by frequency
	axis   []terms      // at X = 0
}

// curveNode is a point of the table with what gives the slopes: e0' = j·e1,
// e1' = j·square, e2' = j·third, square = mean(t² g e^{jXt}) = e2 + e0/3 and
// third = mean((t³−t/3) g e^{jXt}).
type curveNode struct {
	terms
	square, third complex128
}

// curveTable covers X from −top to top with even steps, cubic Hermite between:
// the error is at most step⁴/384·mean t⁴ = 4e-7 for a step of 1/6.
type curveTable struct {
	top, step float64
	node      []curveNode
}

const curveDensity = 6 // nodes for each unit of X

// maxCurveNodes keeps tables for absurd sizes and frequencies from filling the
// memory; such sides are cut into flat parts at once.
const maxCurveNodes = 20000

// usable reports whether a part of that level may have a table.
func (c *curve) usable(level int) bool {
	return c != nil && level < curveLevels &&
		2*curveDensity*c.half*c.waves[len(c.waves)-1] < maxCurveNodes
}

// part returns the table of one part, built when first asked for.
func (c *curve) part(level, index int) *curvePart {
	p := &c.parts[level][index]
	p.once.Do(func() {
		half := c.half / float64(int(1)<<level)
		middle := -c.half + half*float64(2*index+1)
		p.tables = make([]curveTable, len(c.waves))
		p.axis = make([]terms, len(c.waves))
		for i, k := range c.waves {
			p.tables[i] = c.tabulate(k, middle, half)
			p.axis[i] = p.tables[i].at(0)
		}
	})
	return p
}

// tabulate integrates over the part by one Gauss-Legendre rule, long enough for
// the phase it has to follow; e^{jXt} runs by rotation from node to node.
func (c *curve) tabulate(k, middle, half float64) curveTable {
	top := k * half
	n := int(2*top*curveDensity) + 2
	t := curveTable{top: top, step: 2 * top / float64(n-1), node: make([]curveNode, n)}
	bulge, _, _ := front(c.apex, math.Abs(middle)+half)
	// A multiple of 8 keeps clear of the faulty 26-point rule, see eights.
	rule := numeric.Legendre(eights(0.6*(top+k*math.Abs(bulge)) + 16))
	for i, x := range rule.X {
		delay, _, _ := front(c.apex, middle+half*x)
		w := rule.W[i] / 2
		sin, cos := math.Sincos(-top*x - k*delay)
		now := complex(w*cos, w*sin)
		sin, cos = math.Sincos(t.step * x)
		turn := complex(cos, sin)
		t2 := x*x - 1.0/3
		for j := range t.node {
			m := &t.node[j]
			m.e0 += now
			m.e1 += times(x, now)
			m.e2 += times(t2, now)
			m.third += times(x*t2, now)
			now *= turn
		}
	}
	for j := range t.node {
		m := &t.node[j]
		m.square = m.e2 + times(1.0/3, m.e0)
	}
	return t
}

// hermiteWeights returns the weights of the values and slopes at both ends, s
// from 0 to 1 over a step of length h.
func hermiteWeights(s, h float64) (v0, v1, d0, d1 float64) {
	u := 1 - s
	return (1 + 2*s) * u * u, s * s * (3 - 2*s), h * s * u * u, -h * s * s * u
}

// locate returns the two nodes about X and the place between them.
func (t *curveTable) locate(x float64) (a, b *curveNode, s float64) {
	s = (x + t.top) / t.step
	i := min(max(int(s), 0), len(t.node)-2)
	return &t.node[i], &t.node[i+1], s - float64(i)
}

// blend returns v0·p + v1·q + j(d0·r + d1·s).
func blend(v0, v1, d0, d1 float64, p, q, r, s complex128) complex128 {
	return complex(v0*real(p)+v1*real(q)-d0*imag(r)-d1*imag(s),
		v0*imag(p)+v1*imag(q)+d0*real(r)+d1*real(s))
}

// e0At returns e0 at X.
func (t *curveTable) e0At(x float64) complex128 {
	a, b, s := t.locate(x)
	v0, v1, d0, d1 := hermiteWeights(s, t.step)
	return blend(v0, v1, d0, d1, a.e0, b.e0, a.e1, b.e1)
}

// at returns all terms at X.
func (t *curveTable) at(x float64) terms {
	a, b, s := t.locate(x)
	v0, v1, d0, d1 := hermiteWeights(s, t.step)
	return terms{
		e0: blend(v0, v1, d0, d1, a.e0, b.e0, a.e1, b.e1),
		e1: blend(v0, v1, d0, d1, a.e1, b.e1, a.square, b.square),
		e2: blend(v0, v1, d0, d1, a.e2, b.e2, a.third, b.third),
	}
}
