// Package parallel spreads a range of work over the cores, so that the output
// does not depend on their number: Ordered hands results on in order, Each has
// every task write to its own place.
package parallel

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// Workers returns how many goroutines serve who asks for a number of them: at
// most one for each core that the program may use, and that many for 0.
func Workers(asked int) int {
	cores := runtime.GOMAXPROCS(0)
	if asked <= 0 {
		return cores
	}
	return min(asked, cores)
}

// Each runs tasks 0…n−1 on Workers(workers) goroutines, the caller's among
// them. Each of them calls start once, with its number from 0, to make its
// buffers, and then does tasks with the function that start returned. Tasks must
// not depend on each other and write only to what is theirs. When ctx ends, no
// task is begun any more and its error comes back.
func Each(ctx context.Context, workers, n int, start func(worker int) func(task int)) error {
	var next atomic.Int64
	run := func(worker int) {
		do := start(worker)
		for ctx.Err() == nil {
			i := int(next.Add(1)) - 1
			if i >= n {
				return
			}
			do(i)
		}
	}
	var wg sync.WaitGroup
	for w := 1; w < min(Workers(workers), n); w++ {
		wg.Go(func() { run(w) })
	}
	if n > 0 {
		run(0)
	}
	wg.Wait()
	return ctx.Err()
}

// Ordered splits 0…n−1 into pieces of the given size, calls work(lo, hi) for
// each on all cores, and emit with each result in order, one at a time. At most
// a few pieces wait at once, so memory stays flat. It returns the first error
// of emit, or the context's when that ends first; nothing is emitted after it.
func Ordered[T any](ctx context.Context, n, size int, work func(lo, hi int) T, emit func(T) error) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	workers := Workers(0)
	queue := make(chan chan T, 2*workers) // results in order, each to be filled
	slots := make(chan struct{}, workers) // one for each worker at work
	go func() {
		defer close(queue)
		for lo := 0; lo < n; lo += size {
			hi := min(lo+size, n)
			result := make(chan T, 1)
			select {
			case queue <- result:
			case <-ctx.Done():
				return
			}
			slots <- struct{}{}
			go func() {
				defer func() { <-slots }()
				if ctx.Err() == nil {
					result <- work(lo, hi)
				}
			}()
		}
	}()
	for result := range queue {
		select {
		case r := <-result:
			if err := ctx.Err(); err != nil {
				return err
			}
			if err := emit(r); err != nil {
				return err
			}
		case <-ctx.Done():
			return ctx.Err()
		}
	}
	return ctx.Err()
}
