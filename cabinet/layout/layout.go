package layout

import (
	"math"
	"slices"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/internal/numeric"
)

// Layout is one box with its parts, and the stack of such boxes. What the design does
// not give is NaN.
type Layout struct {
	Height, Width, Depth float64 // outside of the cabinet, m
	RearHeight           float64 // outside at the rear, m
	Wall                 float64 // thickness of its panels, m; 0 where it is not known
	Parts                []Part
	Defaults             []Default
	Conflicts            []Conflict
	Volume               Volume

	// Stack is the boxes as they hang, without mouths.
	Stack field.Stack

	design *design.Design
}

// New lays the design out. It needs a design whose single values stand within their
// ranges; what contradicts itself among them is the caller's to refuse.
func New(d *design.Design) *Layout {
	k := &d.Cabinet
	l := &Layout{design: d, Height: k.Height.Value(), Width: k.Width.Value(), Depth: k.Depth.Value(), Wall: k.Wall.Or(0)}
	if !k.Height.Given() {
		l.Height = d.Pitch() - k.Gap.Or(0)
	}
	l.RearHeight = k.RearHeight.Or(l.Height)
	if !k.RearHeight.Given() {
		l.assume(RearHeight, Enclosure, l.Height)
	}
	if !k.Wall.Given() {
		l.assume(PanelWall, Enclosure, 0)
	}
	bands := l.bands()
	l.front(bands)
	l.wide(bands)
	for i := range bands {
		l.build(&bands[i])
	}
	l.openings()
	l.outlets()
	l.hang()
	l.fits()
	return l
}

// Of returns the indices of the parts of a kind and band, in their order.
func (l *Layout) Of(kind Kind, band Band) []int {
	var out []int
	for i := range l.Parts {
		if l.Parts[i].Kind == kind && l.Parts[i].Band == band {
			out = append(out, i)
		}
	}
	return out
}

// Radiating returns the parts through which a band radiates: the horn's exit, the insert's
// mouths in place of the woofers, the free openings beside the horn in place of the cones
// behind them, or the cones.
func (l *Layout) Radiating(band Band) []int {
	if band == Horn {
		return l.Of(HornExit, band)
	}
	if mouths := l.Of(InsertMouth, band); len(mouths) > 0 {
		return mouths
	}
	cones, openings := l.Of(Cone, band), l.Of(Opening, band)
	for _, i := range openings {
		left := l.Parts[i].At.Y > 0
		cones = slices.DeleteFunc(cones, func(c int) bool { return l.Parts[c].At.Y > 0 == left })
	}
	return append(openings, cones...)
}

// add takes a part in.
func (l *Layout) add(p Part) {
	p.Index = 0
	for i := range l.Parts {
		if l.Parts[i].Kind == p.Kind && l.Parts[i].Band == p.Band {
			p.Index++
		}
	}
	l.Parts = append(l.Parts, p)
}

// hang builds the stack of boxes for their poses.
func (l *Layout) hang() {
	d := l.design
	box := field.Box{Height: l.Height, Width: l.Width, Depth: l.Depth, RearHeight: l.RearHeight}
	l.Stack = field.Stack{Boxes: field.Repeat(box, d.Line.Boxes), Hinge: d.Hanging.Hinge, Splay: d.Line.Splay,
		TopHeight: d.Line.TopHeight.Value(), Tilt: -d.Line.Tilt.Or(0)} // the field counts it downward
	if l.Stack.Gap = d.Pitch() - l.Height; !(l.Stack.Gap >= 1e-9) { // rounding of pitch less height
		l.Stack.Gap = 0
	}
	if len(l.Stack.Splay) == 0 {
		l.Stack.Splay = nil
	}
}

// BoxDepth is the depth in m, or AssumedDepth where the design gives none.
func (l *Layout) BoxDepth() float64 { return numeric.Or(l.Depth, AssumedDepth) }

// AssumedDepth stands for a depth that the design does not give where a picture needs
// one, m. No part is held against it.
const AssumedDepth = 0.4

// halfHeightAt is half the cabinet's outside height at x, m.
func (l *Layout) halfHeightAt(x float64) float64 {
	if !numeric.Given(l.Depth) || !numeric.Given(l.RearHeight) {
		return l.Height / 2
	}
	share := math.Max(0, math.Min(1, -x/l.Depth))
	return (l.Height + (l.RearHeight-l.Height)*share) / 2
}
