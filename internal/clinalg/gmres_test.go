package clinalg

import (
	"context"
	"errors"
	"math/cmplx"
	"testing"
)

// dominant returns a random matrix with a heavy diagonal.
func dominant(n int) *Matrix {
	a := random(n, n, 3)
	for i := range n {
		a.Row(i)[i] += complex(3*float64(n)/10, float64(n)/10)
	}
	return a
}

func operatorOf(a *Matrix) Operator {
	s := narrow(a)
	return func(x, y [][]complex64) error { return Multiply(context.Background(), s, x, y, 2) }
}

// identity is no preconditioner.
func identity(x, y [][]complex64) error {
	for c := range x {
		copy(y[c], x[c])
	}
	return nil
}

// diagonal divides by the diagonal of a.
func diagonal(a *Matrix) Operator {
	return func(x, y [][]complex64) error {
		for c := range x {
			for i, v := range x[c] {
				y[c][i] = v / complex64(a.Row(i)[i])
			}
		}
		return nil
	}
}

// GMRES against factors in double precision, with and without preconditioner,
// through a restart, a right-hand side of nil among the others.
func TestGMRESAgainstFactors(t *testing.T) {
	const n = 90
	a := dominant(n)
	rhs := random(n, 2, 4)
	want := clone(rhs)
	f, err := Factor(context.Background(), clone(a), 1)
	if err != nil {
		t.Fatal(err)
	}
	f.Solve(want)
	for name, inverse := range map[string]Operator{"none": identity, "diagonal": diagonal(a)} {
		for _, restart := range []int{7, 60} {
			b := [][]complex128{make([]complex128, n), make([]complex128, n), make([]complex128, n)}
			for i := range n {
				b[0][i], b[2][i] = rhs.Row(i)[0], rhs.Row(i)[1]
			}
			steps, err := GMRES(context.Background(), operatorOf(a), inverse, b, Iteration{Tolerance: 1e-5, Steps: 300, Restart: restart, Workers: 2})
			if err != nil {
				t.Fatalf("%s, restart %d: %v after %d steps", name, restart, err, steps)
			}
			for i := range n {
				if e := max(cmplx.Abs(b[0][i]-want.Row(i)[0]), cmplx.Abs(b[2][i]-want.Row(i)[1])); e > 3e-5 {
					t.Errorf("%s, restart %d: row %d off by %.2g", name, restart, i, e)
				}
				if b[1][i] != 0 {
					t.Errorf("solution of nil is %v", b[1][i])
				}
			}
		}
	}
}

func TestGMRESGivesUp(t *testing.T) {
	a := random(60, 60, 5) // no diagonal: hopeless in a few steps
	b := [][]complex128{make([]complex128, 60)}
	b[0][3] = 1
	steps, err := GMRES(context.Background(), operatorOf(a), identity, b, Iteration{Tolerance: 1e-6, Steps: 10, Restart: 5, Workers: 1})
	if !errors.Is(err, ErrSlow) || steps != 10 || b[0][3] != 1 {
		t.Errorf("%v after %d steps, right-hand side %v", err, steps, b[0][3])
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := GMRES(ctx, operatorOf(a), identity, b, Iteration{Tolerance: 1e-6, Steps: 10, Restart: 5, Workers: 1}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}
