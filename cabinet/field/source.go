package field

import "math"

// source is a mouth hung in the world.
type source struct {
	kind    Kind
	middle  Vec
	axes    frame
	a, b    float64 // half width and half height (or radius), m
	apexY   float64 // virtual apex of the front, 0 = flat, m
	apexZ   float64
	weight  float64 // gain with polarity
	path    float64 // delay as a path, m
	drive   int     // the sum that it belongs to: of its drive, or see besides
	box     int
	index   int  // among the mouths of the stack
	doubled bool // it stands for its mirror image too
}

// sources lists the mouths of a valid stack, box by box.
func (s Stack) sources(soundSpeed float64) []source {
	var out []source
	beside, _ := besides(s.Drives)
	for i, p := range s.poses() {
		shade := 0.0
		if s.Shading != nil {
			shade = s.Shading[i]
		}
		late := 0.0
		if s.Delays != nil {
			late = s.Delays[i]
		}
		sounds := make([]bool, len(s.Drives)) // which drives with a pattern the box has
		for _, m := range s.Boxes[i].Mouths {
			a, b := m.halfSize()
			src := source{
				kind:   m.Kind,
				middle: p.origin.Add(p.frame.at(m.Position)),
				axes:   p.frame.pan(m.Pan).down(m.Tilt),
				a:      a,
				b:      b,
				weight: math.Pow(10, (m.Gain+shade)/20),
				path:   (m.Delay + late) * soundSpeed,
				drive:  m.Drive,
				box:    i,
				index:  len(out),
			}
			if m.Invert {
				src.weight = -src.weight
			}
			if curved(m.VerticalApex) {
				src.apexZ = m.VerticalApex
			}
			if curved(m.HorizontalApex) && a > 0 {
				src.apexY = m.HorizontalApex
			}
			if at := beside[m.Drive]; at >= 0 {
				src.drive, sounds[m.Drive] = at, true
			}
			out = append(out, src)
		}
		for d, on := range sounds {
			if on {
				whole := s.directedSource(i, d, p, math.Pow(10, shade/20), late, soundSpeed)
				whole.index = len(out)
				out = append(out, whole)
			}
		}
	}
	return out
}

// side is the extent of a patch along one axis of its mouth.
type side struct {
	axis   Vec     // unit
	half   float64 // half length, m
	offset float64 // of the middle against the middle of the mouth, m
	apex   float64 // virtual apex of the front, 0 = flat, m
	curve  *curve  // tables of the front; nil: flat
	level  int     // how often it was halved
	index  int     // which part it is
}

// halves returns both halves of the side.
func (s side) halves() (side, side) {
	a, b := s, s
	a.half, b.half = s.half/2, s.half/2
	a.offset, b.offset = s.offset-a.half, s.offset+a.half
	a.level, b.level = s.level+1, s.level+1
	a.index, b.index = 2*s.index, 2*s.index+1
	return a, b
}

// patch is a rectangle of a mouth, a line or a point.
type patch struct {
	centre Vec
	y, z   side
	weight float64
	path   float64 // delay of the mouth as a path, without the front's, m
}

// split halves the patch across its width or its height.
func (p *patch) split(acrossWidth bool) (patch, patch) {
	first, second := *p, *p
	first.weight /= 2
	second.weight /= 2
	if acrossWidth {
		first.y, second.y = p.y.halves()
		step := p.y.axis.Scale(p.y.half / 2)
		first.centre, second.centre = p.centre.Sub(step), p.centre.Add(step)
	} else {
		first.z, second.z = p.z.halves()
		step := p.z.axis.Scale(p.z.half / 2)
		first.centre, second.centre = p.centre.Sub(step), p.centre.Add(step)
	}
	return first, second
}

// front returns how much later, as a path, the front leaves at z off the middle,
// and its first and second derivative there: √(L²+z²) − L.
func front(apex, z float64) (delay, slope, curvature float64) {
	if apex == 0 {
		return 0, 0, 0
	}
	sign := math.Copysign(1, apex)
	root := math.Sqrt(apex*apex + z*z)
	return sign * z * z / (root + math.Abs(apex)), sign * z / root, sign * apex * apex / (root * root * root)
}

// frontThird bounds the third derivative of the front within half of z:
// 3|z|L²/(L²+z²)^{5/2} ≤ min(3|z|/|L|³, 0.859/L²).
func frontThird(apex, z, half float64) float64 {
	if apex == 0 {
		return 0
	}
	l := math.Abs(apex)
	return min(3*(math.Abs(z)+half)/l, 0.859) / (l * l)
}

// seenSide is one side of a patch as the field point sees it.
type seenSide struct {
	half   float64
	cosine float64    // direction cosine of the field point along the side
	tilted float64    // the same less the slope of the front
	delay  float64    // of the front in the middle of the side, m
	bend   float64    // second derivative of the front, 1/m
	third  float64    // bound of the third
	part   *curvePart // the front's tables; then delay, bend and third are 0
}

// see fills in the side as seen under a direction cosine.
func (s *side) see(out *seenSide, cosine float64) {
	out.half, out.cosine, out.tilted = s.half, cosine, cosine
	out.delay, out.bend, out.third, out.part = 0, 0, 0, nil
	switch {
	case s.apex == 0:
	case s.curve.usable(s.level):
		out.part = s.curve.part(s.level, s.index)
	default:
		var slope float64
		out.delay, slope, out.bend = front(s.apex, s.offset)
		out.tilted -= slope
		out.third = frontThird(s.apex, s.offset, s.half)
	}
}

// whole is the mouth as one patch; curves are the tables of its sides.
func (s *source) whole(curves [2]*curve) patch {
	return patch{
		centre: s.middle,
		y:      side{axis: s.axes.left, half: s.a, apex: s.apexY, curve: curves[0]},
		z:      side{axis: s.axes.up, half: s.b, apex: s.apexZ, curve: curves[1]},
		weight: s.weight,
		path:   s.path,
	}
}
