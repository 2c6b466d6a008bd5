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

// volume sums what the parts take of the inside. Woofers and mids, and the room in front
// of cones that stand back, are not counted.
func (l *Layout) volume() Volume {
	v := Volume{Inside: numeric.Absent}
	if c := &l.design.Cabinet; !c.Width.Given() || !c.Depth.Given() {
		return v
	}
	w := 2 * l.Wall
	v.Inside = (l.Depth - w) * (l.Width - w) * ((l.Height+l.RearHeight)/2 - w)
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
	switch p.Kind {
	case HornBody, Flare:
		// Prismatoid between two rectangles.
		mid := (p.Width + p.RearWidth) / 2 * (p.Height + p.RearHeight) / 2
		return p.Depth / 6 * (area + 4*mid + p.RearWidth*p.RearHeight)
	case Vent:
		return area * math.Max(p.Depth-wall, 0)
	case Fold, CompressionDriver, Chamber, Plate:
		return area * p.Depth
	}
	return numeric.Absent
}

// sizeAssumed reports whether the part's size rests on a default.
func (p *Part) sizeAssumed() bool {
	for _, r := range p.Rests {
		switch r {
		case WallsByAngle, DriverWidth, MouthOfBox, PlateSize, ConeSize:
			return true
		}
	}
	return false
}
