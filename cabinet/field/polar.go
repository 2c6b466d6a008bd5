package field

import (
	"context"
	"fmt"
	"math"

	"gapline/internal/numeric"
)

// Plane is the plane of a polar.
type Plane int

// The planes. Both hold the stack's axis.
const (
	Vertical   Plane = iota // angles positive upwards
	Horizontal              // angles positive to the left
)

// maxAngles bounds a polar.
const maxAngles = 100_000

// PolarSpec asks for a polar. Angles are rad from the stack's axis, which
// starts at the mean place of the mouths and points Axis rad down (NaN: the mean
// of the boxes). Distance is in m; +Inf is the true far field, in which
// pressures are referred to 1 m. A polar leaves the floor out; absorption counts
// at a finite distance only.
type PolarSpec struct {
	Plane     Plane
	Angle     []float64 // rad
	Frequency []float64 // Hz
	Distance  float64   // m
	Axis      float64   // rad, positive down
}

// Polar is a polar or, over many frequencies, an angle-frequency map.
type Polar struct {
	PolarSpec
	OnAxis     []float64      // level on the axis, [frequency], see Engine.Level
	Level      [][]float64    // [frequency][angle]
	Normalised [][]float64    // 0 dB on the axis
	Pressure   [][]complex128 // the same as complex numbers, for phase
}

// Angles returns n angles evenly from −span/2 to +span/2, rad.
func Angles(n int, span float64) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = span * (float64(i)/float64(max(n-1, 1)) - 0.5)
	}
	return out
}

// Polar computes a polar.
func (e *Engine) Polar(ctx context.Context, s PolarSpec) (*Polar, error) {
	at, err := e.polarPlaces(&s)
	if err != nil {
		return nil, err
	}
	p, err := e.with(noGround).pressures(ctx, at, s.Frequency)
	if err != nil {
		return nil, err
	}
	out := &Polar{PolarSpec: s}
	for _, row := range p {
		axis := e.Level(row[len(row)-1])
		row = row[:len(row)-1]
		level := make([]float64, len(row))
		relative := make([]float64, len(row))
		for i, q := range row {
			level[i] = e.Level(q)
			relative[i] = level[i] - axis
		}
		out.OnAxis = append(out.OnAxis, axis)
		out.Level = append(out.Level, level)
		out.Normalised = append(out.Normalised, relative)
		out.Pressure = append(out.Pressure, row)
	}
	return out, nil
}

// PolarParts returns the pressures of a polar for each drive alone,
// [drive][frequency][angle], with the axis as one more angle at the end.
func (e *Engine) PolarParts(ctx context.Context, s PolarSpec) ([][][]complex128, error) {
	at, err := e.polarPlaces(&s)
	if err != nil {
		return nil, err
	}
	return e.with(noGround).parts(ctx, at, s.Frequency)
}

// noGround takes the floor away.
func noGround(o *Options) { o.Ground = 0 }

// polarPlaces returns the places of a polar and, last, the one on the axis.
func (e *Engine) polarPlaces(s *PolarSpec) ([]place, error) {
	if len(s.Angle) == 0 || len(s.Angle) > maxAngles {
		return nil, fmt.Errorf("polar of %d angles: need 1 to %d", len(s.Angle), maxAngles)
	}
	if !(s.Distance > 0) {
		return nil, fmt.Errorf("polar at a distance of %v m: need more than 0", s.Distance)
	}
	if math.IsNaN(s.Axis) {
		s.Axis = e.AxisAngle()
	}
	out := make([]place, 0, len(s.Angle)+1)
	for _, a := range append(s.Angle[:len(s.Angle):len(s.Angle)], 0) {
		p := place{at: s.direction(a), far: math.IsInf(s.Distance, 1)}
		if !p.far {
			p.at = e.centre.Add(p.at.Scale(s.Distance))
			if i := e.Inside(p.at); i > 0 {
				return nil, fmt.Errorf("polar at %v m runs through box %d: take a greater distance", s.Distance, i)
			}
		}
		if !p.at.finite() {
			return nil, fmt.Errorf("polar angle %v is not finite", a)
		}
		out = append(out, p)
	}
	return out, nil
}

// direction is the unit vector at an angle of the polar.
func (s *PolarSpec) direction(angle float64) Vec {
	f := worldFrame.down(s.Axis)
	sin, cos := math.Sincos(angle)
	if s.Plane == Horizontal {
		return f.forward.Scale(cos).Add(f.left.Scale(sin))
	}
	return f.forward.Scale(cos).Add(f.up.Scale(sin))
}

// Beamwidth returns the full angle, rad, between the first places on each side
// of the axis where the level of frequency i falls to drop dB (6 for −6 dB)
// below the axis, found on straight lines between the angles, which must
// ascend. NaN: it does not fall that far on both sides.
func (p *Polar) Beamwidth(i int, drop float64) float64 {
	row := p.Normalised[i]
	right, left := numeric.Absent, numeric.Absent
	for j := 1; j < len(row); j++ {
		a0, a1 := p.Angle[j-1], p.Angle[j]
		l0, l1 := row[j-1]+drop, row[j]+drop
		if (l0 < 0) == (l1 < 0) {
			continue
		}
		cross := a0 + (a1-a0)*l0/(l0-l1)
		switch {
		case l0 < 0 && cross <= 0:
			right = cross
		case l1 < 0 && cross >= 0 && math.IsNaN(left):
			left = cross
		}
	}
	return left - right
}
