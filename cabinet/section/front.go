package section

import (
	"gapline/cabinet/design"
	"gapline/internal/numeric"
	"gapline/waveguide/wave"
)

// Front says where horn and woofers stand in the front of the cabinet. Positions in
// m from its middle, positive to the left as seen from behind the box.
type Front struct {
	HornAt   float64 // of the horn's axis
	Openings []Opening
}

// Opening is what woofers radiate through beside the horn, in m: it stands with its
// middle at Y, and its cone lies behind the front by the setbacks of its left and
// right edge, which differ where the cone is turned.
type Opening struct {
	Y, Width                  float64
	SetbackLeft, SetbackRight float64
}

// FrontOf places the design's horn and the openings of its woofers: the horn in the
// middle, and one opening in the middle of the front on each side of its exit, as
// wide as the insert's mouths, or as the cones. Without their width, or that of
// cabinet or horn, there are none.
func FrontOf(d *design.Design) (Front, []Fault) {
	width := d.Woofer.Diameter()
	if d.HasInsert() {
		width = d.Insert.MouthWidth.Value()
	}
	middle := (exit(d)/2 + (d.Cabinet.Width.Value()/2 - d.EdgeRadius())) / 2
	if !numeric.Given(width) || !numeric.Given(middle) {
		return Front{}, nil
	}
	return Front{Openings: []Opening{{Y: middle, Width: width}, {Y: -middle, Width: width}}}, nil
}

// PlanOf places what stands in the front and cuts the plan section through it.
func PlanOf(d *design.Design, driven Driven) (wave.Plan, []Fault) {
	front, faults := FrontOf(d)
	if len(faults) > 0 {
		return wave.Plan{}, faults
	}
	return Plan(d, front, driven)
}

// openings returns the front's openings as the section needs them: all of them,
// moving with 1 m/s, where they are driven; otherwise those that are set back, since
// a rigid one that is flush is front.
func (c *faults) openings(d *design.Design, f *Front, driven Driven) []wave.Opening {
	var out []wave.Opening
	for _, o := range f.Openings {
		flush := o.SetbackLeft == 0 && o.SetbackRight == 0
		if driven == ByHorn && flush {
			continue
		}
		c.fits(d, f.HornAt, &o)
		w := wave.Opening{Left: o.Y + o.Width/2, Right: o.Y - o.Width/2, SetbackLeft: o.SetbackLeft, SetbackRight: o.SetbackRight}
		if driven == ByWoofers {
			w.Velocity = 1
		}
		out = append(out, w)
	}
	return out
}

// fits adds a fault where an opening does not lie on the flat part of the front on
// its side of the horn: the same one for both of a pair.
func (c *faults) fits(d *design.Design, horn float64, o *Opening) {
	side := 1.0 // outward, to the left
	if o.Y < horn {
		side = -1
	}
	from, to := side*horn+exit(d)/2, d.Cabinet.Width.Value()/2-d.EdgeRadius()
	switch middle := side * o.Y; {
	case o.Width > to-from:
		c.once(OpeningWide, o.Width, to-from)
	case middle-o.Width/2 < from-tolerance || middle+o.Width/2 > to+tolerance:
		c.once(OpeningOff, o.Y-o.Width/2, o.Y+o.Width/2, min(side*from, side*to), max(side*from, side*to))
	}
}

// tolerance is the length in m below which two edges are one.
const tolerance = 1e-9
