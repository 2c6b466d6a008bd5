package search

import (
	"cmp"
	"errors"
	"slices"
)

// Archive keeps what a search has found. Archives of neighbouring slices of the
// samples, merged in order, hold the same as the archive of all of them.
type Archive struct {
	Evaluated  int `json:"evaluated"` // samples that have an outcome
	Impossible int `json:"impossible"`
	Misfits    int `json:"misfits"`
	Incomplete int `json:"incomplete"`
	Feasible   int `json:"feasible"`
	Refined    int `json:"refined"` // points of the refinement, in none of the counts
	// Index of the first point that could not exist, of the first that could not be
	// built and of the first that could not be computed; -1: none.
	FirstImpossible int `json:"first_impossible"`
	FirstMisfit     int `json:"first_misfit"`
	FirstIncomplete int `json:"first_incomplete"`
	// Front holds the feasible points that no other is as good as in every goal
	// and better than in one, in order of ID. Of equal points the first counts.
	Front []Point `json:"front"`
	// Best holds the feasible samples that are best in the first goal, and the
	// best point of each local search, best first: what a search with one goal
	// starts from and ends with, where the front is a single point.
	Best []Point `json:"best"`
	// Some holds a few of the feasible samples, whatever they are worth: they show
	// what the best stand out from.
	Some []Point `json:"some"`
	// Near holds the points that miss the limits by the least sum.
	Near []Point `json:"near"`
	// Alone holds for each limit the point that misses it by the least while it
	// meets all others; its ID is -1 where there is none.
	Alone []Point `json:"alone"`
	// Met counts for each limit the points that meet it.
	Met []int `json:"met"`
}

// longest bounds the lists Best, Some and Near.
const longest = 200

// The values by which the lists are sorted.
func firstGoal(p *Point) float64 { return p.Goals[0] }
func missedSum(p *Point) float64 { s, _ := p.missed(); return s }

// scatter is a number that looks random and depends on the ID alone, so that any
// slice of the samples gives its share.
func scatter(p *Point) float64 { return float64(uint64(p.ID+1) * 0x9E3779B97F4A7C15) }

// NewArchive returns an empty archive for a problem.
func NewArchive(limits int) *Archive {
	a := &Archive{FirstImpossible: -1, FirstMisfit: -1, FirstIncomplete: -1, Alone: make([]Point, limits), Met: make([]int, limits)}
	for i := range a.Alone {
		a.Alone[i].ID = -1
	}
	return a
}

// count notes a point that has no outcome.
func (a *Archive) count(id int, s Status) {
	switch s {
	case Impossible:
		a.Impossible++
		if a.FirstImpossible < 0 {
			a.FirstImpossible = id
		}
	case Misfit:
		a.Misfits++
		if a.FirstMisfit < 0 {
			a.FirstMisfit = id
		}
	case Incomplete:
		a.Incomplete++
		if a.FirstIncomplete < 0 {
			a.FirstIncomplete = id
		}
	}
}

// add counts and keeps an evaluated sample.
func (a *Archive) add(q Point) {
	a.Evaluated++
	for j, e := range q.Excess {
		if e <= 0 {
			a.Met[j]++
		}
	}
	if q.Feasible() {
		a.Feasible++
		a.best(q)
		a.Some = insert(a.Some, q, scatter)
	}
	a.keep(q)
}

// best takes a feasible point into the list of the best in the first goal.
func (a *Archive) best(q Point) {
	a.Best = insert(a.Best, q, firstGoal)
}

// keep takes in an evaluated point whose ID is above all before it. It keeps the
// point's slices.
func (a *Archive) keep(q Point) {
	if _, missed := q.missed(); missed > 0 {
		a.Near = insert(a.Near, q, missedSum)
		if missed == 1 {
			a.relax(q)
		}
		return
	}
	a.front(q)
}

// relax notes a point that misses one limit only.
func (a *Archive) relax(q Point) {
	for j, e := range q.Excess {
		if e > 0 && (a.Alone[j].ID < 0 || e < a.Alone[j].Excess[j]) {
			a.Alone[j] = q
		}
	}
}

// insert puts a point into a list sorted by value, behind equal ones, and drops
// what is beyond longest.
func insert(list []Point, q Point, value func(*Point) float64) []Point {
	v := value(&q)
	if len(list) == longest && v >= value(&list[longest-1]) {
		return list
	}
	at, _ := slices.BinarySearchFunc(list, v, func(p Point, v float64) int {
		if value(&p) <= v {
			return -1
		}
		return 1
	})
	list = slices.Insert(list, at, q)
	return list[:min(len(list), longest)]
}

// front adds a feasible point to the front unless one there is as good.
func (a *Archive) front(q Point) {
	for i := range a.Front {
		if noWorse(a.Front[i].Goals, q.Goals) {
			return
		}
	}
	a.Front = slices.DeleteFunc(a.Front, func(p Point) bool { return noWorse(q.Goals, p.Goals) })
	a.Front = append(a.Front, q)
}

// noWorse reports whether a is as good as b, or better, in every goal.
func noWorse(a, b []float64) bool {
	for i := range a {
		if a[i] > b[i] {
			return false
		}
	}
	return true
}

// Samples is the number of points sampled so far.
func (a *Archive) Samples() int { return a.Evaluated + a.Impossible + a.Misfits + a.Incomplete }

// Merge takes in the archive of the samples that follow.
func (a *Archive) Merge(b *Archive) {
	a.Evaluated += b.Evaluated
	a.Feasible += b.Feasible
	a.Impossible += b.Impossible
	a.Misfits += b.Misfits
	a.Incomplete += b.Incomplete
	if a.FirstImpossible < 0 {
		a.FirstImpossible = b.FirstImpossible
	}
	if a.FirstMisfit < 0 {
		a.FirstMisfit = b.FirstMisfit
	}
	if a.FirstIncomplete < 0 {
		a.FirstIncomplete = b.FirstIncomplete
	}
	for j := range a.Met {
		a.Met[j] += b.Met[j]
		if q := b.Alone[j]; q.ID >= 0 && (a.Alone[j].ID < 0 || q.Excess[j] < a.Alone[j].Excess[j]) {
			a.Alone[j] = q
		}
	}
	for _, q := range b.Front {
		a.front(q)
	}
	a.Best = mergeLists(a.Best, b.Best, firstGoal)
	a.Some = mergeLists(a.Some, b.Some, scatter)
	a.Near = mergeLists(a.Near, b.Near, missedSum)
}

func mergeLists(a, b []Point, value func(*Point) float64) []Point {
	all := slices.Concat(a, b)
	slices.SortStableFunc(all, func(p, q Point) int { return cmp.Compare(value(&p), value(&q)) })
	return all[:min(len(all), longest)]
}

// Fits returns an error when the archive cannot be one of the problem, which
// happens only to files that were changed by hand.
func (a *Archive) Fits(p *Problem) error {
	bad := errors.New("what was found does not belong to this search")
	if len(a.Met) != p.Limits || len(a.Alone) != p.Limits {
		return bad
	}
	for _, list := range [][]Point{a.Front, a.Best, a.Some, a.Near, a.Alone} {
		for _, q := range list {
			if q.ID >= 0 && (len(q.U) != len(p.Levers) || len(q.Goals) != p.Goals || len(q.Excess) != p.Limits) {
				return bad
			}
		}
	}
	return nil
}
