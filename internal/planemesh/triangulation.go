package planemesh

import "errors"

// Errors of polygons that cannot be filled.
var (
	ErrCrossing = errors.New("two edges of the polygons cross")
	ErrTiny     = errors.New("two nodes of the polygons lie in one place")
	errLost     = errors.New("an edge of the polygons cannot be reached")
)

// grid is the number of steps along the longer side of the outline.
const grid = 1 << 26

// node is a place on the grid.
type node struct{ x, y int64 }

// triangle has its corners counter-clockwise; next[i] lies across the edge opposite
// corner i, −1 where there is none, and fixed[i] says that this edge must stay.
type triangle struct {
	corner [3]int32
	next   [3]int32
	fixed  [3]bool
	region int32
}

// triangulation is a Delaunay triangulation but for its fixed edges. Its first three
// nodes are those of a triangle about everything.
type triangulation struct {
	nodes []node
	tri   []triangle
	of    []int32 // a triangle of each node
	last  int32   // where the last search ended
	stack []int32 // triangles whose edges are to be looked at
}

// about is the number of nodes of the triangle about everything.
const about = 3

func newTriangulation() *triangulation {
	return &triangulation{
		nodes: []node{{-1 << 28, -1 << 27}, {1 << 29, -1 << 27}, {1 << 25, 1 << 29}},
		tri:   []triangle{{corner: [3]int32{0, 1, 2}, next: [3]int32{-1, -1, -1}, region: -1}},
		of:    []int32{0, 0, 0},
	}
}

// side is twice the area of a, b, c: positive where c lies left of the way from a to b.
// It is exact: differences stay below 2^30.
func side(a, b, c node) int64 {
	return (b.x-a.x)*(c.y-a.y) - (b.y-a.y)*(c.x-a.x)
}

// within reports whether d lies in the circle through a, b and c by more than rounding.
func within(a, b, c, d node) bool {
	ax, ay := float64(a.x-d.x), float64(a.y-d.y)
	bx, by := float64(b.x-d.x), float64(b.y-d.y)
	cx, cy := float64(c.x-d.x), float64(c.y-d.y)
	aa, bb, cc := ax*ax+ay*ay, bx*bx+by*by, cx*cx+cy*cy
	u, v, w := bx*cy-by*cx, cx*ay-cy*ax, ax*by-ay*bx
	det := aa*u + bb*v + cc*w
	const share = 1e-11 // far over the rounding of the products, far under what matters
	return det > share*(aa*abs(u)+bb*abs(v)+cc*abs(w))
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}

func at(i int) (after, before int) { return (i + 1) % 3, (i + 2) % 3 }

// where returns the triangle that holds p, and the edge that p lies on or −1. It walks
// from the triangle where the last search ended.
func (m *triangulation) where(p node) (t int32, edge int) {
	t = m.last
	for range 4*len(m.tri) + 16 {
		on, moved := -1, false
		c := &m.tri[t]
		for i := range 3 {
			j, k := at(i)
			s := side(m.nodes[c.corner[j]], m.nodes[c.corner[k]], p)
			if s < 0 && c.next[i] >= 0 {
				t, moved = c.next[i], true
				break
			}
			if s == 0 {
				on = i
			}
		}
		if !moved {
			m.last = t
			return t, on
		}
	}
	for t := range m.tri { // a walk among fixed edges may go round in a ring
		on, inside := -1, true
		c := &m.tri[t]
		for i := range 3 {
			j, k := at(i)
			switch s := side(m.nodes[c.corner[j]], m.nodes[c.corner[k]], p); {
			case s < 0:
				inside = false
			case s == 0:
				on = i
			}
		}
		if inside {
			m.last = int32(t)
			return int32(t), on
		}
	}
	return -1, -1
}

// insert takes a node in and returns its number; one that is there already keeps its
// own. It refuses, with −1, to divide a fixed edge.
func (m *triangulation) insert(p node) int32 {
	t, edge := m.where(p)
	if t < 0 {
		return -1
	}
	for _, c := range m.tri[t].corner {
		if m.nodes[c] == p {
			return c
		}
	}
	if edge >= 0 && m.tri[t].fixed[edge] {
		return -1
	}
	v := int32(len(m.nodes))
	m.nodes, m.of = append(m.nodes, p), append(m.of, t)
	if edge >= 0 && m.tri[t].next[edge] >= 0 {
		m.onEdge(t, edge, v)
	} else {
		m.inside(t, v)
	}
	m.settle()
	return v
}

// inside divides a triangle into three.
func (m *triangulation) inside(t, v int32) {
	old := m.tri[t]
	a, b := int32(len(m.tri)), int32(len(m.tri)+1)
	m.tri = append(m.tri, triangle{}, triangle{})
	m.tri[t] = triangle{corner: [3]int32{v, old.corner[1], old.corner[2]}, next: [3]int32{old.next[0], a, b}, fixed: [3]bool{old.fixed[0]}, region: old.region}
	m.tri[a] = triangle{corner: [3]int32{v, old.corner[2], old.corner[0]}, next: [3]int32{old.next[1], b, t}, fixed: [3]bool{old.fixed[1]}, region: old.region}
	m.tri[b] = triangle{corner: [3]int32{v, old.corner[0], old.corner[1]}, next: [3]int32{old.next[2], t, a}, fixed: [3]bool{old.fixed[2]}, region: old.region}
	m.relink(a, t)
	m.relink(b, t)
	m.own(t, a, b)
	m.stack = append(m.stack, t, a, b)
}

// relink tells the neighbour across edge 0 of t, which used to be a part of old.
func (m *triangulation) relink(t, old int32) {
	u := m.tri[t].next[0]
	if u < 0 {
		return
	}
	j := m.across(u, m.tri[t].corner[1], m.tri[t].corner[2])
	m.tri[u].next[j] = t
}

// across is the edge of u between the nodes a and b.
func (m *triangulation) across(u, a, b int32) int {
	c := &m.tri[u].corner
	for j := range 3 {
		k, l := at(j)
		if c[k] == b && c[l] == a || c[k] == a && c[l] == b {
			return j
		}
	}
	panic("planemesh: neighbours share no edge")
}

// own notes the triangles for their nodes.
func (m *triangulation) own(list ...int32) {
	for _, t := range list {
		for _, c := range m.tri[t].corner {
			m.of[c] = t
		}
	}
}

// onEdge divides the two triangles at an edge into four.
func (m *triangulation) onEdge(t int32, edge int, v int32) {
	one := m.turned(t, edge)
	u := one.next[0]
	two := m.turned(u, m.across(u, one.corner[1], one.corner[2]))
	a, b := int32(len(m.tri)), int32(len(m.tri)+1)
	m.tri = append(m.tri, triangle{}, triangle{})
	// one is (p, q, r), two is (s, r, q); v lies between q and r.
	p, q, r, s := one.corner[0], one.corner[1], one.corner[2], two.corner[0]
	m.tri[t] = triangle{corner: [3]int32{v, p, q}, next: [3]int32{one.next[2], b, a}, fixed: [3]bool{one.fixed[2]}, region: one.region}
	m.tri[a] = triangle{corner: [3]int32{v, r, p}, next: [3]int32{one.next[1], t, u}, fixed: [3]bool{one.fixed[1]}, region: one.region}
	m.tri[u] = triangle{corner: [3]int32{v, s, r}, next: [3]int32{two.next[2], a, b}, fixed: [3]bool{two.fixed[2]}, region: two.region}
	m.tri[b] = triangle{corner: [3]int32{v, q, s}, next: [3]int32{two.next[1], u, t}, fixed: [3]bool{two.fixed[1]}, region: two.region}
	for _, x := range []int32{t, a, u, b} {
		m.relink(x, x)
	}
	m.own(t, a, u, b)
	m.stack = append(m.stack, t, a, u, b)
}

// turned is the triangle with corner i first.
func (m *triangulation) turned(t int32, i int) triangle {
	c := &m.tri[t]
	j, k := at(i)
	return triangle{
		corner: [3]int32{c.corner[i], c.corner[j], c.corner[k]}, next: [3]int32{c.next[i], c.next[j], c.next[k]},
		fixed: [3]bool{c.fixed[i], c.fixed[j], c.fixed[k]}, region: c.region,
	}
}

// settle flips edges until those about the triangles on the stack are Delaunay.
func (m *triangulation) settle() {
	for len(m.stack) > 0 {
		t := m.stack[len(m.stack)-1]
		m.stack = m.stack[:len(m.stack)-1]
		for i := range 3 {
			if m.bad(t, i) {
				u := m.tri[t].next[i]
				m.flip(t, i)
				m.stack = append(m.stack, t, u)
				break
			}
		}
	}
}

// bad reports whether an edge may and should be flipped.
func (m *triangulation) bad(t int32, i int) bool {
	c := &m.tri[t]
	u := c.next[i]
	if u < 0 || c.fixed[i] || m.tri[u].region != c.region {
		return false
	}
	j, k := at(i)
	far := m.tri[u].corner[m.across(u, c.corner[j], c.corner[k])]
	a, b, d, e := m.nodes[c.corner[i]], m.nodes[c.corner[j]], m.nodes[c.corner[k]], m.nodes[far]
	return within(a, b, d, e) && side(a, b, e) > 0 && side(a, e, d) > 0
}

// flip turns the edge opposite corner i of t, whose two triangles form a convex
// quadrilateral.
func (m *triangulation) flip(t int32, i int) {
	one := m.turned(t, i)
	u := one.next[0]
	two := m.turned(u, m.across(u, one.corner[1], one.corner[2]))
	// one is (a, b, c), two is (d, c, b).
	a, b, c, d := one.corner[0], one.corner[1], one.corner[2], two.corner[0]
	m.tri[t] = triangle{corner: [3]int32{a, b, d}, next: [3]int32{two.next[1], u, one.next[2]}, fixed: [3]bool{two.fixed[1], false, one.fixed[2]}, region: one.region}
	m.tri[u] = triangle{corner: [3]int32{a, d, c}, next: [3]int32{two.next[2], one.next[1], t}, fixed: [3]bool{two.fixed[2], one.fixed[1], false}, region: two.region}
	m.relink(t, u)
	if x := m.tri[u].next[1]; x >= 0 {
		m.tri[x].next[m.across(x, a, c)] = u
	}
	m.own(t, u)
}

// edge returns the triangle and edge from node a to node b; −1: there is none.
func (m *triangulation) edge(a, b int32) (int32, int) {
	if a < about && b >= about { // the triangles about it are no closed ring
		t, i := m.edge(b, a)
		if t < 0 || m.tri[t].next[i] < 0 {
			return -1, -1
		}
		u := m.tri[t].next[i]
		return u, m.across(u, a, b)
	}
	t := m.of[a]
	for range len(m.tri) + 1 {
		i := m.cornerOf(t, a)
		j, k := at(i)
		if m.tri[t].corner[j] == b {
			return t, k
		}
		if t = m.tri[t].next[j]; t < 0 || t == m.of[a] {
			break
		}
	}
	return -1, -1
}

func (m *triangulation) cornerOf(t, a int32) int {
	for i, c := range m.tri[t].corner {
		if c == a {
			return i
		}
	}
	panic("planemesh: a node that is not the triangle's")
}

// fix makes the edge from a to b stay, and makes it where it is not there.
func (m *triangulation) fix(a, b int32) error {
	if a == b {
		return nil
	}
	if t, i := m.edge(a, b); t >= 0 {
		m.mark(t, i)
		return nil
	}
	crossed, through, err := m.crossed(a, b)
	if err != nil {
		return err
	}
	if through >= 0 {
		if err := m.fix(a, through); err != nil {
			return err
		}
		return m.fix(through, b)
	}
	p, q := m.nodes[a], m.nodes[b]
	for tries := 0; len(crossed) > 0; tries++ {
		if tries > 1000+len(m.tri)*10 {
			return errLost
		}
		e := crossed[0]
		crossed = crossed[1:]
		t, i := m.edge(e[0], e[1])
		one := m.turned(t, i)
		if one.fixed[0] {
			return ErrCrossing
		}
		u := one.next[0]
		d := m.tri[u].corner[m.across(u, one.corner[1], one.corner[2])]
		na, nb, nc, nd := m.nodes[one.corner[0]], m.nodes[one.corner[1]], m.nodes[one.corner[2]], m.nodes[d]
		if side(na, nb, nd) <= 0 || side(na, nd, nc) <= 0 {
			crossed = append(crossed, e)
			continue
		}
		m.flip(t, i)
		if one.corner[0] == a || one.corner[0] == b || d == a || d == b {
			continue
		}
		if sa, sd := side(p, q, na), side(p, q, nd); sa > 0 && sd < 0 || sa < 0 && sd > 0 {
			crossed = append(crossed, [2]int32{one.corner[0], d})
		}
	}
	t, i := m.edge(a, b)
	if t < 0 {
		return errLost
	}
	m.mark(t, i)
	return nil
}

// mark fixes an edge on both sides.
func (m *triangulation) mark(t int32, i int) {
	m.tri[t].fixed[i] = true
	if u := m.tri[t].next[i]; u >= 0 {
		j, k := at(i)
		m.tri[u].fixed[m.across(u, m.tri[t].corner[j], m.tri[t].corner[k])] = true
	}
}

// crossed lists the edges between a and b, or the first node on the way.
func (m *triangulation) crossed(a, b int32) (out [][2]int32, through int32, err error) {
	p, q := m.nodes[a], m.nodes[b]
	t := m.of[a]
	i := -1
	for range len(m.tri) + 1 { // which triangle at a does the way leave by
		i = m.cornerOf(t, a)
		j, k := at(i)
		sj, sk := side(p, q, m.nodes[m.tri[t].corner[j]]), side(p, q, m.nodes[m.tri[t].corner[k]])
		if sj == 0 && ahead(p, q, m.nodes[m.tri[t].corner[j]]) {
			return nil, m.tri[t].corner[j], nil
		}
		if sj < 0 && sk > 0 {
			break
		}
		if t = m.tri[t].next[j]; t < 0 || t == m.of[a] {
			return nil, -1, errLost
		}
	}
	for range len(m.tri) + 1 {
		j, k := at(i)
		low, high := m.tri[t].corner[j], m.tri[t].corner[k]
		out = append(out, [2]int32{low, high})
		u := m.tri[t].next[i]
		if u < 0 {
			return nil, -1, errLost
		}
		l := m.across(u, low, high)
		far := m.tri[u].corner[l]
		if far == b {
			return out, -1, nil
		}
		s := side(p, q, m.nodes[far])
		if s == 0 {
			return nil, far, nil
		}
		t = u
		if s > 0 { // the way leaves between low and far
			i = m.across(u, low, far)
		} else {
			i = m.across(u, far, high)
		}
	}
	return nil, -1, errLost
}

// ahead reports whether c, on the line through a and b, lies from a towards b.
func ahead(a, b, c node) bool { return (b.x-a.x)*(c.x-a.x)+(b.y-a.y)*(c.y-a.y) > 0 }
