package bem

import (
	"context"
	"fmt"
	"time"

	"gapline/internal/clinalg"
	"gapline/internal/hankel"
)

// Solution is the field at one frequency.
type Solution struct {
	Frequency float64 // Hz
	Unknowns  int
	Seconds   float64 // that solving took by the clock: not the same from run to run
	system    *system
	p, q      [][]complex128 // pressure and its outward derivative at each domain's nodes
}

// Solve computes the field at frequency f, Hz. It returns errors that wrap
// ErrGeometry for bad outlines, ErrTooLarge when the matrix would exceed
// Options.MaxMemory, clinalg.ErrSingular when a lossless closed domain is driven
// at a resonance, and the context's error when cancelled.
func (p *Problem) Solve(ctx context.Context, f float64, opts Options) (*Solution, error) {
	pp, err := p.prepare()
	if err != nil {
		return nil, err
	}
	o := opts.withDefaults()
	if err := pp.checkFrequency(f, o); err != nil {
		return nil, err
	}
	s, err := pp.solve(ctx, f, o, newRule(o.Order))
	if err != nil {
		return nil, fmt.Errorf("at %.6g Hz: %w", f, err)
	}
	return s, nil
}

func (pp *prepared) solve(ctx context.Context, f float64, o Options, r *rule) (*Solution, error) {
	start := time.Now()
	s := pp.discretise(f, o, r)
	table := hankel.NewTable(s.k * pp.extent * 1.01)
	a, rhs, err := s.assemble(ctx, table)
	if err != nil {
		return nil, err
	}
	lu, err := clinalg.Factor(ctx, a, o.Workers)
	if err != nil {
		return nil, err
	}
	lu.SolveVec(rhs)
	sol := s.solution(rhs)
	sol.Seconds = time.Since(start).Seconds()
	return sol, nil
}

// solution distributes the unknowns to the domains.
func (s *system) solution(x []complex128) *Solution {
	sol := &Solution{Frequency: s.f, Unknowns: s.size, system: s}
	for i := range s.views {
		v := &s.views[i]
		p, q := make([]complex128, len(v.p)), make([]complex128, len(v.p))
		for j, at := range v.p {
			p[j] = x[at]
			u := p[j]
			if v.q[j] >= 0 {
				u = x[v.q[j]]
			}
			q[j] = v.slope[j]*u + v.given[j]
		}
		sol.p, sol.q = append(sol.p, p), append(sol.q, q)
	}
	return sol
}
