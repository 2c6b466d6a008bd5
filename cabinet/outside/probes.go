package outside

import (
	"context"
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/cabinet/surface"
	"gapline/internal/bem3"
	"gapline/internal/numeric"
)

// probes are points in the mouths of the middle box's insert, a little before and behind the
// middle of the plate.
type probes struct {
	box    int
	step   float64    // between the two, m
	across []float64  // weight of each pair in its mouth's area, m²
	mouth  []int      // of each pair
	part   []int      // of each mouth, in Layout.Parts
	at     []bem3.Vec // pairs: before, behind

	inside  []bem3.Vec // points in the chambers of the box
	volumes []float64  // their weights, m³, images too
}

// Points of the rule over a mouth, in either direction, and how far apart they stand in
// depth: a quarter of the plate to either side, two millimetres at most.
const (
	acrossMouth = 6
	deepest     = 2e-3
)

// newProbes returns nil for a surface without plates.
func newProbes(d *design.Design, s *surface.Surface) *probes {
	l := s.Layout
	list := l.Of(layout.InsertMouth, layout.Woofers)
	thick := plateThickness(d, s)
	if len(list) == 0 || !(thick > 0) || !hasTriangles(s, surface.Plate) {
		return nil
	}
	p := &probes{box: len(s.Boxes) / 2, step: 2 * math.Min(thick/4, deepest)}
	rule := numeric.Legendre(acrossMouth)
	hung := s.Boxes[p.box]
	for _, i := range list {
		part := &l.Parts[i]
		m := len(p.part)
		p.part = append(p.part, i)
		for a, y := range rule.X {
			for b, z := range rule.X { // on [-1, 1]
				p.across = append(p.across, rule.W[a]/2*rule.W[b]/2*part.Width*part.Height)
				p.mouth = append(p.mouth, m)
				for _, side := range []float64{0.5, -0.5} {
					at := part.At
					at.X += -thick/2 + side*p.step
					at.Y += y * part.Width / 2
					at.Z += z * part.Height / 2
					p.at = append(p.at, folded(s, hung.Place(at)))
				}
			}
		}
	}
	for _, c := range chambers(s, hung) {
		c.fill(p, s, hung)
	}
	return p
}

// folded is a place's image on the meshed side of the mirror planes.
func folded(s *surface.Surface, v layout.Vec) bem3.Vec {
	out := bem3.Vec{v.X, v.Y, v.Z}
	if s.Planes.Y {
		out[1] = math.Abs(out[1])
	}
	if s.Planes.Z {
		out[2] = math.Abs(out[2])
	}
	return out
}

func hasTriangles(s *surface.Surface, kind surface.Kind) bool {
	for _, g := range s.Group {
		if s.About[g].Kind == kind {
			return true
		}
	}
	return false
}

// plateThickness is how deep the mouths are, m.
func plateThickness(d *design.Design, s *surface.Surface) float64 {
	for _, x := range s.Defaults {
		if x.Of == surface.PlateThickness {
			return x.Value
		}
	}
	return d.Insert.SlotDepth.Value()
}

// cones are the groups of the cones behind the mouths.
func (p *probes) cones(s *surface.Surface) (out []int) {
	for g := range s.About {
		if a := &s.About[g]; a.Box == p.box && ByWoofers.moves(a) {
			out = append(out, g)
		}
	}
	return out
}

// read takes the volume flow through each mouth from the slope of the pressure: u = −∂p/∂x/(jωρ).
func (p *probes) read(ctx context.Context, s *bem3.Solution, weights []complex128, to *Point) error {
	all, err := s.At(ctx, p.at)
	if err != nil {
		return err
	}
	pressure := combine(all, weights)
	to.Mouths = make([]complex128, len(p.part))
	for i, area := range p.across {
		slope := (pressure[2*i] - pressure[2*i+1]) / complex(p.step, 0)
		to.Mouths[p.mouth[i]] -= slope * complex(area, 0)
	}
	if all, err = s.At(ctx, p.inside); err != nil {
		return err
	}
	for i, x := range combine(all, weights) {
		to.Held += x * complex(p.volumes[i], 0)
	}
	return nil
}
