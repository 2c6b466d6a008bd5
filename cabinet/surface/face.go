package surface

import (
	"math"

	"gapline/cabinet/layout"
)

// polygon is a convex region of a plane.
type polygon struct {
	at    []layout.Vec
	group int32
	hole  bool
}

// face is a flat part of the surface: its outline and then what lies in it, each after
// those that it lies in. Polygons run counter-clockwise as seen from the air.
type face struct {
	polygons []polygon
	most     float64 // length of an edge, m; 0: whatever the wavelength allows
}

// near is how near in m two places count as one: more than layout.Touch, by which parts may
// reach into each other.
const near = 5e-6

// normal is twice the area of the polygon along its normal (M. E. Newell).
func normal(at []layout.Vec) layout.Vec {
	var n layout.Vec
	for i, a := range at {
		n = n.Add(a.Cross(at[(i+1)%len(at)]))
	}
	return n
}

// unit is the vector at length 1.
func unit(v layout.Vec) layout.Vec { return v.Scale(1 / v.Norm()) }

// reversed is the polygon as seen from the other side.
func reversed(at []layout.Vec) []layout.Vec {
	out := make([]layout.Vec, len(at))
	for i, p := range at {
		out[len(at)-1-i] = p
	}
	return out
}

// looking is the polygon in the order that makes it look along d.
func looking(d layout.Vec, at ...layout.Vec) []layout.Vec {
	if normal(at).Dot(d) < 0 {
		return reversed(at)
	}
	return at
}

// upright is a rectangle across the x axis that looks forward.
func upright(x float64, o layout.Outline) []layout.Vec {
	return []layout.Vec{{X: x, Y: o.Right, Z: o.Bottom}, {X: x, Y: o.Left, Z: o.Bottom}, {X: x, Y: o.Left, Z: o.Top}, {X: x, Y: o.Right, Z: o.Top}}
}

// outside is how far the polygon's farthest corner lies outside another of the same plane,
// m; negative: how far the nearest one is inside.
func outside(at, of []layout.Vec) float64 {
	n, far := unit(normal(of)), math.Inf(-1)
	for i, a := range of {
		out := of[(i+1)%len(of)].Sub(a).Cross(n)
		if l := out.Norm(); l > 1e-12 {
			for _, p := range at {
				far = math.Max(far, p.Sub(a).Dot(out)/l)
			}
		}
	}
	return far
}

// share reports whether two polygons of one plane share more than near.
func share(a, b []layout.Vec) bool { return !parted(a, b) && !parted(b, a) }

// parted reports whether an edge of a parts the two.
func parted(a, b []layout.Vec) bool {
	n := unit(normal(a))
	for i, p := range a {
		out := a[(i+1)%len(a)].Sub(p).Cross(n)
		l := out.Norm()
		if l < 1e-12 {
			continue
		}
		least := math.Inf(1)
		for _, q := range b {
			least = math.Min(least, q.Sub(p).Dot(out)/l)
		}
		if least > -near {
			return true
		}
	}
	return false
}

// add takes a face in and returns its number.
func (b *builder) add(group int32, at []layout.Vec) int {
	b.faces = append(b.faces, face{polygons: []polygon{{at: at, group: group}}})
	return len(b.faces) - 1
}

// cut puts a patch or a hole of a part into a face. It is a fault where that reaches beyond
// the face, or shares room with another one without lying in a patch.
func (b *builder) cut(f int, part int, p polygon) {
	face := &b.faces[f]
	band := layout.Enclosure
	if part >= 0 {
		band = b.l.Parts[part].Band
	}
	if by := outside(p.at, face.polygons[0].at); by > near {
		b.fault(Fault{Of: Leaves, Band: band, Part: part, Values: []float64{by}})
		return
	}
	for i := range face.polygons[1:] {
		q := &face.polygons[i+1]
		if share(q.at, p.at) && (q.hole || outside(p.at, q.at) > near && !b.inFront(part, q)) {
			other := -1
			if !q.hole {
				other = b.out.About[q.group].Part
			}
			b.fault(Fault{Of: Meet, Band: band, Part: part, Values: []float64{float64(other)}})
			return
		}
	}
	if !p.hole {
		for i := range face.polygons {
			draw(p.at, face.polygons[i].at)
		}
	}
	for i := range face.polygons[1:] {
		if q := &face.polygons[i+1]; !q.hole {
			draw(q.at, p.at)
		}
	}
	face.polygons = append(face.polygons, p)
}

// drawn is how near to an edge in m a patch's corner is moved onto it, so that no slivers
// stay between them: half a saw's tolerance. Factor makes up for it.
const drawn = 3e-4

// draw moves corners onto edges that are near.
func draw(at, to []layout.Vec) {
	for i, v := range at {
		best, least := v, drawn
		for k, a := range to {
			d := to[(k+1)%len(to)].Sub(a)
			t := math.Max(0, math.Min(1, v.Sub(a).Dot(d)/d.Dot(d)))
			if l := d.Norm(); t*l < drawn {
				t = 0
			} else if (1-t)*l < drawn {
				t = 1
			}
			q := a.Add(d.Scale(t))
			if by := q.Sub(v).Norm(); by < least {
				best, least = q, by
			}
		}
		at[i] = best
	}
}

// inFront reports whether a coaxial part stands in front of a patch, of which it then covers
// a share.
func (b *builder) inFront(part int, q *polygon) bool {
	p := &b.l.Parts[part]
	return p.Coaxial && b.out.About[q.group].Band < p.Band
}
