package section

import (
	"math"
	"slices"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
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

// FrontOf takes from the layout where the horn's exit and the openings of the woofers
// stand: the insert's mouths, the cones, or the free front beside the horn in place of
// cones behind it. Mouths above each other are one opening.
func FrontOf(d *design.Design) Front {
	l := layout.New(d)
	var f Front
	for _, i := range l.Of(layout.HornExit, layout.Horn) {
		f.HornAt = l.Parts[i].At.Y
	}
	for _, i := range l.Radiating(layout.Woofers) {
		o, ok := openingOf(l, &l.Parts[i])
		if ok && !slices.Contains(f.Openings, o) {
			f.Openings = append(f.Openings, o)
		}
	}
	return f
}

// openingOf is a part that radiates as the section sees it; ok is false where its width is
// not known.
func openingOf(l *layout.Layout, p *layout.Part) (o Opening, ok bool) {
	switch p.Kind {
	case layout.Cone:
		o = Opening{Y: p.At.Y, Width: p.Radiates * math.Cos(p.Turn)}
		if p.At.X < 0 {
			tilt := p.Radiates / 2 * math.Sin(p.Turn)
			o.SetbackLeft, o.SetbackRight = math.Max(tilt-p.At.X, 0), math.Max(-tilt-p.At.X, 0)
		}
	case layout.Opening:
		o = Opening{Y: p.At.Y, Width: p.Width}
		if c := nearestCone(l, p); c != nil {
			// The cone's plane, carried on over the opening, is what moves behind it.
			depth := func(y float64) float64 { return math.Max((y-c.At.Y)*math.Tan(c.Turn)-c.At.X, 0) }
			o.SetbackLeft, o.SetbackRight = depth(o.Y+o.Width/2), depth(o.Y-o.Width/2)
		}
	default:
		o = Opening{Y: p.At.Y, Width: p.Width}
	}
	return o, numeric.Given(o.Width)
}

// nearestCone is the woofer that stands behind an opening.
func nearestCone(l *layout.Layout, p *layout.Part) *layout.Part {
	var best *layout.Part
	for _, i := range l.Of(layout.Cone, p.Band) {
		c := &l.Parts[i]
		if best == nil || math.Abs(c.At.Y-p.At.Y) < math.Abs(best.At.Y-p.At.Y) {
			best = c
		}
	}
	return best
}

// PlanOf places what stands in the front and cuts the plan section through it.
func PlanOf(d *design.Design, driven Driven) (wave.Plan, []Fault) {
	return Plan(d, FrontOf(d), driven)
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
