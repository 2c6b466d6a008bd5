package clinalg

import (
	"context"

	"gapline/internal/parallel"
)

// multiplyRows is how many rows one task of Multiply takes.
const multiplyRows = 64

// Multiply computes y[c] = A·x[c] for any number of vectors on the given number
// of workers. Every row of A is read once for all of them. Vectors x and y must
// not overlap.
func Multiply(ctx context.Context, a *Single, x, y [][]complex64, workers int) error {
	tasks := (a.Rows + multiplyRows - 1) / multiplyRows
	return parallel.Each(ctx, workers, tasks, func(int) func(int) {
		return func(task int) {
			for i := task * multiplyRows; i < min((task+1)*multiplyRows, a.Rows); i++ {
				row := a.Row(i)
				for c := range x {
					y[c][i] = dot(row, x[c])
				}
			}
		}
	})
}

func dotGo(a, x []complex64) complex64 {
	var sum complex64
	x = x[:len(a)]
	for i, v := range a {
		sum += v * x[i]
	}
	return sum
}
