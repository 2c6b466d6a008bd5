package clinalg

import (
	"context"

	"gapline/internal/parallel"
)

// Blocking of the product, found by measurement on a processor with 32 kB and
// 1 MB of first- and second-level cache per core: a block of blockRows ×
// blockDepth of the left factor stays in the second level, a panel of the
// right factor in the first.
const (
	blockRows  = 96
	blockDepth = 192
	blockCols  = 768
)

// engine multiplies on a fixed number of workers and keeps their buffers.
type engine[T Scalar] struct {
	kernel  kernel[T]
	workers int
	left    [][]T // one per worker
	right   []T
}

func newEngine[T Scalar](workers int) *engine[T] {
	workers = max(workers, 1)
	return &engine[T]{kernel: kernelOf[T](), workers: workers, left: make([][]T, workers)}
}

// serial returns an engine of one worker with its own buffers.
func (e *engine[T]) serial() *engine[T] { return newEngine[T](1) }

// subtract computes c -= a·b. The three must not overlap.
func (e *engine[T]) subtract(c, a, b Dense[T]) {
	if c.Rows == 0 || c.Cols == 0 || a.Cols == 0 {
		return
	}
	for j := 0; j < c.Cols; j += blockCols {
		cols := min(blockCols, c.Cols-j)
		for k := 0; k < a.Cols; k += blockDepth {
			depth := min(blockDepth, a.Cols-k)
			e.right = grow(e.right, depth*roundUp(cols, e.kernel.cols))
			packCols(e.right, b, k, depth, j, cols, e.kernel.cols)
			e.slab(c, a, k, depth, j, cols)
		}
	}
}

// slab updates columns j to j+cols of c with the packed right factor, its row
// blocks dealt out to the workers.
func (e *engine[T]) slab(c, a Dense[T], k, depth, j, cols int) {
	blocks := (c.Rows + blockRows - 1) / blockRows
	e.each(blocks, func(worker, block int) {
		i := block * blockRows
		rows := min(blockRows, c.Rows-i)
		e.left[worker] = grow(e.left[worker], depth*roundUp(rows, tileRows))
		packRows(e.left[worker], a, i, rows, k, depth)
		e.kernel.multiplyBlock(c, e.left[worker], e.right, i, rows, j, cols, depth)
	})
}

// multiplyBlock runs the kernel over one block of c. Tiles that stick out over
// its edge go through a small buffer.
func (t kernel[T]) multiplyBlock(c Dense[T], left, right []T, i, rows, j, cols, depth int) {
	var buffer [tileRows * singleCols]T
	edge := buffer[:tileRows*t.cols]
	for q := 0; q < cols; q += t.cols {
		b := right[q*depth:]
		for p := 0; p < rows; p += tileRows {
			a := left[p*depth:]
			at := (i+p)*c.Stride + j + q
			if p+tileRows <= rows && q+t.cols <= cols {
				t.tile(depth, a, b, c.Data[at:], c.Stride)
				continue
			}
			clear(edge)
			t.tile(depth, a, b, edge, t.cols)
			for r := range min(tileRows, rows-p) {
				for s := range min(t.cols, cols-q) {
					c.Data[at+r*c.Stride+s] += edge[r*t.cols+s]
				}
			}
		}
	}
}

// each runs f(worker, task) for every task below tasks, to their end: Factor
// looks at its context between panels, which take milliseconds.
func (e *engine[T]) each(tasks int, f func(worker, task int)) {
	_ = parallel.Each(context.Background(), e.workers, tasks, func(worker int) func(int) {
		return func(task int) { f(worker, task) }
	})
}

// grow returns a slice of length n, reusing s when it is long enough.
func grow[T Scalar](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}

func roundUp(n, to int) int { return (n + to - 1) / to * to }
