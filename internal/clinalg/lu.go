package clinalg

import (
	"context"
	"errors"
	"fmt"
	"math"
)

// ErrSingular says that a pivot is exactly zero, so the matrix has no inverse.
var ErrSingular = errors.New("matrix is singular")

const (
	// panelWidth is the number of columns factored at once, by measurement.
	panelWidth = 96
	// leafWidth is the number of columns or rows below which the recursions
	// stop and simple loops take over.
	leafWidth = 8
)

// Factors are those of a square matrix, P·A = L·U.
type Factors[T Scalar] struct {
	a      *Dense[T]
	pivots []int // row exchanged with row i at step i
	engine *engine[T]
}

// LU holds factors in double precision.
type LU = Factors[complex128]

// Factor computes the LU factors of the square matrix a on the given number of
// workers; at least one is used. It overwrites a, which the result keeps. It
// returns ErrSingular, wrapped with the column, at a zero or NaN pivot, and
// the context's error, soon, when ctx is cancelled.
func Factor[T Scalar](ctx context.Context, a *Dense[T], workers int) (*Factors[T], error) {
	if a.Rows != a.Cols {
		panic("clinalg: matrix is not square")
	}
	n := a.Rows
	f := &Factors[T]{a: a, pivots: make([]int, n), engine: newEngine[T](workers)}
	buffer := make([]T, n*panelWidth)
	for j := 0; j < n; j += panelWidth {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		w := min(panelWidth, n-j)
		if err := f.panel(buffer, j, w); err != nil {
			return nil, err
		}
		f.exchange(0, j, j, w)
		f.blockRow(j, w)
		rest := n - j - w
		f.engine.subtract(a.part(j+w, j+w, rest, rest), a.part(j+w, j, rest, w), a.part(j, j+w, w, rest))
	}
	return f, nil
}

// panel factors columns j to j+w below row j in a compact copy.
func (f *Factors[T]) panel(buffer []T, j, w int) error {
	rows := f.a.Rows - j
	p := Dense[T]{rows, w, w, buffer[:rows*w]}
	for i := range rows {
		copy(p.Row(i), f.a.Data[(j+i)*f.a.Stride+j:])
	}
	pivots := f.pivots[j : j+w]
	if bad := f.factorColumns(p, pivots, 0); bad >= 0 {
		return fmt.Errorf("column %d: %w", j+bad, ErrSingular)
	}
	for i := range pivots {
		pivots[i] += j
	}
	for i := range rows {
		copy(f.a.Data[(j+i)*f.a.Stride+j:], p.Row(i))
	}
	return nil
}

// factorColumns factors the tall panel p by recursion on its columns. Pivots
// are row numbers within the panel of which p is the part from row and column
// offset on. It returns the offending column of the panel, or -1.
func (f *Factors[T]) factorColumns(p Dense[T], pivots []int, offset int) int {
	if p.Cols <= leafWidth {
		return factorLeaf(p, pivots, offset)
	}
	h := (p.Cols/2 + leafWidth - 1) / leafWidth * leafWidth
	left, right := p.part(0, 0, p.Rows, h), p.part(0, h, p.Rows, p.Cols-h)
	if bad := f.factorColumns(left, pivots[:h], offset); bad >= 0 {
		return bad
	}
	swapRows(right, pivots[:h], offset)
	top := right.part(0, 0, h, right.Cols)
	f.engine.solveUnitLower(left.part(0, 0, h, h), top)
	below := right.part(h, 0, p.Rows-h, right.Cols)
	f.engine.subtract(below, left.part(h, 0, p.Rows-h, h), top)
	if bad := f.factorColumns(below, pivots[h:], offset+h); bad >= 0 {
		return bad
	}
	swapRows(left.part(h, 0, p.Rows-h, h), pivots[h:], offset+h)
	return -1
}

// factorLeaf factors a narrow panel column by column.
func factorLeaf[T Scalar](p Dense[T], pivots []int, offset int) int {
	for j := range p.Cols {
		best, at := 0.0, -1
		for i := j; i < p.Rows; i++ {
			v := complex128(p.Data[i*p.Stride+j])
			if s := math.Abs(real(v)) + math.Abs(imag(v)); s > best {
				best, at = s, i
			}
		}
		if at < 0 || math.IsInf(best, 1) {
			return offset + j
		}
		pivots[j] = offset + at
		pivot := p.Row(j)
		if at != j {
			exchangeRows(pivot, p.Row(at))
		}
		inverse := 1 / pivot[j]
		for i := j + 1; i < p.Rows; i++ {
			row := p.Row(i)
			l := row[j] * inverse
			row[j] = l
			axpy(-l, pivot[j+1:], row[j+1:])
		}
	}
	return -1
}

// swapRows applies row exchanges to p, whose first row has number offset.
func swapRows[T Scalar](p Dense[T], pivots []int, offset int) {
	for i, at := range pivots {
		if at -= offset; at != i {
			exchangeRows(p.Row(i), p.Row(at))
		}
	}
}

func exchangeRows[T Scalar](a, b []T) {
	for i, v := range a {
		a[i], b[i] = b[i], v
	}
}

// axpy adds s·x to y.
func axpy[T Scalar](s T, x, y []T) {
	y = y[:len(x)]
	for i, v := range x {
		y[i] += s * v
	}
}

// exchange applies the exchanges of the panel at j, w wide, to columns from
// to to.
func (f *Factors[T]) exchange(from, to, j, w int) {
	for i := j; i < j+w; i++ {
		if at := f.pivots[i]; at != i {
			exchangeRows(f.a.Row(i)[from:to], f.a.Row(at)[from:to])
		}
	}
}

// blockRow exchanges rows right of the panel at j and solves the block row of
// U there, in column strips dealt out to the workers.
func (f *Factors[T]) blockRow(j, w int) {
	const strip = 192
	a, first := f.a, j+w
	l := a.part(j, j, w, w)
	strips := (a.Cols - first + strip - 1) / strip
	f.engine.each(strips, func(_, s int) {
		from := first + s*strip
		to := min(from+strip, a.Cols)
		f.exchange(from, to, j, w)
		f.engine.serial().solveUnitLower(l, a.part(j, from, w, to-from))
	})
}
