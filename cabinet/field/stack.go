package field

import (
	"fmt"
	"math"

	"gapline/internal/quantity"
)

// MaxBoxes is the largest stack that the package accepts.
const MaxBoxes = 1000

// maxMouths bounds the mouths of one box.
const maxMouths = 1000

// Box is one cabinet: outer size in m and its mouths, which may lie behind its front or,
// in a box that cannot be built, beyond it.
type Box struct {
	Height, Width, Depth float64
	RearHeight           float64 // of a box that tapers; 0: as high as the front
	Mouths               []Mouth
}

// rearHeight is the height at the rear, m.
func (b *Box) rearHeight() float64 {
	if b.RearHeight == 0 {
		return b.Height
	}
	return b.RearHeight
}

// Stack is boxes hung under one another, the first on top.
type Stack struct {
	Boxes     []Box
	Drives    []Drive
	Gap       float64   // between neighbours at zero splay, m; negative: they reach into each other
	Hinge     Hinge     // rigging edge
	Splay     []float64 // rad, box i+1 against box i, positive turns the lower box down; nil: straight
	TopHeight float64   // upper front edge of the top box above ground, m; NaN: hung clear, middle at Z = 0
	Tilt      float64   // of the top box, rad, positive down
	Shading   []float64 // gain of each box, dB; nil: none
	Delays    []float64 // of each box, s; nil: none
}

// Repeat returns n copies of a box, as Stack.Boxes wants them.
func Repeat(b Box, n int) []Box {
	boxes := make([]Box, max(n, 0))
	for i := range boxes {
		boxes[i] = b
	}
	return boxes
}

// pose is where a box hangs: the middle of its front, and its axes.
type pose struct {
	origin Vec
	frame  frame
	angle  float64 // downward, rad
}

// Validate checks the stack and returns the first thing that is wrong.
func (s Stack) Validate() error {
	if err := s.validateCounts(); err != nil {
		return err
	}
	for i, d := range s.Drives {
		if err := d.validate(); err != nil {
			return fmt.Errorf("drive %d: %w", i+1, err)
		}
		if d.absolute() != s.Drives[0].absolute() {
			return fmt.Errorf("drive %d: give the strength of every drive or of none", i+1)
		}
	}
	for i, b := range s.Boxes {
		if err := b.validate(len(s.Drives)); err != nil {
			return fmt.Errorf("box %d: %w", i+1, err)
		}
	}
	return s.validatePlace()
}

func (s Stack) validateCounts() error {
	n := len(s.Boxes)
	switch {
	case n == 0:
		return fmt.Errorf("a stack of 0 boxes: need at least 1")
	case n > MaxBoxes:
		return fmt.Errorf("a stack of %d boxes: at most %d can be computed", n, MaxBoxes)
	case s.Splay != nil && len(s.Splay) != n-1:
		return fmt.Errorf("%d splay angles for %d boxes: need %d, one for each joint", len(s.Splay), n, n-1)
	case s.Shading != nil && len(s.Shading) != n:
		return fmt.Errorf("%d gains for %d boxes: need one for each box", len(s.Shading), n)
	case s.Delays != nil && len(s.Delays) != n:
		return fmt.Errorf("%d delays for %d boxes: need one for each box", len(s.Delays), n)
	case len(s.Drives) == 0:
		return fmt.Errorf("no drive: need at least 1")
	case s.Hinge < 0 || s.Hinge >= hingeCount:
		return fmt.Errorf("unknown hinge %d", int(s.Hinge))
	}
	for i, g := range s.Shading {
		if math.IsNaN(g) || math.IsInf(g, 0) {
			return fmt.Errorf("gain of box %d is %v dB: need a finite value", i+1, g)
		}
	}
	for i, t := range s.Delays {
		if math.IsNaN(t) || math.IsInf(t, 0) {
			return fmt.Errorf("delay of box %d is %v s: need a finite value", i+1, t)
		}
	}
	return nil
}

func (b Box) validate(drives int) error {
	for _, q := range []struct {
		name  string
		value float64
	}{{"height", b.Height}, {"width", b.Width}, {"depth", b.Depth}} {
		if !(q.value > 0 && q.value <= maxMouth) {
			return fmt.Errorf("%s of %v m: need more than 0 and at most %v m", q.name, q.value, maxMouth)
		}
	}
	if len(b.Mouths) == 0 || len(b.Mouths) > maxMouths {
		return fmt.Errorf("%d mouths: need 1 to %d", len(b.Mouths), maxMouths)
	}
	for i, m := range b.Mouths {
		if err := m.validate(drives); err != nil {
			return fmt.Errorf("mouth %d: %w", i+1, err)
		}
	}
	return nil
}

// validatePlace checks angles and heights.
func (s Stack) validatePlace() error {
	if !(math.Abs(s.Gap) <= maxMouth) {
		return fmt.Errorf("gap of %v m: need at most %v m either way", s.Gap, maxMouth)
	}
	if math.IsInf(s.TopHeight, 0) || s.TopHeight < 0 {
		return fmt.Errorf("top of the stack at %v m: it must be above the ground", s.TopHeight)
	}
	if !(math.Abs(s.Tilt) < math.Pi/2) {
		return fmt.Errorf("tilt of %.4g°: need less than 90° either way", s.Tilt/quantity.Degree)
	}
	for i, p := range s.poses() {
		if !(math.Abs(p.angle) < math.Pi/2) {
			return fmt.Errorf("box %d points %.4g° down: need less than 90° either way", i+1, p.angle/quantity.Degree)
		}
		if low := s.Boxes[i].lowest(p); !math.IsNaN(s.TopHeight) && low < -1e-9 {
			return fmt.Errorf("box %d reaches %.4g m below the ground: raise the top, now at %v m", i+1, -low, s.TopHeight)
		}
	}
	return nil
}

// lowest returns the height of the lowest corner of the box.
func (b Box) lowest(p pose) float64 {
	low := math.Inf(1)
	for _, c := range b.corners() {
		low = min(low, p.origin.Add(p.frame.at(c)).Z)
	}
	return low
}

// poses hangs the boxes: each turns about the hinge in the middle of the gap
// under the one above.
func (s Stack) poses() []pose {
	n := len(s.Boxes)
	out := make([]pose, n)
	f := worldFrame.down(s.Tilt)
	top := Vec{Z: s.TopHeight}
	if math.IsNaN(s.TopHeight) {
		top.Z = s.straightLength() / 2
	}
	out[0] = pose{top.Sub(f.up.Scale(s.Boxes[0].Height / 2)), f, s.Tilt}
	for i := 1; i < n; i++ {
		angle := out[i-1].angle
		if s.Splay != nil {
			angle += s.Splay[i-1]
		}
		f := worldFrame.down(angle)
		hinge := out[i-1].origin.Add(out[i-1].frame.at(s.hingeAt(i-1, -1)))
		out[i] = pose{hinge.Sub(f.at(s.hingeAt(i, +1))), f, angle}
	}
	return out
}

// hingeAt returns the hinge of box i in its own frame, above (side +1) or below
// (side −1).
func (s Stack) hingeAt(i int, side float64) Vec {
	return Vec{X: s.Hinge.along(s.Boxes[i].Depth), Z: side * (s.Boxes[i].Height + s.Gap) / 2}
}

// straightLength is the length of the stack with no splay, m.
func (s Stack) straightLength() float64 {
	length := -s.Gap
	for _, b := range s.Boxes {
		length += b.Height + s.Gap
	}
	return length
}

// corners are those of the side view: front top, front bottom, rear bottom, rear top.
func (b *Box) corners() [4]Vec {
	h, r, d := b.Height/2, b.rearHeight()/2, b.Depth
	return [4]Vec{{Z: h}, {Z: -h}, {X: -d, Z: -r}, {X: -d, Z: r}}
}

// Outline is the side view of one box, for drawings.
type Outline struct {
	Corner [4]Vec  // front top, front bottom, rear bottom, rear top
	Angle  float64 // downward, rad
}

// Outlines returns where the boxes hang. The stack must be valid.
func (s Stack) Outlines() []Outline {
	out := make([]Outline, len(s.Boxes))
	for i, p := range s.poses() {
		out[i].Angle = p.angle
		for j, c := range s.Boxes[i].corners() {
			out[i].Corner[j] = p.origin.Add(p.frame.at(c))
		}
	}
	return out
}
