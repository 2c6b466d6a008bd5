package bem

import "math"

const (
	// nearRatio is the distance, in lengths of a piece, beyond which a piece
	// of a near element is integrated without further bisection.
	nearRatio = 0.5
	// maxBisections stops the bisection towards a point; a piece is then
	// 2^-30 of its element.
	maxBisections = 30
)

// piece is one element as a domain sees it, with its outward side.
type piece struct {
	*element
	sign  float64 // outward normal = sign × base normal
	first int     // position of its first node in the domain's arrays
	full  bool    // q is not zero here, so g is needed
}

// integrator works out the entries of near and own elements. It owns buffers
// and serves one goroutine.
type integrator struct {
	md    *medium
	rule  *rule
	basis []float64
	stack []stretch
}

// stretch is a part of an element in the reference coordinate.
type stretch struct {
	a, b  float64
	depth int
}

func newIntegrator(md *medium, r *rule) *integrator {
	return &integrator{md: md, rule: r, basis: make([]float64, r.p)}
}

// near adds the integrals of h and g times each basis function over e to h
// and g, which hold one value per node of e, for a point t off the element.
func (in *integrator) near(t target, e *piece, h, g []complex128) {
	in.stack = append(in.stack[:0], stretch{-1, 1, 0})
	for len(in.stack) > 0 {
		s := in.stack[len(in.stack)-1]
		in.stack = in.stack[:len(in.stack)-1]
		if s.depth < maxBisections && e.tooNear(t.x, s) {
			mid := (s.a + s.b) / 2
			in.stack = append(in.stack, stretch{s.a, mid, s.depth + 1}, stretch{mid, s.b, s.depth + 1})
			continue
		}
		in.stretch(t, e, s, h, g)
	}
}

// tooNear reports whether the stretch s must be cut again for a point at x.
func (e *piece) tooNear(x Point, s stretch) bool {
	a, b := e.a, e.b
	if s.depth > 0 {
		a, _, _ = e.at(s.a)
		b, _, _ = e.at(s.b)
	}
	length := b.Sub(a).Norm()
	sagitta := e.sagitta * math.Ldexp(1, -2*s.depth)
	return distance(x, a, b)-sagitta < nearRatio*length
}

// distance returns the distance of x from the segment ab.
func distance(x, a, b Point) float64 {
	d, v := b.Sub(a), x.Sub(a)
	u := math.Min(math.Max(v.Dot(d)/d.Dot(d), 0), 1)
	return math.Hypot(v.X-u*d.X, v.Y-u*d.Y)
}

// stretch adds Gauss's rule over one stretch.
func (in *integrator) stretch(t target, e *piece, s stretch, h, g []complex128) {
	mid, half := (s.a+s.b)/2, (s.b-s.a)/2
	for m, x := range in.rule.near.X {
		at := mid + half*x
		y, n, speed := e.at(at)
		hv, gv := in.md.pair(t, y, n.Scale(e.sign))
		in.rule.basis(at, in.basis)
		w := complex(in.rule.near.W[m]*half*speed, 0)
		in.spread(hv*w, gv*w, h, g)
	}
}

// spread adds kernel values at one point to the entries of all nodes.
func (in *integrator) spread(hv, gv complex128, h, g []complex128) {
	for j, b := range in.basis {
		c := complex(b, 0)
		h[j] += hv * c
		g[j] += gv * c
	}
}

// own adds the integrals over e for the collocation point at its node i, the
// free terms ½p and ½αq included.
func (in *integrator) own(e *piece, i int, h, g []complex128) {
	x, n, speed := e.at(in.rule.x[i])
	t := target{x, n.Scale(e.sign)}
	for _, q := range in.rule.self[i] {
		y, m, v := e.at(q.s)
		hv, gv := in.md.regularised(t, y, m.Scale(e.sign))
		copy(in.basis, q.basis)
		w := complex(q.w*v, 0)
		in.spread(hv*w, gv*w, h, g)
	}
	h[i] += 0.5
	if in.md.eta == 0 {
		return
	}
	alpha := complex(0, in.md.eta)
	g[i] += alpha / 2
	for j, f := range in.rule.finite[i] {
		h[j] += alpha * complex(f/(2*math.Pi*speed), 0)
	}
	if !e.straight {
		in.ownStatic(e, t, in.rule.x[i], speed, alpha, h)
	}
}

// ownStatic adds the smooth rest of the static hypersingular part.
func (in *integrator) ownStatic(e *piece, t target, s0, speed float64, alpha complex128, h []complex128) {
	for m, s := range in.rule.rest.X {
		y, n, v := e.at(s)
		rest := staticRest(t, y, n.Scale(e.sign), speed*v*(s-s0)*(s-s0))
		in.rule.basis(s, in.basis)
		c := alpha * complex(rest*v*in.rule.rest.W[m], 0)
		for j, b := range in.basis {
			h[j] += c * complex(b, 0)
		}
	}
}
