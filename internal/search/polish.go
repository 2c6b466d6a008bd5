package search

import (
	"context"
	"fmt"

	"gapline/internal/parallel"
)

// polish tries the neighbours of every point of the front, and of those that
// join it, for levers with levels (Pareto local search: L. Paquete, M.
// Chiarandini and T. Stützle, in Metaheuristics for Multiobjective Optimisation,
// 2004, from memory). It stops after as many points as the sample has.
func (r *refiner) polish(ctx context.Context) error {
	known := map[string]bool{}
	for tried := 0; tried < r.plan.Designs; {
		fresh := r.neighbours(known, r.plan.Designs-tried)
		if len(fresh) == 0 {
			return nil
		}
		tried += len(fresh)
		if err := r.take(ctx, fresh); err != nil {
			return err
		}
	}
	return nil
}

// neighbours lists up to n neighbours of the front not yet known.
func (r *refiner) neighbours(known map[string]bool, n int) [][]float64 {
	l := local{problem: r.plan.Problem}
	var out [][]float64
	add := func(u []float64) bool {
		key := fmt.Sprint(u)
		fresh := !known[key]
		known[key] = true
		return fresh
	}
	for i := range r.archive.Front {
		add(r.archive.Front[i].U)
	}
	for i := range r.archive.Front {
		for _, u := range l.moves(r.archive.Front[i].U) {
			if len(out) < n && add(u) {
				out = append(out, u)
			}
		}
	}
	return out
}

// take evaluates points on all cores and keeps them in order.
func (r *refiner) take(ctx context.Context, points [][]float64) error {
	return parallel.OrderedBy(ctx, len(points), chunk, r.plan.Problem.New, func(f Evaluate, lo, hi int) []Point {
		l := local{problem: r.plan.Problem, evaluate: f, known: r.known, value: func(*Point, float64) float64 { return 0 }}
		for _, u := range points[lo:hi] {
			l.at(u)
		}
		return l.points
	}, func(found []Point) error {
		r.keep(found)
		return nil
	})
}
