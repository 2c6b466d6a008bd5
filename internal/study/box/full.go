package box

import (
	"context"

	"gapline/cabinet/source"
	"gapline/internal/study/maximum"
)

// Full is the box over the whole range, with mids and horn through the crossover.
type Full struct {
	One        *maximum.Box
	Levels     *maximum.Levels
	Programme  *maximum.Programme
	Overdriven []maximum.Overdriven // bands that the drive takes beyond their limits
}

// lowestDriven and highestDriven are the tones at which the drive is looked at, Hz.
const (
	lowestDriven  = 45
	highestDriven = 11.2e3
)

// addFull works out the box over the whole range; what keeps it from that is a remark.
func (s *Study) addFull(ctx context.Context, signal maximum.Signal) error {
	one, problems, err := maximum.New(ctx, s.Design, source.Choice{})
	switch {
	case err != nil:
		return err
	case len(problems) > 0:
		s.FullWhy = problems[0].Text
		return nil
	}
	f := &Full{One: one, Overdriven: one.Overdriven(lowestDriven, highestDriven)}
	if !one.Any() {
		s.FullWhy = "woofer.xmax or woofer.power is needed"
		return nil
	}
	if f.Levels, err = one.Levels(ctx, maximum.Frequencies()); err != nil {
		return err
	}
	f.Programme, err = one.Programme(ctx, signal)
	s.Full = f
	return err
}
