package line

import (
	"context"

	"gapline/cabinet/field"
	"gapline/internal/study/maximum"
)

// Maximum is how loud the stack can play, tones and programme, and what stops it.
type Maximum struct {
	*maximum.Box
	Levels    *maximum.Levels
	Stack     *maximum.Stack
	Programme *maximum.Programme
	Seats     *maximum.Seats // nil: not asked for, or no programme level
	Absorbed  bool           // of the seats
}

// seatSumTolerance is that of the sums at the seats: 0.02 dB.
const seatSumTolerance = 2e-3

// One takes one box out of the stack's design: what its bands are given for. Nil without
// an error where the levels of the stack are relative.
func (s *Study) One(ctx context.Context) (*maximum.Box, error) {
	if !s.Model.Absolute {
		return nil, nil
	}
	o, problems, err := maximum.New(ctx, s.Design, s.Conditions.Choice)
	if problems != nil {
		return nil, Problems(problems)
	}
	return o, err
}

// Maximum works out the largest levels; seats asks for those of the audience.
func (s *Study) Maximum(ctx context.Context, o *maximum.Box, signal maximum.Signal, seats bool) (*Maximum, error) {
	out := &Maximum{Box: o, Absorbed: s.Absorbs(true)}
	var err error
	if out.Levels, err = o.Levels(ctx, maximum.Frequencies()); err != nil {
		return nil, err
	}
	if out.Stack, err = o.Stack(ctx, s.far, out.Levels); err != nil {
		return nil, err
	}
	if out.Programme, err = o.Programme(ctx, signal); err != nil {
		return nil, err
	}
	if !seats || out.Programme.First() == maximum.None {
		return out, nil
	}
	var e *field.Engine
	if e, err = s.engine("programme at the seats", true, seatSumTolerance); err != nil {
		return nil, err
	}
	out.Seats, err = o.Seats(ctx, e, s.audienceSpec(), out.Programme)
	return out, err
}
