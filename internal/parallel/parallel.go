// Package parallel spreads a range of work over all cores and hands the results
// on in order, so that the output does not depend on the number of cores.
package parallel

import (
	"context"
	"runtime"
)

// Ordered splits 0…n−1 into pieces of the given size, calls work(lo, hi) for
// each on all cores, and emit with each result in order, one at a time. At most
// a few pieces wait at once, so memory stays flat. It returns the first error
// of emit, or the context's when that ends first.
func Ordered[T any](ctx context.Context, n, size int, work func(lo, hi int) T, emit func(T) error) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	workers := runtime.GOMAXPROCS(0)
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
			if err := emit(r); err != nil {
				return err
			}
		case <-ctx.Done():
			return ctx.Err()
		}
	}
	return ctx.Err()
}
