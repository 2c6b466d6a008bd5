package field

import (
	"context"
	"math"
)

// Across is the energy mean of a polar to the left and right over some elevations.
type Across struct {
	PolarSpec
	Elevation []float64   // rad up from the plane that holds the axis
	Level     [][]float64 // [frequency][angle], see Engine.Level
	OnAxis    []float64   // straight ahead
}

// LevelAcross computes a horizontal polar as the energy mean over elevations from the
// stack's axis, each on its own cone about the upright of the stack: what a curved
// stack sends to the left and right of the directions that its boxes point into. In
// the one plane through the axis their sound meets in phase at the sides and does not
// in front, and the width read there is none of the stack's beam.
func (e *Engine) LevelAcross(ctx context.Context, s PolarSpec, elevation []float64) (*Across, error) {
	s.Plane = Horizontal
	if _, err := e.polarPlaces(&s); err != nil { // checks, and fills in the axis
		return nil, err
	}
	out := &Across{PolarSpec: s, Elevation: elevation}
	bare := e.with(noGround)
	angles := append(s.Angle[:len(s.Angle):len(s.Angle)], 0)
	total := table2[float64](len(s.Frequency), len(angles))
	step := max(1, mostPressures/(len(s.Frequency)*len(elevation)))
	for low := 0; low < len(angles); low += step {
		part := angles[low:min(low+step, len(angles))]
		p, err := bare.pressures(ctx, e.conePlaces(&s, part, elevation), s.Frequency)
		if err != nil {
			return nil, err
		}
		for i, row := range p {
			for j, q := range row {
				total[i][low+j/len(elevation)] += square(q) / float64(len(elevation))
			}
		}
	}
	for _, row := range total {
		for j := range row {
			row[j] = e.levelOfSquare(row[j])
		}
		out.Level = append(out.Level, row[:len(s.Angle)])
		out.OnAxis = append(out.OnAxis, row[len(s.Angle)])
	}
	return out, nil
}

// conePlaces lists the places at every elevation of every angle in turn.
func (e *Engine) conePlaces(s *PolarSpec, angle, elevation []float64) []place {
	f := worldFrame.down(s.Axis)
	out := make([]place, 0, len(angle)*len(elevation))
	for _, a := range angle {
		flat := s.direction(a)
		for _, up := range elevation {
			sin, cos := math.Sincos(up)
			p := place{at: flat.Scale(cos).Add(f.up.Scale(sin)), far: math.IsInf(s.Distance, 1)}
			if !p.far {
				p.at = e.centre.Add(p.at.Scale(s.Distance))
			}
			out = append(out, p)
		}
	}
	return out
}

// Centre returns the mean place of the mouths, from which polars are seen.
func (e *Engine) Centre() Vec { return e.centre }
