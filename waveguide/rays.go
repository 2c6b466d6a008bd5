package waveguide

import (
	"fmt"
	"math"

	"gapline/internal/numeric"
)

// Ray is the path of one ray from the throat over the wall to the mouth plane.
type Ray struct {
	Angle     float64 // φ at the throat from the wall's axis, positive upwards, rad
	Wall      Point   // where it meets the wall
	Incidence float64 // angle to the wall's normal there, rad
	MouthY    float64 // height at the mouth plane, m
	Path      float64 // length from throat to mouth plane, m
	Time      float64 // arrival after leaving the throat, s
	Level     float64 // dB re the ray to the mouth's middle, from ray density
}

// Rays returns n rays at equal angles over the fan, from the mouth's lower edge
// to its upper. n is at least 2.
func (f Fold) Rays(n int) ([]Ray, error) {
	if n < 2 {
		return nil, fmt.Errorf("%d rays asked for; at least 2 are needed", n)
	}
	rays := make([]Ray, n)
	middle := f.Intensity(0)
	for i := range rays {
		phi := f.fan.Low + f.fan.Width()*float64(i)/float64(n-1)
		r := f.ray(phi)
		r.Level = 10 * math.Log10(f.Intensity(r.MouthY)/middle)
		rays[i] = r
	}
	return rays, nil
}

// ray traces the ray at phi; the level is left out.
func (f Fold) ray(phi float64) Ray {
	p := f.Wall.Point(phi)
	m := f.exit(p)
	path := f.Throat().distance(p) + p.distance(m)
	n := f.Wall.Normal(phi)
	return Ray{
		Angle:     phi,
		Wall:      p,
		Incidence: math.Acos(math.Min(1, n.dot(f.Wall.direction(phi)))),
		MouthY:    m.Y,
		Path:      path,
		Time:      path / f.Spec.SoundSpeed,
	}
}

// exit is where the ray that leaves the wall at p, as if from the virtual apex,
// meets the mouth plane.
func (f Fold) exit(p Point) Point {
	forward := 1 + (p.Z-f.MouthZ())*f.invL // (P - V)/L
	up := (p.Y - f.apexY) * f.invL
	return Point{f.MouthZ(), p.Y + (f.MouthZ()-p.Z)*up/forward}
}

// Intensity returns the sound intensity in the second layer at the mouth height
// y in m, as the share of the fan's angle per metre across the ray, rad/m. The
// source sends the same power into every angle of the fan (a throat small
// against the wavelength), so
//
//	I = (dφ/dy)/cos ψ
//
// with ψ the ray's slope; for the parabola I = (1 + cos φ)/(2a).
func (f Fold) Intensity(y float64) float64 {
	rise := (y - f.apexY) * f.invL
	return f.densityAt(y) * math.Sqrt(1+rise*rise)
}

// Taper returns the level in dB of the weakest place of the mouth against the
// strongest, from ray density.
func (f Fold) Taper() float64 {
	// The density falls steadily away from the wall's axis, so the extremes
	// are at the edges or where the axis ray arrives; a few points in between
	// catch the slope factor of a near apex.
	const points = 33
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range points {
		y := f.Spec.MouthHeight * (float64(i)/(points-1) - 0.5)
		v := f.Intensity(y)
		lo, hi = math.Min(lo, v), math.Max(hi, v)
	}
	return 10 * math.Log10(lo/hi)
}

// MouthEnergy is the power through the mouth as an angle in rad: the integral
// over the mouth of intensity times the cosine of the ray's slope. It equals the
// width of the fan, which the tests use.
func (f Fold) MouthEnergy() float64 {
	h := f.Spec.MouthHeight / 2
	return numeric.Integrate(func(y float64) float64 {
		rise := (y - f.apexY) * f.invL
		return f.Intensity(y) / math.Sqrt(1+rise*rise)
	}, -h, h, 16, 16)
}

// rounding is the path difference in m below which paths are equal: a few
// hundred spacings of float64 at 1 m.
const rounding = 1e-13

// PathSpread is the longest minus the shortest path of any ray to the mouth
// plane, in m: the front's bulge over the mouth. For a plane front it is 0 but
// for rounding.
func (f Fold) PathSpread() float64 {
	h := f.Spec.MouthHeight / 2
	// The paths grow with distance from the apex's height: the shortest is
	// there or at the nearer edge, the longest at an edge.
	near := math.Max(-h, math.Min(h, f.apexY))
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, y := range [3]float64{-h, near, h} {
		path := f.ray(f.AngleAt(y)).Path
		lo, hi = math.Min(lo, path), math.Max(hi, path)
	}
	return hi - lo
}

// FlatTo is the frequency in Hz up to which the front stays within a quarter
// wave of a plane, c/(4·PathSpread). A plane front gives +Inf.
func (f Fold) FlatTo() float64 { return quarterWave(f.Spec.SoundSpeed, f.PathSpread()) }

// quarterWave is the frequency in Hz at which the length s is a quarter wave.
func quarterWave(c, s float64) float64 {
	if s <= rounding {
		return math.Inf(1)
	}
	return c / (4 * s)
}

// SpreadBudget is the path spread in m that the top frequency allows, a quarter
// wave.
func (f Fold) SpreadBudget() float64 { return f.Spec.SoundSpeed / (4 * f.Spec.TopFrequency) }

// StraightLength is the length in m, apex to mouth, of the straight-walled horn
// of the same mouth whose front is as flat: L itself, and for a plane front,
// which no straight horn reaches, the length that is flat to the top frequency.
func (f Fold) StraightLength() float64 {
	if f.invL > 0 {
		return f.Spec.VirtualPath
	}
	return flatPath(f.Spec.MouthHeight, f.SpreadBudget())
}

// DepthSaved is StraightLength - BuiltDepth in m, both as the cabinet must offer them;
// negative when the fold is the deeper of the two.
func (f Fold) DepthSaved() float64 { return f.StraightLength() - f.BuiltDepth() }
