package surface

import (
	"math"

	"gapline/cabinet/field"
	"gapline/cabinet/layout"
)

// MostClosed is the distance between boxes, m, from which on their joints stay open.
const MostClosed = 0.02

// side is the outline of a box in the side view, in its own frame: its front and rear edges'
// heights, m, and whether it is joined to its neighbours.
type side struct {
	frontTop, frontBottom, rearTop, rearBottom float64
	above, below                               bool
}

// hang gives each box its place and its outline.
func (b *builder) hang() {
	n := max(b.o.Boxes, 1)
	if lot := b.design.Line.Boxes; lot > 0 {
		n = min(n, lot)
	}
	stack := b.stack(n)
	first := (len(stack.Boxes) - n) / 2
	outlines := stack.Outlines()[first : first+n]
	b.clear(outlines, &stack)
	middle := func(i int) layout.Vec { return outlines[i].Corner[0].Add(outlines[i].Corner[1]).Scale(0.5) }
	mean := (outlines[0].Angle + outlines[n-1].Angle) / 2
	if b.o.Floor.Given() {
		mean = 0
	}
	centre := outlines[0].Corner[0].Add(outlines[n-1].Corner[1]).Scale(0.5)
	sin, cos := math.Sincos(mean)
	b.out.Joined = n > 1 && !b.o.OpenJoints && stack.Gap <= MostClosed
	for i := range n {
		v := middle(i).Sub(centre)
		b.out.Boxes = append(b.out.Boxes, Hung{Box: first + i, Origin: layout.Vec{X: v.X*cos - v.Z*sin, Y: 0, Z: v.X*sin + v.Z*cos}, Down: outlines[i].Angle - mean})
		h, r := b.l.Height/2, b.l.RearHeight/2
		s := side{frontTop: h, frontBottom: -h, rearTop: r, rearBottom: -r}
		if b.out.Joined && i > 0 {
			s.above = true
			s.frontTop, s.rearTop = b.joint(outlines[i].Angle-outlines[i-1].Angle, &stack)
		}
		if b.out.Joined && i < n-1 {
			s.below = true
			f, r := b.joint(outlines[i+1].Angle-outlines[i].Angle, &stack)
			s.frontBottom, s.rearBottom = -f, -r
		}
		b.sides = append(b.sides, s)
	}
	if n > 1 && !b.out.Joined {
		b.apart(outlines)
	}
	if b.o.Floor.Given() {
		b.stand(b.o.Floor.Value())
	}
}

// stand puts the boxes over a floor, at z = 0: the lower edge of the lowest front at a height, m.
// One that is no farther from it than from its image by MostClosed stands on it.
func (b *builder) stand(height float64) {
	last := len(b.sides) - 1
	at := func(i int, x, z float64) float64 { return b.out.Boxes[i].Place(layout.Vec{X: x, Z: z}).Z }
	top, bottom := at(0, 0, b.sides[0].frontTop), at(last, 0, b.sides[last].frontBottom)
	lowest := bottom
	for i, s := range b.sides {
		lowest = math.Min(lowest, math.Min(at(i, 0, s.frontBottom), at(i, -b.l.Depth, s.rearBottom)))
	}
	for i := range b.out.Boxes {
		b.out.Boxes[i].Origin.Z += height - bottom
	}
	b.out.Floor, b.out.Middle = true, height+(top-bottom)/2
	if below := bottom - height - lowest; below > near {
		b.fault(Fault{Of: InFloor, Band: layout.Enclosure, Part: -1, Values: []float64{below}})
		return
	}
	if b.o.OpenJoints || 2*height > MostClosed {
		if least := lowest - bottom + height; 2*least < leastApart {
			b.fault(Fault{Of: OnFloor, Band: layout.Enclosure, Part: -1, Values: []float64{least}})
		}
		return
	}
	b.out.Stands = true
	s, h := &b.sides[last], &b.out.Boxes[last]
	sin, cos := math.Sincos(h.Down)
	s.below, s.frontBottom, s.rearBottom = true, -h.Origin.Z/cos, -(h.Origin.Z+b.l.Depth*sin)/cos
}

// stack is the design's with at least n boxes and no tilt.
func (b *builder) stack(n int) field.Stack {
	s := b.l.Stack
	if s.TopHeight = math.NaN(); !b.o.Floor.Given() || b.o.Straight {
		s.Tilt = 0
	}
	if len(s.Boxes) < n {
		s.Boxes = field.Repeat(field.Box{Height: b.l.Height, Width: b.l.Width, Depth: b.l.Depth, RearHeight: b.l.RearHeight}, n)
	}
	if b.o.Straight || len(s.Splay) != len(s.Boxes)-1 {
		s.Splay = nil
	}
	return s
}

// joint returns the heights at which the plane half way between two boxes, through their
// hinge, meets the front and the rear of the lower one.
func (b *builder) joint(splay float64, s *field.Stack) (front, rear float64) {
	hinge := 0.0
	if s.Hinge == field.RearHinge {
		hinge = -b.l.Depth
	}
	at, slope := (b.l.Height+s.Gap)/2, math.Tan(splay/2)
	return at - hinge*slope, at - (b.l.Depth+hinge)*slope
}

// clear finds neighbours that run into each other: of which one reaches beyond the plane
// half way between them.
func (b *builder) clear(outlines []field.Outline, s *field.Stack) {
	most := near
	for i := range outlines[1:] {
		front, rear := b.joint(outlines[i+1].Angle-outlines[i].Angle, s)
		most = math.Max(most, 2*math.Max(b.l.Height/2-front, b.l.RearHeight/2-rear))
	}
	if b.l.Height > b.design.Pitch()+near {
		most = math.Max(most, b.l.Height-b.design.Pitch())
	}
	if most > near && len(outlines) > 1 {
		b.fault(Fault{Of: Collide, Band: layout.Enclosure, Part: -1, Values: []float64{most}})
	}
}

// leastApart is how far apart boxes with open joints have to be, m.
const leastApart = 5e-4

// apart finds boxes with open joints that touch.
func (b *builder) apart(outlines []field.Outline) {
	least := math.Inf(1)
	for i := range outlines[1:] {
		upper, lower := outlines[i].Corner, outlines[i+1].Corner
		for _, pair := range [][2]int{{1, 0}, {2, 3}} {
			least = math.Min(least, upper[pair[0]].Sub(lower[pair[1]]).Norm())
		}
	}
	if least < leastApart {
		b.fault(Fault{Of: Narrow, Band: layout.Enclosure, Part: -1, Values: []float64{least}})
	}
}

// Place is where a place of a box lies in the surface's frame.
func (h *Hung) Place(v layout.Vec) layout.Vec {
	sin, cos := math.Sincos(h.Down)
	return layout.Vec{X: v.X*cos + v.Z*sin, Y: v.Y, Z: -v.X*sin + v.Z*cos}.Add(h.Origin)
}
