package surface

import (
	"context"
	"math"

	"gapline/cabinet/layout"
	"gapline/internal/parallel"
	"gapline/internal/planemesh"
	"gapline/internal/trimesh"
)

// mesh fills all faces. Nodes on edges are shared by the faces that meet there.
func (b *builder) mesh(ctx context.Context) error {
	n := b.weave()
	for _, s := range n.order {
		n.divide(s)
	}
	filled := make([]*planemesh.Filled, len(b.faces))
	errs := make([]error, len(b.faces))
	nodes := make([][]corner, len(b.faces))
	err := parallel.Each(ctx, 0, len(b.faces), func(int) func(int) {
		return func(f int) { filled[f], nodes[f], errs[f] = n.fill(f) }
	})
	if err != nil {
		return err
	}
	s := b.out
	used := make([]int32, len(n.at))
	for i := range used {
		used[i] = -1
	}
	for f, r := range filled {
		if errs[f] != nil {
			b.fault(Fault{Of: Unfilled, Band: layout.Enclosure, Part: b.out.About[b.faces[f].polygons[0].group].Part, Err: errs[f]})
			continue
		}
		frame := n.frame(f)
		numbers := make([]int32, len(r.Nodes))
		for i, p := range r.Nodes {
			if i >= len(nodes[f]) {
				numbers[i] = b.vertex(frame.back(p))
				continue
			}
			c := nodes[f][i]
			if used[c] < 0 {
				used[c] = b.vertex(n.at[c])
			}
			numbers[i] = used[c]
		}
		for t, c := range r.Triangles {
			s.Triangles = append(s.Triangles, [3]int32{numbers[c[0]], numbers[c[1]], numbers[c[2]]})
			s.Group = append(s.Group, b.faces[f].polygons[r.Region[t]].group)
		}
	}
	return nil
}

func (b *builder) vertex(v layout.Vec) int32 {
	b.out.Vertices = append(b.out.Vertices, trimesh.Vec{v.X, v.Y, v.Z})
	return int32(len(b.out.Vertices) - 1)
}

// frame is that of a face in its plane.
type frame struct{ at, right, up layout.Vec }

// frame has its first axis along the face's first edge, so that a rectangle stands upright
// in it.
func (n *net) frame(f int) frame {
	at := n.faces[f].polygons[0].at
	k, long := 0, 0.0
	for i := range at {
		if l := at[(i+1)%len(at)].Sub(at[i]).Norm(); l > long*(1+1e-9) {
			k, long = i, l
		}
	}
	right := unit(at[(k+1)%len(at)].Sub(at[k]))
	return frame{at[k], right, n.normal[f].Cross(right)}
}

func (f *frame) of(v layout.Vec) planemesh.Point {
	d := v.Sub(f.at)
	return planemesh.Point{d.Dot(f.right), d.Dot(f.up)}
}

func (f *frame) back(p planemesh.Point) layout.Vec {
	return f.at.Add(f.right.Scale(p[0])).Add(f.up.Scale(p[1]))
}

// fill fills one face; nodes are those on its edges.
func (n *net) fill(f int) (*planemesh.Filled, []corner, error) {
	frame := n.frame(f)
	var spec planemesh.Spec
	var nodes []corner
	number := map[corner]int32{}
	add := func(into []int32, c corner) []int32 {
		i, ok := number[c]
		if !ok {
			i = int32(len(nodes))
			number[c] = i
			nodes = append(nodes, c)
			spec.Nodes = append(spec.Nodes, frame.of(n.at[c]))
		}
		return append(into, i)
	}
	for i, loop := range n.loops[f] {
		p := planemesh.Polygon{Hole: n.faces[f].polygons[i].hole}
		for k, c := range loop {
			p.Nodes = add(p.Nodes, c)
			d := loop[(k+1)%len(loop)]
			e := n.edges[between(c, d)]
			inside, first := e.inside, len(p.Nodes)-1
			for j := range inside {
				if c < d {
					p.Nodes = add(p.Nodes, inside[j])
				} else {
					p.Nodes = add(p.Nodes, inside[len(inside)-1-j])
				}
			}
			if e.sharp {
				for j := first; j < len(p.Nodes)-1; j++ {
					spec.Rows = append(spec.Rows, [2]int32{p.Nodes[j], p.Nodes[j+1]})
				}
				last := add(nil, d)[0]
				spec.Rows = append(spec.Rows, [2]int32{p.Nodes[len(p.Nodes)-1], last})
			}
		}
		spec.Polygons = append(spec.Polygons, p)
	}
	spec.Size = func(p planemesh.Point) float64 { return n.wanted(int32(f), frame.back(p)) }
	spec.Longest = n.longest
	r, err := planemesh.Fill(&spec)
	return r, nodes, err
}

// weigh gives groups their factors, and triangles of a horn's exit the lag of the front.
func (b *builder) weigh() {
	s := b.out
	meshed := make([]float64, len(s.About))
	s.Lag = make([][points]float64, len(s.Triangles))
	whole := s.Unfold()
	for t, g := range whole.Group {
		meshed[g] += whole.Area(t)
	}
	for g := range s.About {
		a := &s.About[g]
		switch {
		case a.Moves() && meshed[g] > 0:
			a.Factor = a.Area / meshed[g]
		case a.Moves():
			b.fault(Fault{Of: Covered, Band: a.Band, Part: a.Part})
		}
	}
	for t, g := range s.Group {
		if a := &s.About[g]; a.Kind == Exit {
			s.Lag[t] = b.lag(t, a)
		}
	}
}

// lag is by how much the front of the horn lags at the points of a triangle, m: as in
// package source it is curved in the vertical plane as the path bends it and in the
// horizontal plane about the apex of the coverage.
func (b *builder) lag(t int, g *Group) (out [points]float64) {
	box, part := &b.out.Boxes[g.Box], &b.l.Parts[g.Part]
	angle, width := b.design.Horn.ExitCoverage(), part.Width
	if part.Kind == layout.Flare {
		angle, width = b.design.Horn.Coverage.Value(), part.RearWidth
	}
	level := 0.0
	if angle > 0 && angle < math.Pi {
		level = width / (2 * math.Tan(angle/2))
	}
	sin, cos := math.Sincos(box.Down)
	middle := box.Place(part.At)
	var at [3]layout.Vec
	for i, c := range b.out.Triangles[t] {
		v := b.out.Vertices[c]
		at[i] = layout.Vec{X: v[0], Y: v[1], Z: v[2]}.Sub(middle)
	}
	for i := range out {
		v := at[i%3]
		if i >= 3 {
			v = at[(i+1)%3].Add(at[(i+2)%3]).Scale(0.5)
		}
		out[i] = bulge(b.design.PathLength(), v.X*sin+v.Z*cos) + bulge(level, v.Y)
	}
	return out
}

// bulge is √(ℓ² + t²) − ℓ without cancellation; 0 for a front that is flat or not known.
func bulge(apex, t float64) float64 {
	if !(apex > 0) || math.IsInf(apex, 1) {
		return 0
	}
	return t * t / (math.Hypot(apex, t) + apex)
}
