package layout

import (
	"math"

	"gapline/cabinet/field"
)

// Vec is a position or direction in m.
type Vec = field.Vec

// Disc is a flat round face.
type Disc struct {
	Centre, Normal Vec // Normal is a unit vector
	Radius         float64
}

// Solid is the convex hull of points and discs.
type Solid struct {
	Points []Vec
	Discs  []Disc
}

// Touch is how far in m two bodies may reach into each other and still count as
// touching: far under any workshop's tolerance, far over rounding. Bodies are drawn in by
// half of it.
const Touch = 2e-6

const drawnIn = Touch / 2

// frustum is a round body along an axis from a face about at, of radius front, back by
// depth to a face of radius rear.
func frustum(at, axis Vec, depth, front, rear float64) Solid {
	return Solid{Discs: []Disc{
		{at.Sub(axis.Scale(drawnIn)), axis, front - drawnIn},
		{at.Sub(axis.Scale(depth - drawnIn)), axis, rear - drawnIn},
	}}
}

// face is an upright rectangle across the x axis about (x, y, z).
type face struct{ x, y, z, width, height float64 }

// corners are those of the face drawn in.
func (f face) corners() []Vec {
	w, h := f.width/2-drawnIn, f.height/2-drawnIn
	return []Vec{{X: f.x, Y: f.y - w, Z: f.z - h}, {X: f.x, Y: f.y - w, Z: f.z + h}, {X: f.x, Y: f.y + w, Z: f.z - h}, {X: f.x, Y: f.y + w, Z: f.z + h}}
}

// between is the body from a face back to another.
func between(front, rear face) Solid {
	front.x -= drawnIn
	rear.x += drawnIn
	return Solid{Points: append(front.corners(), rear.corners()...)}
}

// support is the point of the solid that lies farthest along d.
func (s *Solid) support(d Vec) Vec {
	best, far := math.Inf(-1), Vec{}
	for _, p := range s.Points {
		if v := p.Dot(d); v > best {
			best, far = v, p
		}
	}
	for i := range s.Discs {
		p := s.Discs[i].support(d)
		if v := p.Dot(d); v > best {
			best, far = v, p
		}
	}
	return far
}

// support is the point of the disc's rim that lies farthest along d.
func (c *Disc) support(d Vec) Vec {
	in := d.Sub(c.Normal.Scale(d.Dot(c.Normal)))
	n := in.Norm()
	if n < 1e-12*d.Norm() {
		return c.Centre
	}
	return c.Centre.Add(in.Scale(c.Radius / n))
}

// Bounds are the least and greatest coordinates of the solid.
func (s *Solid) Bounds() (low, high Vec) {
	low = Vec{X: s.support(Vec{X: -1}).X, Y: s.support(Vec{Y: -1}).Y, Z: s.support(Vec{Z: -1}).Z}
	high = Vec{X: s.support(Vec{X: 1}).X, Y: s.support(Vec{Y: 1}).Y, Z: s.support(Vec{Z: 1}).Z}
	return low, high
}
