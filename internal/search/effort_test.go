package search

import (
	"context"
	"fmt"
	"math"
	"sync/atomic"
	"testing"
)

// hills is a problem of n levers in equal steps with two limits: a slope with ripples
// whose best point lies against a limit, and other good ones apart from it.
func hills(n, levels int) *Problem {
	p := &Problem{Goals: 1, Limits: 2}
	for range n {
		p.Levers = append(p.Levers, Lever{Levels: levels, Ordered: true})
	}
	p.New = func() Evaluate {
		return func(u, g, e []float64) Status {
			sum, wave, far := 0.0, 0.0, 0.0
			for i, x := range u {
				sum += x * (1 + 0.3*float64(i))
				wave += math.Sin(9*x + float64(i))
				far += (x - 0.6) * (x - 0.6)
			}
			g[0] = sum + 0.25*wave + 0.4*u[0]*u[len(u)-1]
			e[0], e[1] = 0.35*float64(n)-sum, far-0.12*float64(n)
			return Evaluated
		}
	}
	return p
}

// exhaustiveBest goes through every combination: the best feasible goal, and the range
// that the goal takes.
func exhaustiveBest(p *Problem) (best, span float64) {
	f := p.New()
	at := make([]int, len(p.Levers))
	u, g, e := make([]float64, len(at)), make([]float64, 1), make([]float64, p.Limits)
	best = math.Inf(1)
	worst := math.Inf(-1)
	for {
		for i, l := range p.Levers {
			u[i] = l.centre(at[i])
		}
		if f(u, g, e); e[0] <= 0 && e[1] <= 0 {
			best, worst = math.Min(best, g[0]), math.Max(worst, g[0])
		}
		i := 0
		for ; i < len(at); i++ {
			if at[i]++; at[i] < p.Levers[i].Levels {
				break
			}
			at[i] = 0
		}
		if i == len(at) {
			return best, worst - best
		}
	}
}

// Sampling a few hundred points and refining comes within 1 % of the range of the optimum
// that an exhaustive search finds, with two to six keys. The log says how many designs
// were evaluated, and how many points the searches looked at.
func TestEvaluationsToTheOptimum(t *testing.T) {
	for _, c := range []struct{ levers, levels, samples int }{{2, 101, 50}, {3, 41, 50}, {4, 25, 100}, {5, 13, 100}, {6, 9, 200}} {
		t.Run(fmt.Sprint(c.levers), func(t *testing.T) {
			p := hills(c.levers, c.levels)
			best, span := exhaustiveBest(p)
			inner := p.New
			var evaluated atomic.Int64
			p.New = func() Evaluate {
				f := inner()
				return func(u, g, e []float64) Status { evaluated.Add(1); return f(u, g, e) }
			}
			seeds, looked := 0, 0
			for seed := range uint64(5) {
				s := NewPlan(p, c.samples, seed)
				a, err := s.Sample(context.Background(), 0, s.Designs, quiet)
				if err != nil {
					t.Fatal(err)
				}
				if err := s.Refine(context.Background(), a, func(int, int) {}); err != nil {
					t.Fatal(err)
				}
				looked += s.Designs + a.Refined
				if len(a.Front) > 0 && a.Front[0].Goals[0] <= best+0.01*span {
					seeds++
				}
			}
			if seeds < 5 {
				t.Errorf("%d of 5 seeds come within 1 %% of %g", seeds, best)
			}
			t.Logf("%d keys, %d combinations: %d designs evaluated, %d points looked at (means of 5 seeds)", c.levers,
				p.Combinations(), evaluated.Load()/5, looked/5)
		})
	}
}
