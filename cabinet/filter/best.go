package filter

import (
	"context"
	"fmt"
	"math"

	"gapline/cabinet/field"
	"gapline/internal/numeric"
)

// Window bounds the search for the best crossover.
type Window struct {
	Alignment Alignment
	Order     int
	From, To  float64 // crossover frequency, Hz
	MaxDelay  float64 // of either path, s; NaN: half a period at From
}

// Best is the crossover that keeps the deepest notch within the coverage as
// shallow as it can be.
type Best struct {
	Frequency   float64 // Hz
	Delay       float64 // of the high path, s; negative: of the low path
	Invert      bool    // the high path is inverted against Pair
	Sum         *Sum
	Evaluations int
}

// Best looks for frequency, delay and polarity by a grid (24 steps per octave of
// the window at most, an eighth of a period in delay) and refines the best of it
// by a compass search with halving steps. Equal notches are told apart by the
// mean loss over the coverage, which counts a hundredth.
func (s *System) Best(ctx context.Context, w Window) (*Best, error) {
	if !(w.From > 0 && w.To >= w.From && !math.IsInf(w.To, 1)) {
		return nil, fmt.Errorf("window from %v to %v Hz: need 0 < from ≤ to", w.From, w.To)
	}
	if math.IsNaN(w.MaxDelay) {
		w.MaxDelay = 1 / (2 * w.From)
	}
	if !(w.MaxDelay >= 0 && !math.IsInf(w.MaxDelay, 1)) {
		return nil, fmt.Errorf("delay of at most %v s: need 0 or more", w.MaxDelay)
	}
	if _, _, err := Pair(w.Alignment, w.Order, w.From); err != nil {
		return nil, err
	}
	h := &attempts{System: s, Window: w}
	t, err := h.grid(ctx)
	if err != nil {
		return nil, err
	}
	if t, err = h.refine(ctx, t); err != nil {
		return nil, err
	}
	low, high := h.paths(t)
	sum, err := s.Sum(low, high)
	if err != nil {
		return nil, err
	}
	return &Best{Frequency: t.frequency, Delay: t.delay, Invert: t.invert, Sum: sum, Evaluations: h.count}, nil
}

// trial is one crossover of the search.
type trial struct {
	frequency, delay float64
	invert           bool
	cost             float64 // dB
}

type attempts struct {
	*System
	Window
	count int
}

// paths returns the paths of a trial.
func (h *attempts) paths(t trial) (low, high Path) {
	low, high, _ = Pair(h.Alignment, h.Order, t.frequency) // checked by Best
	high.Invert = high.Invert != t.invert
	if t.delay > 0 {
		high.Delay = t.delay
	} else {
		low.Delay = -t.delay
	}
	return low, high
}

// try prices a trial: the deepest loss plus a hundredth of the mean loss.
func (h *attempts) try(t trial) trial {
	h.count++
	low, high := h.paths(t)
	l, r := h.responses(low), h.responses(high)
	worst, sum, n := 1.0, 0.0, 0
	h.covered(func(_ field.Plane, p *plane, i, j int) {
		q := share(l[i]*p.low[i][j], r[i]*p.high[i][j])
		worst = min(worst, q)
		sum += q
		n++
	})
	t.cost = -numeric.DB(math.Max(worst, 1e-6)) - numeric.DB(math.Max(sum/float64(n), 1e-6))/100
	return t
}

// grid tries the window evenly.
func (h *attempts) grid(ctx context.Context) (trial, error) {
	best := trial{cost: math.Inf(1)}
	nf := min(int(math.Ceil(24*math.Log2(h.To/h.From))), 96)
	for i := range nf + 1 {
		f := h.From
		if nf > 0 {
			f *= math.Pow(h.To/h.From, float64(i)/float64(nf))
		}
		nd := min(int(math.Ceil(8*f*h.MaxDelay)), 64)
		for d := -nd; d <= nd; d++ {
			if ctx.Err() != nil {
				return best, ctx.Err()
			}
			delay := 0.0
			if nd > 0 {
				delay = h.MaxDelay * float64(d) / float64(nd)
			}
			for _, invert := range []bool{false, true} {
				if t := h.try(trial{frequency: f, delay: delay, invert: invert}); t.cost < best.cost-1e-12 {
					best = t
				}
			}
		}
	}
	return best, nil
}

// refine moves to better neighbours in frequency, in delay and in both, and
// halves the steps when none is better.
func (h *attempts) refine(ctx context.Context, best trial) (trial, error) {
	octave, period := 1.0/24, 1.0/16
	for octave > 1e-4 {
		moved := false
		for df := -1.0; df <= 1; df++ {
			for dd := -1.0; dd <= 1; dd++ {
				if ctx.Err() != nil {
					return best, ctx.Err()
				}
				t := best
				t.frequency = math.Min(math.Max(t.frequency*math.Exp2(df*octave), h.From), h.To)
				t.delay = math.Min(math.Max(t.delay+dd*period/t.frequency, -h.MaxDelay), h.MaxDelay)
				if t = h.try(t); t.cost < best.cost-1e-9 {
					best, moved = t, true
				}
			}
		}
		if !moved {
			octave, period = octave/2, period/2
		}
	}
	return best, nil
}
