package parallel

import (
	"context"
	"errors"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"pgregory.net/rapid"
)

// Every number comes once and in order, whatever the sizes and the cores.
func TestOrdered(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	rapid.Check(t, func(t *rapid.T) {
		runtime.GOMAXPROCS(rapid.IntRange(1, 8).Draw(t, "cores"))
		n := rapid.IntRange(0, 200).Draw(t, "n")
		size := rapid.IntRange(1, 50).Draw(t, "size")
		next := 0
		err := Ordered(context.Background(), n, size, func(lo, hi int) [2]int {
			if lo%3 == 0 {
				runtime.Gosched() // mix up the order of completion
			}
			return [2]int{lo, hi}
		}, func(piece [2]int) error {
			if piece[0] != next || piece[1] <= piece[0] || piece[1]-piece[0] > size {
				t.Fatalf("piece %v comes at %d", piece, next)
			}
			next = piece[1]
			return nil
		})
		if err != nil || next != n {
			t.Fatalf("ended at %d of %d, %v", next, n, err)
		}
	})
}

// An error of emit comes back, and little is worked on after it.
func TestErrorOfEmit(t *testing.T) {
	stop := errors.New("stop")
	var worked atomic.Int64
	emitted := 0
	err := Ordered(context.Background(), 1_000_000, 1, func(lo, _ int) int {
		worked.Add(1)
		return lo
	}, func(i int) error {
		if emitted++; i == 10 {
			return stop
		}
		return nil
	})
	if !errors.Is(err, stop) || emitted != 11 {
		t.Errorf("%d emitted, %v", emitted, err)
	}
	// A few pieces a core may be under way.
	if got := worked.Load(); got > int64(11+8*runtime.GOMAXPROCS(0)) {
		t.Errorf("%d pieces worked on for 11", got)
	}
}

// A cancelled context ends the work, and its error comes back.
func TestCancel(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	emitted := 0
	err := Ordered(ctx, 1_000_000, 1, func(lo, _ int) int { return lo }, func(int) error {
		if emitted++; emitted == 5 {
			cancel()
		}
		return nil
	})
	if !errors.Is(err, context.Canceled) || emitted != 5 {
		t.Errorf("%d emitted after cancelling at 5, %v", emitted, err)
	}
	err = Ordered(ctx, 10, 1, func(lo, _ int) int { return lo }, func(int) error { return nil })
	if !errors.Is(err, context.Canceled) {
		t.Errorf("with a dead context: %v", err)
	}
}

// A deadline ends the work even while a piece is still under way.
func TestDeadline(t *testing.T) {
	synctest.Test(t, func(t *testing.T) { // whose clock moves only when all wait
		ctx, cancel := context.WithTimeout(context.Background(), time.Hour)
		defer cancel()
		release := make(chan struct{})
		defer close(release)
		err := Ordered(ctx, 2, 1, func(lo, _ int) int {
			if lo == 1 {
				<-release
			}
			return lo
		}, func(int) error { return nil })
		if !errors.Is(err, context.DeadlineExceeded) {
			t.Errorf("error %v, want context.DeadlineExceeded", err)
		}
	})
}

// Every task is done once, by one of at most as many goroutines as asked for and
// as there are cores, each with buffers of its own.
func TestEach(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	rapid.Check(t, func(t *rapid.T) {
		cores := rapid.IntRange(1, 8).Draw(t, "cores")
		runtime.GOMAXPROCS(cores)
		n, asked := rapid.IntRange(0, 200).Draw(t, "n"), rapid.IntRange(0, 10).Draw(t, "workers")
		most := min(cores, n)
		if asked > 0 {
			most = min(most, asked)
		}
		doneBy := make([]int, n) // the race detector sees shared tasks
		count := make([]int, most)
		err := Each(context.Background(), asked, n, func(worker int) func(int) {
			return func(task int) {
				count[worker]++
				doneBy[task]++
				runtime.Gosched()
			}
		})
		total := 0
		for _, c := range count {
			total += c
		}
		if err != nil || total != n || slices.ContainsFunc(doneBy, func(times int) bool { return times != 1 }) {
			t.Fatalf("%d of %d tasks done, %v; error %v", total, n, doneBy, err)
		}
	})
}

// After a cancellation each goroutine ends the task under way and begins none.
func TestCancelEach(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	var mu sync.Mutex // nobody passes between the tenth and its cancellation
	done := 0
	err := Each(ctx, 0, 1_000_000, func(int) func(int) {
		return func(int) {
			mu.Lock()
			defer mu.Unlock()
			if done++; done == 10 {
				cancel()
			}
		}
	})
	if !errors.Is(err, context.Canceled) || done > 9+runtime.GOMAXPROCS(0) {
		t.Errorf("%d tasks done after cancelling in the tenth, %v", done, err)
	}
	for _, n := range []int{0, 10} {
		err := Each(ctx, 0, n, func(int) func(int) {
			return func(int) { t.Error("a task of a cancelled run") }
		})
		if !errors.Is(err, context.Canceled) {
			t.Errorf("%d tasks with a dead context: %v", n, err)
		}
	}
}

// Slow consumers must not let results pile up: no more pieces may be in the air
// than the queue and the workers hold.
func TestMemoryStaysFlat(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(2))
	var worked, most atomic.Int64
	emitted := int64(0)
	err := Ordered(context.Background(), 1000, 1, func(lo, _ int) int {
		worked.Add(1)
		return lo
	}, func(int) error {
		emitted++
		runtime.Gosched()
		most.Store(max(most.Load(), worked.Load()-emitted))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	// 2 workers, a queue of 2·2, one in hand, one about to start
	if most.Load() > 8 {
		t.Errorf("%d results waited", most.Load())
	}
}
