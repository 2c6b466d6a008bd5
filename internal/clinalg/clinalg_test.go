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
		newEngine(2).subtract(*c, *a, *b)
		for i := range c.Data {
			if cmplx.Abs(c.Data[i]-want.Data[i]) > 1e-13*float64(k) {
				r.Fatalf("%d×%d×%d: element %d = %v, want %v", m, k, n, i, c.Data[i], want.Data[i])
			}
		}
	})
}

func TestBothKernelsAgree(t *testing.T) {
	a, b := make([]float64, 2*tileRows*50), make([]float64, 2*tileCols*50)
	r := rand.New(rand.NewPCG(5, 5))
	for i := range a {
		a[i] = r.NormFloat64()
	}
	for i := range b {
		b[i] = r.NormFloat64()
	}
	const ldc = 7
	c1, c2 := make([]complex128, 3*ldc), make([]complex128, 3*ldc)
	for _, kc := range []int{1, 2, 50} {
		tile(kc, a, b, c1, ldc)
		tileGo(kc, a, b, c2, ldc)
		for i := range c1 {
			if cmplx.Abs(c1[i]-c2[i]) > 1e-13 {
				t.Errorf("depth %d: element %d: %v and %v", kc, i, c1[i], c2[i])
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
			b.Run(fmt.Sprintf("n=%d/workers=%d", n, workers), func(b *testing.B) {
				a := random(n, n, 1)
				work := clone(a)
				for b.Loop() {
					copy(work.Data, a.Data)
					if _, err := Factor(context.Background(), work, workers); err != nil {
						b.Fatal(err)
					}
				}
				flops := 8.0 / 3 * float64(n) * float64(n) * float64(n) * float64(b.N)
				b.ReportMetric(flops/b.Elapsed().Seconds()/1e9, "GFLOP/s")
			})
		}
	}
}

func BenchmarkProduct(b *testing.B) {
	const n = 480
	x, y, z := random(n, n, 1), random(n, n, 2), New(n, n)
	report := func(b *testing.B) {
		b.ReportMetric(8*n*n*n*float64(b.N)/b.Elapsed().Seconds()/1e9, "GFLOP/s")
	}
	for _, workers := range []int{1, 2} {
		b.Run(fmt.Sprintf("own/workers=%d", workers), func(b *testing.B) {
			e := newEngine(workers)
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
