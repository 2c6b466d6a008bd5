package bem

import (
	"context"
	"sync"
	"sync/atomic"
)

// inParallel runs tasks 0 to n-1 on the given number of goroutines. start is
// called once by each to make its buffers and returns the function that does
// one task. Tasks must not depend on each other. It returns the context's error
// when cancelled.
func inParallel(ctx context.Context, workers, n int, start func() func(task int)) error {
	var next atomic.Int64
	run := func() {
		do := start()
		for ctx.Err() == nil {
			i := int(next.Add(1)) - 1
			if i >= n {
				return
			}
			do(i)
		}
	}
	var wg sync.WaitGroup
	for range min(workers, n) - 1 {
		wg.Go(run)
	}
	run()
	wg.Wait()
	return ctx.Err()
}
