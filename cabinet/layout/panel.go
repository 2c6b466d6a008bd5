package layout

import (
	"math"

	"gapline/internal/numeric"
)

// Sheet is a flat part that is cut out of a board.
type Sheet uint8

// The sheets.
const (
	FrontSheet Sheet = iota
	LeftSheet
	RightSheet
	RearSheet  // only where something opens through it
	PlateSheet // of the insert
)

// Cut is a panel: its outline and what is cut out of it, about a middle that is the
// middle of the front, of the rear, of a side panel's front edge, or of the plate. x runs
// to the right and y up as the panel is seen from outside, m.
type Cut struct {
	Sheet   Sheet
	Outline [][2]float64
	Holes   []Hole
}

// Hole is one cut-out.
type Hole struct {
	Of            *Part
	X, Y          float64 // its middle
	Width, Height float64
	Round         bool // an ellipse, a circle where both are alike
	// Flange says that the hole is as large as the driver's flange: its piston is not given.
	Flange bool
}

// Panels returns the panels with their cut-outs, outside sizes: how they are joined is
// the builder's. Side panels need the depth. A cone's hole is its piston where
// the design gives one, else its flange. Parts that are not given whole, openings that find no room, and
// coaxial parts, which stand in another's opening, have none.
func (l *Layout) Panels() []Cut {
	w, h, r, d := l.Width/2, l.Height/2, l.RearHeight/2, l.Depth
	front := Cut{Sheet: FrontSheet, Outline: [][2]float64{{-w, -h}, {w, -h}, {w, h}, {-w, h}}}
	rear := Cut{Sheet: RearSheet, Outline: [][2]float64{{-w, -r}, {w, -r}, {w, r}, {-w, r}}}
	// From outside on the left the front is at the left, from outside on the right at the right.
	left := Cut{Sheet: LeftSheet, Outline: [][2]float64{{0, -h}, {d, -r}, {d, r}, {0, h}}}
	right := Cut{Sheet: RightSheet, Outline: [][2]float64{{0, h}, {-d, r}, {-d, -r}, {0, -h}}}
	for i := range l.Parts {
		p := &l.Parts[i]
		hole, ok := l.hole(p)
		if !ok {
			continue
		}
		switch p.Side {
		case FrontSide:
			hole.X = p.At.Y
			front.Holes = append(front.Holes, hole)
		case RearSide:
			hole.X = 0 - p.At.Y
			rear.Holes = append(rear.Holes, hole)
		case LeftSide:
			hole.X = 0 - p.At.X
			left.Holes = append(left.Holes, hole)
		case RightSide:
			hole.X = p.At.X
			right.Holes = append(right.Holes, hole)
		}
	}
	out := []Cut{front}
	if numeric.Given(d) {
		out = append(out, left, right)
	}
	if len(rear.Holes) > 0 {
		out = append(out, rear)
	}
	return append(out, l.plates()...)
}

// hole is the cut-out of a part in the panel that it stands in.
func (l *Layout) hole(p *Part) (Hole, bool) {
	h := Hole{Of: p, Y: p.At.Z, Width: p.Width, Height: p.Height, Round: p.Shape == Round}
	if p.Shape == Unknown || !(p.Width > 0) || !(p.Height > 0) || p.Squeezed || p.Coaxial && p.Kind != Plate {
		return h, false
	}
	switch p.Kind {
	case HornExit, Plate, Opening, Vent, Radiator:
		return h, true
	case Cone:
		if l.behindPanel(p) {
			return h, false
		}
		h.Width, h.Flange = l.piston(p)
		h.Height = h.Width
		h.Width *= math.Abs(math.Cos(p.Turn))
		return h, h.Width > 0
	}
	return h, false
}

// behindPanel reports whether the cone radiates through an opening beside the horn or the
// insert's plate.
func (l *Layout) behindPanel(p *Part) bool {
	if p.Band == Woofers && l.design.HasInsert() {
		return true
	}
	for i := range l.Parts {
		if o := &l.Parts[i]; o.Kind == Opening && o.Band == p.Band {
			return true
		}
	}
	return false
}

// piston is the diameter of a cone's hole, and whether that is the flange's.
func (l *Layout) piston(p *Part) (diameter float64, flange bool) {
	given := l.design.Woofer.EffectiveDiameter.Given() || l.design.Woofer.Sd.Given()
	if p.Band == Mids {
		given = l.design.Mid.EffectiveDiameter.Given() || l.design.Mid.Sd.Given()
	}
	if given && p.Radiates > 0 {
		return p.Radiates, false
	}
	return p.Width, true
}

// plates are those of the insert, each with its mouths.
func (l *Layout) plates() []Cut {
	var out []Cut
	for _, i := range l.Of(Plate, Woofers) {
		p := &l.Parts[i]
		w, h := p.Width/2, p.Height/2
		if !(w > 0) || !(h > 0) {
			continue
		}
		c := Cut{Sheet: PlateSheet, Outline: [][2]float64{{-w, -h}, {w, -h}, {w, h}, {-w, h}}}
		for _, j := range l.Of(InsertMouth, Woofers) {
			m := &l.Parts[j]
			if m.Shape == Square && math.Abs(m.At.Y-p.At.Y) <= w {
				c.Holes = append(c.Holes, Hole{Of: m, X: m.At.Y - p.At.Y, Y: m.At.Z - p.At.Z, Width: m.Width, Height: m.Height})
			}
		}
		out = append(out, c)
	}
	return out
}
