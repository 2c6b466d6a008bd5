package bem

import (
	"context"
	"errors"
	"fmt"
	"math"
	"sort"
	"sync"

	"gapline/internal/parallel"
)

// Run says how a frequency sweep is watched.
type Run struct {
	Options
	// Progress, when not nil, is called after each frequency, from one
	// goroutine at a time.
	Progress func(done, total int)
}

// Sweep solves p at every frequency, Hz, and returns what measure makes of each
// solution, in the order of the frequencies. Solutions are not kept. Frequencies
// are solved side by side on Options.Workers goroutines as far as
// Options.MaxMemory allows; the results do not depend on how many. measure may be
// called from several goroutines at once. The first error, by order of
// frequency, ends the sweep, as does cancelling ctx.
func Sweep[T any](ctx context.Context, p *Problem, frequencies []float64, run Run, measure func(*Solution) (T, error)) ([]T, error) {
	pp, err := p.prepare()
	if err != nil {
		return nil, err
	}
	o := run.Options.withDefaults()
	largest := int64(1)
	for _, f := range frequencies {
		if err := pp.checkFrequency(f, o); err != nil {
			return nil, err
		}
		largest = max(largest, memory(pp.count(f, o)))
	}
	side := int(min(int64(o.Workers), int64(len(frequencies)), max(1, o.MaxMemory/largest)))
	inner := o
	inner.Workers = max(1, o.Workers/max(side, 1))
	s := &sweep[T]{run: run, results: make([]T, len(frequencies)), errs: make([]error, len(frequencies))}
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	r := newRule(o.Order)
	order := hardestFirst(frequencies)
	stopped := parallel.Each(ctx, side, len(frequencies), func(int) func(int) {
		return func(task int) {
			i := order[task]
			sol, err := pp.solve(ctx, frequencies[i], inner, r)
			if err == nil {
				s.results[i], err = measure(sol)
			}
			if s.done(i, err); err != nil {
				cancel()
			}
		}
	})
	return s.results, s.outcome(frequencies, stopped)
}

// sweep collects results.
type sweep[T any] struct {
	run     Run
	mu      sync.Mutex
	count   int
	results []T
	errs    []error
}

func (s *sweep[T]) done(i int, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.errs[i] = err
	s.count++
	if s.run.Progress != nil && err == nil {
		s.run.Progress(s.count, len(s.results))
	}
}

// outcome returns the first error that is not a mere consequence of stopping.
func (s *sweep[T]) outcome(frequencies []float64, stopped error) error {
	for i, err := range s.errs {
		if err != nil && !errors.Is(err, context.Canceled) {
			return fmt.Errorf("at %.6g Hz: %w", frequencies[i], err)
		}
	}
	return stopped
}

// hardestFirst returns the indices of the frequencies from high to low, so that
// no goroutine is left with a long one at the end.
func hardestFirst(frequencies []float64) []int {
	order := make([]int, len(frequencies))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return frequencies[order[a]] > frequencies[order[b]] })
	return order
}

// Checked is a sweep done twice.
type Checked[T any] struct {
	Values []T       // from the finer mesh
	Coarse []T       // from the other
	Change []float64 // distance between both results at each frequency
}

// Check runs the sweep with elements as Options say and again with every element
// cut in two, as Options.Finer says, and returns the finer results and their
// distance from the coarser ones by the given measure. Frequencies
// that the finer run cannot hold are refused before the coarser one starts.
func Check[T any](ctx context.Context, p *Problem, frequencies []float64, run Run, measure func(*Solution) (T, error), distance func(coarse, fine T) float64) (*Checked[T], error) {
	total := 2 * len(frequencies)
	stage := func(offset int) func(int, int) {
		if run.Progress == nil {
			return nil
		}
		return func(done, _ int) { run.Progress(offset+done, total) }
	}
	o := run.Options.withDefaults()
	finer := o.Finer()
	if err := p.fits(frequencies, finer); err != nil {
		return nil, err
	}
	coarse, err := Sweep(ctx, p, frequencies, Run{o, stage(0)}, measure)
	if err != nil {
		return nil, err
	}
	fine, err := Sweep(ctx, p, frequencies, Run{finer, stage(len(frequencies))}, measure)
	if err != nil {
		return nil, err
	}
	c := &Checked[T]{Values: fine, Coarse: coarse, Change: make([]float64, len(fine))}
	for i := range fine {
		c.Change[i] = distance(coarse[i], fine[i])
	}
	return c, nil
}

// fits refuses frequencies that make no sense or need too much memory.
func (p *Problem) fits(frequencies []float64, o Options) error {
	pp, err := p.prepare()
	if err != nil {
		return err
	}
	for _, f := range frequencies {
		if err := pp.checkFrequency(f, o); err != nil {
			return err
		}
	}
	return nil
}

// LogFrequencies returns count frequencies from low to high, Hz, evenly spaced
// on a logarithmic scale.
func LogFrequencies(low, high float64, count int) []float64 {
	f := make([]float64, count)
	for i := range f {
		f[i] = low
		if count > 1 {
			f[i] = low * math.Pow(high/low, float64(i)/float64(count-1))
		}
	}
	return f
}
