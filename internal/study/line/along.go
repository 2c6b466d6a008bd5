package line

import (
	"context"
	"math"

	"gapline/cabinet/field"
	"gapline/internal/numeric"
)

// AlongSeats is level against distance where people sit: from the first row to the
// last, with the distance from the middle of the stack.
type AlongSeats struct {
	Seat   []field.Vec // ears, m
	Metre  []float64   // from the middle of the stack
	Level  [][]float64 // [frequency][seat], dB
	Smooth [][]float64 // drop for each doubling fitted over SlopeWindow, dB; NaN where that reaches beyond a stretch
	Passes [][]float64 // [frequency], every distance at which Smooth passes 4.5 dB, m
}

// smooth adds the slopes along the axis, from levels half a window beyond both ends as
// far as they lie clear of the boxes.
func (s *Study) smooth(ctx context.Context, e *field.Engine, d *Distance) error {
	n := len(d.Metre)
	if n < 2 {
		return nil
	}
	ratio := d.Metre[1] / d.Metre[0]
	more := int(math.Round(SlopeWindow / 2 / math.Log2(ratio)))
	forward := field.Vec{X: math.Cos(s.AxisDown()), Z: -math.Sin(s.AxisDown())}
	var metre []float64
	var at []field.Vec
	before := 0
	for i := -more; i < n+more; i++ {
		x := d.Metre[0] * math.Pow(ratio, float64(i))
		p := e.Centre().Add(forward.Scale(x))
		if i < 0 && e.Inside(p) > 0 {
			metre, at, before = nil, nil, 0 // whatever lies nearer is no use
			continue
		}
		if i < 0 || i >= n {
			metre, at = append(metre, x), append(at, p)
		}
		if i < 0 {
			before++
		}
	}
	rows, err := s.levelsAt(ctx, e, &d.Spectrum, at)
	if err != nil {
		return err
	}
	all := append(append(append([]float64(nil), metre[:before]...), d.Metre...), metre[before:]...)
	for i, row := range rows {
		level := append(append(append([]float64(nil), row[:before]...), d.Level[i]...), row[before:]...)
		slope := field.SmoothSlope(all, level, SlopeWindow)[before : before+n]
		d.Smooth, d.Passes = append(d.Smooth, slope), append(d.Passes, field.SlopeCrossings(d.Metre, slope))
	}
	return nil
}

// levelsAt returns the levels at places, [frequency][place].
func (s *Study) levelsAt(ctx context.Context, e *field.Engine, sp *Spectrum, at []field.Vec) ([][]float64, error) {
	if len(at) == 0 {
		return make([][]float64, len(sp.Hz)), nil
	}
	p, err := e.Pressure(ctx, at, sp.tones())
	if err != nil {
		return nil, err
	}
	rows := make([][]float64, len(p))
	for i := range p {
		for _, q := range p[i] {
			rows[i] = append(rows[i], e.Level(q))
		}
	}
	return sp.average(rows), nil
}

// alongDoubling is how finely seats stand for level against distance, in each doubling
// of their distance.
const alongDoubling = 24

// alongSeats computes level against distance along the seats, as far as each row is
// farther from the stack than the one before.
func (s *Study) alongSeats(ctx context.Context, e *field.Engine, sp Spectrum) (*AlongSeats, error) {
	if !s.Design.Audience.Given() || !numeric.Given(s.Model.Stack.TopHeight) {
		return nil, nil
	}
	out := &AlongSeats{}
	var stretches []int // first seat of each
	for _, g := range s.Seating() {
		// Steps that suit the nearest seat suit all farther ones.
		nearest := math.Max(g.Start, s.seatStep())
		step := math.Max(nearest*(math.Exp2(1.0/alongDoubling)-1), (g.End-g.Start)/mostAlong)
		for i, p := range g.Seats(step) {
			r, last := p.Sub(e.Centre()).Norm(), len(out.Metre)-1
			if e.Inside(p) > 0 {
				return nil, nil // the seats' own view says so
			}
			joined := last >= 0 && p.Sub(out.Seat[last]).Norm() < 2*math.Max(step, s.seatStep())
			switch {
			case last >= 0 && r <= out.Metre[last]*(1+1e-9) && joined:
				continue // the row where two stretches meet, or one that is no farther
			case last < 0 || i == 0 && !joined || r <= out.Metre[last]:
				stretches = append(stretches, last+1)
			}
			out.Seat, out.Metre = append(out.Seat, p), append(out.Metre, r)
		}
	}
	rows, err := s.levelsAt(ctx, e, &sp, out.Seat)
	if err != nil {
		return nil, err
	}
	for _, row := range rows {
		var slope, passes []float64
		for k, from := range stretches {
			to := len(row)
			if k+1 < len(stretches) {
				to = stretches[k+1]
			}
			part := field.SmoothSlope(out.Metre[from:to], row[from:to], SlopeWindow)
			passes = append(passes, field.SlopeCrossings(out.Metre[from:to], part)...)
			slope = append(slope, part...)
		}
		out.Level, out.Smooth, out.Passes = append(out.Level, row), append(out.Smooth, slope), append(out.Passes, passes)
	}
	return out, nil
}

// mostAlong bounds the seats of a stretch.
const mostAlong = 400
