package wave

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gapline/internal/bem"
)

// Plan is a horizontal section through a cabinet with a horn in its front, seen
// from above. Positions across the front are counted from its middle, positive to
// the left as seen from behind the box. Lengths in m.
type Plan struct {
	Width  float64 // cabinet width
	Depth  float64 // cabinet depth
	HornAt float64 // position of the horn's axis
	// Horn is the horn's wall from throat to mouth, the same on both sides of its
	// axis: Across is the distance from the axis, Along the distance in front of
	// the cabinet's front (negative inside). The first point is the throat's edge,
	// the last the mouth's. The last may lie in front of the cabinet (flares), Lip
	// then gives their thickness there.
	Horn []WallPoint
	Lip  float64 // thickness of the wall at a mouth in front of the cabinet
	// EdgeRadius rounds the front edges of the cabinet; 0 leaves them sharp.
	EdgeRadius float64
	// Openings are those of the front beside the mouth, in any order.
	Openings []Opening
	// Drive is the normal velocity in the throat, m/s.
	Drive complex128
}

// WallPoint is a point of the horn's wall, m.
type WallPoint struct{ Across, Along float64 }

// Opening is a stretch of the front from Right to Left, positions in m, with a
// bottom that moves along its normal with Velocity, m/s, forward; zero is a rigid
// one. The bottom lies behind the front by the setbacks, m, at its two edges: 0 is
// flush; walls run straight back to it, and unequal setbacks turn it.
type Opening struct {
	Left, Right               float64
	SetbackLeft, SetbackRight float64
	Velocity                  complex128
}

// Names of the parts of the section's outline.
const (
	Throat = "throat"
	Horn   = "horn"
	Front  = "front"
	Woofer = "woofer"
	Pocket = "pocket"
	Box    = "box"
)

// Air is the medium.
type Air struct {
	SoundSpeed float64 // m/s
	Density    float64 // kg/m³
}

// nearly is the share of the cabinet's width below which two positions are one.
const nearly = 1e-9

// Symmetric reports whether the section is the same left and right, in geometry
// and drive.
func (p Plan) Symmetric() bool {
	same := func(a, b float64) bool { return math.Abs(a-b) <= nearly*p.Width }
	return same(p.HornAt, 0) && !slices.ContainsFunc(p.Openings, func(o Opening) bool {
		return !slices.ContainsFunc(p.Openings, func(m Opening) bool {
			return m.Velocity == o.Velocity && same(m.Left, -o.Right) && same(m.Right, -o.Left) &&
				same(m.SetbackLeft, o.SetbackRight) && same(m.SetbackRight, o.SetbackLeft)
		})
	})
}

// Problem returns the section as a boundary-element problem with one domain
// called "air", x to the right and y forward, as it is seen from above. A
// symmetric section is its right half, mirrored at x = 0. The error says what of
// the geometry is impossible.
func (p Plan) Problem(a Air) (*bem.Problem, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	symmetric := p.Symmetric()
	outline := p.whole
	if symmetric {
		outline = p.half
	}
	edges, err := outline()
	if err != nil {
		return nil, err
	}
	return &bem.Problem{
		SoundSpeed: a.SoundSpeed, Density: a.Density, Mirror: bem.Mirror{X: symmetric},
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
	if !(math.Abs(p.HornAt) < p.Width/2) {
		bad("horn %g m off the middle: its axis lies outside the cabinet's half-width %g m", math.Abs(p.HornAt), p.Width/2)
	}
	for i, w := range p.Horn {
		if at := math.Abs(p.HornAt) + w.Across; !(w.Across > 0) || at > p.Width/2 && w.Along < 0 {
			bad("horn wall point %d lies %g m from the middle, outside the cabinet's half-width %g m", i+1, at, p.Width/2)
		}
	}
	if mouth.Along > 0 && !(p.Lip > 0) {
		bad("a mouth %g m in front of the cabinet needs walls of some thickness: lip is %g m", mouth.Along, p.Lip)
	}
	if mouth.Along < 0 {
		bad("mouth %g m behind the front: the horn's wall must reach the front", -mouth.Along)
	}
	if r := p.EdgeRadius; r < 0 || r > p.Depth || r > p.Width/2-math.Abs(p.HornAt)-p.exit() {
		bad("front edge radius %g m does not fit beside the mouth", r)
	}
	return errors.Join(append(errs, p.checkOpenings()...)...)
}

// checkOpenings reports every impossible opening.
func (p Plan) checkOpenings() []error {
	var errs []error
	for i, o := range p.Openings {
		if !(o.Left > o.Right) {
			errs = append(errs, fmt.Errorf("opening %d from %g m to %g m: its left edge must lie left of its right one", i+1, o.Right, o.Left))
		}
		for _, s := range []float64{o.SetbackLeft, o.SetbackRight} {
			if !(s >= 0 && s < p.Depth) {
				errs = append(errs, fmt.Errorf("opening %d: its bottom lies %g m behind the front, and must not lie before it nor behind a cabinet %g m deep", i+1, s, p.Depth))
			}
		}
	}
	return errs
}

// exit is the half-width that the horn takes of the front, m: the mouth's, or what
// the outside of a projecting wall leaves.
func (p Plan) exit() float64 {
	mouth := p.Horn[len(p.Horn)-1]
	if mouth.Along <= 0 {
		return mouth.Across
	}
	return math.Min(p.outerWallAtFront(), p.Width/2-math.Abs(p.HornAt))
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
