package bem3

import (
	"context"
	"errors"
	"math/cmplx"
	"runtime"
	"testing"
	"time"
)

// impedances is what the sweeps below measure.
func impedances(weights [][]float64) func(s *Solution) ([]complex128, error) {
	return func(s *Solution) ([]complex128, error) {
		var z []complex128
		for i := range weights {
			for j := range weights {
				z = append(z, s.Force(i, weights[j]))
			}
		}
		return z, nil
	}
}

// The same bits on any number of workers, by factors and by iteration, and the
// same as frequencies solved alone.
func TestSweepIsTheSameOnAnyNumberOfWorkers(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(5)) // so that there may be five
	p, weights := drivenCabinet(0.3)
	f := []float64{100, 300}
	for _, below := range []int{1, 10000} {
		var first [][]complex128
		for _, workers := range []int{1, 2, 5} {
			calls := 0
			run := Run{Options: Options{Workers: workers, DirectBelow: below}, Progress: func(done, total int) {
				if calls++; done != calls || total != len(f) {
					t.Errorf("progress %d of %d on call %d", done, total, calls)
				}
			}}
			got, err := Sweep(context.Background(), p, f, run, impedances(weights))
			if err != nil {
				t.Fatal(err)
			}
			if calls != len(f) {
				t.Errorf("%d progress calls, want %d", calls, len(f))
			}
			if first == nil {
				first = got
				alone, _ := impedances(weights)(mustSolve(t, p, f[1], run.Options))
				got = append(got[:1:1], alone)
			}
			for i := range got {
				for j := range got[i] {
					if got[i][j] != first[i][j] {
						t.Fatalf("%d workers: value %d at %g Hz is %v, want %v", workers, j, f[i], got[i][j], first[i][j])
					}
				}
			}
		}
	}
}

// Velocities that depend on frequency give what each frequency gives alone, and leave the
// problem's as they were.
func TestVelocitiesByFrequency(t *testing.T) {
	p, weights := drivenCabinet(0.3)
	at := func(f float64) [][]complex128 {
		out := make([][]complex128, len(p.Velocities))
		for d, v := range p.Velocities {
			for _, u := range v {
				out[d] = append(out[d], u*cmplx.Rect(1+f/100, f/50))
			}
		}
		return out
	}
	before := p.Velocities[0][0]
	f := []float64{100, 300}
	got, err := Sweep(t.Context(), p, f, Run{Velocities: at}, impedances(weights))
	if err != nil {
		t.Fatal(err)
	}
	if p.Velocities[0][0] != before {
		t.Error("the problem's velocities changed")
	}
	for i := range f {
		one := *p
		one.Velocities = at(f[i])
		want, _ := impedances(weights)(mustSolve(t, &one, f[i], Options{}))
		for j := range want {
			if got[i][j] != want[j] {
				t.Errorf("%g Hz: %v, alone %v", f[i], got[i][j], want[j])
			}
		}
	}
}

// Iteration and factors agree within the tolerance of the iteration, times what
// the preconditioned equations amplify.
func TestIterationAgainstFactors(t *testing.T) {
	heavy(t)
	p, weights := drivenCabinet(0.12)
	direct, _ := impedances(weights)(mustSolve(t, p, 700, Options{DirectBelow: 1e6}))
	s := mustSolve(t, p, 700, Options{DirectBelow: 1})
	if s.Steps < 3 {
		t.Errorf("%d steps of the iteration", s.Steps)
	}
	iterated, _ := impedances(weights)(s)
	if e := relative(iterated, direct); !(e < 1e-4) {
		t.Errorf("difference %.2g after %d steps", e, s.Steps)
	}
}

func TestSweepFailures(t *testing.T) {
	p, weights := drivenCabinet(0.3)
	measure := impedances(weights)
	ctx, cancel := context.WithCancel(context.Background())
	_, err := Sweep(ctx, p, []float64{100, 200, 300}, Run{Progress: func(int, int) { cancel() }}, measure)
	if !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	broken := errors.New("broken")
	_, err = Sweep(context.Background(), p, []float64{100}, Run{}, func(*Solution) (int, error) { return 0, broken })
	if !errors.Is(err, broken) {
		t.Errorf("measure fails: %v", err)
	}
	// Refused before anything is solved, at the second frequency.
	if _, err = Sweep(context.Background(), p, []float64{100, 9000}, Run{Progress: func(int, int) { t.Error("solved") }}, measure); !errors.Is(err, ErrMesh) {
		t.Errorf("elements too long: %v", err)
	}
}

// A cancelled solution ends within a fraction of the time that it takes.
func TestCancelEndsASolution(t *testing.T) {
	p, _ := drivenCabinet(0.06)
	for _, below := range []int{1, 1e6} {
		o := Options{DirectBelow: below}
		ctx, cancel := context.WithTimeout(context.Background(), 50*time.Millisecond)
		if _, err := p.Solve(ctx, 1000, o); !errors.Is(err, context.DeadlineExceeded) {
			t.Errorf("deadline: %v", err)
		}
		cancel()
	}
}

// The memory that the estimate names is refused when it is one byte less, and
// both ways of solving hold what they said: the matrix is nearly all of it.
func TestMemoryIsBounded(t *testing.T) {
	p, weights := drivenCabinet(0.2)
	e, err := p.Estimate(3, Options{})
	if err != nil {
		t.Fatal(err)
	}
	n := int64(e.Unknowns)
	if e.Bytes < 8*n*n || e.Seconds <= 0 {
		t.Errorf("estimate %+v", e)
	}
	if _, err := Sweep(context.Background(), p, []float64{100}, Run{Options: Options{MaxMemory: e.Bytes - 1}}, impedances(weights)); !errors.Is(err, ErrTooLarge) {
		t.Errorf("one byte too few: %v", err)
	}
	s := mustSolve(t, p, 100, Options{MaxMemory: e.Bytes})
	if s.Unknowns != e.Unknowns || len(s.Pressure(0)) != e.Unknowns || cmplx.IsNaN(s.Pressure(0)[0]) {
		t.Errorf("%d unknowns, estimate %d", s.Unknowns, e.Unknowns)
	}
}
