package bem

import (
	"errors"
	"fmt"
	"math"
)

// ErrGeometry marks every complaint about outlines; use errors.Is.
var ErrGeometry = errors.New("bad outline")

func geometryError(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrGeometry, fmt.Sprintf(format, args...))
}

const (
	// gapTolerance is how far the end of an edge may lie from the start of the
	// next, as a share of the outline's size.
	gapTolerance = 1e-6
	// facets is the number of chords that stand for a curved edge when
	// crossings and areas are looked for.
	facets = 24
)

// chain is an outline with what the checks and the mesh need to know of it.
type chain struct {
	edges   []Edge
	closed  bool
	size    float64   // diagonal of the bounding box, m
	polygon [][]Point // chords of each edge, in running order
	area    float64   // signed, positive for a counter-clockwise run
}

func (e Edge) start() Point { return e.at(0) }
func (e Edge) end() Point   { return e.at(1) }

// at returns the point at t along the running direction.
func (e Edge) at(t float64) Point {
	if e.Flip {
		t = 1 - t
	}
	p, _ := e.Curve.At(t)
	return p
}

// direction returns the unit tangent at t along the running direction.
func (e Edge) direction(t float64) Point {
	s := 1.0
	if e.Flip {
		t, s = 1-t, -1
	}
	_, d := e.Curve.At(t)
	return d.Scale(s / d.Norm())
}

// newChain checks one outline and prepares it. where names it in messages.
func newChain(edges []Edge, mirror Mirror, where string) (*chain, error) {
	if len(edges) == 0 {
		return nil, geometryError("%s has no edges", where)
	}
	c := &chain{edges: edges}
	low, high := Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for i, e := range edges {
		if e.Curve == nil {
			return nil, geometryError("%s: edge %d (%s) has no curve", where, i+1, e.Name)
		}
		chords := e.chords()
		for _, p := range chords {
			if math.IsNaN(p.X+p.Y) || math.IsInf(p.X+p.Y, 0) {
				return nil, geometryError("%s: edge %d (%s) has a coordinate that is not a number", where, i+1, e.Name)
			}
			low = Point{math.Min(low.X, p.X), math.Min(low.Y, p.Y)}
			high = Point{math.Max(high.X, p.X), math.Max(high.Y, p.Y)}
		}
		c.polygon = append(c.polygon, chords)
	}
	c.size = high.Sub(low).Norm()
	tol := gapTolerance * c.size
	if err := c.checkEdges(where, tol); err != nil {
		return nil, err
	}
	if err := c.checkEnds(mirror, low, where, tol); err != nil {
		return nil, err
	}
	c.area = c.signedArea()
	return c, c.checkCrossings(where)
}

// chords returns points along the edge: its ends only when it is straight.
func (e Edge) chords() []Point {
	n := facets
	if _, straight := e.Curve.(Line); straight {
		n = 1
	}
	points := make([]Point, n+1)
	for i := range points {
		points[i] = e.at(float64(i) / float64(n))
	}
	return points
}

// checkEdges refuses edges without length and gaps between neighbours.
func (c *chain) checkEdges(where string, tol float64) error {
	for i, chords := range c.polygon {
		length := 0.0
		for j := 1; j < len(chords); j++ {
			length += chords[j].Sub(chords[j-1]).Norm()
		}
		if !(length > tol) {
			return geometryError("%s: edge %d (%s) at %v has no length", where, i+1, c.edges[i].Name, chords[0])
		}
		if i == 0 {
			continue
		}
		if end, start := c.edges[i-1].end(), chords[0]; end.Sub(start).Norm() > tol {
			return geometryError("%s: edge %d (%s) ends at %v but edge %d (%s) starts at %v",
				where, i, c.edges[i-1].Name, end, i+1, c.edges[i].Name, start)
		}
	}
	return nil
}

// checkEnds sees that the chain is closed or ends on mirror planes, and that
// nothing lies beyond those planes.
func (c *chain) checkEnds(mirror Mirror, low Point, where string, tol float64) error {
	if mirror.X && low.X < -tol || mirror.Y && low.Y < -tol {
		return geometryError("%s reaches beyond the mirror plane, to %v", where, low)
	}
	start, end := c.edges[0].start(), c.edges[len(c.edges)-1].end()
	c.closed = start.Sub(end).Norm() <= tol
	onMirror := func(p Point) bool {
		return mirror.X && math.Abs(p.X) <= tol || mirror.Y && math.Abs(p.Y) <= tol
	}
	for i, chords := range c.polygon {
		for j, p := range chords {
			first, last := i == 0 && j == 0, i == len(c.polygon)-1 && j == len(chords)-1
			if onMirror(p) && (c.closed || !first && !last && p != start && p != end) {
				return geometryError("%s: edge %d (%s) touches the mirror plane at %v; only the two ends of an open outline may",
					where, i+1, c.edges[i].Name, p)
			}
		}
	}
	if !c.closed && !(onMirror(start) && onMirror(end)) {
		return geometryError("%s is open: it starts at %v and ends at %v; close it or end it on a mirror plane",
			where, start, end)
	}
	return nil
}

// signedArea is the area of the polygon of chords. An open chain is closed
// through the origin, where mirror planes meet, or along its one plane.
func (c *chain) signedArea() float64 {
	sum, first := 0.0, c.polygon[0][0]
	last := first
	for _, chords := range c.polygon {
		for _, p := range chords {
			sum += last.Cross(p)
			last = p
		}
	}
	if c.closed || math.Abs(first.X-last.X) <= gapTolerance*c.size || math.Abs(first.Y-last.Y) <= gapTolerance*c.size {
		return (sum + last.Cross(first)) / 2
	}
	return sum / 2 // the two closing legs run through the origin and add nothing
}

// checkCrossings refuses outlines that cross or touch themselves.
func (c *chain) checkCrossings(where string) error {
	type chord struct {
		a, b Point
		edge int
	}
	var all []chord
	for i, chords := range c.polygon {
		for j := 1; j < len(chords); j++ {
			all = append(all, chord{chords[j-1], chords[j], i})
		}
	}
	for i, s := range all {
		for j := i + 1; j < len(all); j++ {
			o := all[j]
			neighbours := j == i+1 || c.closed && i == 0 && j == len(all)-1
			if neighbours && !foldsBack(s.a, s.b, o.a, o.b) || !neighbours && !segmentsMeet(s.a, s.b, o.a, o.b) {
				continue
			}
			return geometryError("%s crosses or touches itself: edge %d (%s) and edge %d (%s) near %v",
				where, s.edge+1, c.edges[s.edge].Name, o.edge+1, c.edges[o.edge].Name, o.a)
		}
	}
	return nil
}

// segmentsMeet reports whether segments ab and cd have a point in common.
func segmentsMeet(a, b, c, d Point) bool {
	if math.Max(a.X, b.X) < math.Min(c.X, d.X) || math.Max(c.X, d.X) < math.Min(a.X, b.X) ||
		math.Max(a.Y, b.Y) < math.Min(c.Y, d.Y) || math.Max(c.Y, d.Y) < math.Min(a.Y, b.Y) {
		return false
	}
	ab, cd := b.Sub(a), d.Sub(c)
	s1, s2 := ab.Cross(c.Sub(a)), ab.Cross(d.Sub(a))
	s3, s4 := cd.Cross(a.Sub(c)), cd.Cross(b.Sub(c))
	return s1*s2 <= 0 && s3*s4 <= 0
}

// foldsBack reports whether neighbouring segments, which share an end, run
// back over each other.
func foldsBack(a, b, c, d Point) bool {
	u, v := b.Sub(a), d.Sub(c)
	if a == d { // the closing pair of a chain comes in the other order
		u, v = v, u
	}
	return u.Dot(v) < 0 && math.Abs(u.Cross(v)) <= 1e-9*u.Norm()*v.Norm()
}
