package clinalg

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"runtime"
	"testing"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/cblas128"
	"pgregory.net/rapid"
)

func random(rows, cols int, seed uint64) *Matrix {
	r := rand.New(rand.NewPCG(seed, 1))
	m := New(rows, cols)
	for i := range rows {
		row := m.Row(i)
		for j := range row {
			row[j] = complex(r.NormFloat64(), r.NormFloat64())
		}
	}
	return m
}

func clone(m *Matrix) *Matrix {
	c := *m
	c.Data = append([]complex128(nil), m.Data...)
	return &c
}

func general(m Matrix) cblas128.General {
	return cblas128.General{Rows: m.Rows, Cols: m.Cols, Stride: m.Stride, Data: m.Data}
}

func largest(m *Matrix) float64 {
	v := 0.0
	for i := range m.Rows {
		for _, z := range m.Row(i) {
			v = math.Max(v, cmplx.Abs(z))
		}
	}
	return v
}

// residual returns max |A·X − B| / (n max|A| max|X|), which a backward-stable
// solver keeps near the unit roundoff (Higham 2002, section 7.1). The product
// is gonum's.
func residual(a, x, b *Matrix) float64 {
	r := clone(b)
	whole := func(m *Matrix) Matrix { return m.part(0, 0, m.Rows, m.Cols) }
	cblas128.Gemm(blas.NoTrans, blas.NoTrans, 1, general(whole(a)), general(whole(x)), -1, general(whole(r)))
	return largest(r) / (float64(a.Rows) * largest(a) * largest(x))
}

func TestExactSystems(t *testing.T) {
	// Small Gaussian-integer systems solved by hand.
	cases := []struct {
		a    [][]complex128
		b, x []complex128
	}{
		{[][]complex128{{2i}}, []complex128{4}, []complex128{-2i}},
		{[][]complex128{{0, 1}, {1i, 0}}, []complex128{3, 1}, []complex128{-1i, 3}},
		{[][]complex128{{1, 2, 0}, {2, 4, 1i}, {1i, 0, 1}}, []complex128{5, 10 + 1i, 1 + 1i}, []complex128{1, 2, 1}},
	}
	for i, c := range cases {
		m := New(len(c.a), len(c.a))
		for r, row := range c.a {
			copy(m.Row(r), row)
		}
		f, err := Factor(context.Background(), m, 1)
		if err != nil {
			t.Fatalf("case %d: %v", i, err)
		}
		x := append([]complex128(nil), c.b...)
		f.SolveVec(x)
		for r := range x {
			if cmplx.Abs(x[r]-c.x[r]) > 1e-14 {
				t.Errorf("case %d: x[%d] = %v, want %v", i, r, x[r], c.x[r])
			}
		}
	}
}

func TestResidualOfRandomSystems(t *testing.T) {
	// Sizes on both sides of the leaf, panel and block widths.
	for _, n := range []int{1, 7, 8, 9, 63, 95, 96, 97, 193, 400} {
		for _, cols := range []int{1, 3, 4, 9} {
			a, b := random(n, n, uint64(n)), random(n, cols, 99)
			f, err := Factor(context.Background(), clone(a), 2)
			if err != nil {
				t.Fatal(err)
			}
			x := clone(b)
			f.Solve(x)
			if r := residual(a, x, b); r > 1e-15 {
				t.Errorf("n = %d, %d right-hand sides: residual %.2g", n, cols, r)
			}
		}
	}
}

func TestProductAgainstLibrary(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		dim := rapid.IntRange(1, 120)
		m, n, k := dim.Draw(r, "m"), dim.Draw(r, "n"), rapid.IntRange(1, 420).Draw(r, "k")
		a, b, c := random(m, k, 1), random(k, n, 2), random(m, n, 3)
		want := clone(c)
		cblas128.Gemm(blas.NoTrans, blas.NoTrans, -1, general(*a), general(*b), 1, general(*want))
		newEngine[complex128](2).subtract(*c, *a, *b)
		for i := range c.Data {
			if cmplx.Abs(c.Data[i]-want.Data[i]) > 1e-13*float64(k) {
				r.Fatalf("%d×%d×%d: element %d = %v, want %v", m, k, n, i, c.Data[i], want.Data[i])
			}
		}
	})
}

func TestBothKernelsAgree(t *testing.T) {
	kernelsAgree[complex128](t, 1e-13)
	kernelsAgree[complex64](t, 5e-5) // fifty steps of size about 2 at 6e-8 each
}

func kernelsAgree[T Scalar](t *testing.T, tolerance float64) {
	k := kernelOf[T]()
	r := rand.New(rand.NewPCG(5, 5))
	fill := func(n int) []T {
		s := make([]T, n)
		for i := range s {
			s[i] = T(complex(r.NormFloat64(), r.NormFloat64()))
		}
		return s
	}
	a, b := fill(tileRows*50), fill(k.cols*50)
	ldc := k.cols + 3
	c1, c2 := make([]T, 3*ldc), make([]T, 3*ldc)
	for _, kc := range []int{1, 2, 50} {
		k.tile(kc, a, b, c1, ldc)
		tileGo(kc, k.cols, a, b, c2, ldc)
		for i := range c1 {
			if cmplx.Abs(complex128(c1[i]-c2[i])) > tolerance {
				t.Errorf("%T, depth %d: element %d: %v and %v", c1[i], kc, i, c1[i], c2[i])
			}
		}
	}
}

// narrow returns m in single precision.
func narrow(m *Matrix) *Single {
	s := NewSingle(m.Rows, m.Cols)
	for i := range m.Rows {
		for j, v := range m.Row(i) {
			s.Row(i)[j] = complex64(v)
		}
	}
	return s
}

// widen returns s in double precision.
func widen(s *Single) *Matrix {
	m := New(s.Rows, s.Cols)
	for i := range s.Rows {
		for j, v := range s.Row(i) {
			m.Row(i)[j] = complex128(v)
		}
	}
	return m
}

// In single precision the residual stays near that precision's unit roundoff,
// 6e-8, on both sides of the leaf, panel and block widths.
func TestSingleResidual(t *testing.T) {
	for _, n := range []int{1, 7, 8, 9, 95, 96, 97, 193, 400} {
		for _, cols := range []int{1, 8, 11} {
			a, b := narrow(random(n, n, uint64(n))), narrow(random(n, cols, 99))
			wideA, wideB := widen(a), widen(b)
			f, err := Factor(context.Background(), a, 2)
			if err != nil {
				t.Fatal(err)
			}
			f.Solve(b)
			if r := residual(wideA, widen(b), wideB); r > 3e-7 {
				t.Errorf("n = %d, %d right-hand sides: residual %.2g", n, cols, r)
			}
		}
	}
}

func TestMultiply(t *testing.T) {
	for _, n := range []int{1, 3, 4, 5, 8, 12, 131} {
		a, x := random(n, n, 7), random(n, 2, 8)
		s := narrow(a)
		columns := [][]complex64{make([]complex64, n), make([]complex64, n)}
		got := [][]complex64{make([]complex64, n), make([]complex64, n)}
		for i := range n {
			columns[0][i], columns[1][i] = complex64(x.Row(i)[0]), complex64(x.Row(i)[1])
		}
		if err := Multiply(context.Background(), s, columns, got, 2); err != nil {
			t.Fatal(err)
		}
		want := New(n, 2)
		cblas128.Gemm(blas.NoTrans, blas.NoTrans, 1, general(*a), general(*x), 0, general(*want))
		for i := range n {
			for c := range got {
				if e := cmplx.Abs(complex128(got[c][i]) - want.Row(i)[c]); e > 2e-6*float64(n) {
					t.Errorf("n = %d: product %d, row %d: error %.2g", n, c, i, e)
				}
			}
		}
	}
}

func TestWorkersDoNotChangeTheResult(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(5)) // so that there may be five
	a, b := random(301, 301, 4), random(301, 2, 5)
	var first []complex128
	for _, workers := range []int{1, 2, 5} {
		f, err := Factor(context.Background(), clone(a), workers)
		if err != nil {
			t.Fatal(err)
		}
		x := clone(b)
		f.Solve(x)
		if first == nil {
			first = x.Data
		}
		for i := range first {
			if x.Data[i] != first[i] {
				t.Fatalf("%d workers: element %d differs", workers, i)
			}
		}
	}
}

func TestFailures(t *testing.T) {
	m := New(3, 3)
	m.Row(0)[0], m.Row(1)[1] = 1, 1
	if _, err := Factor(context.Background(), m, 1); !errors.Is(err, ErrSingular) {
		t.Errorf("singular matrix: err = %v", err)
	}
	n := random(20, 20, 1)
	n.Row(3)[2] = cmplx.NaN()
	if _, err := Factor(context.Background(), n, 1); !errors.Is(err, ErrSingular) {
		t.Errorf("matrix with NaN: err = %v", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Factor(ctx, random(200, 200, 1), 1); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: err = %v", err)
	}
}

func BenchmarkFactor(b *testing.B) {
	for _, n := range []int{500, 2000} {
		for _, workers := range []int{1, 2} {
			benchmarkFactor(b, "double", random(n, n, 1), workers)
			benchmarkFactor(b, "single", narrow(random(n, n, 1)), workers)
		}
	}
}

func benchmarkFactor[T Scalar](b *testing.B, name string, a *Dense[T], workers int) {
	n := float64(a.Rows)
	b.Run(fmt.Sprintf("%s/n=%d/workers=%d", name, a.Rows, workers), func(b *testing.B) {
		work := *a
		work.Data = append([]T(nil), a.Data...)
		for b.Loop() {
			copy(work.Data, a.Data)
			if _, err := Factor(context.Background(), &work, workers); err != nil {
				b.Fatal(err)
			}
		}
		flops := 8.0 / 3 * n * n * n * float64(b.N)
		b.ReportMetric(flops/b.Elapsed().Seconds()/1e9, "GFLOP/s")
	})
}

func BenchmarkMultiply(b *testing.B) {
	const n = 4000
	a := NewSingle(n, n)
	for i := range a.Data {
		a.Data[i] = complex64(complex(float64(i%7), 1))
	}
	x, y := [][]complex64{make([]complex64, n)}, [][]complex64{make([]complex64, n)}
	for b.Loop() {
		_ = Multiply(context.Background(), a, x, y, 2)
	}
	b.ReportMetric(8*n*n*float64(b.N)/b.Elapsed().Seconds()/1e9, "GB/s")
}

func BenchmarkProduct(b *testing.B) {
	const n = 480
	x, y, z := random(n, n, 1), random(n, n, 2), New(n, n)
	report := func(b *testing.B) {
		b.ReportMetric(8*n*n*n*float64(b.N)/b.Elapsed().Seconds()/1e9, "GFLOP/s")
	}
	for _, workers := range []int{1, 2} {
		b.Run(fmt.Sprintf("own/workers=%d", workers), func(b *testing.B) {
			e := newEngine[complex128](workers)
			for b.Loop() {
				e.subtract(*z, *x, *y)
			}
			report(b)
		})
	}
	b.Run("cblas128", func(b *testing.B) {
		for b.Loop() {
			cblas128.Gemm(blas.NoTrans, blas.NoTrans, 1, general(*x), general(*y), 1, general(*z))
		}
		report(b)
	})
}
