package field

import "math"

// source is a mouth hung in the world.
type source struct {
	kind   Kind
	middle Vec
	axes   frame
	a, b   float64 // half width and half height (or radius), m
	apexY  float64 // virtual apex of the front, 0 = flat, m
	apexZ  float64
	weight float64 // gain with polarity
	path   float64 // delay as a path, m
	drive  int
	box    int
}

// sources lists the mouths of a valid stack, box by box.
func (s Stack) sources(soundSpeed float64) []source {
	var out []source
	for i, p := range s.poses() {
		shade := 0.0
		if s.Shading != nil {
			shade = s.Shading[i]
		}
		for _, m := range s.Boxes[i].Mouths {
			a, b := m.halfSize()
			src := source{
				kind:   m.Kind,
				middle: p.origin.Add(p.frame.at(m.Position)),
				axes:   p.frame.pan(m.Pan).down(m.Tilt),
				a:      a,
				b:      b,
				weight: math.Pow(10, (m.Gain+shade)/20),
				path:   m.Delay * soundSpeed,
				drive:  m.Drive,
				box:    i,
			}
			if m.Invert {
				src.weight = -src.weight
			}
			if curved(m.VerticalApex) {
				src.apexZ = m.VerticalApex
			}
			if curved(m.HorizontalApex) {
				src.apexY = m.HorizontalApex
			}
			out = append(out, src)
		}
	}
	return out
}

// face is the plane and curvature that the patches of one mouth share.
type face struct {
	y, z         Vec     // unit axes
	apexY, apexZ float64 // 0 = flat
}

// patch is a rectangle of a face, a line (a = 0) or a point (a = b = 0).
type patch struct {
	centre Vec
	y, z   float64 // of the centre against the middle of the mouth, m
	a, b   float64 // half sizes, m
	weight float64
	path   float64 // delay of the mouth as a path, without the front's, m
}

// front returns how much later, as a path, the front leaves at z off the middle,
// and its first and second derivative there: √(L²+z²) − L.
func front(apex, z float64) (delay, slope, curvature float64) {
	if apex == 0 {
		return 0, 0, 0
	}
	sign := math.Copysign(1, apex)
	root := math.Hypot(apex, z)
	return sign * z * z / (root + math.Abs(apex)), sign * z / root, sign * apex * apex / (root * root * root)
}

// frontThird bounds the third derivative of the front within half of the
// patch's middle: 3|z|L²/(L²+z²)^{5/2} ≤ min(3|z|/|L|³, 0.859/L²).
func frontThird(apex, z, half float64) float64 {
	if apex == 0 {
		return 0
	}
	l := math.Abs(apex)
	return min(3*(math.Abs(z)+half)/l, 0.859) / (l * l)
}

// split halves the patch across its width or its height.
func (p patch) split(f *face, acrossWidth bool) (patch, patch) {
	first, second := p, p
	first.weight /= 2
	second.weight /= 2
	if acrossWidth {
		h := p.a / 2
		first.a, second.a = h, h
		first.y, second.y = p.y-h, p.y+h
		first.centre, second.centre = p.centre.Sub(f.y.Scale(h)), p.centre.Add(f.y.Scale(h))
	} else {
		h := p.b / 2
		first.b, second.b = h, h
		first.z, second.z = p.z-h, p.z+h
		first.centre, second.centre = p.centre.Sub(f.z.Scale(h)), p.centre.Add(f.z.Scale(h))
	}
	return first, second
}
