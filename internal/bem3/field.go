package bem3

import (
	"context"
	"math"
	"math/cmplx"

	"gapline/internal/numeric"
	"gapline/internal/parallel"
)

// At returns the pressure of every drive at points in the air, Pa, [drive][point],
// by the integral over the surface. Points on it or within 1e-9 sizes of it,
// inside the solid or behind a mirror plane give NaN. Elements near to a point
// are integrated in closed form, so points may be as close as they like.
func (s *Solution) At(ctx context.Context, at []Vec) ([][]complex128, error) {
	p := make([][]complex128, len(s.p))
	for d := range p {
		p[d] = make([]complex128, len(at))
	}
	err := parallel.Each(ctx, s.system.workers, len(at), func(int) func(int) {
		w := newListener(s)
		return func(i int) {
			w.listen(at[i])
			for d := range p {
				p[d][i] = w.sums[d]
			}
		}
	})
	return p, err
}

// listener is one goroutine's buffers.
type listener struct {
	sol    *Solution
	q      [][][points]complex128 // [drive][element][point], 0 where nothing moves
	p      [][][points]complex128
	sums   []complex128
	inside float64 // solid angle
}

func newListener(s *Solution) *listener {
	w := &listener{sol: s, sums: make([]complex128, len(s.p))}
	for d := range s.p {
		q := make([][points]complex128, len(s.system.elements))
		for i, e := range s.system.list {
			q[e] = s.q[d][i]
		}
		p := make([][points]complex128, len(s.system.elements))
		for e := range p {
			for i, node := range s.system.elements[e].nodes {
				p[e][i] = s.p[d][node]
			}
		}
		w.q, w.p = append(w.q, q), append(w.p, p)
	}
	return w
}

// listen computes the pressures at x.
func (w *listener) listen(x Vec) {
	s := w.sol.system
	clear(w.sums)
	w.inside = 0
	behind := s.behind(x)
	if !behind {
		for _, im := range s.images {
			y := im.point(x)
			for e := range s.elements {
				w.element(y, e)
			}
		}
	}
	// The solid angle of a closed surface is −4π inside, 0 outside.
	if behind || w.inside < -2*math.Pi {
		for d := range w.sums {
			w.sums[d] = cmplx.NaN()
		}
	}
}

// behind says whether a mirror plane is between x and the mesh.
func (s *surface) behind(x Vec) bool {
	for _, m := range s.problem.Mirrors {
		if (x[m.Axis]-m.At)*(s.elements[0].centre[m.Axis]-m.At) < 0 {
			return true
		}
	}
	return false
}

// element adds what element e gives at x: the rule far away; nearby closed forms
// for the first terms and the rule for the rest.
func (w *listener) element(x Vec, e int) {
	s := w.sol.system
	el := &s.elements[e]
	near := norm(sub(x, el.centre))-el.radius < fieldGap*el.length
	var m moments
	if near {
		m = el.moment(x)
		w.inside += m.solidAngle
	} else {
		w.inside += el.solidAngle(x)
	}
	var green, slope [points]complex128 // of the normal derivative and of φ
	for a, b := range rulePoints {
		g, h := s.kernel(x, el, b, near)
		weight := complex(el.area*ruleWeights[a]/(4*math.Pi), 0)
		green[a] += weight * g
		for i, phi := range shapeAt[a] {
			slope[i] += weight * h * complex(phi, 0)
		}
	}
	if near {
		half := s.k * s.k / 2
		over, along := atPoints(&m.over), atPoints(&m.along)
		for i := range slope {
			green[i] += complex((over[i]-half*along[i])/(4*math.Pi), 0)
			slope[i] += complex((m.overSlope[i]+half*m.alongSlope[i])/(4*math.Pi), 0)
		}
	}
	for d := range w.sums {
		sum := complex128(0)
		for i, p := range w.p[d][e] {
			sum += p*slope[i] - w.q[d][e][i]*green[i]
		}
		w.sums[d] += sum
	}
}

// fieldGap is the distance from an element, in its longest sides, from which the
// points of the rule alone serve a point of the field: twice that of pairs, for
// no mean over a second element evens out the error.
const fieldGap = 1.2

// kernel returns e^{−jkr}/r and its derivative along the normal at one point of
// an element, without their first real terms when near.
func (s *system) kernel(x Vec, e *element, b bary, near bool) (g, h complex128) {
	d := sub(x, e.at(b))
	r := norm(d)
	phase := s.k * r
	sin, cos := math.Sincos(phase)
	height := dot(d, e.normal) / (r * r * r)
	lack, lackSlope := 0.0, 0.0
	if near {
		lack, lackSlope = 1-phase*phase/2, 1+phase*phase/2
	}
	if r == 0 {
		return complex(0, -s.k), 0
	}
	g = complex((cos-lack)/r, -sin/r)
	h = complex(height*(cos+phase*sin-lackSlope), height*(phase*cos-sin))
	return g, h
}

// solidAngle returns the angle under which e is seen from x, positive on the
// side of the normal (A. van Oosterom, J. Strackee, IEEE Trans. Biomed. Eng. 30,
// 1983).
func (e *element) solidAngle(x Vec) float64 {
	a, b, c := sub(e.corner[0], x), sub(e.corner[1], x), sub(e.corner[2], x)
	la, lb, lc := norm(a), norm(b), norm(c)
	return -2 * math.Atan2(dot(a, cross(b, c)), la*lb*lc+dot(a, b)*lc+dot(b, c)*la+dot(c, a)*lb)
}

// Far returns the far field of every drive, [drive][direction]: p·r·e^{jkr} for
// r → ∞, Pa·m, r being measured from the origin of the mesh. Directions are unit
// vectors.
func (s *Solution) Far(ctx context.Context, directions []Vec) ([][]complex128, error) {
	out := make([][]complex128, len(s.p))
	for d := range out {
		out[d] = make([]complex128, len(directions))
	}
	r := newRadiator(s)
	err := parallel.Each(ctx, s.system.workers, len(directions), func(int) func(int) {
		sums := make([]complex128, len(s.p))
		return func(i int) {
			r.far(directions[i], sums)
			for d := range out {
				out[d][i] = sums[d]
			}
		}
	})
	return out, err
}

// radiator holds what the far field needs at the points of the rule.
type radiator struct {
	*system
	x, n   []Vec
	weight []float64
	p, q   [][]complex128 // pressure and normal derivative, [point][drive]
}

func newRadiator(s *Solution) *radiator {
	r := &radiator{system: s.system}
	w := newListener(s)
	for i := range s.system.elements {
		e := &s.system.elements[i]
		for a, b := range rulePoints {
			r.x, r.n = append(r.x, e.at(b)), append(r.n, e.normal)
			r.weight = append(r.weight, e.area*ruleWeights[a]/(4*math.Pi))
			p, q := make([]complex128, len(s.p)), make([]complex128, len(s.p))
			for d := range p {
				q[d] = w.q[d][i][a]
				for j, phi := range shapeAt[a] {
					p[d] += complex(phi, 0) * w.p[d][i][j]
				}
			}
			r.p, r.q = append(r.p, p), append(r.q, q)
		}
	}
	return r
}

// far computes the far field in direction u: the integral of
// e^{jku·y}(jk u·n p − q)/4π over the surface and its images.
func (r *radiator) far(u Vec, sums []complex128) {
	clear(sums)
	for _, im := range r.images {
		v := im.direction(u)
		constant := r.k * dot(u, im.shift)
		for i, x := range r.x {
			sin, cos := math.Sincos(constant + r.k*dot(v, x))
			wave := complex(r.weight[i]*cos, r.weight[i]*sin)
			slope := complex(0, r.k*dot(v, r.n[i]))
			for d, p := range r.p[i] {
				sums[d] += wave * (slope*p - r.q[i][d])
			}
		}
	}
}

// FarPower returns the power of a drive that passes through a large sphere, W,
// shared evenly between the mesh and its images, as Power counts it.
func (s *Solution) FarPower(ctx context.Context, drive int) (float64, error) {
	directions, weights := s.system.sphere()
	far, err := s.Far(ctx, directions)
	if err != nil {
		return 0, err
	}
	sum := 0.0
	for i, p := range far[drive] {
		sum += weights[i] * (real(p)*real(p) + imag(p)*imag(p))
	}
	pr := s.system.problem
	return sum / (2 * pr.Density * pr.SoundSpeed * float64(len(s.system.images))), nil
}

// sphere returns directions all round and their shares of 4π, enough of them for
// the intensity of a body of this size.
func (s *system) sphere() (directions []Vec, weights []float64) {
	reach := 0.0
	for _, im := range s.images {
		for _, x := range s.nodes {
			reach = max(reach, norm(sub(im.point(x), s.images[0].point(s.centre))))
		}
	}
	n := 16 + int(math.Ceil(1.2*s.k*reach))
	rule := numeric.Legendre(n)
	n = len(rule.X)
	for i, z := range rule.X {
		rho := math.Sqrt(1 - z*z)
		for j := range 2 * n {
			sin, cos := math.Sincos(math.Pi * float64(j) / float64(n))
			directions = append(directions, Vec{rho * cos, rho * sin, z})
			weights = append(weights, rule.W[i]*math.Pi/float64(n))
		}
	}
	return directions, weights
}
