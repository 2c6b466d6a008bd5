package search

import "math"

// Spread picks up to n points of a front that lie far from each other in the
// goals: the best of each goal, then always the one farthest from those picked.
// It returns places in the list.
func Spread(front []Point, n int) []int {
	if len(front) == 0 {
		return nil
	}
	low, span := extent(front)
	nearest := make([]float64, len(front)) // distance to what is picked
	for i := range nearest {
		nearest[i] = math.Inf(1)
	}
	var out []int
	pick := func(at int) {
		out = append(out, at)
		for i := range front {
			d := 0.0
			for k, g := range front[i].Goals {
				d += math.Pow((g-front[at].Goals[k])/span[k], 2)
			}
			nearest[i] = math.Min(nearest[i], d)
		}
	}
	for k := range low {
		for i := range front {
			if front[i].Goals[k] == low[k] && nearest[i] > 0 && len(out) < n {
				pick(i)
				break
			}
		}
	}
	for len(out) < n {
		far := 0
		for i := range nearest {
			if nearest[i] > nearest[far] {
				far = i
			}
		}
		if nearest[far] == 0 {
			break
		}
		pick(far)
	}
	return out
}

// extent returns the least value of each goal and its span, 1 where there is
// none.
func extent(front []Point) (low, span []float64) {
	n := len(front[0].Goals)
	low, span = make([]float64, n), make([]float64, n)
	for k := range n {
		lo, hi := math.Inf(1), math.Inf(-1)
		for i := range front {
			lo, hi = math.Min(lo, front[i].Goals[k]), math.Max(hi, front[i].Goals[k])
		}
		low[k], span[k] = lo, hi-lo
		if span[k] == 0 {
			span[k] = 1
		}
	}
	return low, span
}
