package surface

import (
	"fmt"
	"math"

	"gapline/cabinet/layout"
	"gapline/internal/trimesh"
)

// same is how near the corners of a mirror image have to lie, m.
const same = 1e-7

// mirrored is a place's image at the plane y = 0 or z = 0.
func mirrored(v layout.Vec, z bool) layout.Vec {
	if z {
		v.Z = 0 - v.Z
	} else {
		v.Y = 0 - v.Y
	}
	return v
}

// reflect finds the mirror planes, and the image of each group.
func (b *builder) reflect() {
	var images [2][]int32
	b.out.Planes.Y = b.images(false, &images[0])
	b.out.Planes.Z = !b.out.Floor && b.images(true, &images[1])
	for i, has := range []bool{b.out.Planes.Y, b.out.Planes.Z} {
		if has {
			for g := range b.out.About {
				b.out.About[g].Image[i] = images[i][g]
			}
		}
	}
}

// images finds for every polygon the one that is its mirror image; false where one is
// missing.
func (b *builder) images(z bool, of *[]int32) bool {
	type entry struct {
		p      *polygon
		middle layout.Vec
	}
	var all []entry
	for f := range b.faces {
		for i := range b.faces[f].polygons {
			p := &b.faces[f].polygons[i]
			var m layout.Vec
			for _, v := range p.at {
				m = m.Add(v.Scale(1 / float64(len(p.at))))
			}
			all = append(all, entry{p, m})
		}
	}
	*of = make([]int32, len(b.out.About))
	for i := range all {
		found := false
		for j := range all {
			if all[j].middle.Sub(mirrored(all[i].middle, z)).Norm() < same && b.image(all[i].p, all[j].p, z) {
				(*of)[all[i].p.group], found = all[j].p.group, true
				break
			}
		}
		if !found {
			return false
		}
	}
	return true
}

// image reports whether q is the mirror image of p, and moves like it.
func (b *builder) image(p, q *polygon, z bool) bool {
	g, h := &b.out.About[p.group], &b.out.About[q.group]
	if p.hole != q.hole || len(p.at) != len(q.at) || g.Kind != h.Kind || g.Band != h.Band || math.Abs(g.Area-h.Area) > near*near || b.strength(g) != b.strength(h) {
		return false
	}
	n := len(p.at)
	first := mirrored(p.at[0], z)
	for start := range n {
		if q.at[start].Sub(first).Norm() > same {
			continue
		}
		alike := true
		for i := range n { // the image runs the other way round
			alike = alike && q.at[(start+n-i)%n].Sub(mirrored(p.at[i], z)).Norm() < same
		}
		if alike {
			return true
		}
	}
	return false
}

// strength is how strongly the box of a group is driven.
func (b *builder) strength(g *Group) float64 {
	if g.Box < 0 || b.out.Boxes[g.Box].Box >= len(b.o.Strength) {
		return 1
	}
	return b.o.Strength[b.out.Boxes[g.Box].Box]
}

// clip leaves of every face what lies on the positive side of the mirror planes.
func (b *builder) clip() {
	for i, has := range []bool{b.out.Planes.Y, b.out.Planes.Z} {
		if !has {
			continue
		}
		var kept []face
		for _, f := range b.faces {
			var polygons []polygon
			for _, p := range f.polygons {
				if p.at = clipped(p.at, i == 1); p.at != nil {
					polygons = append(polygons, p)
				}
			}
			if len(polygons) > 0 {
				kept = append(kept, face{polygons, f.most})
			}
		}
		b.faces = kept
	}
}

// clipped is the part of a convex polygon on the positive side of a plane (I. E. Sutherland
// and G. W. Hodgman, Comm. ACM 17 (1974) 32); nil: it has none.
func clipped(at []layout.Vec, z bool) []layout.Vec {
	height := func(v layout.Vec) float64 {
		if z {
			return v.Z
		}
		return v.Y
	}
	on := func(v layout.Vec) layout.Vec {
		if z {
			v.Z = 0
		} else {
			v.Y = 0
		}
		return v
	}
	var out []layout.Vec
	inside := false
	for i, v := range at {
		w := at[(i+1)%len(at)]
		hv, hw := height(v), height(w)
		switch {
		case math.Abs(hv) <= near:
			out = append(out, on(v))
		case hv > 0:
			out = append(out, v)
			inside = true
		}
		if hv > near && hw < -near || hv < -near && hw > near {
			out = append(out, on(v.Add(w.Sub(v).Scale(hv/(hv-hw)))))
		}
	}
	if !inside {
		return nil
	}
	return out
}

// Unfold returns the whole surface of one that has mirror planes.
func (s *Surface) Unfold() *Surface {
	out := *s
	out.Mesh = trimesh.Mesh{Vertices: s.Vertices, Triangles: s.Triangles, Group: s.Group, Groups: s.Groups}
	for i, has := range []bool{s.Planes.Y, s.Planes.Z} {
		if has {
			out.unfold(i)
		}
	}
	out.Planes = Planes{}
	return &out
}

// Reflected returns the surface with its image in the plane z = 0, as a floor makes it.
func (s *Surface) Reflected() *Surface {
	out := *s
	out.unfold(1)
	return &out
}

// unfold adds the mirror image at a plane.
func (s *Surface) unfold(plane int) {
	axis := plane + 1
	n := len(s.Vertices)
	image := make([]int32, n)
	vertices := s.Vertices[:n:n]
	for i, v := range s.Vertices {
		if v[axis] == 0 {
			image[i] = int32(i)
			continue
		}
		image[i] = int32(len(vertices))
		v[axis] = -v[axis]
		vertices = append(vertices, v)
	}
	k := len(s.Triangles)
	triangles, group, lag := s.Triangles[:k:k], s.Group[:k:k], s.Lag[:k:k]
	for t, c := range s.Triangles {
		triangles = append(triangles, [3]int32{image[c[0]], image[c[2]], image[c[1]]})
		group = append(group, s.About[s.Group[t]].Image[plane])
		l := s.Lag[t]
		lag = append(lag, [points]float64{l[0], l[2], l[1], l[3], l[5], l[4]})
	}
	s.Vertices, s.Triangles, s.Group, s.Lag = vertices, triangles, group, lag
}

// Check returns an error unless the surface is closed but on its mirror planes and its floor, encloses its
// body with its normals outward and has no triangle without area.
func (s *Surface) Check() error {
	var open []int
	if s.Planes.Y {
		open = append(open, 1)
	}
	if s.Planes.Z || s.Stands {
		open = append(open, 2)
	}
	if err := s.Closed(open...); err != nil {
		return err
	}
	if !(s.Volume() > 0) {
		return fmt.Errorf("the surface encloses %g m³", s.Volume())
	}
	for t := range s.Triangles {
		if !(s.Area(t) > 0) {
			return fmt.Errorf("triangle %d of %s has no area", t, s.Groups[s.Group[t]])
		}
	}
	return nil
}

// Quality is what tells whether a solution on the surface can be good.
type Quality struct {
	Triangles int
	Least     float64 // angle, rad
	Longest   float64 // edge, m
}

// Quality measures the surface, without its images.
func (s *Surface) Quality() Quality {
	q := Quality{Triangles: len(s.Triangles), Least: math.Pi}
	for t := range s.Triangles {
		q.Least, q.Longest = math.Min(q.Least, s.LeastAngle(t)), math.Max(q.Longest, s.LongestEdge(t))
	}
	return q
}
