package bem

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/interp"
)

// Point is a position or a direction in the plane, m.
type Point struct{ X, Y float64 }

// Add returns p + q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub returns p − q.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Scale returns s·p.
func (p Point) Scale(s float64) Point { return Point{s * p.X, s * p.Y} }

// Dot returns the scalar product of p and q.
func (p Point) Dot(q Point) float64 { return p.X*q.X + p.Y*q.Y }

// Cross returns the z component of the vector product of p and q.
func (p Point) Cross(q Point) float64 { return p.X*q.Y - p.Y*q.X }

// Norm returns the length of p.
func (p Point) Norm() float64 { return math.Hypot(p.X, p.Y) }

func (p Point) String() string { return fmt.Sprintf("(%.4g, %.4g) m", p.X, p.Y) }

// Curve is a smooth piece of boundary. At returns the position and the
// derivative by t for t in [0, 1]; the derivative must not vanish.
type Curve interface {
	At(t float64) (position, derivative Point)
}

var (
	_ Curve = Line{}
	_ Curve = Arc{}
	_ Curve = (*Spline)(nil)
)

// Line is the straight line from A to B.
type Line struct{ A, B Point }

// At implements Curve.
func (l Line) At(t float64) (position, derivative Point) {
	d := l.B.Sub(l.A)
	return Point{l.A.X + t*d.X, l.A.Y + t*d.Y}, d
}

// Arc is a piece of a circle from angle Start to Start + Sweep, rad,
// counter-clockwise for positive Sweep.
type Arc struct {
	Centre       Point
	Radius       float64 // m
	Start, Sweep float64 // rad
}

// At implements Curve.
func (a Arc) At(t float64) (position, derivative Point) {
	s, c := math.Sincos(a.Start + t*a.Sweep)
	p := Point{a.Centre.X + a.Radius*c, a.Centre.Y + a.Radius*s}
	w := a.Radius * a.Sweep
	return p, Point{-w * s, w * c}
}

// Spline is a smooth curve through points.
type Spline struct {
	x, y   interp.NotAKnotCubic
	length float64
}

// NewSpline returns the cubic spline through at least four points, with the
// chord length as parameter and not-a-knot ends (C. de Boor, A Practical Guide
// to Splines, 1978, ch. IV), so its error falls with the fourth power of the
// spacing. It returns an error for fewer points and for two equal neighbours.
func NewSpline(points []Point) (*Spline, error) {
	if len(points) < 4 {
		return nil, errors.New("a smooth curve needs at least four points")
	}
	s := &Spline{}
	t := make([]float64, len(points))
	xs, ys := make([]float64, len(points)), make([]float64, len(points))
	for i, p := range points {
		xs[i], ys[i] = p.X, p.Y
		if i == 0 {
			continue
		}
		step := p.Sub(points[i-1]).Norm()
		if !(step > 0) || math.IsInf(step, 0) {
			return nil, fmt.Errorf("points %d and %d of a smooth curve coincide at %v", i, i+1, p)
		}
		t[i] = t[i-1] + step
	}
	s.length = t[len(t)-1]
	if err := s.x.Fit(t, xs); err != nil {
		return nil, fmt.Errorf("smooth curve: %w", err)
	}
	if err := s.y.Fit(t, ys); err != nil {
		return nil, fmt.Errorf("smooth curve: %w", err)
	}
	return s, nil
}

// At implements Curve.
func (s *Spline) At(t float64) (position, derivative Point) {
	u := t * s.length
	d := Point{s.x.PredictDerivative(u), s.y.PredictDerivative(u)}
	return Point{s.x.Predict(u), s.y.Predict(u)}, d.Scale(s.length)
}
