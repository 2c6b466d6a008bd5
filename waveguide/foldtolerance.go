package waveguide

import (
	"fmt"
	"math"

	"gapline/internal/numeric"
)

// toleranceRays is how many rays the tolerance figures are taken over. The path
// errors below are smooth over the fan, with extremes at its ends and middle.
const toleranceRays = 65

// Displaced is what is left of the flatness when the wall sits in the wrong
// place.
type Displaced struct {
	Shift      Point   // how far the wall was moved, m
	PathSpread float64 // longest minus shortest path to the mouth plane, m
	FlatTo     float64 // c/(4·PathSpread), Hz
}

// ShiftWall moves the wall by the given vector in m, throat and mouth staying
// where they are, and traces the rays again with the law of reflection. The
// spread of the paths to the mouth plane is then the front's bulge, any tilt
// included. A shift as large as the throat's distance from the wall is an error.
//
// For a plane front and a shift e along the axis the spread is, to first order
// in e, |e|(1 - cos φ_max).
func (f Fold) ShiftWall(shift Point) (Displaced, error) {
	if d := math.Hypot(shift.Z, shift.Y); !(d < f.Spec.ThroatToWall/2) {
		return Displaced{}, fmt.Errorf("wall shift of %s: it must be less than half the throat to wall distance, %s",
			mm(d), mm(f.Spec.ThroatToWall/2))
	}
	s := f.displacedSpread(shift)
	return Displaced{Shift: shift, PathSpread: s, FlatTo: quarterWave(f.Spec.SoundSpeed, s)}, nil
}

func (f Fold) displacedSpread(shift Point) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range toleranceRays {
		phi := f.fan.Low + f.fan.Width()*float64(i)/(toleranceRays-1)
		path := f.displacedPath(phi, shift)
		lo, hi = math.Min(lo, path), math.Max(hi, path)
	}
	return hi - lo
}

// displacedPath is the length from throat to mouth plane of the ray at phi when
// the wall is moved by shift.
func (f Fold) displacedPath(phi float64, shift Point) float64 {
	w := f.Wall
	u := w.direction(phi)
	k := w.Vertex * (1 + w.Q)
	s := w.Radius(phi)
	var normal Point
	// Newton's method for the distance s at which F + s·u meets the moved wall,
	// q|P| + P·axis = a(1+q) with P seen from the moved focus. The start is off
	// by no more than the shift, so a few steps reach rounding.
	for range 8 {
		p := u.times(s).minus(shift)
		r := math.Hypot(p.Z, p.Y)
		normal = p.times(w.Q / r).plus(w.Axis)
		s -= (w.Q*r + p.dot(w.Axis) - k) / normal.dot(u)
	}
	p := f.Throat().along(u, s)
	v := u.along(normal, -2*u.dot(normal)/normal.dot(normal))
	return s + (f.MouthZ()-p.Z)/v.Z
}

// profileSpread is the worst spread of the paths when the wall's surface may be
// off by e along its normal anywhere: a bump of e changes a path by 2e·cos i
// (i the angle of incidence), so one path may gain and another lose.
func (f Fold) profileSpread(rays []Ray, e float64) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, r := range rays {
		d := 2 * e * math.Cos(r.Incidence)
		lo, hi = math.Min(lo, r.Path-d), math.Max(hi, r.Path+d)
	}
	return hi - lo
}

// Tolerance says how exactly the wall must be built for the front to stay flat
// to the top frequency.
type Tolerance struct {
	Axial   float64 // largest shift of the whole wall forward or back, m
	Lateral float64 // largest shift up or down, m; it tilts the front
	Profile float64 // largest error ±e of the surface, m, worst case
}

// Tolerance returns the largest errors that keep the path spread within a
// quarter wave at the top frequency. All are 0 when the fold as designed already
// spreads more. A shift is reported only up to a quarter of the throat to wall
// distance.
func (f Fold) Tolerance() (Tolerance, error) {
	budget := f.SpreadBudget()
	if f.PathSpread() >= budget {
		return Tolerance{}, nil
	}
	rays, err := f.Rays(toleranceRays)
	if err != nil {
		return Tolerance{}, err
	}
	limit := f.Spec.ThroatToWall / 4
	largest := func(spread func(e float64) float64) float64 {
		over := func(e float64) float64 { return spread(e) - budget }
		if over(limit) <= 0 {
			return limit
		}
		e, err := numeric.Root(over, 0, limit, 1e-12)
		if err != nil {
			return 0
		}
		return e
	}
	worse := func(d Point) func(float64) float64 {
		return func(e float64) float64 {
			return math.Max(f.displacedSpread(d.times(e)), f.displacedSpread(d.times(-e)))
		}
	}
	return Tolerance{
		Axial:   largest(worse(Point{1, 0})),
		Lateral: largest(worse(Point{0, 1})),
		Profile: largest(func(e float64) float64 { return f.profileSpread(rays, e) }),
	}, nil
}
