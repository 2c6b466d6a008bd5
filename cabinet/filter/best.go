package filter

import (
	"cmp"
	"context"
	"fmt"
	"math"
)

// Window bounds the search for the best crossover.
type Window struct {
	Alignment Alignment
	Order     int
	From, To  float64 // crossover frequency, Hz
	// MaxDelay is the most that either path is delayed, s; NaN: a period at From and Way.
	MaxDelay float64
	Way      float64 // what the sound takes from the mouths of one path to those of the other, s
}

// Best is the crossover of least cost, in steps that can be set: whole hertz and
// microseconds.
type Best struct {
	Frequency   float64 // Hz
	Delay       float64 // of the high path, s; negative: of the low path
	Invert      bool    // the high path is inverted against Pair
	Sum         *Sum
	Evaluations int
}

// Steps in which a crossover is set.
const (
	stepHz = 1.0
	stepS  = 1e-6
)

// Best looks for the frequency, delay and polarity of least Loss.Cost. It tries the
// window evenly on the points of the lattice, prices the best cells of that grid with
// refined notches, and descends from the best of these with halving steps. The frequency
// is a multiple of 1 Hz in the window (the next one above From where there is none), the
// delay one of 1 µs. Of equal crossovers that of the least delay is taken.
func (s *System) Best(ctx context.Context, w Window) (*Best, error) {
	if !(w.From > 0 && w.To >= w.From && !math.IsInf(w.To, 1)) {
		return nil, fmt.Errorf("window from %v to %v Hz: need 0 < from ≤ to", w.From, w.To)
	}
	if math.IsNaN(w.MaxDelay) {
		w.MaxDelay = 1/w.From + w.Way
	}
	if !(w.MaxDelay >= 0 && !math.IsInf(w.MaxDelay, 1)) {
		return nil, fmt.Errorf("delay of at most %v s: need 0 or more", w.MaxDelay)
	}
	if _, _, err := Pair(w.Alignment, w.Order, w.From); err != nil {
		return nil, err
	}
	h := &attempts{System: s, Window: w, lowest: int(math.Ceil(w.From/stepHz - 1e-9)), latest: int(w.MaxDelay/stepS + 1e-9)}
	h.highest = max(int(math.Floor(w.To/stepHz+1e-9)), h.lowest)
	cells, err := h.grid(ctx)
	if err != nil {
		return nil, err
	}
	found, err := h.each(ctx, cells, func(s setting) (trial, int) { return trial{s, h.price(s, h.table(s.hz, false))}, 1 })
	if err != nil {
		return nil, err
	}
	starts := make([]setting, min(len(found), descents))
	for i := range starts {
		starts[i] = found[i].setting
	}
	found, err = h.each(ctx, starts, func(s setting) (trial, int) { return h.descend(ctx, s) })
	if err != nil {
		return nil, err
	}
	t := found[0]
	low, high := h.paths(t.setting)
	sum, err := s.Sum(low, high)
	if err != nil {
		return nil, err
	}
	return &Best{Frequency: t.frequency(), Delay: t.delayed(), Invert: t.invert, Sum: sum, Evaluations: h.count}, nil
}

// setting is one crossover of the search.
type setting struct {
	hz, delay int // in steps
	invert    bool
}

func (t setting) frequency() float64 { return float64(t.hz) * stepHz }
func (t setting) delayed() float64   { return float64(t.delay) * stepS }

// trial is a setting with its price, dB.
type trial struct {
	setting
	cost float64
}

// equal is how near two costs count as the same, dB.
const equal = 1e-7

// before orders trials: by cost, then by the least delay, then alike in polarity, then by
// frequency.
func before(a, b trial) int {
	if math.Abs(a.cost-b.cost) > equal {
		return cmp.Compare(a.cost, b.cost)
	}
	flag := func(x bool) int {
		if x {
			return 1
		}
		return 0
	}
	return cmp.Or(cmp.Compare(max(a.delay, -a.delay), max(b.delay, -b.delay)), cmp.Compare(flag(a.invert), flag(b.invert)),
		cmp.Compare(a.hz, b.hz), cmp.Compare(a.delay, b.delay))
}

type attempts struct {
	*System
	Window
	lowest, highest int // frequencies in steps
	latest          int // delay in steps
	count           int
}

// paths returns the paths of a setting.
func (h *attempts) paths(t setting) (low, high Path) {
	low, high = h.pair(t.hz)
	high.Invert = high.Invert != t.invert
	if t.delay > 0 {
		high.Delay = t.delayed()
	} else {
		low.Delay = -t.delayed()
	}
	return low, high
}

// pair returns the paths at a frequency without delay, matched.
func (h *attempts) pair(hz int) (low, high Path) {
	f := float64(hz) * stepHz
	low, high, _ = Pair(h.Alignment, h.Order, f) // checked by Best
	if h.Match != nil {
		low.Gain, high.Gain = h.Match(f)
	}
	return low, high
}

// table is that of a frequency.
func (h *attempts) table(hz int, coarse bool) *table {
	low, high := h.pair(hz)
	from, to := h.span(float64(hz) * stepHz)
	return h.lattice.tableOf(low, high, from, to, coarse)
}
