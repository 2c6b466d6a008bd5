package layout

import (
	"math"

	"gapline/internal/numeric"
)

// Volume is the room inside one box in m³; NaN where the cabinet's size is not given.
type Volume struct {
	Inside float64 // within the panels
	Used   float64 // by horn, fold, driver, chambers, plates and ducts
	Sure   float64 // the share of Used that rests on nothing assumed
}

// volume sums what the parts take of the inside: of horn, plates and ducts what lies behind
// the panel that they stand in. Woofers and mids, and the room in front of cones that stand
// back, are not counted.
func (l *Layout) volume() Volume {
	v := Volume{Inside: numeric.Absent}
	if c := &l.design.Cabinet; !c.Width.Given() || !c.Depth.Given() {
		return v
	}
	w := 2 * l.Wall
	// Top and bottom of a cabinet that tapers take more of its height than their thickness.
	v.Inside = (l.Depth - w) * (l.Width - w) * ((l.Height+l.RearHeight)/2 - w*math.Hypot(1, l.slant()))
	for i := range l.Parts {
		p := &l.Parts[i]
		used := p.takes(l.Wall)
		if !numeric.Given(used) {
			continue
		}
		v.Used += used
		if !p.sizeAssumed() {
			v.Sure += used
		}
	}
	return v
}

// takes is the room that the part takes inside the box, m³.
func (p *Part) takes(wall float64) float64 {
	area := p.Width * p.Height
	if p.Shape == Round {
		area *= math.Pi / 4
	}
	inPanel := math.Max(wall+p.At.X, 0) // At.X is 0 or behind the front
	switch p.Kind {
	case HornBody, Flare:
		return p.tapers(math.Min(inPanel/p.Depth, 1))
	case Vent:
		return area * math.Max(p.Depth-wall, 0)
	case Fold, Chamber, Plate:
		return area * math.Max(p.Depth-inPanel, 0)
	case CompressionDriver:
		return area * p.Depth
	}
	return numeric.Absent
}

// tapers is the volume of a part between two rectangles less a share of its depth at the
// front, m³: a prismatoid.
func (p *Part) tapers(share float64) float64 {
	width, height := p.Width+(p.RearWidth-p.Width)*share, p.Height+(p.RearHeight-p.Height)*share
	mid := (width + p.RearWidth) / 2 * (height + p.RearHeight) / 2
	return p.Depth * (1 - share) / 6 * (width*height + 4*mid + p.RearWidth*p.RearHeight)
}

// sizeAssumed reports whether the part's size rests on a default.
func (p *Part) sizeAssumed() bool {
	for _, r := range p.Rests {
		switch r {
		case WallsByAngle, DriverWidth, MouthOfBox, PlateWidth, PlateHeight, ConeSize:
			return true
		}
	}
	return false
}
