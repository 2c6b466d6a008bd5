package bem

import (
	"math"

	"gapline/internal/numeric"
)

// element is a stretch [t0, t1] of a curve.
type element struct {
	curve    Curve
	t0, t1   float64
	a, b     Point // ends
	length   float64
	sagitta  float64 // bound of its distance from the chord ab, m
	first    int     // number of its first node
	straight bool
}

// at maps the reference coordinate s in [-1, 1] to the position, the base
// normal (to the right of the curve's direction) and the length per unit of s.
func (e *element) at(s float64) (x, normal Point, speed float64) {
	half := (e.t1 - e.t0) / 2
	x, d := e.curve.At(e.t0 + half*(s+1))
	v := d.Norm()
	return x, Point{d.Y / v, -d.X / v}, v * half
}

// mesh holds the elements and nodes of all curves; a joint is meshed once.
type mesh struct {
	rule     *rule
	elements []element
	x, n     []Point   // node positions and base normals
	w        []float64 // quadrature weights, m
}

// grading is the number of cuts towards each end of an edge.
type grading struct{ start, end int }

// ratio is the size of successive elements towards a singular end.
const ratio = 0.2

// addCurve meshes a curve with elements from one parameter of t to the next. It
// returns the range of elements.
func (m *mesh) addCurve(c Curve, t []float64) (first, last int) {
	first = len(m.elements)
	_, straight := c.(Line)
	for i := 1; i < len(t); i++ {
		e := element{curve: c, t0: t[i-1], t1: t[i], straight: straight}
		e.a, _ = c.At(e.t0)
		e.b, _ = c.At(e.t1)
		mid, _ := c.At((e.t0 + e.t1) / 2)
		e.sagitta = 1.5 * distance(mid, e.a, e.b)
		m.addElement(e)
	}
	return first, len(m.elements)
}

// maxTurn bounds the angle through which one element may turn, rad.
const maxTurn = 0.8

// elements returns the parameters at the ends of the elements of a side at f, Hz.
// Halving comes last, so that it reaches every element: one that is short because
// its edge is, its graded end or its curve counts as much as one that the wave asks
// for.
func (pp *prepared) elements(s *side, f float64, o Options) []float64 {
	t := divide(s.edge.Curve, pp.elementSize(f, o), s.ends.cuts(o))
	for range o.Halvings {
		halves := make([]float64, 0, 2*len(t))
		for i, end := range t {
			if i > 0 {
				halves = append(halves, (t[i-1]+end)/2)
			}
			halves = append(halves, end)
		}
		t = halves
	}
	return t
}

// divide returns the parameters at the ends of a curve's elements, no longer than
// size and graded towards its ends.
func divide(c Curve, size float64, g grading) []float64 {
	l := newLengths(c)
	breaks := breakpoints(l.total(), size, g)
	t := []float64{0}
	for _, b := range breaks[1:] {
		next := l.parameter(b)
		from := t[len(t)-1]
		pieces := int(math.Ceil(turn(c, from, next) / maxTurn))
		for i := 1; i < pieces; i++ {
			t = append(t, from+(next-from)*float64(i)/float64(pieces))
		}
		t = append(t, next)
	}
	return t
}

// turn returns the angle through which the tangent turns from t0 to t1.
func turn(c Curve, t0, t1 float64) float64 {
	if _, straight := c.(Line); straight {
		return 0
	}
	const steps = 16
	sum := 0.0
	_, last := c.At(t0)
	for i := 1; i <= steps; i++ {
		_, d := c.At(t0 + (t1-t0)*float64(i)/steps)
		sum += math.Abs(math.Atan2(last.Cross(d), last.Dot(d)))
		last = d
	}
	return sum
}

func (m *mesh) addElement(e element) {
	e.first = len(m.x)
	for i, s := range m.rule.x {
		x, n, speed := e.at(s)
		w := m.rule.w[i] * speed
		m.x, m.n, m.w = append(m.x, x), append(m.n, n), append(m.w, w)
		e.length += w
	}
	m.elements = append(m.elements, e)
}

// breakpoints divides length into equal parts no longer than size and cuts
// the parts at graded ends again and again, each time at ratio of what is left.
func breakpoints(length, size float64, g grading) []float64 {
	parts := max(1, int(math.Ceil(length/size-1e-9)))
	if parts == 1 && g.start > 0 && g.end > 0 {
		parts = 2
	}
	h := length / float64(parts)
	b := []float64{0}
	for i := g.start; i > 0; i-- {
		b = append(b, h*math.Pow(ratio, float64(i)))
	}
	for i := 1; i < parts; i++ {
		b = append(b, h*float64(i))
	}
	for i := 1; i <= g.end; i++ {
		b = append(b, length-h*math.Pow(ratio, float64(i)))
	}
	return append(b, length)
}

// lengths tabulates the arc length of a curve.
type lengths struct {
	curve Curve
	s     []float64 // at t = i/(len-1)
}

func newLengths(c Curve) *lengths {
	const pieces = 64
	n := pieces
	if _, straight := c.(Line); straight {
		n = 1
	}
	l := &lengths{c, make([]float64, n+1)}
	for i := range n {
		a, b := float64(i)/float64(n), float64(i+1)/float64(n)
		l.s[i+1] = l.s[i] + numeric.Integrate(l.speed, a, b, 4, 1)
	}
	return l
}

func (l *lengths) speed(t float64) float64 {
	_, d := l.curve.At(t)
	return d.Norm()
}

func (l *lengths) total() float64 { return l.s[len(l.s)-1] }

// parameter returns t at arc length s, by the table and one Newton step.
func (l *lengths) parameter(s float64) float64 {
	n := len(l.s) - 1
	if s <= 0 {
		return 0
	}
	if s >= l.s[n] {
		return 1
	}
	i := 0
	for l.s[i+1] < s {
		i++
	}
	left := float64(i) / float64(n)
	t := left + (s-l.s[i])/(l.s[i+1]-l.s[i])/float64(n)
	t -= (l.s[i] + numeric.Integrate(l.speed, left, t, 4, 1) - s) / l.speed(t)
	return t
}
