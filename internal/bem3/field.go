package bem3

import (
	"context"
	"math"
	"math/cmplx"

	"gapline/internal/numeric"
	"gapline/internal/parallel"
)

// At returns the pressure of every drive at points in the air, Pa, [drive][point],
// by the integral over the surface. Points inside the solid or behind a mirror
// plane give NaN. Elements near to a point are integrated in closed form, so
// points may be as close as they like; on the surface itself they give half of
// the pressure and are of no use.
func (s *Solution) At(ctx context.Context, at []Vec) ([][]complex128, error) {
	p := make([][]complex128, len(s.p))
	for d := range p {
		p[d] = make([]complex128, len(at))
	}
	r := newRadiation(s)
	low, high := s.system.bounds()
	err := parallel.Each(ctx, s.system.workers, len(at), func(int) func(int) {
		w := &listener{radiation: r, sums: make([]complex128, len(p)), lanes: make([][2]lanes, len(p))}
		return func(i int) {
			w.listen(at[i], inBox(at[i], low, high))
			for d := range p {
				p[d][i] = w.sums[d]
			}
		}
	})
	return p, err
}

// bounds returns the corners of the box about the mesh.
func (s *surface) bounds() (low, high Vec) {
	low, high = s.nodes[0], s.nodes[0]
	for _, x := range s.nodes {
		for a, v := range x {
			low[a], high[a] = min(low[a], v), max(high[a], v)
		}
	}
	return low, high
}

func inBox(x, low, high Vec) bool {
	for a, v := range x {
		if v < low[a] || v > high[a] {
			return false
		}
	}
	return true
}

// radiation holds what the field follows from.
type radiation struct {
	*system
	p [][][points]complex128 // pressure at the nodes, [drive][element][node]
	q [][][points]complex128 // normal derivative at the points, [drive][element][point]
	// The same at the points for the kernel, minus and with weights, [drive][block].
	pressure, slope [][]([points][2]lanes)
	reach           []float64 // square of the distance within which an element is near
}

func newRadiation(s *Solution) *radiation {
	r := &radiation{system: s.system}
	for i := range r.elements {
		e := &r.elements[i]
		limit := e.radius + fieldGap*e.length
		r.reach = append(r.reach, limit*limit)
	}
	for d := range s.p {
		p, q := make([][points]complex128, len(r.elements)), make([][points]complex128, len(r.elements))
		for i, e := range r.list {
			q[e] = s.q[d][i]
		}
		pressure, slope := make([][points][2]lanes, len(r.blocks)), make([][points][2]lanes, len(r.blocks))
		for e := range p {
			for i, node := range r.elements[e].nodes {
				p[e][i] = s.p[d][node]
			}
			for a := range points {
				put(&pressure[e/width][a], e%width, valueAt(&p[e], a)*complex(-ruleWeights[a], 0))
				put(&slope[e/width][a], e%width, q[e][a]*complex(-ruleWeights[a], 0))
			}
		}
		r.p, r.q = append(r.p, p), append(r.q, q)
		r.pressure, r.slope = append(r.pressure, pressure), append(r.slope, slope)
	}
	return r
}

func put(to *[2]lanes, lane int, v complex128) {
	to[0][lane], to[1][lane] = float32(real(v)), float32(imag(v))
}

// valueAt returns at point a of the rule what has the given values at the nodes.
func valueAt(nodes *[points]complex128, a int) (v complex128) {
	for j, phi := range shapeAt[a] {
		v += complex(phi, 0) * nodes[j]
	}
	return v
}

// listener is one goroutine's buffers.
type listener struct {
	*radiation
	sums         []complex128 // [drive]
	lanes        [][2]lanes   // [drive]
	green, along [points][2]lanes
}

// listen computes the pressures at x.
func (w *listener) listen(x Vec, mayBeInside bool) {
	clear(w.sums)
	clear(w.lanes)
	inside := w.behind(x)
	if mayBeInside && !inside {
		angle := 0.0 // of a closed surface: −4π inside, 0 outside
		for _, im := range w.images {
			for e := range w.elements {
				angle += w.elements[e].solidAngle(im.point(x))
			}
		}
		inside = angle < -2*math.Pi
	}
	for _, im := range w.images {
		w.image(im.point(x))
	}
	for d := range w.sums {
		w.sums[d] += total(&w.lanes[d])
		if inside {
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

// image adds what the surface gives at x: the rule for elements far away; for
// near ones closed forms for the first terms and the rule for the rest.
func (w *listener) image(x Vec) {
	var at [3]float32
	for a, v := range sub(x, w.centre) {
		at[a] = float32(v)
	}
	for b := range w.blocks {
		var near lanes
		for l := range min(width, len(w.elements)-b*width) {
			e := b*width + l
			if d := sub(x, w.elements[e].centre); dot(d, d) < w.reach[e] {
				near[l] = 1
				w.closed(x, e)
			}
		}
		evaluate(&at, &w.blocks[b], &near, &lanes{}, &w.wave, &w.along, &w.green)
		for d := range w.sums {
			// The kernel's slope is −∂G/∂n, whose factor is the pressure.
			minus := &w.pressure[d][b]
			drive(&w.along, &w.along, minus, 0, &w.lanes[d])
			if q := &w.slope[d][b]; *q != ([points][2]lanes{}) {
				drive(&w.along, &w.green, q, 0, &w.lanes[d])
			}
		}
	}
}

// closed adds the closed forms of element e.
func (w *listener) closed(x Vec, e int) {
	m := w.elements[e].moment(x)
	half := w.k * w.k / 2
	over, along := atPoints(&m.over), atPoints(&m.along)
	for d := range w.sums {
		sum := complex128(0)
		for i := range points {
			sum += w.p[d][e][i]*complex(m.overSlope[i]+half*m.alongSlope[i], 0) - w.q[d][e][i]*complex(over[i]-half*along[i], 0)
		}
		w.sums[d] += sum * (1 / (4 * math.Pi))
	}
}

// fieldGap is the distance from an element, in its longest sides, from which the
// points of the rule alone serve a point of the field: more than twice that of
// pairs, for no mean over a second element evens out the error.
const fieldGap = 1.2

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
	r := newRadiator(newRadiation(s))
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
	*radiation
	x, n   []Vec
	weight []float64
	at     [][]complex128 // pressure, [point][drive]
	given  [][]complex128 // normal derivative
}

func newRadiator(f *radiation) *radiator {
	r := &radiator{radiation: f}
	for i := range r.elements {
		e := &r.elements[i]
		for a, b := range rulePoints {
			r.x, r.n = append(r.x, e.at(b)), append(r.n, e.normal)
			r.weight = append(r.weight, e.area*ruleWeights[a]/(4*math.Pi))
			p, q := make([]complex128, len(r.p)), make([]complex128, len(r.p))
			for d := range p {
				p[d], q[d] = valueAt(&r.p[d][i], a), r.q[d][i][a]
			}
			r.at, r.given = append(r.at, p), append(r.given, q)
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
			for d, p := range r.at[i] {
				sums[d] += wave * (slope*p - r.given[i][d])
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
