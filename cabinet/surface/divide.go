package surface

import (
	"math"

	"gapline/cabinet/layout"
)

// Lengths against the wanted one in the mean: of a piece of an edge of the body or of a rim,
// beside which triangles are half as high as wide; of edges next to those; and of those
// farthest away. Between them they grow as the cube root of the distance up to graded:
// x = a (j/n)^1.5 makes steps of 1.5 a^⅔ x^⅓ / n.
const (
	edgeShare = 0.95
	rimShare  = 0.75
	midShare  = 1.4
	graded    = 3.0 // wanted lengths
	softAngle = 25 * math.Pi / 180
)

// corner is an index of vertices.
type corner = int32

// segment is a straight piece of edges between two corners, the lower one first, that no
// other corner lies on.
type segment struct{ a, b corner }

func between(a, b corner) segment {
	if a > b {
		a, b = b, a
	}
	return segment{a, b}
}

// edge is what is known of a segment.
type edge struct {
	faces  [2]int32 // that it bounds; −1: none
	sharp  bool
	inside []corner // nodes between its corners, from a to b
}

// net is the corners and edges of all faces.
type net struct {
	*builder
	at     []layout.Vec // corners, then nodes
	cells  map[[3]int64][]corner
	loops  [][][]corner // of the polygons of each face, through all corners on them
	edges  map[segment]*edge
	normal []layout.Vec // of the faces
	rims   [][][2]layout.Vec
	order  []segment
}

// cell is the width of what corners are looked up by, m.
const cell = 8 * near

// find returns the corner at a place, a new one where there is none.
func (n *net) find(v layout.Vec) corner {
	k := [3]int64{int64(math.Floor(v.X / cell)), int64(math.Floor(v.Y / cell)), int64(math.Floor(v.Z / cell))}
	for x := k[0] - 1; x <= k[0]+1; x++ {
		for y := k[1] - 1; y <= k[1]+1; y++ {
			for z := k[2] - 1; z <= k[2]+1; z++ {
				for _, c := range n.cells[[3]int64{x, y, z}] {
					if n.at[c].Sub(v).Norm() < 2*near {
						return c
					}
				}
			}
		}
	}
	c := corner(len(n.at))
	n.at, n.cells[k] = append(n.at, v), append(n.cells[k], c)
	return c
}

// weave finds the corners and edges of all faces.
func (b *builder) weave() *net {
	n := &net{builder: b, cells: map[[3]int64][]corner{}, edges: map[segment]*edge{}}
	for _, f := range b.faces {
		var loops [][]corner
		for _, p := range f.polygons {
			var loop []corner
			for _, v := range p.at {
				c := n.find(v)
				if len(loop) == 0 || loop[len(loop)-1] != c && loop[0] != c {
					loop = append(loop, c)
				}
			}
			loops = append(loops, loop)
		}
		n.loops = append(n.loops, loops)
		n.normal = append(n.normal, unit(normal(f.polygons[0].at)))
	}
	n.cross()
	n.through()
	for f := range n.loops {
		for i, loop := range n.loops[f] {
			for k, c := range loop {
				n.join(between(c, loop[(k+1)%len(loop)]), int32(f), i > 0 && !b.faces[f].polygons[i].hole)
			}
		}
	}
	n.sharpen()
	return n
}

// cross makes corners where polygons of a face cross, as those of coaxial parts do.
func (n *net) cross() {
	for f := range n.faces {
		list := n.faces[f].polygons
		for i := 2; i < len(list); i++ {
			for j := 1; j < i; j++ {
				if !share(list[i].at, list[j].at) {
					continue
				}
				for k, a := range list[i].at {
					for l, c := range list[j].at {
						if v, ok := crossing(a, list[i].at[(k+1)%len(list[i].at)], c, list[j].at[(l+1)%len(list[j].at)], n.normal[f]); ok {
							n.find(v)
						}
					}
				}
			}
		}
	}
}

// crossing is where the ways from a to b and from c to d cross in a plane.
func crossing(a, b, c, d, normal layout.Vec) (layout.Vec, bool) {
	u, v, w := b.Sub(a), d.Sub(c), c.Sub(a)
	det := u.Cross(v).Dot(normal)
	if math.Abs(det) < 1e-12 {
		return layout.Vec{}, false
	}
	s, t := w.Cross(v).Dot(normal)/det, w.Cross(u).Dot(normal)/det
	return a.Add(u.Scale(s)), s >= 0 && s <= 1 && t >= 0 && t <= 1
}

// through puts corners that lie on an edge into it.
func (n *net) through() {
	for f := range n.loops {
		for i, loop := range n.loops[f] {
			var out []corner
			for k, a := range loop {
				out = append(out, a)
				out = n.on(out, a, loop[(k+1)%len(loop)])
			}
			n.loops[f][i] = out
		}
	}
}

// on adds the corners that lie between a and b, in their order.
func (n *net) on(out []corner, a, b corner) []corner {
	p := n.at[a]
	d := n.at[b].Sub(p)
	l := d.Norm()
	d = d.Scale(1 / l)
	start := len(out)
	var along []float64
	for c := range n.at {
		v := n.at[c].Sub(p)
		t := v.Dot(d)
		if t <= 2*near || t >= l-2*near || v.Sub(d.Scale(t)).Norm() > 2*near {
			continue
		}
		out, along = append(out, corner(c)), append(along, t)
		for k := len(along) - 1; k > 0 && along[k] < along[k-1]; k-- {
			along[k], along[k-1] = along[k-1], along[k]
			out[start+k], out[start+k-1] = out[start+k-1], out[start+k]
		}
	}
	return out
}

// join notes that a segment bounds a face, or what moves in it.
func (n *net) join(s segment, f int32, rim bool) {
	e := n.edges[s]
	if e == nil {
		e = &edge{faces: [2]int32{-1, -1}}
		n.edges[s] = e
		n.order = append(n.order, s)
	}
	switch {
	case rim:
		e.sharp = true
	case e.faces[0] < 0 || e.faces[0] == f:
		e.faces[0] = f
	default:
		e.faces[1] = f
	}
}

// sharpen finds the edges where faces meet at an angle, and lists for each face those that
// its sizes go by.
func (n *net) sharpen() {
	n.rims = make([][][2]layout.Vec, len(n.loops))
	for _, e := range n.edges {
		if e.faces[1] >= 0 && n.normal[e.faces[0]].Dot(n.normal[e.faces[1]]) < math.Cos(softAngle) {
			e.sharp = true
		}
	}
	for f := range n.loops {
		for _, loop := range n.loops[f] {
			for k, c := range loop {
				d := loop[(k+1)%len(loop)]
				if n.edges[between(c, d)].sharp {
					n.rims[f] = append(n.rims[f], [2]layout.Vec{n.at[c], n.at[d]})
				}
			}
		}
	}
}

// wanted is the wanted length of an edge at a place of a face, m.
func (n *net) wanted(f int32, v layout.Vec) float64 {
	least := math.Inf(1)
	for i := range n.rims[f] {
		r := &n.rims[f][i]
		least = math.Min(least, squareTo(v, r[0], r[1]))
	}
	share := math.Cbrt(math.Sqrt(least) / (graded * n.size))
	return math.Min(n.size*math.Max(rimShare, math.Min(midShare*share, midShare)), n.most(f))
}

// most is the greatest length of an edge of a face, m.
func (n *net) most(f int32) float64 {
	if m := n.faces[f].most; m > 0 {
		return math.Max(m, stripLeast*n.size)
	}
	return math.Inf(1)
}

// squareTo is the square of the distance of a place from a straight piece, m².
func squareTo(v, a, b layout.Vec) float64 {
	d, w := b.Sub(a), v.Sub(a)
	t := math.Max(0, math.Min(1, w.Dot(d)/d.Dot(d)))
	w = w.Sub(d.Scale(t))
	return w.Dot(w)
}

// samples of the wanted length along a segment.
const samples = 32

// divide puts nodes on a segment, as many as the wanted lengths ask for.
func (n *net) divide(s segment) {
	e := n.edges[s]
	a, d := n.at[s.a], n.at[s.b].Sub(n.at[s.a])
	length := d.Norm()
	var sum [samples + 1]float64
	for i := range samples {
		v := a.Add(d.Scale((float64(i) + 0.5) / samples))
		h := n.narrow(e, s, v)
		if e.sharp {
			h = math.Min(h, edgeShare*n.size)
		}
		for _, f := range e.faces {
			switch {
			case f < 0:
			case e.sharp:
				h = math.Min(h, n.most(f))
			default:
				h = math.Min(h, n.wanted(f, v))
			}
		}
		sum[i+1] = sum[i] + length/samples/h
	}
	pieces := max(1, int(math.Ceil(sum[samples]-1e-9)))
	k := 0
	for i := 1; i < pieces; i++ {
		want := sum[samples] * float64(i) / float64(pieces)
		for sum[k+1] < want {
			k++
		}
		t := (float64(k) + (want-sum[k])/(sum[k+1]-sum[k])) / samples
		e.inside = append(e.inside, corner(len(n.at)))
		n.at = append(n.at, a.Add(d.Scale(t)))
	}
}

// How long a piece of an edge may be against the width of a narrow strip beside it, and how
// short strips may make it, against the wanted length.
const (
	stripLength = 4
	stripLeast  = 0.35
)

// narrow is the length that a strip between an edge and another one beside it in the same
// face leaves, m.
func (n *net) narrow(e *edge, s segment, v layout.Vec) float64 {
	least := math.Inf(1)
	d := unit(n.at[s.b].Sub(n.at[s.a]))
	for _, f := range e.faces {
		if f < 0 {
			continue
		}
		for i := range n.rims[f] {
			r := &n.rims[f][i]
			// An edge that goes on from this one, or leaves it at a corner, is none beside it.
			if math.Abs(unit(r[1].Sub(r[0])).Dot(d)) < 0.7 || touches(r, n.at[s.a]) || touches(r, n.at[s.b]) {
				continue
			}
			if q := squareTo(v, r[0], r[1]); q > near {
				least = math.Min(least, q)
			}
		}
	}
	return math.Max(stripLength*math.Sqrt(least), stripLeast*n.size)
}

func touches(r *[2]layout.Vec, v layout.Vec) bool {
	return r[0].Sub(v).Norm() < near || r[1].Sub(v).Norm() < near
}
