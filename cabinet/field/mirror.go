package field

import "math"

// mirrorTouch is how near in m, or as a part of a unit vector, mirror images lie.
const mirrorTouch = 1e-12

// inPlane returns the engine for places that all lie in one plane Y = const, or in
// directions with no part along Y: of two mouths of a box that are each other's image in
// that plane, which give the same there, it has the first with twice the weight. Other
// places leave the engine as it is.
func (e *Engine) inPlane(at []place) *Engine {
	if len(at) == 0 {
		return e
	}
	y, far := at[0].at.Y, at[0].far
	for _, p := range at {
		if p.far != far || p.at.Y != y || far && y != 0 {
			return e
		}
	}
	return e.mirrored(y, far)
}

// mirrored merges the mouths that are images in the plane Y = y; seen from far away any
// plane across Y will do.
func (e *Engine) mirrored(y float64, far bool) *Engine {
	var out []source
	for i := range e.sources {
		s := &e.sources[i]
		found := false
		for j := len(out) - 1; j >= 0 && out[j].box == s.box && !found; j-- {
			if t := &out[j]; !t.doubled && t.imageOf(s, y, far) {
				t.weight, t.doubled, found = 2*t.weight, true, true
			}
		}
		if !found {
			out = append(out, *s)
		}
	}
	c := *e
	c.sources = out
	return &c
}

// imageOf reports whether two mouths are images of each other in the plane Y = y.
func (s *source) imageOf(t *source, y float64, far bool) bool {
	if s.kind == directed || s.kind != t.kind || s.drive != t.drive || s.weight != t.weight || s.path != t.path ||
		s.a != t.a || s.b != t.b || s.apexY != t.apexY || s.apexZ != t.apexZ {
		return false
	}
	image := t.middle
	image.Y = 2*y - image.Y
	if far {
		image.Y = s.middle.Y
	}
	// A mouth is the same from its left to its right as from its right to its left.
	left := Vec{-t.axes.left.X, t.axes.left.Y, -t.axes.left.Z}
	return near(s.middle, image) && near(s.axes.left, left) &&
		near(s.axes.forward, flipped(t.axes.forward)) && near(s.axes.up, flipped(t.axes.up))
}

func flipped(v Vec) Vec { return Vec{v.X, -v.Y, v.Z} }

func near(a, b Vec) bool {
	return math.Abs(a.X-b.X) <= mirrorTouch && math.Abs(a.Y-b.Y) <= mirrorTouch && math.Abs(a.Z-b.Z) <= mirrorTouch
}
