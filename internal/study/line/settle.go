package line

import (
	"context"
	"math"

	"gapline/cabinet/field"
)

// How many tones stand for each band of an average, and how far below the loudest place
// of its band a level has to settle, dB.
const (
	mostTones   = 96
	settleDepth = 20
)

// settle chooses the tones of a band's average at places, or at directions of the far
// field, by doubling them until nothing moves; it leaves tones as they are.
func (s *Study) settle(ctx context.Context, e *field.Engine, sp Spectrum, at []field.Vec, far bool) (Spectrum, error) {
	if sp.Bands == nil || len(at) == 0 {
		return sp, nil
	}
	n, settled, err := e.SettledTones(ctx, field.SettleSpec{Bands: sp.Bands, At: at, Far: far, From: sp.each, To: max(mostTones, sp.each), Depth: settleDepth})
	if err != nil {
		return sp, err
	}
	sp.each, sp.moving = n, !settled
	return sp, nil
}

// settlePolar samples the front of a plane, from the middle of the stack.
func (s *Study) settlePolar(ctx context.Context, e *field.Engine, sp Spectrum, plane field.Plane, distance float64) (Spectrum, error) {
	if sp.Bands == nil {
		return sp, nil
	}
	down := s.AxisDown()
	forward := field.Vec{X: math.Cos(down), Z: -math.Sin(down)}
	across := field.Vec{X: math.Sin(down), Z: math.Cos(down)}
	if plane == field.Horizontal {
		across = field.Vec{Y: 1}
	}
	far := math.IsInf(distance, 1)
	var at []field.Vec
	for _, a := range field.Angles(HalfTurn, math.Pi) {
		d := forward.Scale(math.Cos(a)).Add(across.Scale(math.Sin(a)))
		if !far {
			d = e.Centre().Add(d.Scale(distance))
			if e.Inside(d) > 0 {
				continue
			}
		}
		at = append(at, d)
	}
	return s.settle(ctx, e, sp, at, far)
}

// settleFrame samples a side view outside the boxes.
func (s *Study) settleFrame(ctx context.Context, e *field.Engine, sp Spectrum, f Frame) (Spectrum, error) {
	const columns, rows = 32, 12
	var at []field.Vec
	for i := range columns {
		for j := range rows {
			p := field.Vec{X: f.FromX + (f.ToX-f.FromX)*(float64(i)+0.5)/columns, Z: f.FromZ + (f.ToZ-f.FromZ)*(float64(j)+0.5)/rows}
			if e.Inside(p) == 0 && !(p.Z < 0 && s.Conditions.Ground > 0) {
				at = append(at, p)
			}
		}
	}
	return s.settle(ctx, e, sp, at, false)
}
