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

// volume sums what the parts take of the inside, without what stands in the thickness of a
// panel. Woofers and mids, and the room in front of cones that stand
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
		used := l.takes(p)
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

// takes is the room that the part takes within the panels, m³. Of round parts what stands in
// the thickness of a panel beside them is counted too.
func (l *Layout) takes(p *Part) float64 {
	switch p.Kind {
	case Fold, Chamber, Plate:
		return l.slices(p, p.Width, p.Height)
	case HornBody, Flare:
		return l.slices(p, p.RearWidth, p.RearHeight)
	case Vent:
		if p.Shape == Round || p.Side != FrontSide {
			return p.area() * math.Max(p.Depth-l.Wall, 0)
		}
		return l.slices(p, p.Width, p.Height)
	case CompressionDriver:
		return p.area() * p.Depth
	}
	return numeric.Absent
}

// area is that of the outline, m².
func (p *Part) area() float64 {
	if p.Shape == Round {
		return math.Pi / 4 * p.Width * p.Height
	}
	return p.Width * p.Height
}

// sliceCount is the slices of a part, each summed from two points, which is exact where no
// panel cuts into it.
const sliceCount = 16

// slices is the volume between the panels of a part from its outline, behind the front
// panel, to another rectangle, m³.
func (l *Layout) slices(p *Part, rearWidth, rearHeight float64) float64 {
	from := math.Max(l.Wall+p.At.X, 0) // At.X is 0 or behind the front
	if !(p.Depth > from) {
		return p.Depth * 0 // NaN where the depth is not known
	}
	beside, above := l.Width/2-l.Wall, l.Wall*math.Hypot(1, l.slant())
	section := func(t float64) float64 {
		share := t / p.Depth
		width := within(p.At.Y, (p.Width+(rearWidth-p.Width)*share)/2, beside)
		return width * within(p.At.Z, (p.Height+(rearHeight-p.Height)*share)/2, l.halfHeightAt(p.At.X-t)-above)
	}
	return numeric.Integrate(section, from, p.Depth, 2, sliceCount)
}

// within is the length of a stretch about a middle that lies between −limit and limit, m.
func within(middle, half, limit float64) float64 {
	return math.Max(math.Min(middle+half, limit)-math.Max(middle-half, -limit), 0)
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
