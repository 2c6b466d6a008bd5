package filter

import (
	"context"
	"math"
	"slices"

	"gapline/internal/parallel"
)

// each works on every setting on all cores, and returns what comes out, the best first
// and each once.
func (h *attempts) each(ctx context.Context, from []setting, work func(setting) (trial, int)) ([]trial, error) {
	out, tried := make([]trial, len(from)), make([]int, len(from))
	err := parallel.Each(ctx, 0, len(from), func(int) func(int) {
		return func(i int) { out[i], tried[i] = work(from[i]) }
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

// finest is what part of the frequency and of a period the last steps of a descent are,
// unless a whole hertz or microsecond is more; halvings of the steps lead there.
const (
	finest   = 8192
	descends = 7
)

// descend tries five by five settings about the best, moves there, and halves the steps
// when none is better.
func (h *attempts) descend(ctx context.Context, at setting) (trial, int) {
	known := map[setting]float64{}
	best := h.row(known, at, 0, 0)[0]
	for k := descends; ctx.Err() == nil; {
		hz := max(int(math.Round(float64(best.hz)*math.Exp2(float64(k))/finest)), 1)
		late := max(int(math.Round(math.Exp2(float64(k))/(finest*best.frequency()*stepS))), 1)
		start := best
		for i := -2; i <= 2; i++ {
			at := start.setting
			at.hz = min(max(start.hz+i*hz, h.lowest), h.highest)
			for _, t := range h.row(known, at, 2, late) {
				if before(t, best) < 0 {
					best = t
				}
			}
		}
		switch {
		case best.setting != start.setting:
		case hz == 1 && late == 1:
			return best, len(known)
		default:
			k--
		}
	}
	return best, len(known)
}

// row prices a setting and those n steps of delay to both sides of it, unless their price
// is known.
func (h *attempts) row(known map[setting]float64, at setting, n, step int) []trial {
	var t *table
	var out []trial
	for j := -n; j <= n; j++ {
		s := at
		s.delay = min(max(at.delay+j*step, -h.latest), h.latest)
		cost, ok := known[s]
		if !ok {
			if t == nil {
				t = h.table(s.hz, false)
			}
			cost = h.price(s, t)
			known[s] = cost
		}
		out = append(out, trial{s, cost})
	}
	return out
}

// price is the cost of a setting by the table of its frequency, as a sum has it.
func (h *attempts) price(s setting, t *table) float64 {
	low, high := h.paths(s)
	from, to := h.span(s.frequency())
	sign := 1.0
	if s.invert {
		sign = -1
	}
	return h.lattice.lossAt(t, s.delayed(), sign, valley{lattice: h.lattice, low: low, high: high, from: from, to: to}, true).Cost()
}
