package search

import (
	"context"
	"math"
	"slices"

	"gapline/internal/parallel"
)

// Rounds of refinement: each starts from what the one before has found.
const rounds = 2

// Refine improves an archive by local searches that start from its points: from
// those nearest to fitting while nothing fits, else from the front, each search
// weighing the goals differently. When nothing fits in the end, each limit in
// turn is brought as near as it will go while the others hold. A sample of every
// combination needs no refinement. seen is called with the number of searches
// done and their total so far.
func (s *Plan) Refine(ctx context.Context, a *Archive, seen func(done, of int)) error {
	if s.every {
		return nil
	}
	r := &refiner{plan: s, archive: a, seen: seen, next: s.Designs, known: newMemory()}
	if len(a.Front) == 0 {
		if err := r.run(ctx, r.restore()); err != nil {
			return err
		}
	}
	if len(a.Front) == 0 {
		return r.run(ctx, r.relax())
	}
	for range rounds {
		if err := r.run(ctx, r.improve()); err != nil {
			return err
		}
	}
	return r.polish(ctx)
}

type refiner struct {
	plan      *Plan
	archive   *Archive
	seen      func(done, of int)
	next      int // ID of the next point
	done, all int
	known     *memory
}

// job is one local search.
type job struct {
	start []float64
	value objective
}

// objective turns an outcome into one number, less for better. strict rises from
// pass to pass and weighs missed limits.
type objective func(q *Point, strict float64) float64

// run does the jobs on all cores and takes their points into the archive in the
// order of the jobs.
func (r *refiner) run(ctx context.Context, jobs []job) error {
	r.all += len(jobs)
	return parallel.OrderedBy(ctx, len(jobs), 1, r.plan.Problem.New, func(f Evaluate, i, _ int) []Point {
		l := local{problem: r.plan.Problem, evaluate: f, value: jobs[i].value, size: usualSize, known: r.known}
		l.search(jobs[i].start)
		return l.points
	}, func(points []Point) error {
		r.keep(points)
		r.best(points)
		r.done++
		r.seen(r.done, r.all)
		return nil
	})
}

// keep takes points into the archive.
func (r *refiner) keep(points []Point) {
	for i := range points {
		points[i].ID = r.next
		r.next++
		r.archive.keep(points[i])
	}
	r.archive.Refined += len(points)
}

// best takes the best point of a local search into the archive's list.
func (r *refiner) best(points []Point) {
	least := -1
	for i := range points {
		if points[i].Feasible() && (least < 0 || points[i].Goals[0] < points[least].Goals[0]) {
			least = i
		}
	}
	if least >= 0 {
		r.archive.best(points[least])
	}
}

// restore looks for a point that meets all limits.
func (r *refiner) restore() []job {
	var jobs []job
	for _, u := range r.apart(r.archive.Near, 8) {
		jobs = append(jobs, job{u, func(q *Point, _ float64) float64 { sum, _ := q.missed(); return sum }})
	}
	return jobs
}

// relax brings each limit near while the others hold.
func (r *refiner) relax() []job {
	var jobs []job
	for j := range r.archive.Alone {
		starts := r.apart(r.archive.Near, 3)
		if q := r.archive.Alone[j]; q.ID >= 0 {
			starts = append(starts, q.U)
		}
		for _, u := range starts {
			jobs = append(jobs, job{u, func(q *Point, strict float64) float64 {
				sum, _ := q.missed()
				own := math.Max(q.Excess[j], 0)
				return own + strict*(sum-own)
			}})
		}
	}
	return jobs
}

// improve searches towards better goals from the front. With one goal it starts
// from the best points that lie apart; with more, each search weighs the goals
// differently and starts from the point of the front that this weighing prefers.
func (r *refiner) improve() []job {
	var jobs []job
	scale := r.goalScale()
	if r.plan.Problem.Goals == 1 {
		for _, u := range r.apart(r.archive.Best, 8) {
			jobs = append(jobs, job{u, scale.weighted([]float64{1})})
		}
		return jobs
	}
	for _, w := range weights(r.plan.Problem.Goals) {
		value := scale.weighted(w)
		best := 0
		for i := range r.archive.Front {
			if value(&r.archive.Front[i], 0) < value(&r.archive.Front[best], 0) {
				best = i
			}
		}
		jobs = append(jobs, job{r.archive.Front[best].U, value})
	}
	return jobs
}

// apart picks starts from a list.
func (r *refiner) apart(list []Point, n int) [][]float64 {
	var out [][]float64
	for _, q := range r.plan.Problem.Apart(list, n, 0.1) {
		out = append(out, q.U)
	}
	return out
}

// Apart picks up to n points from a list, in its order, that differ from each
// other in one lever at least by the given share of its range.
func (p *Problem) Apart(list []Point, n int, share float64) []Point {
	var out []Point
	for _, q := range list {
		if len(out) == n {
			break
		}
		if !slices.ContainsFunc(out, func(o Point) bool { return p.distance(q.U, o.U) < share }) {
			out = append(out, q)
		}
	}
	return out
}

// goalScale is the ideal point of the front and its extent in each goal.
type goalScale struct{ ideal, span []float64 }

func (r *refiner) goalScale() goalScale {
	n := r.plan.Problem.Goals
	s := goalScale{make([]float64, n), make([]float64, n)}
	for i := range n {
		low, high := math.Inf(1), math.Inf(-1)
		for _, list := range [][]Point{r.archive.Front, r.archive.Best} {
			if low < high {
				break // the front has an extent of its own
			}
			for _, q := range list {
				low, high = math.Min(low, q.Goals[i]), math.Max(high, q.Goals[i])
			}
		}
		s.ideal[i], s.span[i] = low, high-low
		if s.span[i] == 0 {
			s.span[i] = math.Max(math.Abs(low), 1e-12)
		}
	}
	return s
}

// weighted is the augmented weighted Tchebycheff distance from the ideal point
// (R. E. Steuer and E.-U. Choo, Mathematical Programming 26 (1983) 326-344):
// its minima reach every part of a front, convex or not. The ideal point is put
// some way beyond the best known, so that better points still count.
func (s goalScale) weighted(w []float64) objective {
	const augmentation, beyond = 1e-3, 0.2
	return func(q *Point, strict float64) float64 {
		worst, sum := math.Inf(-1), 0.0
		for i, g := range q.Goals {
			z := (g-s.ideal[i])/s.span[i] + beyond
			worst = math.Max(worst, w[i]*z)
			sum += z
		}
		missed, _ := q.missed()
		return worst + augmentation*sum + strict*missed
	}
}

// weights spreads weights of two or three goals evenly, each goal alone included.
func weights(goals int) [][]float64 {
	var out [][]float64
	if goals == 2 {
		const n = 20
		for i := range n + 1 {
			t := float64(i) / n
			out = append(out, []float64{t, 1 - t})
		}
		return out
	}
	const n = 6
	for i := range n + 1 {
		for j := range n + 1 - i {
			a, b := float64(i)/n, float64(j)/n
			out = append(out, []float64{a, b, math.Max(1-a-b, 0)})
		}
	}
	return out
}
