package bem3

import "math"

// moments are integrals of the shape functions over one element against the
// first two terms of e^{-jkr}/r = 1/r − k²r/2 + …, without the term −jk between
// them, which is smooth, and against their derivatives along the element's
// normal, d/r³ and + d/r times k²/2, d being the height of the point over the
// plane of the element. Nothing is divided by 4π.
type moments struct {
	over, along         [points]float64 // φ/r and φ·r
	overSlope           [points]float64 // φ·d/r³
	alongSlope          [points]float64 // φ·d/r
	overLinear          [3]float64      // λ/r
	alongLinear         [3]float64      // λ·r
	overOne, alongOne   float64         // 1/r and r
	solidAngle, flatOne float64         // d/r³ and d/r
}

// planar holds the moments 1, ξ and ξξ over a triangle of one kernel, ξ being
// the position in the plane as seen from the foot of the point.
type planar struct {
	one    float64
	first  [2]float64
	second [2][2]float64
}

// edgeIntegrals are integrals along one side: n its outward normal, t its
// distance from the foot, s the coordinate along it.
type edgeIntegrals struct {
	n, s    [2]float64
	t, side float64
	log     float64 // of 1/R
	r1, r3  float64 // of R and R³
	s0      float64 // of s/R
	s1, s3  float64 // of sR and sR³
	solid   float64 // share of the solid angle, without sign
}

// moment returns the moments of e seen from x, all in closed form: the theorem
// of Gauss in the plane turns them into integrals along the sides (D. R. Wilton
// et al., IEEE Trans. Antennas Propag. 32, 1984; R. D. Graglia, ibid. 41, 1993).
func (e *element) moment(x Vec) moments {
	u := sub(e.corner[1], e.corner[0])
	u = scaled(u, 1/norm(u))
	v := cross(e.normal, u)
	d := dot(sub(x, e.corner[0]), e.normal)
	if math.Abs(d) < 1e-10*e.length {
		d = 0
	}
	var foot [3][2]float64
	for m, c := range e.corner {
		r := sub(c, x)
		foot[m] = [2]float64{dot(r, u), dot(r, v)}
	}
	var edges [3]edgeIntegrals
	turn := 1.0 // −1 when the corners run clockwise about the normal
	if cross2(foot[0], foot[1], foot[2]) < 0 {
		turn = -1
	}
	for m := range edges {
		edges[m] = alongEdge(foot[(m+1)%3], foot[(m+2)%3], d, turn)
	}
	over, along, slope := integrals(&edges, d)
	return e.shapes(&edges, d, over, along, slope)
}

func cross2(a, b, c [2]float64) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}

// alongEdge integrates along the side from a to b, at height d.
func alongEdge(a, b [2]float64, d, turn float64) edgeIntegrals {
	length := math.Hypot(b[0]-a[0], b[1]-a[1])
	g := edgeIntegrals{side: length}
	g.s = [2]float64{(b[0] - a[0]) / length, (b[1] - a[1]) / length}
	g.n = [2]float64{turn * g.s[1], -turn * g.s[0]}
	g.t = g.n[0]*a[0] + g.n[1]*a[1]
	s0, s1 := g.s[0]*a[0]+g.s[1]*a[1], g.s[0]*b[0]+g.s[1]*b[1]
	h2 := g.t*g.t + d*d // square of the distance from the side's line
	r0, r1 := math.Sqrt(s0*s0+h2), math.Sqrt(s1*s1+h2)
	if h2 > 1e-24*length*length { // on the line every use of the logarithm has a nil factor
		switch { // forms without cancellation
		case s0 > 0:
			g.log = math.Log((r1 + s1) / (r0 + s0))
		case s1 < 0:
			g.log = math.Log((r0 - s0) / (r1 - s1))
		default:
			g.log = math.Log((r1 + s1) * (r0 - s0) / h2)
		}
		height := math.Abs(d)
		g.solid = math.Atan2(g.t*s1, h2+height*r1) - math.Atan2(g.t*s0, h2+height*r0)
	}
	g.r1 = (s1*r1 - s0*r0 + h2*g.log) / 2
	g.r3 = (s1*r1*r1*r1-s0*r0*r0*r0)/4 + 0.75*h2*g.r1
	g.s0 = r1 - r0
	g.s1 = (r1*r1*r1 - r0*r0*r0) / 3
	g.s3 = (r1*r1*r1*r1*r1 - r0*r0*r0*r0*r0) / 5
	return g
}

// integrals joins the sides to the moments over the triangle of 1/R, R and d/R³.
func integrals(edges *[3]edgeIntegrals, d float64) (over, along, slope planar) {
	solid, cubes := 0.0, 0.0
	for i := range edges {
		g := &edges[i]
		solid += g.solid
		over.one += g.t * g.log
		along.one += g.t * g.r1
		cubes += g.t * g.r3
	}
	over.one -= math.Abs(d) * solid
	along.one = (along.one + d*d*over.one) / 3
	cubes = (cubes + 3*d*d*along.one) / 5
	if d != 0 {
		slope.one = math.Copysign(solid, d)
	}
	for i := range edges {
		g := &edges[i]
		for a := range 2 {
			over.first[a] += g.n[a] * g.r1
			along.first[a] += g.n[a] * g.r3 / 3
			slope.first[a] -= d * g.n[a] * g.log
			for b := range 2 {
				over.second[a][b] += g.n[a] * (g.t*g.n[b]*g.r1 + g.s[b]*g.s1)
				along.second[a][b] += g.n[a] * (g.t*g.n[b]*g.r3 + g.s[b]*g.s3) / 3
				slope.second[a][b] -= d * g.n[a] * (g.t*g.n[b]*g.log + g.s[b]*g.s0)
			}
		}
	}
	for a := range 2 {
		slope.second[a][a] += d * over.one
		over.second[a][a] -= along.one
		along.second[a][a] -= cubes / 3
	}
	return over, along, slope
}

// shapes turns moments of ξ into those of the shape functions: λ_m is the
// distance from the opposite side over the height of the corner.
func (e *element) shapes(edges *[3]edgeIntegrals, d float64, over, along, slope planar) moments {
	var at [3]float64
	var slopes [3][2]float64
	for m := range edges {
		g := &edges[m]
		height := 2 * e.area / g.side
		at[m] = g.t / height
		slopes[m] = [2]float64{-g.n[0] / height, -g.n[1] / height}
	}
	out := moments{overOne: over.one, alongOne: along.one, solidAngle: slope.one, flatOne: d * over.one}
	out.overLinear, out.over = over.quadratic(&at, &slopes)
	out.alongLinear, out.along = along.quadratic(&at, &slopes)
	_, out.overSlope = slope.quadratic(&at, &slopes)
	for i, v := range out.over {
		out.alongSlope[i] = d * v
	}
	return out
}

// quadratic returns the moments of λ_m = at + slope·ξ and of the shape functions.
func (p *planar) quadratic(at *[3]float64, slope *[3][2]float64) (linear [3]float64, shapes [points]float64) {
	product := func(u, v int) float64 {
		s := at[u] * at[v] * p.one
		for a := range 2 {
			s += (at[u]*slope[v][a] + at[v]*slope[u][a]) * p.first[a]
			for b := range 2 {
				s += slope[u][a] * p.second[a][b] * slope[v][b]
			}
		}
		return s
	}
	for m := range 3 {
		linear[m] = at[m]*p.one + slope[m][0]*p.first[0] + slope[m][1]*p.first[1]
		shapes[m] = 2*product(m, m) - linear[m]
		shapes[3+m] = 4 * product((m+1)%3, (m+2)%3)
	}
	return linear, shapes
}
