package filter

import (
	"context"
	"math"
	"slices"

	"gapline/internal/parallel"
)

// The grid's steps, how many of its best cells are priced with refined notches, and from
// how many of these a descent starts.
const (
	gridPerOctave = 48
	gridPerPeriod = 48
	gridPeriods   = 2 // of delay to both sides at most, beside the way between the mouths
	cellsPriced   = 48
	descents      = 8
)

// frequencies are those of the grid, in steps.
func (h *attempts) frequencies() []int {
	span := float64(h.highest) / float64(h.lowest)
	n := int(math.Ceil(gridPerOctave * math.Log2(span)))
	var out []int
	for i := range n + 1 {
		out = append(out, int(math.Round(float64(h.lowest)*math.Pow(span, float64(i)/float64(max(n, 1))))))
	}
	return slices.Compact(out)
}

// column is one frequency of the grid, with delays that are even in phase: cell d is that
// of delay (d − zero) parts of a period.
type column struct {
	hz, zero int
	latest   int          // in steps
	costs    [4][]float64 // whole and rest, alike and inverted, see table.costs
}

// delay is that of a cell, in steps.
func (c *column) delay(d int) int {
	steps := float64(d-c.zero) / (gridPerPeriod * float64(c.hz) * stepHz * stepS)
	return min(max(int(math.Round(steps)), -c.latest), c.latest)
}

// grid tries the window evenly and returns the best of the cells that no neighbour lies
// below: by their whole cost, and by what is left of it without the deepest notch, which
// decides where all cancel somewhere.
func (h *attempts) grid(ctx context.Context) ([]setting, error) {
	hz := h.frequencies()
	columns := make([]column, len(hz))
	err := parallel.Each(ctx, 0, len(hz), func(int) func(int) {
		return func(i int) {
			f := float64(hz[i]) * stepHz
			most := math.Min(h.MaxDelay, math.Min(gridPeriods/f, 1/h.From)+h.Way)
			c := &columns[i]
			*c = column{hz: hz[i], zero: int(math.Ceil(most * f * gridPerPeriod)), latest: h.latest}
			t := h.table(c.hz, true)
			for d := 0; d <= 2*c.zero && ctx.Err() == nil; d++ {
				whole, rest := t.costs(float64(c.delay(d)) * stepS)
				for k, cost := range [4]float64{whole[0], whole[1], rest[0], rest[1]} {
					c.costs[k] = append(c.costs[k], cost)
				}
			}
		}
	})
	if err != nil {
		return nil, err
	}
	for i := range columns {
		h.count += 2 * len(columns[i].costs[0])
	}
	out := lowestCells(columns, 0)
	return append(out, lowestCells(columns, 2)...), nil
}

// lowestCells returns the best cells that no neighbour lies below by the k-th cost alike
// and the next inverted.
func lowestCells(columns []column, k int) []setting {
	var pits []trial
	for sign := range 2 {
		for i := range columns {
			c := &columns[i]
			for d, cost := range c.costs[k+sign] {
				if cost <= least(columns, k+sign, i, d) {
					pits = append(pits, trial{setting{c.hz, c.delay(d), sign == 1}, cost})
				}
			}
		}
	}
	slices.SortStableFunc(pits, before)
	var out []setting
	for _, p := range pits[:min(len(pits), cellsPriced)] {
		out = append(out, p.setting)
	}
	return out
}

// least is the lowest k-th cost beside cell d of column i.
func least(columns []column, k, i, d int) float64 {
	low := math.Inf(1)
	for a := max(i-1, 0); a <= min(i+1, len(columns)-1); a++ {
		cell := columns[a].costs[k]
		same := d - columns[i].zero + columns[a].zero
		for b := max(same-1, 0); b <= min(same+1, len(cell)-1); b++ {
			if a != i || b != d {
				low = min(low, cell[b])
			}
		}
	}
	return low
}
