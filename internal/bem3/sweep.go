package bem3

import (
	"context"
	"fmt"
	"time"
)

// Run says how a frequency sweep is watched.
type Run struct {
	Options
	// Progress, when not nil, is called after each frequency.
	Progress func(done, total int)
	// Velocities, when not nil, gives Problem.Velocities at a frequency, Hz, where they depend on
	// it: as many drives that move the same triangles.
	Velocities func(f float64) [][]complex128
}

// Sweep solves p at every frequency, Hz, and returns what measure makes of each
// solution, in the order of the frequencies. Solutions are not kept. What does
// not depend on frequency is integrated once. Frequencies follow one another,
// each on all workers; the results do not depend on how many. It returns errors
// that wrap ErrMesh or ErrTooLarge before anything is computed, measure's error,
// and the context's when ctx is cancelled.
func Sweep[T any](ctx context.Context, p *Problem, frequencies []float64, run Run, measure func(*Solution) (T, error)) ([]T, error) {
	o := run.Options.withDefaults()
	own := *p // whose velocities change
	s, err := own.prepare()
	if err != nil {
		return nil, err
	}
	for _, f := range frequencies {
		if err := s.checkFrequency(f, o); err != nil {
			return nil, err
		}
	}
	if e := s.estimate(len(frequencies), o); e.Bytes > o.MaxMemory {
		return nil, fmt.Errorf("%w: %d unknowns need %.3g GB, more than the %.3g GB allowed",
			ErrTooLarge, e.Unknowns, float64(e.Bytes)/1e9, float64(o.MaxMemory)/1e9)
	}
	l, err := s.newLayout(ctx, o.Workers)
	if err != nil {
		return nil, err
	}
	results := make([]T, len(frequencies))
	for i, f := range frequencies {
		if run.Velocities != nil {
			own.Velocities = run.Velocities(f)
			if err := own.check(); err != nil {
				return nil, err
			}
		}
		sol, err := l.solveAt(ctx, f, o)
		if err == nil {
			results[i], err = measure(sol)
		}
		if err != nil {
			if ctx.Err() != nil {
				return nil, ctx.Err()
			}
			return nil, fmt.Errorf("at %.6g Hz: %w", f, err)
		}
		if run.Progress != nil {
			run.Progress(i+1, len(frequencies))
		}
	}
	return results, ctx.Err()
}

// Solve computes the field at one frequency, Hz. Its errors are those of Sweep.
func (p *Problem) Solve(ctx context.Context, f float64, o Options) (*Solution, error) {
	all, err := Sweep(ctx, p, []float64{f}, Run{Options: o}, func(s *Solution) (*Solution, error) { return s, nil })
	if err != nil {
		return nil, err
	}
	return all[0], nil
}

// solveAt assembles and solves at one frequency.
func (l *layout) solveAt(ctx context.Context, f float64, o Options) (*Solution, error) {
	start := time.Now()
	s := l.at(f, o.Workers)
	a, err := s.assemble(ctx)
	if err != nil {
		return nil, err
	}
	q := s.slopes()
	b, err := s.given(ctx, q)
	if err != nil {
		return nil, err
	}
	steps, err := s.solve(ctx, a, b, o)
	if err != nil {
		return nil, err
	}
	return &Solution{Frequency: f, Unknowns: len(s.nodes), Steps: steps, Seconds: time.Since(start).Seconds(), system: s, p: b, q: q}, nil
}

// Estimate says what a sweep takes.
type Estimate struct {
	Unknowns int
	Bytes    int64
	// Seconds is a rough figure for two cores of 2025: the same arithmetic takes
	// longer on older or busy ones.
	Seconds float64
}

// Estimate returns what a sweep over so many frequencies takes, without solving.
// It returns errors that wrap ErrMesh.
func (p *Problem) Estimate(frequencies int, o Options) (Estimate, error) {
	s, err := p.prepare()
	if err != nil {
		return Estimate{}, err
	}
	return s.estimate(frequencies, o.withDefaults()), nil
}

// Costs by measurement on two cores, s.
const (
	pairSeconds   = 70e-9  // a pair of elements, for each image
	nearSeconds   = 250e-6 // the near pairs of an element, once in a sweep
	flopSeconds   = 1e-11  // an operation of the factors
	streamSeconds = 0.2e-9 // an element of the matrix, for each step and drive
	usualSteps    = 60
	nearBytes     = 16000 // a node's near part, all elements driven
)

// estimate counts.
func (s *surface) estimate(frequencies int, o Options) Estimate {
	n, t := float64(len(s.nodes)), float64(len(s.elements))
	drives, images := float64(len(s.problem.Velocities)), float64(len(s.images))
	each := pairSeconds * t * t * images
	bytes := 8*n*n + nearBytes*n + 1000*n*drives
	if (&system{layout: &layout{surface: s}}).direct(o) {
		each += flopSeconds * 8. / 3 * n * n * n
	} else {
		each += usualSteps * streamSeconds * n * (n + 2*jacobiSize) * drives
		bytes += 8*jacobiSize*n + 16*(restart+4)*n*drives
	}
	return Estimate{
		Unknowns: len(s.nodes),
		Bytes:    int64(bytes),
		Seconds:  nearSeconds*t + float64(frequencies)*each,
	}
}
