package field

import (
	"context"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"
)

// A candidate scored from the box that moves on costs what it costs summed whole; one
// that is given up costs no less than it was given up for.
func TestHeldSumsAndLimits(t *testing.T) {
	s, spec := aimHall(7, false)
	spec.Gains = []float64{0, -2}
	h, err := newAimer(context.Background(), s, Options{Ground: 0.7, Absorption: true}, spec)
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(5, 6))
	base := make(choice, len(h.sizes))
	given := 0
	for round := range 60 {
		if round%5 == 0 {
			for i := range base {
				base[i] = uint8(r.IntN(h.sizes[i]))
			}
			base[h.joints] = 4
			if err := h.hold(base); err != nil {
				t.Fatal(err)
			}
		}
		c := slices.Clone(base)
		i := r.IntN(len(c))
		c[i] = uint8(r.IntN(h.sizes[i]))
		whole, _ := h.evaluate(trial{Candidate: h.candidate(c), limit: math.Inf(1)}, h.workers[0])
		held, _ := h.evaluate(trial{h.candidate(c), h.firstMoved(c), math.Inf(1), [2]int{}}, h.workers[0])
		if d := math.Abs(whole.cost - held.cost); d > 1e-9 {
			t.Errorf("%v after %v: %.12g dB, summed whole %.12g dB", c, base, held.cost, whole.cost)
		}
		limit := whole.spread * (0.5 + r.Float64())
		short, _ := h.evaluate(trial{h.candidate(c), 0, limit, [2]int{3, 9}}, h.workers[0])
		switch {
		case short.whole && short.cost != whole.cost && !math.IsInf(whole.cost, 1):
			t.Errorf("%v: %g dB with a limit of %g dB, %g dB without", c, short.cost, limit, whole.cost)
		case !short.whole && !(short.cost >= limit && short.cost <= whole.cost):
			t.Errorf("%v: given up at %g dB for a limit of %g dB, it costs %g dB", c, short.cost, limit, whole.cost)
		}
		if !short.whole {
			given++
		}
	}
	if given < 10 {
		t.Errorf("%d of 60 given up: the limit is not tried", given)
	}
}

// The same stack whatever the cores.
func TestAimDoesNotDependOnCores(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	s, spec := aimHall(8, false)
	spec.Kicks = 2
	var first *Aimed
	for _, n := range []int{1, 2, 5} {
		runtime.GOMAXPROCS(n)
		got, err := Aim(context.Background(), s, Options{}, spec)
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = got
		}
		if !slices.Equal(got.Best.Splay, first.Best.Splay) || got.Best.Cost != first.Best.Cost || got.Evaluations != first.Evaluations {
			t.Errorf("%d cores: %v, %v dB, %d stacks; one core %v, %v dB, %d stacks", n,
				got.Best.Splay, got.Best.Cost, got.Evaluations, first.Best.Splay, first.Best.Cost, first.Evaluations)
		}
	}
}

// Stacks that turn back are not heard, and not counted, where the curve must rise.
func TestOnlyWhatIsHeardCounts(t *testing.T) {
	s, spec := aimHall(5, true)
	h, err := newAimer(context.Background(), s, Options{}, spec)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := h.best(nil, []choice{{0, 1, 2, 3, 4}, {1, 0, 2, 3, 4}, {0, 0, 0, 0, 4}}); err != nil {
		t.Fatal(err)
	}
	if h.heard != 2 || len(h.known) != 3 {
		t.Errorf("%d of %d heard", h.heard, len(h.known))
	}
}

// Each seat comes once, and the first few lie apart.
func TestApart(t *testing.T) {
	for _, n := range []int{1, 2, 3, 51, 64, 65} {
		order := apart(n)
		if n >= 51 && (order[1] < n/3 || order[0] != 0) {
			t.Errorf("%d seats begin with %v", n, order[:4])
		}
		slices.Sort(order)
		for i, j := range order {
			if i != j || len(order) != n {
				t.Fatalf("%d seats: %v", n, order)
			}
		}
	}
}
