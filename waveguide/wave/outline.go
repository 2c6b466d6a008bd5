package wave

import (
	"fmt"
	"math"

	"gapline/internal/bem"
)

// cornerTurn is the angle, rad, beyond which a vertex of a list of points is
// a corner and not a sample of a smooth curve.
const cornerTurn = 0.35

// through returns edges along a list of points: straight stretches as lines,
// smooth ones of four points and more as splines, corners kept. All edges get
// the name.
func through(name string, points []bem.Point) ([]bem.Edge, error) {
	if len(points) < 2 {
		return nil, fmt.Errorf("%s: needs at least two points", name)
	}
	var edges []bem.Edge
	start := 0
	for i := 1; i < len(points); i++ {
		if i < len(points)-1 && !corner(points[i-1], points[i], points[i+1]) {
			continue
		}
		piece, err := smoothPiece(name, points[start:i+1])
		if err != nil {
			return nil, err
		}
		edges = append(edges, piece...)
		start = i
	}
	return edges, nil
}

func corner(a, b, c bem.Point) bool {
	u, v := b.Sub(a), c.Sub(b)
	return math.Abs(math.Atan2(u.Cross(v), u.Dot(v))) > cornerTurn
}

// smoothPiece returns one line when the points are on one, a spline when there
// are enough of them, and chords otherwise.
func smoothPiece(name string, points []bem.Point) ([]bem.Edge, error) {
	first, last := points[0], points[len(points)-1]
	if straight(points) {
		return []bem.Edge{{Name: name, Curve: bem.Line{A: first, B: last}}}, nil
	}
	if len(points) >= 4 {
		s, err := bem.NewSpline(points)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		return []bem.Edge{{Name: name, Curve: s}}, nil
	}
	var edges []bem.Edge
	for i := 1; i < len(points); i++ {
		edges = append(edges, bem.Edge{Name: name, Curve: bem.Line{A: points[i-1], B: points[i]}})
	}
	return edges, nil
}

// straight reports whether all points lie on the chord from first to last.
func straight(points []bem.Point) bool {
	a := points[0]
	d := points[len(points)-1].Sub(a)
	for _, p := range points {
		if math.Abs(p.Sub(a).Cross(d)) > 1e-9*d.Dot(d) {
			return false
		}
	}
	return true
}

// line returns a straight edge.
func line(name string, a, b bem.Point) bem.Edge {
	return bem.Edge{Name: name, Curve: bem.Line{A: a, B: b}}
}
