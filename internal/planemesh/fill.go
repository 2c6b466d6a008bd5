package planemesh

import (
	"cmp"
	"math"
	"slices"
)

// Point is a place in the plane, m.
type Point [2]float64

// Polygon is a closed line through nodes.
type Polygon struct {
	Nodes []int32 // indices of Spec.Nodes
	Hole  bool    // it stays empty
}

// Spec is what is to be filled.
type Spec struct {
	Nodes []Point
	// Polygons are the outline and then what lies in it, each after those that it lies in.
	// They may share nodes and edges and must not cross.
	Polygons []Polygon
	// Rows are edges of polygons along which a row of nodes is wanted half an edge's length
	// away, so that two right-angled triangles stand there for each edge: half as high as wide.
	Rows [][2]int32
	// Size is the wanted length of an edge, m, at a place.
	Size func(Point) float64
	// Longest is a length that no edge inside may exceed, m; 0: none. Edges of polygons are
	// the caller's.
	Longest float64
}

// Filled is the result.
type Filled struct {
	Nodes     []Point    // those given, then those added
	Triangles [][3]int32 // counter-clockwise
	Region    []int32    // of each triangle, the innermost polygon that it lies in
}

// filler is a triangulation that is being filled.
type filler struct {
	triangulation
	spec  *Spec
	low   Point
	step  float64 // of the grid, m
	place []Point // of the nodes
	rims  [][2]Point
	given int // nodes that stay where they are
	rowed int // those before it stand in rows, and move only where they have to
}

// Fill triangulates the polygons. It is an error where they cross or two nodes coincide.
func Fill(s *Spec) (*Filled, error) {
	f := &filler{triangulation: *newTriangulation(), spec: s, given: about + len(s.Nodes)}
	if err := f.start(); err != nil {
		return nil, err
	}
	f.assign()
	f.rows()
	f.refine()
	f.smooth()
	f.shorten()
	return f.result(), nil
}

// start takes the given nodes in and fixes the polygons' edges.
func (f *filler) start() error {
	high := Point{math.Inf(-1), math.Inf(-1)}
	f.low = Point{math.Inf(1), math.Inf(1)}
	for _, p := range f.spec.Nodes {
		for i := range p {
			f.low[i], high[i] = math.Min(f.low[i], p[i]), math.Max(high[i], p[i])
		}
	}
	f.step = math.Max(high[0]-f.low[0], high[1]-f.low[1]) / grid
	f.place = make([]Point, about, about+4*len(f.spec.Nodes))
	for _, p := range f.spec.Nodes {
		if v := f.insert(f.snap(p)); int(v) != len(f.place) {
			return ErrTiny
		}
		f.place = append(f.place, p)
	}
	for _, p := range f.spec.Polygons {
		for i, a := range p.Nodes {
			b := p.Nodes[(i+1)%len(p.Nodes)]
			if err := f.fix(a+about, b+about); err != nil {
				return err
			}
		}
	}
	for t := range f.tri {
		c := &f.tri[t]
		for i := range 3 {
			if j, k := at(i); c.fixed[i] && c.corner[j] < c.corner[k] {
				f.rims = append(f.rims, [2]Point{f.place[c.corner[j]], f.place[c.corner[k]]})
			}
		}
		f.stack = append(f.stack, int32(t))
	}
	f.settle()
	return nil
}

func (f *filler) snap(p Point) node {
	return node{int64(math.Round((p[0] - f.low[0]) / f.step)), int64(math.Round((p[1] - f.low[1]) / f.step))}
}

func (f *filler) unsnap(n node) Point {
	return Point{f.low[0] + float64(n.x)*f.step, f.low[1] + float64(n.y)*f.step}
}

// assign gives each triangle the innermost polygon that it lies in; those outside, or in
// a hole, have none: −1.
func (f *filler) assign() {
	seen := make([]bool, len(f.tri))
	for t := range f.tri {
		if seen[t] {
			continue
		}
		part := []int32{int32(t)}
		seen[t] = true
		for i := 0; i < len(part); i++ {
			c := &f.tri[part[i]]
			for j, u := range c.next {
				if u >= 0 && !c.fixed[j] && !seen[u] {
					seen[u] = true
					part = append(part, u)
				}
			}
		}
		region := f.regionOf(part)
		for _, u := range part {
			f.tri[u].region = region
		}
	}
}

// regionOf judges by the largest triangle of a part that no fixed edge divides.
func (f *filler) regionOf(part []int32) int32 {
	best, most := part[0], int64(0)
	for _, t := range part {
		c := &f.tri[t].corner
		if c[0] < about || c[1] < about || c[2] < about {
			return -1
		}
		if a := side(f.nodes[c[0]], f.nodes[c[1]], f.nodes[c[2]]); a > most {
			best, most = t, a
		}
	}
	middle := f.middle(best)
	for i := len(f.spec.Polygons) - 1; i >= 0; i-- {
		p := &f.spec.Polygons[i]
		if f.holds(p, middle) {
			if p.Hole {
				return -1
			}
			return int32(i)
		}
	}
	return -1
}

func (f *filler) middle(t int32) Point {
	c := &f.tri[t].corner
	a, b, d := f.place[c[0]], f.place[c[1]], f.place[c[2]]
	return Point{(a[0] + b[0] + d[0]) / 3, (a[1] + b[1] + d[1]) / 3}
}

// holds reports whether the point lies in the polygon.
func (f *filler) holds(p *Polygon, q Point) bool {
	in := false
	for i, n := range p.Nodes {
		a, b := f.spec.Nodes[n], f.spec.Nodes[p.Nodes[(i+1)%len(p.Nodes)]]
		if (a[1] > q[1]) != (b[1] > q[1]) && q[0] < a[0]+(q[1]-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
			in = !in
		}
	}
	return in
}

// rows adds the nodes beside edges, on the sides that are to be filled.
func (f *filler) rows() {
	for _, r := range f.spec.Rows {
		for _, e := range [][2]int32{{r[0], r[1]}, {r[1], r[0]}} {
			t, _ := f.edge(e[0]+about, e[1]+about)
			if t < 0 || f.tri[t].region < 0 {
				continue
			}
			a, b := f.spec.Nodes[e[0]], f.spec.Nodes[e[1]]
			p := Point{(a[0] + b[0] - (b[1] - a[1])) / 2, (a[1] + b[1] + (b[0] - a[0])) / 2}
			f.add(t, p, rowShare*distance(a, b))
		}
	}
	f.rowed = len(f.nodes)
}

// rowShare is how near to another node one of a row may be, against the edge's length.
const rowShare = 0.45

// rowQuality is that of the worst triangle about a node of a row from which on it stays; a
// right-angled one with equal legs has 0.87.
const rowQuality = 0.7

// How large and how flat a triangle may be before a node is added: its circumcircle
// against that of an equilateral one of the wanted size, and against its shortest edge.
const (
	tooLarge = 1.15
	tooFlat  = 1.25
	rounds   = 40
)

// refine adds nodes in the middles of circumcircles of triangles that are too large or
// too flat, the worst first, round by round.
func (f *filler) refine() {
	type candidate struct {
		t      int32
		corner [3]int32
		by     float64
	}
	for range rounds {
		var list []candidate
		for t := range f.tri {
			if f.tri[t].region >= 0 {
				if by := f.excess(int32(t)); by > 1 {
					list = append(list, candidate{int32(t), f.tri[t].corner, by})
				}
			}
		}
		slices.SortStableFunc(list, func(a, b candidate) int { return cmp.Compare(b.by, a.by) })
		added := 0
		for _, c := range list {
			if f.tri[c.t].corner == c.corner && f.improve(c.t) {
				added++
			}
		}
		if added == 0 {
			return
		}
	}
}

// circle is the circumcircle of a triangle.
func (f *filler) circle(t int32) (middle Point, radius float64) {
	c := &f.tri[t].corner
	a, b, d := f.place[c[0]], f.place[c[1]], f.place[c[2]]
	bx, by, dx, dy := b[0]-a[0], b[1]-a[1], d[0]-a[0], d[1]-a[1]
	area := 2 * (bx*dy - by*dx)
	bb, dd := bx*bx+by*by, dx*dx+dy*dy
	x, y := (dy*bb-by*dd)/area, (bx*dd-dx*bb)/area
	return Point{a[0] + x, a[1] + y}, math.Hypot(x, y)
}

// excess is by how much the triangle is too large or too flat; above 1 it is.
func (f *filler) excess(t int32) float64 {
	_, r := f.circle(t)
	large := r * math.Sqrt(3) / f.spec.Size(f.middle(t)) / tooLarge
	c := &f.tri[t].corner
	short := math.Inf(1)
	for i := range 3 {
		j, _ := at(i)
		short = math.Min(short, distance(f.place[c[i]], f.place[c[j]]))
	}
	return math.Max(large, r/short/tooFlat)
}

func distance(a, b Point) float64 { return math.Hypot(b[0]-a[0], b[1]-a[1]) }

// improve adds a node that mends the triangle, if there is a place for one.
func (f *filler) improve(t int32) bool {
	p, r := f.circle(t)
	if f.add(t, p, math.Min(r, f.spec.Size(p))*0.6) {
		return true
	}
	p = f.middle(t)
	return f.add(t, p, f.spec.Size(p)*0.55)
}

// add takes a node in that is not nearer than clear to another, nor stands in the circle
// about an edge that is fixed.
func (f *filler) add(t int32, p Point, clear float64) bool {
	n := f.snap(p)
	q := f.unsnap(n)
	if !(n.x > 0 && n.y > 0 && n.x < grid && n.y < grid) {
		return false
	}
	region := f.tri[t].region
	f.last = t
	u, edge := f.where(n)
	if u < 0 || f.tri[u].region != region || edge >= 0 && f.tri[u].fixed[edge] {
		return false
	}
	for _, c := range f.tri[u].corner {
		if distance(f.place[c], q) < clear {
			return false
		}
	}
	for i := range f.rims {
		a, b := f.rims[i][0], f.rims[i][1]
		if distance(q, Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}) < rimShare*distance(a, b) {
			return false
		}
	}
	if v := f.insert(n); int(v) != len(f.place) {
		return false
	}
	f.place = append(f.place, q)
	return true
}

// rimShare is the radius of the circle about the middle of a fixed edge, against its
// length, in which no node is added: half of it would be Ruppert's.
const rimShare = 0.45

// smoothings is how often every free node is moved.
const smoothings = 6

// smooth moves free nodes towards the middle of their neighbours where that makes the
// worst triangle about them better.
func (f *filler) smooth() {
	for range smoothings {
		for v := f.given; v < len(f.nodes); v++ {
			f.move(int32(v))
		}
		for t := range f.tri {
			if f.tri[t].region >= 0 {
				f.stack = append(f.stack, int32(t))
			}
		}
		f.settle()
	}
}

// shorten halves edges that are too long, until none is.
func (f *filler) shorten() {
	for done := f.spec.Longest == 0; !done; {
		done = true
		for t := 0; t < len(f.tri); t++ {
			for i := range 3 {
				c := &f.tri[t]
				j, k := at(i)
				a, b := f.place[c.corner[j]], f.place[c.corner[k]]
				if c.region < 0 || c.fixed[i] || distance(a, b) <= f.spec.Longest {
					continue
				}
				n := f.snap(Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2})
				f.last = int32(t)
				if v := f.insert(n); int(v) == len(f.place) {
					f.place = append(f.place, f.unsnap(n))
					done = false
				}
			}
		}
	}
}

// ring lists the triangles about an inner node.
func (f *filler) ring(v int32, into []int32) []int32 {
	t := f.of[v]
	for {
		into = append(into, t)
		j, _ := at(f.cornerOf(t, v))
		if t = f.tri[t].next[j]; t == f.of[v] {
			return into
		}
	}
}

func (f *filler) move(v int32) {
	var buffer [16]int32
	ring := f.ring(v, buffer[:0])
	sum, weight := Point{}, 0.0
	for _, t := range ring {
		j, _ := at(f.cornerOf(t, v))
		p := f.place[f.tri[t].corner[j]]
		// A far neighbour pulls more, so that sizes even out.
		w := distance(p, f.place[v])
		sum[0], sum[1], weight = sum[0]+w*p[0], sum[1]+w*p[1], weight+w
	}
	old, was, worst := f.place[v], f.nodes[v], f.worst(ring)
	if int(v) < f.rowed && worst > rowQuality {
		return
	}
	for _, share := range []float64{1, 0.5} {
		q := Point{old[0] + share*(sum[0]/weight-old[0]), old[1] + share*(sum[1]/weight-old[1])}
		f.nodes[v] = f.snap(q)
		f.place[v] = f.unsnap(f.nodes[v])
		if f.worst(ring) > worst {
			return
		}
	}
	f.place[v], f.nodes[v] = old, was
}

// worst is the quality of the worst triangle: 1 for an equilateral one, 0 or less for one
// without area or turned over.
func (f *filler) worst(list []int32) float64 {
	least := 1.0
	for _, t := range list {
		c := &f.tri[t].corner
		if side(f.nodes[c[0]], f.nodes[c[1]], f.nodes[c[2]]) <= 0 {
			return -1
		}
		a, b, d := f.place[c[0]], f.place[c[1]], f.place[c[2]]
		bx, by, dx, dy := b[0]-a[0], b[1]-a[1], d[0]-a[0], d[1]-a[1]
		squares := bx*bx + by*by + dx*dx + dy*dy + (bx-dx)*(bx-dx) + (by-dy)*(by-dy)
		least = math.Min(least, 2*math.Sqrt(3)*(bx*dy-by*dx)/squares)
	}
	return least
}

func (f *filler) result() *Filled {
	out := &Filled{Nodes: f.place[about:]}
	for t := range f.tri {
		if c := &f.tri[t]; c.region >= 0 {
			out.Triangles = append(out.Triangles, [3]int32{c.corner[0] - about, c.corner[1] - about, c.corner[2] - about})
			out.Region = append(out.Region, c.region)
		}
	}
	return out
}
