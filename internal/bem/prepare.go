package bem

import (
	"fmt"
	"math"
)

// side is one edge seen from one domain.
type side struct {
	domain int
	edge   Edge
	sign   float64 // outward normal = sign × base normal of the curve
	ends   ends    // in the curve's own direction
	joint  int     // index of the joint, -1 for a wall
	second bool    // the joint's other side comes first
}

// prepared is a checked problem, ready to be meshed at any frequency.
type prepared struct {
	*Problem
	sides  []side
	joints [][2]int // sides of each joint
	chains [][]*chain
	extent float64 // largest distance between two points, mirror images included, m
}

// ends says how the field behaves at the ends of an edge.
type ends struct{ start, end vertex }

// vertex is the behaviour of the field at a vertex of an outline.
type vertex int

const (
	smooth   vertex = iota
	mild            // bounded gradient: an angle below π
	singular        // unbounded gradient: an angle above π, or a change of condition
)

// cuts turns behaviour into a number of cuts: one at a mild vertex.
func (e ends) cuts(o Options) grading {
	n := func(v vertex) int {
		switch {
		case o.Grading <= 0 || v == smooth:
			return 0
		case v == mild:
			return 1
		}
		return o.Grading
	}
	return grading{n(e.start), n(e.end)}
}

// cornerAngle is how far, in rad, the fluid's angle must differ from π before
// a vertex counts as a corner.
const cornerAngle = 0.1

// prepare checks the problem.
func (p *Problem) prepare() (*prepared, error) {
	if !(p.SoundSpeed > 0) || !(p.Density > 0) || math.IsInf(p.SoundSpeed+p.Density, 0) {
		return nil, fmt.Errorf("sound speed %g m/s and density %g kg/m³ must be positive numbers", p.SoundSpeed, p.Density)
	}
	if len(p.Domains) == 0 {
		return nil, geometryError("there is no domain")
	}
	pp := &prepared{Problem: p, chains: make([][]*chain, len(p.Domains))}
	joined := map[string][]int{}
	var order []string
	for d := range p.Domains {
		if err := pp.addDomain(d); err != nil {
			return nil, err
		}
	}
	for i, s := range pp.sides {
		if name := s.edge.Join; name != "" {
			if joined[name] == nil {
				order = append(order, name)
			}
			joined[name] = append(joined[name], i)
		}
	}
	for _, name := range order {
		if err := pp.addJoint(name, joined[name]); err != nil {
			return nil, err
		}
	}
	pp.extent = pp.measure()
	return pp, nil
}

// addDomain checks the outlines of domain d and lists its sides.
func (pp *prepared) addDomain(d int) error {
	dom := &pp.Domains[d]
	if dom.Thickness < 0 || math.IsNaN(dom.Thickness) || math.IsInf(dom.Thickness, 0) {
		return geometryError("domain %q: thickness %g must be positive", dom.Name, dom.Thickness)
	}
	if len(dom.Outlines) == 0 {
		return geometryError("domain %q has no outline", dom.Name)
	}
	outer, area := -1, 0.0
	for i, edges := range dom.Outlines {
		c, err := newChain(edges, pp.Mirror, fmt.Sprintf("outline %d of domain %q", i+1, dom.Name))
		if err != nil {
			return err
		}
		pp.chains[d] = append(pp.chains[d], c)
		if !dom.Exterior && math.Abs(c.area) > area {
			outer, area = i, math.Abs(c.area)
		}
	}
	if err := checkApart(pp.chains[d], dom.Name); err != nil {
		return err
	}
	if err := pp.checkNesting(d, outer); err != nil {
		return err
	}
	for i, c := range pp.chains[d] {
		pp.addChain(d, c, i == outer)
	}
	return pp.checkSources(d)
}

// addChain lists the sides of one chain; inside says that the fluid lies
// within it.
func (pp *prepared) addChain(d int, c *chain, inside bool) {
	left := inside == (c.area > 0) // the fluid lies left of the running direction
	for i, e := range c.edges {
		s := side{domain: d, edge: e, sign: 1, joint: -1}
		if left == e.Flip {
			s.sign = -1
		}
		s.ends = ends{c.vertex(i, pp.Mirror, left), c.vertex(i+1, pp.Mirror, left)}
		if e.Flip {
			s.ends = ends{s.ends.end, s.ends.start}
		}
		pp.sides = append(pp.sides, s)
	}
}

// vertex returns the field's behaviour at the vertex before edge i. Near an
// angle ω of fluid between rigid walls pressure goes as r^(π/ω), so its gradient
// is unbounded when ω exceeds π (J. Meixner, IEEE Trans. Antennas Propag. 20,
// 1972). Where a wall that moves runs on into one that rests, pressure goes as
// r ln r; in a corner the linear term takes up the jump.
func (c *chain) vertex(i int, mirror Mirror, left bool) vertex {
	n := len(c.edges)
	var in, out Point
	straight := smooth // what a vertex is where the outline runs on
	switch {
	case c.closed || i > 0 && i < n:
		before, after := c.edges[(i+n-1)%n], c.edges[i%n]
		if kind(before) != kind(after) {
			return singular
		}
		if (before.Wall.Velocity == nil) != (after.Wall.Velocity == nil) {
			straight = singular
		}
		in, out = before.direction(1), after.direction(0)
	case i == 0:
		out = c.edges[0].direction(0)
		in = reflected(out, c.edges[0].start(), mirror, c.size)
	default:
		in = c.edges[n-1].direction(1)
		out = reflected(in, c.edges[n-1].end(), mirror, c.size)
	}
	turn := math.Atan2(in.Cross(out), in.Dot(out))
	if !left {
		turn = -turn
	}
	switch {
	case turn < -cornerAngle:
		return singular
	case turn > cornerAngle:
		return mild
	}
	return straight
}

// kind sorts edges by what is unknown on them.
func kind(e Edge) int {
	switch {
	case e.Join != "":
		return 2
	case e.Wall.Admittance != nil:
		return 1
	}
	return 0
}

// reflected returns the direction in which an outline running along d goes on
// behind the mirror plane on which at lies.
func reflected(d, at Point, mirror Mirror, size float64) Point {
	if mirror.X && math.Abs(at.X) <= gapTolerance*size {
		return Point{d.X, -d.Y}
	}
	return Point{-d.X, d.Y}
}

// addJoint pairs the sides that carry one joint's name.
func (pp *prepared) addJoint(name string, sides []int) error {
	if len(sides) != 2 {
		return geometryError("joint %q is used by %d edges; it must join two", name, len(sides))
	}
	a, b := &pp.sides[sides[0]], &pp.sides[sides[1]]
	if a.domain == b.domain {
		return geometryError("joint %q has both sides in domain %q", name, pp.Domains[a.domain].Name)
	}
	size := pp.chains[a.domain][0].size
	for _, t := range []float64{0, 0.3, 1} {
		pa, _ := a.edge.Curve.At(t)
		pb, _ := b.edge.Curve.At(t)
		if pa.Sub(pb).Norm() > gapTolerance*size {
			return geometryError("the two edges of joint %q differ: %v and %v", name, pa, pb)
		}
	}
	a.joint, b.joint, b.second = len(pp.joints), len(pp.joints), true
	a.ends = ends{max(a.ends.start, b.ends.start), max(a.ends.end, b.ends.end)}
	b.ends = a.ends
	pp.joints = append(pp.joints, [2]int{sides[0], sides[1]})
	return nil
}

// measure returns the largest distance between two points of the geometry.
func (pp *prepared) measure() float64 {
	low, high := Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, chains := range pp.chains {
		for _, c := range chains {
			for _, chords := range c.polygon {
				for _, p := range chords {
					for _, im := range pp.Mirror.images(p, Point{}) {
						low = Point{math.Min(low.X, im[0].X), math.Min(low.Y, im[0].Y)}
						high = Point{math.Max(high.X, im[0].X), math.Max(high.Y, im[0].Y)}
					}
				}
			}
		}
	}
	return high.Sub(low).Norm()
}

// checkApart refuses outlines of one domain that cross each other.
func checkApart(chains []*chain, domain string) error {
	for i, a := range chains {
		for j := i + 1; j < len(chains); j++ {
			if at, meet := a.meets(chains[j]); meet {
				return geometryError("outlines %d and %d of domain %q cross near %v", i+1, j+1, domain, at)
			}
		}
	}
	return nil
}

func (c *chain) meets(o *chain) (Point, bool) {
	for _, p := range c.polygon {
		for i := 1; i < len(p); i++ {
			for _, q := range o.polygon {
				for j := 1; j < len(q); j++ {
					if segmentsMeet(p[i-1], p[i], q[j-1], q[j]) {
						return p[i], true
					}
				}
			}
		}
	}
	return Point{}, false
}
