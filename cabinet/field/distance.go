package field

import (
	"context"
	"fmt"
	"math"

	"gapline/internal/numeric"
)

// slopeStep is half the span over which a slope is taken, octaves of distance.
const slopeStep = 1.0 / 64

// DistanceSpec asks for level against distance along a straight line.
type DistanceSpec struct {
	From      Vec       // start, from which distance counts; NaN in X: the mean place of the mouths
	Direction Vec       // of any length; the zero vector: the axis of the stack
	Distance  []float64 // m, ascending
	Frequency []float64 // Hz
}

// Distances returns distances from a to b m, evenly in log distance, with at
// least perDoubling for each doubling. Both ends are included.
func Distances(a, b float64, perDoubling int) []float64 {
	if !(a > 0 && b > a && perDoubling > 0) {
		return nil
	}
	n := int(math.Ceil(math.Log2(b/a)*float64(perDoubling)-1e-9)) + 1
	out := make([]float64, max(n, 2))
	for i := range out {
		out[i] = a * math.Pow(b/a, float64(i)/float64(len(out)-1))
	}
	return out
}

// DistanceLevels is level against distance. A uniform line's near field swings
// by about ±2.5 dB about its trend of 3 dB for each doubling.
type DistanceLevels struct {
	DistanceSpec
	Level [][]float64 // [frequency][distance], see Engine.Level
	Slope [][]float64 // local drop, dB for each doubling of distance
	// Crossing is, for each frequency, the outermost distance where the slope
	// is 4.5 dB for each doubling, m; NaN: not between the distances.
	Crossing   []float64
	Transition []Transition // the published formulas, for the stack's length
}

// crossingSlope lies between the cylinder's 3 and the sphere's 6 dB for each
// doubling.
const crossingSlope = 4.5

// LevelDistance computes level against distance with its slope, and where that
// crosses 4.5 dB for each doubling.
func (e *Engine) LevelDistance(ctx context.Context, s DistanceSpec) (*DistanceLevels, error) {
	at, err := e.distancePlaces(&s)
	if err != nil {
		return nil, err
	}
	fine := e.within(DistanceTolerance)
	p, err := fine.pressures(ctx, at, s.Frequency)
	if err != nil {
		return nil, err
	}
	out := &DistanceLevels{DistanceSpec: s}
	for i, row := range p {
		level := make([]float64, len(s.Distance))
		slope := make([]float64, len(s.Distance))
		for j := range level {
			level[j] = e.Level(row[3*j+1])
			slope[j] = (e.Level(row[3*j]) - e.Level(row[3*j+2])) / (2 * slopeStep)
		}
		crossing, err := fine.refineCrossing(ctx, &s, i, slope)
		if err != nil {
			return nil, err
		}
		out.Level = append(out.Level, level)
		out.Slope = append(out.Slope, slope)
		out.Crossing = append(out.Crossing, crossing)
		out.Transition = append(out.Transition, TransitionOf(e.activeLength(), s.Frequency[i], e.air.SoundSpeed))
	}
	return out, nil
}

// distancePlaces fills in defaults and returns three places for each distance:
// slopeStep nearer, there, and slopeStep farther.
func (e *Engine) distancePlaces(s *DistanceSpec) ([]place, error) {
	if math.IsNaN(s.From.X) {
		s.From = e.centre
	}
	if s.Direction == (Vec{}) {
		s.Direction = worldFrame.down(e.AxisAngle()).forward
	}
	if !s.From.finite() || !s.Direction.finite() {
		return nil, fmt.Errorf("line from %v along %v is not finite", s.From, s.Direction)
	}
	s.Direction = s.Direction.Scale(1 / s.Direction.Norm())
	if len(s.Distance) == 0 {
		return nil, fmt.Errorf("no distance: need at least 1")
	}
	var out []place
	for i, d := range s.Distance {
		if !(d > 0 && !math.IsInf(d, 1)) || i > 0 && d <= s.Distance[i-1] {
			return nil, fmt.Errorf("distance %v m: need finite distances above 0 in ascending order", d)
		}
		for step := -1.0; step <= 1; step++ {
			p := s.along(d * math.Exp2(step*slopeStep))
			if err := e.checkPoint(p); err != nil {
				return nil, fmt.Errorf("at a distance of %.4g m: %w", d, err)
			}
			out = append(out, place{at: p})
		}
	}
	return out, nil
}

func (s *DistanceSpec) along(d float64) Vec { return s.From.Add(s.Direction.Scale(d)) }

// refineCrossing finds the outermost crossing of the slope in the table and
// refines it.
func (e *Engine) refineCrossing(ctx context.Context, s *DistanceSpec, i int, slope []float64) (float64, error) {
	hz := s.Frequency[i : i+1]
	var failed error
	excess := func(d float64) float64 {
		at := points([]Vec{s.along(d * math.Exp2(-slopeStep)), s.along(d * math.Exp2(slopeStep))})
		p, err := e.pressures(ctx, at, hz)
		if err != nil {
			failed = err
			return 0
		}
		return (e.Level(p[0][0])-e.Level(p[0][1]))/(2*slopeStep) - crossingSlope
	}
	for j := len(slope) - 1; j > 0; j-- {
		if slope[j] >= crossingSlope && slope[j-1] < crossingSlope {
			x, err := numeric.Root(excess, s.Distance[j-1], s.Distance[j], 1e-6*s.Distance[j])
			if failed != nil {
				return numeric.Absent, failed
			}
			if err != nil {
				return numeric.Absent, nil
			}
			return x, nil
		}
	}
	return numeric.Absent, nil
}

// activeLength is the length of the line for the published formulas: the
// straight length of the stack with one gap added, N·pitch, m.
func (e *Engine) activeLength() float64 { return e.stack.straightLength() + e.stack.Gap }
