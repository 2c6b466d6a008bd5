package bem3

import (
	"context"
	"errors"

	"gapline/internal/clinalg"
	"gapline/internal/parallel"
)

const (
	// jacobiSize is the number of nodes in a block of the preconditioner. Blocks
	// of 200 cost more steps between boxes that stand close, of 800 more time.
	jacobiSize = 400
	// mostSteps is when the iteration gives way to factors. It keeps as many vectors: begun anew
	// after 80, three boxes with inserts took 222 steps at 2 kHz in place of 114.
	mostSteps = 240
	// directBelow is the number of unknowns below which factors are quicker than
	// 60 steps for one drive; every further one adds directDrive. By measurement a
	// core does 5e10 operations a second in factors and an element of the matrix in
	// 0.3 ns in a step.
	directBelow, directDrive = 1200, 300
)

// direct says whether the equations are solved by factors at once.
func (s *system) direct(o Options) bool {
	below := o.DirectBelow
	if below == 0 {
		below = directBelow + directDrive*(len(s.problem.Velocities)-1)
	}
	return len(s.nodes) < below
}

// solve overwrites the right-hand sides with the solutions, and the matrix.
// It returns the number of steps of the iteration, nil for factors.
func (s *system) solve(ctx context.Context, a *clinalg.Single, b [][]complex128, o Options) (int, error) {
	if s.direct(o) {
		return 0, s.solveDirect(ctx, a, b)
	}
	inverse, err := s.jacobi(ctx, a)
	if err != nil {
		return 0, err
	}
	product := func(x, y [][]complex64) error { return clinalg.Multiply(ctx, a, x, y, s.workers) }
	it := clinalg.Iteration{Tolerance: o.Tolerance, Steps: mostSteps, Restart: mostSteps, Workers: s.workers}
	steps, err := clinalg.GMRES(ctx, product, inverse, b, it)
	if errors.Is(err, clinalg.ErrSlow) {
		return steps, s.solveDirect(ctx, a, b)
	}
	return steps, err
}

// solveDirect solves by factors.
func (s *system) solveDirect(ctx context.Context, a *clinalg.Single, b [][]complex128) error {
	f, err := clinalg.Factor(ctx, a, s.workers)
	if err != nil {
		return err
	}
	x := clinalg.NewSingle(a.Rows, len(b))
	for i := range a.Rows {
		for d := range b {
			x.Row(i)[d] = complex64(b[d][i])
		}
	}
	f.Solve(x)
	for i := range a.Rows {
		for d := range b {
			b[d][i] = complex128(x.Row(i)[d])
		}
	}
	return nil
}

// jacobi returns the inverse of the blocks along the diagonal. Nodes are
// numbered so that those of a block lie together.
func (s *system) jacobi(ctx context.Context, a *clinalg.Single) (clinalg.Operator, error) {
	n := a.Rows
	count := (n + jacobiSize - 1) / jacobiSize
	factors := make([]*clinalg.Factors[complex64], count)
	errs := make([]error, count)
	bounds := func(i int) (int, int) { return i * n / count, (i + 1) * n / count }
	err := parallel.Each(ctx, s.workers, count, func(int) func(int) {
		return func(i int) {
			first, last := bounds(i)
			m := clinalg.NewSingle(last-first, last-first)
			for r := range m.Rows {
				copy(m.Row(r), a.Row(first + r)[first:last])
			}
			factors[i], errs[i] = clinalg.Factor(ctx, m, 1)
		}
	})
	if err = errors.Join(append(errs, err)...); err != nil {
		return nil, err
	}
	return func(x, y [][]complex64) error {
		return parallel.Each(ctx, s.workers, count, func(int) func(int) {
			return func(i int) {
				first, last := bounds(i)
				for c := range x {
					copy(y[c][first:last], x[c][first:last])
					factors[i].SolveVec(y[c][first:last])
				}
			}
		})
	}, nil
}
