package wave

import (
	"errors"
	"fmt"
	"math"

	"gapline/internal/bem"
)

// Plan is the right half of a horizontal section, symmetric left to right: a
// cabinet with a horn in the middle of its front. Lengths in m.
type Plan struct {
	Width float64 // cabinet width
	Depth float64 // cabinet depth
	// Horn is the horn's wall from throat to mouth: Across is the distance from
	// the middle, Along the distance in front of the cabinet's front (negative
	// inside). The first point is the throat's edge, the last the mouth's. The
	// last may lie in front of the cabinet (flares), Lip then gives their
	// thickness there.
	Horn []WallPoint
	Lip  float64 // thickness of the wall at a mouth in front of the cabinet
	// EdgeRadius rounds the front edges of the cabinet; 0 leaves them sharp.
	EdgeRadius float64
	// Woofers are openings of the front beside the mouth.
	Woofers []Opening
	// Drive is the normal velocity in the throat, m/s.
	Drive complex128
}

// WallPoint is a point of the horn's wall, m.
type WallPoint struct{ Across, Along float64 }

// Opening is a stretch of the front from From to To, m from the middle, that
// moves with Velocity, m/s, forward; zero is a rigid opening.
type Opening struct {
	From, To float64
	Velocity complex128
}

// Names of the parts of the section's outline.
const (
	Throat = "throat"
	Horn   = "horn"
	Front  = "front"
	Woofer = "woofer"
	Box    = "box"
)

// Air is the medium.
type Air struct {
	SoundSpeed float64 // m/s
	Density    float64 // kg/m³
}

// Problem returns the section as a boundary-element problem with one domain
// called "air", mirrored at x = 0, x across and y forward. The error says what
// of the geometry is impossible.
func (p Plan) Problem(a Air) (*bem.Problem, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	edges, err := p.outline()
	if err != nil {
		return nil, err
	}
	return &bem.Problem{
		SoundSpeed: a.SoundSpeed, Density: a.Density, Mirror: bem.Mirror{X: true},
		Domains: []bem.Domain{{Name: "air", Exterior: true, Outlines: [][]bem.Edge{edges}}},
	}, nil
}

// check reports every impossible length at once.
func (p Plan) check() error {
	var errs []error
	bad := func(format string, args ...any) { errs = append(errs, fmt.Errorf(format, args...)) }
	if !(p.Width > 0) || !(p.Depth > 0) {
		bad("cabinet of %g m by %g m: width and depth must be positive", p.Width, p.Depth)
	}
	if len(p.Horn) < 2 {
		return errors.Join(append(errs, errors.New("horn wall: needs at least two points, from throat to mouth"))...)
	}
	throat, mouth := p.Horn[0], p.Horn[len(p.Horn)-1]
	if !(throat.Across > 0) {
		bad("throat half-width %g m must be positive", throat.Across)
	}
	if !(throat.Along > -p.Depth) {
		bad("throat %g m behind the front does not fit in a cabinet %g m deep", -throat.Along, p.Depth)
	}
	for i, w := range p.Horn {
		if !(w.Across > 0) || w.Across > p.Width/2 && w.Along < 0 {
			bad("horn wall point %d lies %g m from the middle, outside the cabinet's half-width %g m", i+1, w.Across, p.Width/2)
		}
	}
	if mouth.Along > 0 && !(p.Lip > 0) {
		bad("a mouth %g m in front of the cabinet needs walls of some thickness: lip is %g m", mouth.Along, p.Lip)
	}
	if mouth.Along < 0 {
		bad("mouth %g m behind the front: the horn's wall must reach the front", -mouth.Along)
	}
	if r := p.EdgeRadius; r < 0 || r > p.Depth || r > p.Width/2-p.baffleStart() {
		bad("front edge radius %g m does not fit beside the mouth", r)
	}
	return errors.Join(errs...)
}

// baffleStart is where the flat front begins beside the mouth, m from the
// middle.
func (p Plan) baffleStart() float64 {
	mouth := p.Horn[len(p.Horn)-1]
	if mouth.Along <= 0 {
		return mouth.Across
	}
	return math.Min(p.outerWallAtFront(), p.Width/2)
}

// outerWallAtFront is where the outside of a projecting horn wall meets the
// front: the inside wall's half-width there plus the lip.
func (p Plan) outerWallAtFront() float64 {
	for i := 1; i < len(p.Horn); i++ {
		a, b := p.Horn[i-1], p.Horn[i]
		if a.Along <= 0 && b.Along > 0 {
			return a.Across + (b.Across-a.Across)*(-a.Along)/(b.Along-a.Along) + p.Lip
		}
	}
	return p.Horn[0].Across + p.Lip
}

// outline returns the half outline from the middle of the throat to the middle
// of the back.
func (p Plan) outline() ([]bem.Edge, error) {
	throat := bem.Point{X: p.Horn[0].Across, Y: p.Horn[0].Along}
	drive := line(Throat, bem.Point{Y: throat.Y}, throat)
	drive.Wall = bem.Uniform(p.Drive)
	edges := []bem.Edge{drive}
	wall := make([]bem.Point, len(p.Horn))
	for i, w := range p.Horn {
		wall[i] = bem.Point{X: w.Across, Y: w.Along}
	}
	horn, err := through(Horn, wall)
	if err != nil {
		return nil, err
	}
	edges = append(edges, horn...)
	flare, err := p.flare(wall)
	if err != nil {
		return nil, err
	}
	edges = append(edges, flare...)
	front, err := p.front()
	if err != nil {
		return nil, err
	}
	edges = append(edges, front...)
	return append(edges, p.body()...), nil
}

// flare returns the lip and the outside of a horn wall that stands out from the
// front, nothing otherwise.
func (p Plan) flare(wall []bem.Point) ([]bem.Edge, error) {
	mouth := wall[len(wall)-1]
	if mouth.Y <= 0 {
		return nil, nil
	}
	tip := bem.Point{X: mouth.X + p.Lip, Y: mouth.Y}
	edges := []bem.Edge{line(Horn, mouth, tip)}
	outside := []bem.Point{tip}
	for i := len(wall) - 2; i >= 0 && wall[i].Y > 0; i-- {
		outside = append(outside, bem.Point{X: wall[i].X + p.Lip, Y: wall[i].Y})
	}
	outside = append(outside, bem.Point{X: p.outerWallAtFront()})
	back, err := through(Horn, outside)
	return append(edges, back...), err
}

// front returns the flat front from the mouth to the edge's rounding.
func (p Plan) front() ([]bem.Edge, error) {
	var edges []bem.Edge
	at, end := p.baffleStart(), p.Width/2-p.EdgeRadius
	stretch := func(name string, to float64, v complex128) {
		if to-at > 1e-9*p.Width {
			e := line(name, bem.Point{X: at}, bem.Point{X: to})
			if v != 0 {
				e.Wall = bem.Uniform(v)
			}
			edges = append(edges, e)
			at = to
		}
	}
	for i, w := range p.Woofers {
		if !(w.From >= at-1e-9*p.Width) || !(w.To > w.From) || !(w.To <= end+1e-9*p.Width) {
			return nil, fmt.Errorf("woofer opening %d from %g m to %g m: openings must lie on the front between %g m and %g m, in order",
				i+1, w.From, w.To, at, end)
		}
		stretch(Front, w.From, 0)
		stretch(Woofer, w.To, w.Velocity)
	}
	stretch(Front, end, 0)
	return edges, nil
}

// body returns edge rounding, side and back.
func (p Plan) body() []bem.Edge {
	half, r := p.Width/2, p.EdgeRadius
	var edges []bem.Edge
	if r > 0 {
		arc := bem.Arc{Centre: bem.Point{X: half - r, Y: -r}, Radius: r, Start: math.Pi / 2, Sweep: -math.Pi / 2}
		edges = append(edges, bem.Edge{Name: Box, Curve: arc})
	}
	edges = append(edges, line(Box, bem.Point{X: half, Y: -r}, bem.Point{X: half, Y: -p.Depth}))
	return append(edges, line(Box, bem.Point{X: half, Y: -p.Depth}, bem.Point{Y: -p.Depth}))
}
