package clinalg

// Solve overwrites b, n × any number of right-hand sides, with the solution of
// A·X = B.
func (f *Factors[T]) Solve(b *Dense[T]) {
	if b.Rows != f.a.Rows {
		panic("clinalg: right-hand side has the wrong number of rows")
	}
	x := b.part(0, 0, b.Rows, b.Cols)
	swapRows(x, f.pivots, 0)
	a := f.a.part(0, 0, f.a.Rows, f.a.Cols)
	f.engine.solveUnitLower(a, x)
	f.engine.solveUpper(a, x)
}

// SolveVec overwrites b with the solution of A·x = b.
func (f *Factors[T]) SolveVec(b []T) {
	f.Solve(&Dense[T]{len(b), 1, 1, b})
}

// solveUnitLower overwrites b with the solution of L·X = B, L the lower
// triangle of l with ones on its diagonal.
func (e *engine[T]) solveUnitLower(l, b Dense[T]) {
	n := l.Rows
	if n <= leafWidth || b.Cols < e.kernel.cols {
		for i := range n {
			row := b.Row(i)
			for k, v := range l.Data[i*l.Stride : i*l.Stride+i] {
				axpy(-v, b.Row(k), row)
			}
		}
		return
	}
	h := half(n)
	top, bottom := b.part(0, 0, h, b.Cols), b.part(h, 0, n-h, b.Cols)
	e.solveUnitLower(l.part(0, 0, h, h), top)
	e.subtract(bottom, l.part(h, 0, n-h, h), top)
	e.solveUnitLower(l.part(h, h, n-h, n-h), bottom)
}

// solveUpper overwrites b with the solution of U·X = B, U the upper triangle
// of u.
func (e *engine[T]) solveUpper(u, b Dense[T]) {
	n := u.Rows
	if n <= leafWidth || b.Cols < e.kernel.cols {
		for i := n - 1; i >= 0; i-- {
			row := b.Row(i)
			for k, v := range u.Row(i)[i+1:] {
				axpy(-v, b.Row(i+1+k), row)
			}
			scale(1/u.Row(i)[i], row)
		}
		return
	}
	h := half(n)
	top, bottom := b.part(0, 0, h, b.Cols), b.part(h, 0, n-h, b.Cols)
	e.solveUpper(u.part(h, h, n-h, n-h), bottom)
	e.subtract(top, u.part(0, h, h, n-h), bottom)
	e.solveUpper(u.part(0, 0, h, h), top)
}

// half splits n rows in two, the first part a multiple of the leaf.
func half(n int) int { return roundUp(n/2, leafWidth) }

func scale[T Scalar](s T, x []T) {
	for i := range x {
		x[i] *= s
	}
}
