package bem

import (
	"math"

	"gapline/internal/numeric"
)

const (
	// selfPoints is the number of Gauss points on each side of a collocation
	// point in integrals over its own element, selfPower the power of the
	// substitution that concentrates them there.
	selfPoints = 12
	selfPower  = 3
	// nearPoints is the number of Gauss points on each piece of a near element.
	nearPoints = 8
)

// rule holds everything about the reference element [-1, 1] with p Gauss
// nodes that does not depend on where the element lies.
type rule struct {
	p      int
	x, w   []float64    // Gauss points and weights
	bary   []float64    // barycentric weights of the Lagrange basis
	self   [][]selfNode // for collocation at node i
	finite [][]float64  // finite part of ∫ basis_j(s)/(s − x_i)² ds
	near   *numeric.Rule
	rest   *numeric.Rule // p + 1 points, which never meet a node: zeros of successive Legendre polynomials interlace
}

// selfNode is a quadrature point on the collocation point's own element.
type selfNode struct {
	s, w  float64
	basis []float64
}

func newRule(p int) *rule {
	g := numeric.Legendre(p)
	r := &rule{p: p, x: g.X, w: g.W, near: numeric.Legendre(nearPoints), rest: numeric.Legendre(p + 1)}
	r.bary = make([]float64, p)
	for i := range r.bary {
		r.bary[i] = 1
		for j := range p {
			if j != i {
				r.bary[i] /= r.x[i] - r.x[j]
			}
		}
	}
	for i := range p {
		r.self = append(r.self, r.selfNodes(r.x[i]))
		r.finite = append(r.finite, r.finiteParts(i))
	}
	return r
}

// basis writes the values of the Lagrange basis at s to dst, length p.
func (r *rule) basis(s float64, dst []float64) {
	sum := 0.0
	for j, x := range r.x {
		d := s - x
		if d == 0 {
			clear(dst)
			dst[j] = 1
			return
		}
		dst[j] = r.bary[j] / d
		sum += dst[j]
	}
	for j := range dst {
		dst[j] /= sum
	}
}

// selfNodes places points on both sides of c, s = c ± L u^selfPower, where the
// substitution makes a logarithm at c harmless for Gauss's rule in u.
func (r *rule) selfNodes(c float64) []selfNode {
	g := numeric.Legendre(selfPoints)
	var nodes []selfNode
	for _, end := range []float64{-1, 1} {
		l := end - c
		for m, x := range g.X {
			u := (x + 1) / 2
			n := selfNode{
				s:     c + l*math.Pow(u, selfPower),
				w:     math.Abs(l) * selfPower * math.Pow(u, selfPower-1) * g.W[m] / 2,
				basis: make([]float64, r.p),
			}
			r.basis(n.s, n.basis)
			nodes = append(nodes, n)
		}
	}
	return nodes
}

// finiteParts returns Hadamard's finite part of ∫ basis_j(s)/(s − c)² ds over
// [-1, 1] for c = x_i: value and slope of the basis at c are split off, whose
// finite parts are −1/(1−c) − 1/(1+c) and ln((1−c)/(1+c)); what is left is a
// polynomial.
func (r *rule) finiteParts(i int) []float64 {
	c := r.x[i]
	slope := r.slopes(i)
	fp := make([]float64, r.p)
	basis := make([]float64, r.p)
	for m, s := range r.rest.X {
		d := s - c
		r.basis(s, basis)
		for j := range fp {
			rest := basis[j] - slope[j]*d
			if j == i {
				rest--
			}
			fp[j] += r.rest.W[m] * rest / (d * d)
		}
	}
	for j := range fp {
		fp[j] += slope[j] * math.Log((1-c)/(1+c))
	}
	fp[i] -= 1/(1-c) + 1/(1+c)
	return fp
}

// slopes returns the derivatives of the basis at node i (J.-P. Berrut, L. N.
// Trefethen, Barycentric Lagrange interpolation, SIAM Review 46, 2004, 9.3).
func (r *rule) slopes(i int) []float64 {
	d := make([]float64, r.p)
	for j := range d {
		if j != i {
			d[j] = r.bary[j] / r.bary[i] / (r.x[i] - r.x[j])
			d[i] -= d[j]
		}
	}
	return d
}
