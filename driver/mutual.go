package driver

import (
	"fmt"
	"math"

	"gapline/internal/numeric"
)

// PistonPair is the mutual radiation impedance of two equal circular pistons in
// one wall. The geometry is integrated once; each frequency is then a short
// sum, so that a stack of boxes stays cheap over a long list of frequencies.
type PistonPair struct {
	distance []float64 // R, m
	weight   []float64 // w(R)·ΔR/(2πS), m
}

const (
	// pairRadial and pairAngular are the Gauss-Legendre orders of the two
	// integrals; doubled, they move the table values by less than 1e-9.
	pairRadial  = 32
	pairAngular = 32
)

// NewPistonPair prepares two pistons of the given radius with centres d apart
// (both m). It returns an error when they overlap.
//
//	Z₁₂/(ρcS) = (jk/(2πS)) ∫ w(R) e^{−jkR} dR,   w(R) = ∫ A(s) dφ
//
// with A(s) the overlap area of two discs displaced by s, and s the length of
// the vector sum of the centre distance and R at angle φ. This is the exact
// surface integral rearranged; R. L. Pritchard (JASA 32, 1960) gives the same
// as a double series, which converges slowly for near pistons.
func NewPistonPair(radius, d float64) (*PistonPair, error) {
	if !(radius > 0) || !(d >= 2*radius*(1-1e-9)) {
		return nil, fmt.Errorf("two pistons of %.4g m diameter, %.4g m apart, overlap: the spacing must be at least the diameter", 2*radius, d)
	}
	p := &PistonPair{}
	p.add(radius, d, math.Max(d-2*radius, 0), d)
	p.add(radius, d, d, d+2*radius)
	return p, nil
}

// add appends the nodes of R ∈ [lo, hi]. w(R) has weak singularities at both
// ends (edge contact, and zero displacement at R = d); the quintic map with
// vanishing slope and curvature at the ends smooths them.
func (p *PistonPair) add(a, d, lo, hi float64) {
	rule := numeric.Legendre(pairRadial)
	for i, x := range rule.X {
		u := (1 + x) / 2
		r := lo + (hi-lo)*u*u*u*(10-15*u+6*u*u)
		slope := 30 * (hi - lo) * u * u * (1 - u) * (1 - u)
		weight := rule.W[i] / 2 * slope * overlapArc(a, d, r)
		p.distance = append(p.distance, r)
		p.weight = append(p.weight, weight/(2*math.Pi*math.Pi*a*a))
	}
}

// overlapArc is w(R): the overlap area integrated over the arc of radius r.
// The angle is mapped by sinh, which resolves the kink of A(s) at s = 0, and
// by the sine, which smooths A's edge.
func overlapArc(a, d, r float64) float64 {
	c := (r*r + d*d - 4*a*a) / (2 * r * d)
	if !(c < 1) {
		return 0
	}
	limit := math.Acos(math.Max(c, -1))
	scale := math.Abs(r-d) / math.Sqrt(r*d)
	if scale < 1e-9 {
		scale = 1e-9
	}
	top := math.Asinh(limit / scale)
	rule := numeric.Legendre(pairAngular)
	sum := 0.0
	for i, x := range rule.X {
		u := (1 + x) / 2
		t := top * (1 - (1-u)*(1-u)) // vanishing slope at the edge of A
		phi := scale * math.Sinh(t)
		half := math.Sin(phi / 2)
		s := math.Sqrt((r-d)*(r-d) + 4*r*d*half*half)
		sum += rule.W[i] * (1 - u) * top * scale * math.Cosh(t) * discOverlap(a, s)
	}
	return 2 * sum
}

// discOverlap is the area common to two discs of radius a, centres s apart:
// 2a²acos(s/2a) − (s/2)√(4a²−s²).
func discOverlap(a, s float64) float64 {
	if s >= 2*a {
		return 0
	}
	return 2*a*a*math.Acos(s/(2*a)) - s/2*math.Sqrt(4*a*a-s*s)
}

// Impedance returns Z₁₂/(ρcS), the force on one piston by unit velocity of the
// other, at wave number k in 1/m. It does not allocate.
func (p *PistonPair) Impedance(k float64) complex128 {
	re, im := 0.0, 0.0
	for i, r := range p.distance {
		sin, cos := math.Sincos(k * r)
		re += p.weight[i] * sin
		im += p.weight[i] * cos
	}
	return complex(k*re, k*im)
}
