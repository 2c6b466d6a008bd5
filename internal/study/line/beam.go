package line

import (
	"context"
	"fmt"
	"math"
	"strings"

	"gapline/cabinet/field"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
)

// ReferenceTo is what levels over angle refer to in pictures and tables for people.
type ReferenceTo uint8

// The references.
const (
	ToBeam ReferenceTo = iota // the largest level of each frequency
	ToAxis                    // the level on the axis of the stack
	ToSeat                    // the level towards a seat
)

// Reference is what levels over angle refer to.
type Reference struct {
	To    ReferenceTo
	Metre float64 // the seat nearest to so far out; 0: the farthest one
}

// ParseReference reads "axis", "beam", "seat", or "seat:20m".
func ParseReference(text string) (Reference, error) {
	name, at, given := strings.Cut(text, ":")
	for i, n := range []string{"beam", "axis", "seat"} {
		if name != n || given && ReferenceTo(i) != ToSeat {
			continue
		}
		r := Reference{To: ReferenceTo(i)}
		if !given {
			return r, nil
		}
		var err error
		if r.Metre, err = quantity.Parse(at, quantity.Length); err == nil && !(r.Metre > 0) {
			err = fmt.Errorf("%q: a distance above 0 is needed", text)
		}
		return r, err
	}
	return Reference{}, fmt.Errorf("%q: axis, beam, seat or seat:DISTANCE is needed", text)
}

// SeatDirections is where the seats lie as seen from the middle of the stack.
type SeatDirections struct {
	Lowest, Highest   float64   // against the axis, rad up
	AtLowest, AtHigh  field.Vec // the seats there, m
	Farthest          field.Vec
	TowardsFarthest   float64 // against the axis, rad up
	Reference         field.Vec
	TowardsReference  float64   // that of Conditions.Reference, or the farthest
	FarthestUnderBeam []float64 // level towards the farthest seat against that of the beam, [frequency], dB
}

// seatDirections looks at the seats from the middle of the stack; nil: there are none,
// or the stack has no height.
func (s *Study) seatDirections() *SeatDirections {
	seating := s.Seating()
	if len(seating) == 0 || !numeric.Given(s.Model.Stack.TopHeight) {
		return nil
	}
	centre, down := s.far.Centre(), s.AxisDown()
	out := &SeatDirections{Lowest: math.Inf(1), Highest: math.Inf(-1)}
	reach, off := math.Inf(-1), math.Inf(1)
	for _, g := range seating {
		for _, p := range g.Seats(s.seatStep()) {
			d := p.Sub(centre)
			a := math.Atan2(d.Z, d.X) + down
			if a < out.Lowest {
				out.Lowest, out.AtLowest = a, p
			}
			if a > out.Highest {
				out.Highest, out.AtHigh = a, p
			}
			if r := d.Norm(); r > reach {
				reach, out.Farthest, out.TowardsFarthest = r, p, a
			}
			if x := math.Abs(p.X - s.Conditions.Reference.Metre); x < off {
				off, out.Reference, out.TowardsReference = x, p, a
			}
		}
	}
	if s.Conditions.Reference.Metre == 0 {
		out.Reference, out.TowardsReference = out.Farthest, out.TowardsFarthest
	}
	return out
}

// beamSpec says what is known of the beam in a plane.
func (s *Study) beamSpec(plane field.Plane, seats *SeatDirections) field.BeamSpec {
	spec := field.BeamSpec{SeatsFrom: numeric.Absent, SeatsTo: numeric.Absent}
	if plane == field.Horizontal {
		spec.Whole = true
		return spec
	}
	spec.From, spec.To = s.sector()
	if seats != nil {
		spec.SeatsFrom, spec.SeatsTo = seats.Lowest, seats.Highest
	}
	return spec
}

// sector is the lowest and the highest direction that a box points into, against the
// axis, rad up.
func (s *Study) sector() (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, o := range s.Outlines() {
		a := s.AxisDown() - o.Angle
		low, high = math.Min(low, a), math.Max(high, a)
	}
	return low, high
}

// judge reads the beams of a polar off a fine one of the front half.
func (s *Study) judge(out, fine *Polar) {
	if out.Plane == field.Vertical {
		out.Seats = s.seatDirections()
	}
	spec := s.beamSpec(out.Plane, out.Seats)
	for _, level := range fine.Level {
		b := field.BeamOf(fine.Angle, level, spec)
		out.Beam, out.Beamwidth = append(out.Beam, b), append(out.Beamwidth, b.Width())
		out.Zero = append(out.Zero, s.zero(out, fine.Angle, level, b))
		if out.Seats != nil {
			out.Seats.FarthestUnderBeam = append(out.Seats.FarthestUnderBeam, between(fine.Angle, level, out.Seats.TowardsFarthest)-b.Level)
		}
	}
}

// zero is what pictures take for 0 dB in one row, against the axis. To the left and
// right a seat lies straight ahead.
func (s *Study) zero(p *Polar, angle, level []float64, b field.Beam) float64 {
	switch s.Conditions.Reference.To {
	case ToBeam:
		return b.Level
	case ToSeat:
		if p.Seats != nil {
			return between(angle, level, p.Seats.TowardsReference)
		}
	}
	return 0
}

// between reads a row off at an angle, on straight lines; NaN outside it.
func between(angle, level []float64, at float64) float64 {
	for i := 1; i < len(angle); i++ {
		if at >= angle[i-1] && at <= angle[i] {
			t := (at - angle[i-1]) / (angle[i] - angle[i-1])
			return level[i-1] + t*(level[i]-level[i-1])
		}
	}
	return numeric.Absent
}

// Referred returns a row of levels as pictures show it: against the reference.
func (p *Polar) Referred(i int) []float64 {
	out := make([]float64, len(p.Level[i]))
	for j, l := range p.Level[i] {
		out[j] = l - p.Zero[i]
	}
	return out
}

// Directions picks an angle of each beam and counts it from the horizontal, rad up; to
// the left and right from straight ahead.
func (p *Polar) Directions(of func(field.Beam) float64) []float64 {
	out := make([]float64, len(p.Beam))
	for i, b := range p.Beam {
		out[i] = of(b)
		if p.Plane == field.Vertical {
			out[i] -= p.Axis
		}
	}
	return out
}

// Elevations of a horizontal polar of a curved stack: a quarter of the narrowest fringe
// apart, within bounds.
const (
	fewestElevations = 9
	mostElevations   = 96
)

// Across computes the polar to the left and right. A straight stack's lies in the plane
// through its axis; a curved one's is the energy mean over the directions its boxes
// point into, see field.LevelAcross.
func (s *Study) Across(ctx context.Context, sp Spectrum, n int, span, distance float64) (*Polar, error) {
	low, high := s.sector()
	if high-low < 1e-9 {
		return s.Polar(ctx, field.Horizontal, sp, n, span, distance)
	}
	e, err := s.engine("polar", false, 0)
	if err != nil {
		return nil, err
	}
	if sp, err = s.settlePolar(ctx, e, sp, field.Horizontal, distance); err != nil {
		return nil, err
	}
	fringe := s.SoundSpeed() / (sp.Hz[len(sp.Hz)-1] * s.Design.Length())
	most := mostElevations
	if sp.Bands != nil {
		most /= 4 // the tones of a band fill in
	}
	count := min(max(int(4*(high-low)/fringe)+1, fewestElevations), most)
	up := make([]float64, count)
	for i := range up {
		up[i] = low + (high-low)*(float64(i)+0.5)/float64(count)
	}
	polar := func(angles []float64) (*Polar, error) {
		a, err := e.LevelAcross(ctx, field.PolarSpec{Angle: angles, Frequency: sp.tones(), Distance: distance, Axis: numeric.Absent}, up)
		if err != nil {
			return nil, err
		}
		p := &field.Polar{PolarSpec: a.PolarSpec, OnAxis: a.OnAxis, Level: a.Level}
		out := polarOf(p, sp)
		out.Pressure, out.Across = nil, count
		return out, nil
	}
	out, err := polar(field.Angles(n, span))
	if err != nil {
		return nil, err
	}
	s.judge(out, out.front())
	return out, nil
}

// front is the part of a polar within 90° of the axis.
func (p *Polar) front() *Polar {
	const slack = 1e-9
	from, to := 0, len(p.Angle)
	for from < to && p.Angle[from] < -math.Pi/2-slack {
		from++
	}
	for from < to && p.Angle[to-1] > math.Pi/2+slack {
		to--
	}
	out := &Polar{Angle: p.Angle[from:to]}
	for _, row := range p.Level {
		out.Level = append(out.Level, row[from:to])
	}
	return out
}
