package search

import (
	"context"

	"gapline/internal/parallel"
)

// Plan is how a problem is sampled.
type Plan struct {
	Problem *Problem
	Designs int // points asked for
	Seed    uint64
	halton  *Halton
	every   bool // all combinations, in place of a sequence
}

// NewPlan prepares a sample of the given number of points. When the levers have
// no more combinations than that, each is taken once instead.
func NewPlan(p *Problem, designs int, seed uint64) *Plan {
	s := &Plan{Problem: p, Designs: designs, Seed: seed}
	if n := p.Combinations(); n > 0 && n <= designs {
		s.Designs, s.every = n, true
		return s
	}
	s.halton = NewHalton(len(p.Levers), seed)
	return s
}

// Exhaustive reports whether the sample is every combination there is.
func (s *Plan) Exhaustive() bool { return s.every }

// At puts the levers of sample i into u.
func (s *Plan) At(i int, u []float64) {
	if s.every {
		for j := len(u) - 1; j >= 0; j-- {
			l := s.Problem.Levers[j]
			u[j] = l.centre(i % l.Levels)
			i /= l.Levels
		}
		return
	}
	s.halton.At(i, u)
	for j, l := range s.Problem.Levers {
		u[j] = l.snap(u[j])
	}
}

// chunk is how many points one task evaluates.
const chunk = 256

// Sample evaluates the samples from lo up to hi on all cores. seen is called
// with the number done so far. When ctx ends it returns what was found until
// then, with the context's error.
func (s *Plan) Sample(ctx context.Context, lo, hi int, seen func(done int)) (*Archive, error) {
	total := NewArchive(s.Problem.Limits)
	done := 0
	err := parallel.OrderedBy(ctx, hi-lo, chunk, s.Problem.New, func(f Evaluate, from, to int) *Archive {
		return s.slice(f, lo+from, lo+to)
	}, func(part *Archive) error {
		total.Merge(part)
		done = min(done+chunk, hi-lo)
		seen(done)
		return nil
	})
	return total, err
}

// slice evaluates a run of samples one after the other.
func (s *Plan) slice(f Evaluate, lo, hi int) *Archive {
	p := s.Problem
	a := NewArchive(p.Limits)
	q := p.newPoint()
	for i := lo; i < hi; i++ {
		s.At(i, q.U)
		if st := f(q.U, q.Goals, q.Excess); st != Evaluated {
			a.count(i, st)
			continue
		}
		q.ID = i
		a.add(q)
		q = p.newPoint()
	}
	return a
}

// newPoint returns a point with room for a problem's values, in one piece.
func (p *Problem) newPoint() Point {
	n, g := len(p.Levers), p.Goals
	room := make([]float64, n+g+p.Limits)
	return Point{U: room[:n:n], Goals: room[n : n+g : n+g], Excess: room[n+g:]}
}
