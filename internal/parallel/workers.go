package parallel

import (
	"context"
	"runtime"
)

// OrderedBy is Ordered for work that remembers something from piece to piece, such
// as what it last computed: each of the workers at work has a W of its own, made by
// hire. What comes out must not depend on which worker did it.
func OrderedBy[W, T any](ctx context.Context, n, size int, hire func() W, work func(w W, lo, hi int) T, emit func(T) error) error {
	idle := make(chan W, runtime.GOMAXPROCS(0)) // at most that many are at work
	return Ordered(ctx, n, size, func(lo, hi int) T {
		var w W
		select {
		case w = <-idle:
		default:
			w = hire()
		}
		out := work(w, lo, hi)
		select {
		case idle <- w:
		default:
		}
		return out
	}, emit)
}
