package outside

import (
	"context"
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/cabinet/surface"
	"gapline/driver"
	"gapline/internal/bem3"
	"gapline/internal/numeric"
)

// probes are points in the mouths of the middle box's insert, a little before and behind the
// middle of the plate.
type probes struct {
	box    int
	step   float64    // between the two, m
	across []float64  // weight of each pair in its mouth's area, m²
	up     []float64  // of each pair over the middle of its box, m
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
				p.mouth, p.up = append(p.mouth, m), append(p.up, part.At.Z+z*part.Height/2)
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

// room is the lumped air behind the mouths.
func (p *probes) room(d *design.Design, s *surface.Surface) (out room) {
	for _, v := range p.volumes {
		out.volume += v
	}
	for _, a := range p.across {
		out.area += a
	}
	part := &s.Layout.Parts[p.part[0]]
	out.inner = plateThickness(d, s)/2 + driver.RectangleEndCorrection(part.Width, part.Height)
	return out
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
// k is the wavenumber in rad/m.
func (p *probes) read(ctx context.Context, s *bem3.Solution, weights []complex128, k float64, to *Point) error {
	all, err := s.At(ctx, p.at)
	if err != nil {
		return err
	}
	pressure := combine(all, weights)
	to.Mouths = make([]complex128, len(p.part))
	falls := make([]complex128, len(p.across))
	total := 0.0
	for i, area := range p.across {
		before, behind := pressure[2*i], pressure[2*i+1]
		falls[i] = (behind - before) / complex(p.step, 0) * complex(area, 0)
		to.Mouths[p.mouth[i]] += falls[i]
		to.Pressed += (before + behind) / 2 * complex(area, 0)
		total += area
	}
	to.Pressed /= complex(total, 0)
	to.Baffled = p.baffled(falls, k)
	if all, err = s.At(ctx, p.inside); err != nil {
		return err
	}
	for i, x := range combine(all, weights) {
		to.Held += x * complex(p.volumes[i], 0)
	}
	return nil
}

// baffled is the far field p·r over angles in the upright plane of a box whose mouths lie in a
// wide flat baffle (Rayleigh's integral; L. L. Beranek, Acoustics, 1954, sec. 4.3): falls are the
// slopes of the pressure at each pair over its share of the area, Pa·m.
func (p *probes) baffled(falls []complex128, k float64) []complex128 {
	out := make([]complex128, len(angles))
	for n, a := range angles {
		for i, fall := range falls {
			sin, cos := math.Sincos(k * p.up[i] * math.Sin(a))
			out[n] += fall * complex(cos/(2*math.Pi), sin/(2*math.Pi))
		}
	}
	return out
}
