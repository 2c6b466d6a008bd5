package parallel

import (
	"context"
	"runtime"
	"sync/atomic"
	"testing"
)

// Each piece has a worker to itself, and no more are hired than cores.
func TestWorkersAreNotShared(t *testing.T) {
	type worker struct{ busy atomic.Bool }
	var hired atomic.Int64
	next := 0
	err := OrderedBy(context.Background(), 5000, 3, func() *worker { hired.Add(1); return new(worker) },
		func(w *worker, lo, _ int) int {
			if w.busy.Swap(true) {
				t.Error("a worker is at two pieces at once")
			}
			runtime.Gosched()
			w.busy.Store(false)
			return lo
		}, func(lo int) error {
			if lo != next {
				t.Errorf("piece %d comes at %d", lo, next)
			}
			next += 3
			return nil
		})
	if n := hired.Load(); err != nil || n < 1 || n > int64(runtime.GOMAXPROCS(0)) {
		t.Errorf("%d workers hired for %d cores, %v", n, runtime.GOMAXPROCS(0), err)
	}
}
