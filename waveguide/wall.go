package waveguide

import "math"

// Point is a place in the side view: z forward, y up, in metres.
type Point struct {
	Z, Y float64
}

func (p Point) plus(q Point) Point             { return Point{p.Z + q.Z, p.Y + q.Y} }
func (p Point) minus(q Point) Point            { return Point{p.Z - q.Z, p.Y - q.Y} }
func (p Point) times(s float64) Point          { return Point{p.Z * s, p.Y * s} }
func (p Point) dot(q Point) float64            { return p.Z*q.Z + p.Y*q.Y }
func (p Point) distance(q Point) float64       { return math.Hypot(p.Z-q.Z, p.Y-q.Y) }
func (p Point) along(u Point, s float64) Point { return p.plus(u.times(s)) }

// WallKind names the curve of a fold's wall.
type WallKind string

// The kinds of wall, in order of how much they flatten the front.
const (
	WallBulging   WallKind = "bulging hyperbola" // convex towards the throat: a front rounder than the path's own
	WallStraight  WallKind = "straight"          // a plain mirror
	WallHyperbola WallKind = "hyperbola"         // hollow towards the throat: a front flatter than the path's own
	WallParabola  WallKind = "parabola"          // a plane front
)

// Wall is the curve at which the first layer turns into the second: a conic
// with one focus at the throat F,
//
//	r(φ) = a (1 + q)/(q + cos φ)
//
// with φ the angle at F from the line to the vertex, a the distance from F to
// the vertex, and q the reciprocal of the eccentricity: q = 1 is the parabola,
// r = 2a/(1 + cos φ); 0 < q < 1 the branch of a hyperbola about F; q = 0 the
// straight wall r = a/cos φ; -1 < q < 0 the branch that bulges towards F. The
// other focus is the virtual apex V, a distance D = 2a/(1 - q) from F behind the
// wall, and |VP| - |FP| = D - 2a is the same for every point P of the wall.
//
// Source: polar equation of a conic about its focus (any text on analytic
// geometry).
type Wall struct {
	Focus  Point   // F, the throat
	Axis   Point   // unit vector from F to the vertex
	Vertex float64 // a, m
	Q      float64 // reciprocal eccentricity, signed
}

// Kind names the curve.
func (w Wall) Kind() WallKind {
	const straight = 1e-9 // |q| below which the sagitta of the wall is under a·1e-9
	switch {
	case w.Q == 1:
		return WallParabola
	case math.Abs(w.Q) < straight:
		return WallStraight
	case w.Q > 0:
		return WallHyperbola
	}
	return WallBulging
}

// direction is the unit vector from F at the angle phi, positive upwards.
func (w Wall) direction(phi float64) Point {
	s, c := math.Sincos(phi)
	return Point{w.Axis.Z*c + w.Axis.Y*s, w.Axis.Y*c - w.Axis.Z*s}
}

// Radius returns r(φ) in m, the distance from the throat to the wall at the
// angle phi in rad. Where the wall does not reach (cos φ <= -q) it is NaN.
func (w Wall) Radius(phi float64) float64 {
	d := w.Q + math.Cos(phi)
	if d <= 0 {
		return math.NaN()
	}
	return w.Vertex * (1 + w.Q) / d
}

// Point returns the wall's point at the angle phi in rad.
func (w Wall) Point(phi float64) Point {
	return w.Focus.along(w.direction(phi), w.Radius(phi))
}

// Normal returns the unit normal of the wall at the angle phi, away from the
// throat.
func (w Wall) Normal(phi float64) Point {
	// The wall is q|P| + P·axis = const, so its gradient is q·u + axis.
	g := w.direction(phi).times(w.Q).plus(w.Axis)
	return g.times(1 / math.Hypot(g.Z, g.Y))
}

// Offset returns the wall's point at phi moved by d metres along the normal;
// positive is away from the throat.
func (w Wall) Offset(phi, d float64) Point {
	return w.Point(phi).along(w.Normal(phi), d)
}

// VertexCurvature is the radius of curvature at the vertex in m, where a hollow
// wall is most curved: the half latus rectum a(1+q)/|q|. A straight wall gives
// +Inf.
func (w Wall) VertexCurvature() float64 {
	return w.Vertex * (1 + w.Q) / math.Abs(w.Q)
}
