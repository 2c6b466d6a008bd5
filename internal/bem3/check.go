package bem3

import (
	"math"
	"slices"
)

const (
	// planeTolerance is how far a vertex may be from a mirror plane and still lie
	// on it, in sizes of the mesh.
	planeTolerance = 1e-9
	// flattest is the least height of a triangle, in longest sides.
	flattest = 1e-4
)

// edge is a pair of vertices, the lower one first.
type edge struct{ low, high int32 }

func edgeOf(a, b int32) edge { return edge{min(a, b), max(a, b)} }

// checkMesh refuses meshes whose triangles do not bound a solid.
func (p *Problem) checkMesh() error {
	m := p.Mesh
	size, err := p.extent()
	if err != nil {
		return err
	}
	for t, tri := range m.Triangles {
		for _, v := range tri {
			if v < 0 || int(v) >= len(m.Vertices) {
				return meshError("triangle %d has vertex %d of %d", t, v, len(m.Vertices))
			}
		}
		longest := 0.0
		for i := range 3 {
			longest = max(longest, norm(sub(m.Vertices[tri[i]], m.Vertices[tri[(i+1)%3]])))
		}
		if !(2*m.Area(t) > flattest*longest*longest) {
			return meshError("triangle %d at %.4g is degenerate: area %.3g m² with a side of %.3g m",
				t, m.Vertices[tri[0]], m.Area(t), longest)
		}
	}
	if err := p.checkSides(size); err != nil {
		return err
	}
	if err := p.checkEdges(size); err != nil {
		return err
	}
	return p.checkOrientation()
}

// extent returns the diagonal of the box about the mesh.
func (p *Problem) extent() (float64, error) {
	low := Vec{math.Inf(1), math.Inf(1), math.Inf(1)}
	high := scaled(low, -1)
	for i, v := range p.Mesh.Vertices {
		for a, x := range v {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				return 0, meshError("vertex %d is %v", i, v)
			}
			low[a], high[a] = min(low[a], x), max(high[a], x)
		}
	}
	return norm(sub(high, low)), nil
}

// checkSides refuses vertices on both sides of a mirror plane.
func (p *Problem) checkSides(size float64) error {
	for _, plane := range p.Mirrors {
		side := 0.0
		for _, tri := range p.Mesh.Triangles {
			on := 0
			for _, i := range tri {
				d := p.Mesh.Vertices[i][plane.Axis] - plane.At
				switch {
				case math.Abs(d) <= planeTolerance*size:
					on++
				case side*d < 0:
					return meshError("vertex %d at %.4g lies behind the mirror plane %c = %g m",
						i, p.Mesh.Vertices[i], "xyz"[plane.Axis], plane.At)
				default:
					side = d
				}
			}
			if on == 3 {
				return meshError("the triangle at %.4g lies in the mirror plane %c = %g m; leave it out",
					p.Mesh.Vertices[tri[0]], "xyz"[plane.Axis], plane.At)
			}
		}
	}
	return nil
}

// checkEdges demands that each edge is run through once in either direction, or
// lies on a mirror plane.
func (p *Problem) checkEdges(size float64) error {
	runs := map[edge][2]int{}
	for _, tri := range p.Mesh.Triangles {
		for i := range 3 {
			a, b := tri[i], tri[(i+1)%3]
			r := runs[edgeOf(a, b)]
			if a < b {
				r[0]++
			} else {
				r[1]++
			}
			runs[edgeOf(a, b)] = r
		}
	}
	for _, tri := range p.Mesh.Triangles { // in the order of the mesh, for one message
		for i := range 3 {
			e := edgeOf(tri[i], tri[(i+1)%3])
			a, b := p.Mesh.Vertices[e.low], p.Mesh.Vertices[e.high]
			switch r := runs[e]; {
			case r == [2]int{1, 1}:
			case r[0]+r[1] == 1 && p.onPlane(a, b, size):
			case r[0]+r[1] == 1:
				return meshError("it is open at the edge from %.4g to %.4g", a, b)
			case r[0]+r[1] == 2:
				return meshError("the two triangles at the edge from %.4g to %.4g are turned against each other", a, b)
			default:
				return meshError("%d triangles meet at the edge from %.4g to %.4g; two may", r[0]+r[1], a, b)
			}
		}
	}
	return nil
}

func (p *Problem) onPlane(a, b Vec, size float64) bool {
	for _, m := range p.Mirrors {
		if math.Abs(a[m.Axis]-m.At) <= planeTolerance*size && math.Abs(b[m.Axis]-m.At) <= planeTolerance*size {
			return true
		}
	}
	return false
}

// checkOrientation demands that the normals of every connected part point out of
// its solid. A part that stands on mirror planes is closed by them: seen from a
// point on all of them they add nothing to the volume.
func (p *Problem) checkOrientation() error {
	origin := p.Mesh.Vertices[p.Mesh.Triangles[0][0]]
	for _, m := range p.Mirrors {
		origin[m.Axis] = m.At
	}
	part := p.parts()
	volume := make([]float64, 1+slices.Max(part))
	first := make([]int, len(volume))
	for t := len(part) - 1; t >= 0; t-- {
		tri := p.Mesh.Triangles[t]
		a, b, c := sub(p.Mesh.Vertices[tri[0]], origin), sub(p.Mesh.Vertices[tri[1]], origin), sub(p.Mesh.Vertices[tri[2]], origin)
		volume[part[t]] += dot(a, cross(b, c)) / 6
		first[part[t]] = t
	}
	for i, v := range volume {
		if !(v > 0) {
			return meshError("the normals of the part with triangle %d at %.4g point into the solid", first[i], p.Mesh.Vertices[p.Mesh.Triangles[first[i]][0]])
		}
	}
	return nil
}

// parts numbers the connected parts, in the order of their first triangles, and
// returns that of each triangle.
func (p *Problem) parts() []int {
	parent := make([]int32, len(p.Mesh.Vertices))
	for i := range parent {
		parent[i] = int32(i)
	}
	root := func(v int32) int32 {
		for parent[v] != v {
			parent[v] = parent[parent[v]]
			v = parent[v]
		}
		return v
	}
	for _, tri := range p.Mesh.Triangles {
		parent[root(tri[1])] = root(tri[0])
		parent[root(tri[2])] = root(tri[0])
	}
	number := map[int32]int{}
	part := make([]int, len(p.Mesh.Triangles))
	for t, tri := range p.Mesh.Triangles {
		r := root(tri[0])
		if _, known := number[r]; !known {
			number[r] = len(number)
		}
		part[t] = number[r]
	}
	return part
}
