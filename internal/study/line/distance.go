package line

import (
	"context"
	"math"

	"gapline/cabinet/field"
	"gapline/internal/numeric"
)

// distanceTolerance keeps levels within some 0.004 dB and slopes within some
// 0.02 dB for each doubling of those at the field's own finest setting, at a
// fiftieth of its time.
const distanceTolerance = 1e-4

// Distance is level against distance along the stack's axis.
type Distance struct {
	Spectrum
	Metre      []float64   // m
	Level      [][]float64 // [frequency][distance], dB
	Slope      [][]float64 // drop for each doubling, dB
	Crossing   []float64   // outermost distance of 4.5 dB for each doubling, m; NaN: none in the range
	Transition []field.Transition
	Absorbed   bool
	Smooth     [][]float64 // Slope fitted over SlopeWindow; NaN where that reaches beyond what is computed
	Passes     [][]float64 // [frequency], every distance at which Smooth passes 4.5 dB, m
	Seats      *AlongSeats // nil: there are none, or the stack has no height
}

// SlopeWindow is what slopes are smoothed over, doublings of the distance.
const SlopeWindow = 1.0

// Ends of level against distance unless others are asked for, m, and points in
// each doubling.
const (
	NearestMetre    = 1
	FarthestMetre   = 128
	PerDoubling     = 24
	mostPerDoubling = 96
)

// Distance computes level against distance, without the floor, which the axis may
// run into. Band averages keep the crossing and
// the formulas of their middles.
func (s *Study) Distance(ctx context.Context, sp Spectrum, from, to float64, perDoubling int) (*Distance, error) {
	o := s.options("level against distance", false)
	o.Tolerance, o.Ground = distanceTolerance, 0
	e, err := field.New(s.Model.Stack, o)
	if err != nil {
		return nil, err
	}
	metre := field.Distances(from, to, min(perDoubling, mostPerDoubling))
	spec := field.DistanceSpec{From: field.Vec{X: numeric.Absent}, Distance: metre, Frequency: sp.Hz}
	d, err := e.LevelDistance(ctx, spec)
	if err != nil {
		return nil, err
	}
	out := &Distance{Spectrum: sp, Metre: d.Distance, Level: d.Level, Slope: d.Slope, Crossing: d.Crossing,
		Transition: d.Transition, Absorbed: s.Absorbs(false)}
	if sp.Bands != nil {
		if sp, err = s.settle(ctx, e, sp, s.alongAxis(e, metre), false); err != nil {
			return nil, err
		}
		out.Spectrum = sp
		spec.Frequency = sp.tones()
		if d, err = e.LevelDistance(ctx, spec); err != nil {
			return nil, err
		}
		out.Level, out.Slope = sp.average(d.Level), meanRows(d.Slope, sp.each)
	}
	if err := s.smooth(ctx, e, out); err != nil {
		return nil, err
	}
	out.Seats, err = s.alongSeats(ctx, e, sp)
	return out, err
}

// alongAxis samples the axis.
func (s *Study) alongAxis(e *field.Engine, metre []float64) (at []field.Vec) {
	forward := field.Vec{X: math.Cos(s.AxisDown()), Z: -math.Sin(s.AxisDown())}
	for i := 0; i < len(metre); i += PerDoubling / 4 {
		at = append(at, e.Centre().Add(forward.Scale(metre[i])))
	}
	return at
}

// meanRows returns the plain mean of each run of m rows.
func meanRows(rows [][]float64, m int) [][]float64 {
	out := make([][]float64, len(rows)/m)
	for b := range out {
		out[b] = make([]float64, len(rows[b*m]))
		for _, row := range rows[b*m : b*m+m] {
			for i, x := range row {
				out[b][i] += x / float64(m)
			}
		}
	}
	return out
}
