package search

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"runtime"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distmv"
	"gonum.org/v1/gonum/stat/samplemv"
	"pgregory.net/rapid"
)

func quiet(int)       {}
func silent(int, int) {}

// find samples and refines.
func find(t testing.TB, p *Problem, designs int) *Archive {
	t.Helper()
	s := NewPlan(p, designs, 1)
	a, err := s.Sample(context.Background(), 0, s.Designs, quiet)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Refine(context.Background(), a, silent); err != nil {
		t.Fatal(err)
	}
	return a
}

// simple makes a problem of a function without state that always has an outcome.
func simple(levers, goals, limits int, f func(u, goals, excess []float64)) *Problem {
	return &Problem{Levers: make([]Lever, levers), Goals: goals, Limits: limits, New: func() Evaluate {
		return func(u, g, e []float64) Status { f(u, g, e); return Evaluated }
	}}
}

// The sequence equals gonum's scrambled Halton points for the same random
// source; ours can be had one by one.
func TestHaltonAgainstGonum(t *testing.T) {
	const n, dims, seed = 500, 7, 11
	want := mat.NewDense(n, dims, nil)
	samplemv.Halton{Kind: samplemv.Owen, Q: distmv.NewUnitUniform(dims, nil), Src: rand.NewPCG(seed, 0x68616c74)}.Sample(want)
	h := NewHalton(dims, seed)
	got := make([]float64, dims)
	for i := range n {
		h.At(i, got)
		for j := range got {
			// Both sum about 50 digits.
			if math.Abs(got[j]-want.At(i, j)) > 1e-14 {
				t.Fatalf("point %d, dimension %d: %g, want %g", i, j, got[j], want.At(i, j))
			}
		}
	}
}

// J. D. Schaffer's first problem (1985): f₁ = x², f₂ = (x−2)². No other point is
// better in both exactly for 0 ≤ x ≤ 2, where √f₁ + √f₂ = 2.
func TestSchaffer(t *testing.T) {
	for _, reach := range []float64{10, 1000} {
		x := func(u float64) float64 { return reach * (2*u - 1) }
		a := find(t, simple(1, 2, 0, func(u, g, _ []float64) {
			v := x(u[0])
			g[0], g[1] = v*v, (v-2)*(v-2)
		}), 2000)
		var at []float64
		for _, q := range a.Front {
			v := x(q.U[0])
			// The ends are met to within the weight of the other goal: 0.002 each.
			if v < -0.005 || v > 2.005 {
				t.Errorf("±%g: x = %g is on the front, want 0 to 2", reach, v)
			}
			at = append(at, v)
		}
		// Every part of the front is found: to 1/20 of it.
		for v := 0.0; v <= 2; v += 0.1 {
			if nearest(at, v) > 0.1 {
				t.Errorf("±%g: no point of the front near x = %g (%d points)", reach, v, len(at))
			}
		}
	}
}

func nearest(xs []float64, v float64) float64 {
	d := math.Inf(1)
	for _, x := range xs {
		d = math.Min(d, math.Abs(x-v))
	}
	return d
}

// binhKorn is the problem of T. T. Binh and U. Korn, MOBES: a multiobjective
// evolution strategy for constrained optimization problems, 1997, as in K. Deb,
// Multi-Objective Optimization using Evolutionary Algorithms, 2001:
//
//	f₁ = 4x² + 4y², f₂ = (x−5)² + (y−5)², 0 ≤ x ≤ 5, 0 ≤ y ≤ 3
//	(x−5)² + y² ≤ 25, (x−8)² + (y+3)² ≥ 7.7
//
// Its solutions are x = y up to 3, then y = 3 with x from 3 to 5.
func binhKorn() *Problem {
	return simple(2, 2, 2, func(u, g, e []float64) {
		x, y := 5*u[0], 3*u[1]
		g[0], g[1] = 4*x*x+4*y*y, (x-5)*(x-5)+(y-5)*(y-5)
		e[0], e[1] = (x-5)*(x-5)+y*y-25, 7.7-(x-8)*(x-8)-(y+3)*(y+3)
	})
}

func TestBinhKorn(t *testing.T) {
	a := find(t, binhKorn(), 4000)
	// On the solutions f₂ follows from f₁: √f₂ = 5√2 − √(f₁/4) for x = y, else
	// f₂ = (x−5)² + 4 with x = √(f₁/4 − 9).
	exact := func(f1 float64) float64 {
		if f1 <= 72 {
			r := 5*math.Sqrt2 - math.Sqrt(f1/4)
			return r * r
		}
		x := math.Sqrt(f1/4 - 9)
		return (x-5)*(x-5) + 4
	}
	var f1 []float64
	for _, q := range a.Front {
		if !q.Feasible() {
			t.Errorf("%v misses a limit", q)
		}
		if over := q.Goals[1] - exact(q.Goals[0]); over > 0.46 { // 1 % of its range
			t.Errorf("front at f1 = %g, f2 = %g lies %g above the exact front", q.Goals[0], q.Goals[1], over)
		} else if over < -1e-9 {
			t.Errorf("f1 = %g, f2 = %g lies below the exact front", q.Goals[0], q.Goals[1])
		}
		f1 = append(f1, q.Goals[0])
	}
	for f := 0.0; f <= 136; f += 6.8 {
		if nearest(f1, f) > 6.8 {
			t.Errorf("no point of the front near f1 = %g", f)
		}
	}
}

// The minimum of the sphere under a limit: x + y + z ≥ 1.5 in the unit box
// touches the sphere about the origin at ½, ½, ½, where the goal is ¾.
func TestOneGoalOnALimit(t *testing.T) {
	a := find(t, simple(3, 1, 1, func(u, g, e []float64) {
		g[0] = u[0]*u[0] + u[1]*u[1] + u[2]*u[2]
		e[0] = 1.5 - u[0] - u[1] - u[2]
	}), 500)
	if got := a.Front[0].Goals[0]; got < 0.75 || got > 0.7505 {
		t.Errorf("minimum %g, want 0.75", got)
	}
}

// A minimum in a corner of the box is found exactly.
func TestGoalInACorner(t *testing.T) {
	a := find(t, simple(2, 1, 0, func(u, g, _ []float64) { g[0] = 3*u[0] - u[1] }), 100)
	if q := a.Front[0]; q.U[0] != 0 || q.U[1] != 1 {
		t.Errorf("best at %v, want 0, 1", q.U)
	}
}

// gridProblem has steps, a word and a limit that couples the levers. It is
// searched with fewer points than it has combinations.
func gridProblem() *Problem {
	p := simple(3, 2, 1, func(u, g, e []float64) {
		shift := []float64{0, 0.3, 0.1}[Lever{Levels: 3}.Level(u[2])]
		g[0] = (u[0]-0.2)*(u[0]-0.2) + (u[1]-0.9)*(u[1]-0.9) + shift
		g[1] = math.Abs(u[0]-0.8) + u[1]*u[1] - 2*shift
		e[0] = 0.4 - u[0] - u[1]*u[1]
	})
	p.Levers = []Lever{{41, true}, {31, true}, {3, false}}
	return p
}

// The search finds every point of the exhaustive grid's front, or one within a
// single step of it that is as good up to what one step is worth.
func TestAgainstExhaustiveGrid(t *testing.T) {
	p := gridProblem()
	all := NewPlan(p, p.Combinations(), 1)
	if !all.Exhaustive() || all.Designs != 41*31*3 {
		t.Fatalf("%d combinations, exhaustive %v", all.Designs, all.Exhaustive())
	}
	grid, err := all.Sample(context.Background(), 0, all.Designs, quiet)
	if err != nil {
		t.Fatal(err)
	}
	found := find(t, p, 400)
	for _, want := range grid.Front {
		best := math.Inf(1)
		for _, q := range found.Front {
			if p.Levers[2].Level(q.U[2]) == p.Levers[2].Level(want.U[2]) {
				best = math.Min(best, math.Max(math.Abs(q.U[0]-want.U[0])*41, math.Abs(q.U[1]-want.U[1])*31))
			}
		}
		if best > 1+1e-9 {
			t.Errorf("the grid's front point %v is %.0f steps from the nearest found", want.U, best)
		}
	}
	for _, q := range found.Front {
		for _, w := range grid.Front {
			if noWorse(q.Goals, w.Goals) && !noWorse(w.Goals, q.Goals) {
				t.Errorf("%v beats the grid's %v: the grid is not exhaustive", q, w)
			}
		}
	}
}

// The exhaustive front agrees with the definition, applied pair by pair.
func TestFrontByDefinition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		goals := rapid.IntRange(1, 3).Draw(t, "goals")
		points := drawPoints(t, goals, 1)
		a := NewArchive(1)
		for _, q := range points {
			a.add(q)
		}
		var want []int
		for i, q := range points {
			beaten := !q.Feasible()
			for j, o := range points {
				if o.Feasible() && noWorse(o.Goals, q.Goals) && (j < i || !noWorse(q.Goals, o.Goals)) {
					beaten = beaten || j != i
				}
			}
			if !beaten {
				want = append(want, i)
			}
		}
		var got []int
		for _, q := range a.Front {
			got = append(got, q.ID)
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Fatalf("front (-want +got):\n%s", d)
		}
	})
}

func drawPoints(t *rapid.T, goals, limits int) []Point {
	small := rapid.Map(rapid.IntRange(0, 5), func(i int) float64 { return float64(i) })
	points := make([]Point, rapid.IntRange(0, 60).Draw(t, "n"))
	for i := range points {
		points[i] = Point{
			ID:     i,
			Goals:  rapid.SliceOfN(small, goals, goals).Draw(t, "goals"),
			Excess: rapid.SliceOfN(rapid.Map(rapid.IntRange(-2, 2), func(i int) float64 { return float64(i) }), limits, limits).Draw(t, "excess"),
		}
	}
	return points
}

// Archives of slices, merged in order, equal the archive of the whole.
func TestMergeOfSlices(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points := drawPoints(t, 2, 2)
		cut := rapid.IntRange(0, len(points)).Draw(t, "cut")
		whole, a, b := NewArchive(2), NewArchive(2), NewArchive(2)
		for i, q := range points {
			whole.add(q)
			if i < cut {
				a.add(q)
			} else {
				b.add(q)
			}
		}
		a.Merge(b)
		if d := cmp.Diff(whole, a); d != "" {
			t.Fatalf("merged (-whole +merged):\n%s", d)
		}
	})
}

func TestSlicesAndCoresDoNotMatter(t *testing.T) {
	p := binhKorn()
	want := find(t, p, 3000)
	before := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(before)
	s := NewPlan(p, 3000, 1)
	got := NewArchive(p.Limits)
	for _, cut := range [][2]int{{0, 7}, {7, 1500}, {1500, 1500}, {1500, 3000}} {
		part, err := s.Sample(context.Background(), cut[0], cut[1], quiet)
		if err != nil {
			t.Fatal(err)
		}
		got.Merge(part)
	}
	if err := s.Refine(context.Background(), got, silent); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("four slices on one core differ from one on all (-want +got):\n%s", d)
	}
}

// x ≥ 0.9 and x + y ≤ 0.5 exclude each other: the first alone comes no nearer
// than 0.5 (at y = 0), the second no nearer than 0.9, so that 0.4 is missing
// either way.
func TestNothingFits(t *testing.T) {
	a := find(t, simple(2, 1, 3, func(u, g, e []float64) {
		g[0] = u[1]
		e[0], e[1], e[2] = 0.9-u[0], u[0]+u[1]-0.5, u[1]-0.8
	}), 300)
	if len(a.Front) > 0 {
		t.Fatalf("found %v", a.Front[0])
	}
	for j, want := range []float64{0.4, 0.4} {
		if got := a.Alone[j]; got.ID < 0 || got.Excess[j] < want-1e-12 || got.Excess[j] > want+0.002 {
			t.Errorf("limit %d alone: %+v, want it missed by %g", j, got, want)
		}
	}
	if a.Alone[2].ID >= 0 {
		t.Errorf("limit 2 cannot help, yet %+v", a.Alone[2])
	}
}

// A feasible region too small for the samples is reached by refinement.
func TestSmallFeasibleRegion(t *testing.T) {
	a := find(t, simple(3, 1, 1, func(u, g, e []float64) {
		g[0] = u[0]
		d := math.Hypot(math.Hypot(u[0]-0.31, u[1]-0.72), u[2]-0.55)
		e[0] = d - 0.004
	}), 300)
	if len(a.Front) == 0 {
		t.Fatal("nothing found")
	}
	if got := a.Front[0].Goals[0]; got > 0.3075 {
		t.Errorf("best %g, want 0.306", got)
	}
}

func TestStopped(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	s := NewPlan(binhKorn(), 100_000, 1)
	a, err := s.Sample(ctx, 0, s.Designs, func(done int) {
		if done >= 1000 {
			cancel()
		}
	})
	if !errors.Is(err, context.Canceled) || a.Evaluated < 1000 || a.Evaluated == s.Designs {
		t.Errorf("%d evaluated, error %v: want what was found before the end", a.Evaluated, err)
	}
	if len(a.Front) == 0 {
		t.Error("nothing kept")
	}
}

func TestCountsOfPointsWithoutOutcome(t *testing.T) {
	p := &Problem{Levers: make([]Lever, 1), Goals: 1, New: func() Evaluate {
		return func(u, g, _ []float64) Status {
			g[0] = u[0]
			switch {
			case u[0] < 0.25:
				return Impossible
			case u[0] > 0.5:
				return Incomplete
			}
			return Evaluated
		}
	}}
	s := NewPlan(p, 4096, 1) // a power of the base 2: the shares are exact
	a, err := s.Sample(context.Background(), 0, s.Designs, quiet)
	if err != nil || a.Impossible != 1024 || a.Incomplete < 2047 || a.Incomplete > 2048 || a.Evaluated+a.Impossible+a.Incomplete != 4096 {
		t.Errorf("%d impossible, %d incomplete, %d evaluated of 4096, error %v", a.Impossible, a.Incomplete, a.Evaluated, err)
	}
}

func BenchmarkSample(b *testing.B) {
	s := NewPlan(binhKorn(), 1<<30, 1)
	at := 0
	for b.Loop() {
		if _, err := s.Sample(context.Background(), at, at+4096, quiet); err != nil {
			b.Fatal(err)
		}
		at += 4096
	}
}

// On the line from (0, 10) to (10, 0) three points lie spread when they are its
// ends and its middle.
func TestSpread(t *testing.T) {
	var line []Point
	for i := range 11 {
		line = append(line, Point{ID: i, Goals: []float64{float64(i), float64(10 - i)}})
	}
	if got := Spread(line, 3); cmp.Diff([]int{0, 10, 5}, got) != "" {
		t.Errorf("%v, want 0, 10, 5", got)
	}
	if got := Spread(line, 50); len(got) != 11 {
		t.Errorf("%d of 11 points", len(got))
	}
	if got := Spread(nil, 3); got != nil {
		t.Errorf("%v of nothing", got)
	}
}
