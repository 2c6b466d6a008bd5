package filter

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"gapline/internal/parallel"
)

// Window bounds the search for the best crossover.
type Window struct {
	Alignment Alignment
	Order     int
	From, To  float64 // crossover frequency, Hz
	MaxDelay  float64 // of either path, s; NaN: a period at From
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
// window evenly, descends from the best cells of that grid with halving steps on the
// points of the lattice, and from the best of these with refined notches. The frequency
// is a multiple of 1 Hz in the window (the next one above From where there is none), the
// delay one of 1 µs. Of equal crossovers that of the least delay is taken.
func (s *System) Best(ctx context.Context, w Window) (*Best, error) {
	if !(w.From > 0 && w.To >= w.From && !math.IsInf(w.To, 1)) {
		return nil, fmt.Errorf("window from %v to %v Hz: need 0 < from ≤ to", w.From, w.To)
	}
	if math.IsNaN(w.MaxDelay) {
		w.MaxDelay = 1 / w.From
	}
	if !(w.MaxDelay >= 0 && !math.IsInf(w.MaxDelay, 1)) {
		return nil, fmt.Errorf("delay of at most %v s: need 0 or more", w.MaxDelay)
	}
	if _, _, err := Pair(w.Alignment, w.Order, w.From); err != nil {
		return nil, err
	}
	h := &attempts{System: s, Window: w, lowest: int(math.Ceil(w.From/stepHz - 1e-9)), latest: int(w.MaxDelay/stepS + 1e-9)}
	h.highest = max(int(math.Floor(w.To/stepHz+1e-9)), h.lowest)
	found, err := h.grid(ctx)
	if err != nil {
		return nil, err
	}
	for _, stage := range []descent{{keep: 12, reach: 7, price: h.coarse}, {keep: 4, reach: 4, price: h.fine}} {
		if found, err = h.descend(ctx, found, stage); err != nil {
			return nil, err
		}
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
func (h *attempts) table(hz, stride int) *table {
	low, high := h.pair(hz)
	from, to := h.span(float64(hz) * stepHz)
	return h.lattice.tableOf(low, high, from, to, stride)
}

// The grid's steps.
const (
	gridPerOctave = 48
	gridPerPeriod = 48
	gridStride    = 2 // every how manyeth point of the lattice is looked at
)

// frequencies are those of the grid, in steps.
func (h *attempts) frequencies() []int {
	n := int(math.Ceil(gridPerOctave * math.Log2(float64(h.highest)/float64(h.lowest))))
	var out []int
	for i := range n + 1 {
		out = append(out, int(math.Round(float64(h.lowest)*math.Pow(float64(h.highest)/float64(h.lowest), float64(i)/float64(max(n, 1))))))
	}
	return slices.Compact(out)
}

// grid tries the window evenly and returns the cells that no neighbour of theirs lies
// below.
func (h *attempts) grid(ctx context.Context) ([]trial, error) {
	hz := h.frequencies()
	step := max(int(1/(gridPerPeriod*float64(h.highest)*stepHz*stepS)), 1)
	n := h.latest/step + 1
	delay := func(d int) int { return min(max((d-n)*step, -h.latest), h.latest) }
	cells := [2][][]float64{make([][]float64, len(hz)), make([][]float64, len(hz))}
	err := parallel.Each(ctx, 0, len(hz), func(int) func(int) {
		return func(i int) {
			t := h.table(hz[i], gridStride)
			for d := range 2*n + 1 {
				if ctx.Err() != nil {
					return
				}
				a, b := t.costs(float64(delay(d)) * stepS)
				cells[0][i], cells[1][i] = append(cells[0][i], a), append(cells[1][i], b)
			}
		}
	})
	if err != nil {
		return nil, err
	}
	h.count += 2 * len(hz) * (2*n + 1)
	var out []trial
	for p, cell := range cells {
		for i := range cell {
			for d, cost := range cell[i] {
				if cost <= least(cell, i, d) {
					out = append(out, trial{setting{hz[i], delay(d), p == 1}, cost})
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b trial) int { return cmp.Compare(a.cost, b.cost) })
	return out, nil
}

// least is the lowest cost beside a cell.
func least(cell [][]float64, i, d int) float64 {
	low := math.Inf(1)
	for a := max(i-1, 0); a <= min(i+1, len(cell)-1); a++ {
		for b := max(d-1, 0); b <= min(d+1, len(cell[a])-1); b++ {
			if a != i || b != d {
				low = min(low, cell[a][b])
			}
		}
	}
	return low
}

// descent is one stage of the search.
type descent struct {
	keep  int // how many of the best start
	reach int // of the first step, in halvings of the last
	// price returns the cost of a setting by the table of its frequency.
	price func(t setting, of *table) float64
}

// descend moves each of the best trials to better neighbours and halves the steps when
// none is better. It returns where they end, the best first.
func (h *attempts) descend(ctx context.Context, from []trial, stage descent) ([]trial, error) {
	from = from[:min(len(from), stage.keep)]
	out, tried := make([]trial, len(from)), make([]int, len(from))
	err := parallel.Each(ctx, 0, len(from), func(int) func(int) {
		return func(i int) { out[i], tried[i] = h.walk(ctx, from[i].setting, stage) }
	})
	if err != nil {
		return nil, err
	}
	for _, n := range tried {
		h.count += n
	}
	slices.SortStableFunc(out, before)
	return slices.CompactFunc(out, func(a, b trial) bool { return a.setting == b.setting }), nil
}

// walk is one descent: five by five settings about the best, until none of them at the
// least steps is better.
func (h *attempts) walk(ctx context.Context, at setting, stage descent) (trial, int) {
	known := map[setting]float64{}
	price := func(hz int, delays []int, invert bool) []trial {
		var t *table
		var out []trial
		for _, d := range delays {
			s := setting{hz, d, invert}
			cost, ok := known[s]
			if !ok {
				if t == nil {
					t = h.table(hz, 1)
				}
				cost = stage.price(s, t)
				known[s] = cost
			}
			out = append(out, trial{s, cost})
		}
		return out
	}
	best := price(at.hz, []int{at.delay}, at.invert)[0]
	for k := stage.reach; ctx.Err() == nil; {
		hz := max(int(math.Round(float64(best.hz)*math.Exp2(float64(k))/finest)), 1)
		us := max(int(math.Round(math.Exp2(float64(k))/(finest*best.frequency()*stepS))), 1)
		start := best
		for i := -2; i <= 2; i++ {
			f := min(max(start.hz+i*hz, h.lowest), h.highest)
			var delays []int
			for j := -2; j <= 2; j++ {
				delays = append(delays, min(max(start.delay+j*us, -h.latest), h.latest))
			}
			for _, t := range price(f, delays, start.invert) {
				if before(t, best) < 0 {
					best = t
				}
			}
		}
		switch {
		case best.setting != start.setting:
		case hz == 1 && us == 1:
			return best, len(known)
		default:
			k--
		}
	}
	return best, len(known)
}

// finest is what part of the frequency and of a period the last steps of a descent are,
// unless a whole hertz or microsecond is more.
const finest = 8192

// coarse prices by the points of the lattice alone.
func (h *attempts) coarse(s setting, t *table) float64 {
	alike, inverted := t.costs(s.delayed())
	if s.invert {
		return inverted
	}
	return alike
}

// fine prices with refined notches, as a sum does.
func (h *attempts) fine(s setting, t *table) float64 {
	low, high := h.paths(s)
	from, to := h.span(s.frequency())
	sign := 1.0
	if s.invert {
		sign = -1
	}
	return h.lattice.lossAt(t, s.delayed(), sign, valley{lattice: h.lattice, low: low, high: high, from: from, to: to}).Cost()
}
