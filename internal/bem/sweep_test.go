package bem

import (
	"context"
	"errors"
	"math"
	"math/cmplx"
	"runtime"
	"sync/atomic"
	"testing"
	"time"
)

// throatPressure is what the sweeps below measure.
func throatPressure(s *Solution) (complex128, error) {
	tr, err := s.Trace("air", "throat")
	if err != nil {
		return 0, err
	}
	return tr.MeanPressure(), nil
}

func TestSweepIsTheSameOnAnyNumberOfWorkers(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(5)) // so that there may be five
	p := notchedCabinet(false)
	f := LogFrequencies(300, 5000, 7)
	var first []complex128
	for _, o := range []Options{{Workers: 1}, {Workers: 2}, {Workers: 5}, {Workers: 4, MaxMemory: 6 << 20}} {
		calls := 0
		got, err := Sweep(context.Background(), p, f, Run{o, func(done, total int) {
			if calls++; done != calls || total != len(f) {
				t.Errorf("progress %d of %d on call %d", done, total, calls)
			}
		}}, throatPressure)
		if err != nil {
			t.Fatal(err)
		}
		if calls != len(f) {
			t.Errorf("%d progress calls, want %d", calls, len(f))
		}
		if first == nil {
			first = got
			for i, hz := range f {
				one, err := throatPressure(mustSolve(t, p, hz, Options{}))
				if err != nil || one != got[i] {
					t.Errorf("%g Hz: alone %v, in the sweep %v (%v)", hz, one, got[i], err)
				}
			}
		}
		for i := range got {
			if got[i] != first[i] {
				t.Errorf("%+v: value %d is %v, want %v", o, i, got[i], first[i])
			}
		}
	}
}

func TestSweepFailures(t *testing.T) {
	p := notchedCabinet(false)
	f := LogFrequencies(300, 5000, 5)
	ctx, cancel := context.WithCancel(context.Background())
	_, err := Sweep(ctx, p, f, Run{Progress: func(int, int) { cancel() }}, throatPressure)
	if !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: err = %v", err)
	}
	past, stop := context.WithDeadline(context.Background(), time.Unix(0, 0))
	defer stop()
	if _, err = Sweep(past, p, f, Run{}, throatPressure); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("deadline: err = %v", err)
	}
	broken := errors.New("broken")
	_, err = Sweep(context.Background(), p, f, Run{}, func(*Solution) (int, error) { return 0, broken })
	if !errors.Is(err, broken) {
		t.Errorf("measure fails: err = %v", err)
	}
	if _, err = Sweep(context.Background(), p, []float64{100, -3}, Run{}, throatPressure); err == nil {
		t.Error("a negative frequency is accepted")
	}
}

// A sweep cancelled in the midst of its first solutions, while their walls are
// read, does not bring them to an end.
func TestCancelEndsASolution(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	wall := Wall{Velocity: func(float64, Point, Point) complex128 {
		cancel()
		return 1
	}}
	var solved atomic.Int64
	_, err := Sweep(ctx, exterior(Mirror{}, circle(0.1, wall)), LogFrequencies(300, 5000, 5), Run{}, func(*Solution) (int, error) {
		solved.Add(1)
		return 0, nil
	})
	if !errors.Is(err, context.Canceled) || solved.Load() > 0 {
		t.Errorf("%d solutions after the cancellation, err = %v", solved.Load(), err)
	}
}

func TestCheckBoundsTheError(t *testing.T) {
	// The change on halving must be of the order of the true error of the
	// coarse run, which a much finer mesh gives, and the finer run better.
	p := notchedCabinet(false)
	f := []float64{900, 4000}
	relative := func(a, b complex128) float64 { return cmplx.Abs(a-b) / cmplx.Abs(b) }
	done := 0
	c, err := Check(context.Background(), p, f, Run{Options{NodesPerWave: 5}, func(d, _ int) { done = d }}, throatPressure, relative)
	if err != nil {
		t.Fatal(err)
	}
	if done != 2*len(f) {
		t.Errorf("progress ends at %d, want %d", done, 2*len(f))
	}
	for i, hz := range f {
		best, _ := throatPressure(mustSolve(t, p, hz, Options{NodesPerWave: 30, Order: 8, Grading: 6}))
		coarse, _ := throatPressure(mustSolve(t, p, hz, Options{NodesPerWave: 5}))
		e := relative(coarse, best)
		if c.Change[i] < e/4 || c.Change[i] > 4*e || relative(c.Values[i], best) > e {
			t.Errorf("%g Hz: change %.2g, error %.2g, finer error %.2g", hz, c.Change[i], e, relative(c.Values[i], best))
		}
	}
}

// Every element of the finer mesh is at most half of the one it lies in, whatever
// bounds that one: the wave, the length of its edge, the cuts towards its end, or
// the turn of its curve.
func TestFinerHalvesEveryElement(t *testing.T) {
	smooth, err := NewSpline([]Point{{0.3, 0.1}, {0.35, 0.3}, {0.2, 0.5}, {0.05, 0.45}, {0.02, 0.4}})
	if err != nil {
		t.Fatal(err)
	}
	outline := append(polygon(false, Wall{}, Point{0.02, 0.4}, Point{0.02, 0.38}, Point{0, 0.38}, Point{0, 0}, Point{0.3, 0}, Point{0.3, 0.1}), Edge{Name: "curve", Curve: smooth})
	for name, p := range map[string]*Problem{"notched": notchedCabinet(false), "circle": exterior(Mirror{}, circle(0.1, Wall{})), "spline": exterior(Mirror{}, outline)} {
		pp, err := p.prepare()
		if err != nil {
			t.Fatal(err)
		}
		for _, hz := range []float64{20, 300, 9000} {
			o := Options{}.withDefaults()
			for i := range pp.sides {
				coarse, fine := pp.elements(&pp.sides[i], hz, o), pp.elements(&pp.sides[i], hz, o.Finer())
				for j, c := 1, 1; j < len(fine); j++ {
					for fine[j] > coarse[c]+1e-9 {
						c++
					}
					if fine[j-1] < coarse[c-1]-1e-9 || fine[j]-fine[j-1] > 0.5001*(coarse[c]-coarse[c-1]) {
						t.Fatalf("%s, %g Hz, side %d: element %v in %v", name, hz, i, fine[j-1:j+1], coarse[c-1:c+1])
					}
				}
			}
			n, _, _ := p.Unknowns(hz, Options{})
			finer, _, err := p.Unknowns(hz, Options{}.Finer())
			if err != nil || finer < 2*n {
				t.Errorf("%s, %g Hz: %d unknowns, finer %d (%v), want twice as many", name, hz, n, finer, err)
			}
		}
	}
}

func TestCheckRefusesBeforeItStarts(t *testing.T) {
	// Memory that the coarse run fits in and the finer one does not.
	p := notchedCabinet(false)
	n, bytes, err := p.Unknowns(4000, Options{})
	if err != nil {
		t.Fatal(err)
	}
	done := 0
	run := Run{Options{MaxMemory: 2 * bytes}, func(int, int) { done++ }}
	_, err = Check(context.Background(), p, []float64{4000}, run, throatPressure, func(complex128, complex128) float64 { return 0 })
	if !errors.Is(err, ErrTooLarge) || done > 0 {
		t.Errorf("%d unknowns doubled: err = %v after %d solutions", n, err, done)
	}
}

func TestEdges(t *testing.T) {
	// A pattern of level −6 (θ/θ0)^2 dB falls to −6 dB at θ0 on both sides.
	const right, left = 0.5, 0.3
	var angles []float64
	var pattern []complex128
	axis := -1
	for a := -1.2; a < 1.2; a += 0.01 {
		if axis < 0 && a > -1e-9 {
			axis = len(angles)
		}
		w := left
		if a > 0 {
			w = right
		}
		angles = append(angles, a)
		pattern = append(pattern, cmplx.Rect(3*math.Pow(10, -6*a*a/w/w/20), 20*a))
	}
	below, above := Edges(angles, pattern, axis)
	if math.Abs(below-angles[axis]+left) > 1e-4 || math.Abs(above-angles[axis]-right) > 1e-4 {
		t.Errorf("edges %g and %g, want %g and %g", below, above, -left, right)
	}
	if below, above = Edges(angles[axis:], pattern[axis:], 0); !math.IsNaN(below) || math.Abs(above-angles[axis]-right) > 1e-4 {
		t.Errorf("half: edges %g and %g, want none and %g", below, above, right)
	}
	if _, above = Edges(angles[axis:axis+10], pattern[axis:axis+10], 0); !math.IsNaN(above) {
		t.Errorf("too few angles: edge %g, want NaN", above)
	}
}
