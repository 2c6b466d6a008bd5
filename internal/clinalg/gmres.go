package clinalg

import (
	"context"
	"errors"
	"math"
	"math/cmplx"

	"gapline/internal/parallel"
)

// ErrSlow says that an iteration has not come to its tolerance.
var ErrSlow = errors.New("iteration does not converge")

// Operator applies a matrix, or the inverse of one that is like it, to several
// vectors at once: y[c] = A·x[c].
type Operator func(x, y [][]complex64) error

// Iteration says how GMRES runs.
type Iteration struct {
	Tolerance float64 // residual over right-hand side, 2-norms
	Steps     int     // at most
	Restart   int     // steps after which the basis is dropped
	Workers   int
}

// GMRES solves A·x = b for several right-hand sides side by side, by generalised
// minimal residuals with restarts and a preconditioner on the right (Y. Saad, M.
// H. Schultz, SIAM J. Sci. Stat. Comput. 7, 1986; modified Gram-Schmidt). Each
// right-hand side has a basis of its own; products are shared. It overwrites b
// with the solutions and returns the number of products. When a residual stays
// above the tolerance it returns ErrSlow.
func GMRES(ctx context.Context, a, inverse Operator, b [][]complex128, it Iteration) (int, error) {
	g := &gmres{a: a, inverse: inverse, it: it}
	for _, rhs := range b {
		g.columns = append(g.columns, newColumn(rhs, it.Restart))
	}
	g.x, g.y = vectors(b), vectors(b)
	steps := 0
	for steps < it.Steps {
		done, err := g.cycle(ctx, min(it.Restart, it.Steps-steps))
		steps += done
		if err != nil {
			return steps, err
		}
		if g.converged() {
			for c, col := range g.columns {
				copy(b[c], col.solution)
			}
			return steps, nil
		}
	}
	return steps, ErrSlow
}

// gmres is a run of GMRES.
type gmres struct {
	a, inverse Operator
	it         Iteration
	columns    []*column
	x, y       [][]complex64
}

// column is the state of one right-hand side.
type column struct {
	size     float64 // norm of the right-hand side
	solution []complex128
	residual []complex128
	basis    [][]complex128
	h        [][]complex128 // upper triangle, by columns
	cos      []float64
	sin      []complex128
	g        []complex128 // right-hand side of the small problem
	left     float64      // norm of the residual
}

func newColumn(rhs []complex128, restart int) *column {
	c := &column{size: norm2(rhs), solution: make([]complex128, len(rhs))}
	c.residual = append([]complex128(nil), rhs...)
	c.left = c.size
	c.basis = make([][]complex128, restart+1)
	return c
}

func vectors(b [][]complex128) [][]complex64 {
	v := make([][]complex64, len(b))
	for i := range v {
		v[i] = make([]complex64, len(b[i]))
	}
	return v
}

func (g *gmres) converged() bool {
	for _, c := range g.columns {
		if c.left > g.it.Tolerance*c.size {
			return false
		}
	}
	return true
}

// cycle runs up to so many steps from the present residuals, adds what they give
// to the solutions, and computes the residuals anew.
func (g *gmres) cycle(ctx context.Context, steps int) (int, error) {
	for _, c := range g.columns {
		c.start()
	}
	done := 0
	for done < steps && !g.converged() {
		if err := ctx.Err(); err != nil {
			return done, err
		}
		for i, c := range g.columns {
			narrowTo(g.x[i], c.basis[done])
		}
		if err := g.product(); err != nil {
			return done, err
		}
		g.each(func(i int) { g.columns[i].extend(done, g.x[i]) })
		done++
	}
	return done, g.update(done)
}

// product computes x = A·inverse·x.
func (g *gmres) product() error {
	if err := g.inverse(g.x, g.y); err != nil {
		return err
	}
	return g.a(g.y, g.x)
}

// each works on all columns side by side.
func (g *gmres) each(f func(i int)) {
	_ = parallel.Each(context.Background(), g.it.Workers, len(g.columns), func(int) func(int) { return f })
}

// start begins a basis with the residual.
func (c *column) start() {
	c.left = norm2(c.residual)
	c.h, c.cos, c.sin = c.h[:0], c.cos[:0], c.sin[:0]
	c.g = append(c.g[:0], complex(c.left, 0))
	c.basis[0] = scaledTo(c.basis[0], c.residual, c.left)
}

// extend adds product w to the basis and rotates the new column of h.
func (c *column) extend(step int, w []complex64) {
	v := make([]complex128, len(w))
	for i, x := range w {
		v[i] = complex128(x)
	}
	h := make([]complex128, step+1)
	for k := range h {
		h[k] = inner(c.basis[k], v)
		axpy(-h[k], c.basis[k], v)
	}
	next := norm2(v)
	c.basis[step+1] = scaledTo(c.basis[step+1], v, next)
	for k := range step {
		h[k], h[k+1] = rotate(c.cos[k], c.sin[k], h[k], h[k+1])
	}
	cos, sin := rotation(h[step], next)
	h[step], _ = rotate(cos, sin, h[step], complex(next, 0))
	c.h, c.cos, c.sin = append(c.h, h), append(c.cos, cos), append(c.sin, sin)
	g0, g1 := rotate(cos, sin, c.g[step], 0)
	c.g[step] = g0
	c.g = append(c.g, g1)
	c.left = cmplx.Abs(g1)
}

// rotation returns the rotation that takes (a, b) to (…, 0).
func rotation(a complex128, b float64) (cos float64, sin complex128) {
	size := math.Hypot(cmplx.Abs(a), b)
	if size == 0 {
		return 1, 0
	}
	if a == 0 {
		return 0, 1
	}
	phase := a / complex(cmplx.Abs(a), 0)
	return cmplx.Abs(a) / size, phase * complex(b/size, 0)
}

func rotate(cos float64, sin, a, b complex128) (complex128, complex128) {
	return complex(cos, 0)*a + sin*b, complex(cos, 0)*b - cmplx.Conj(sin)*a
}

// update adds the combination of the basis with the least residual to the
// solutions.
func (g *gmres) update(steps int) error {
	for i, c := range g.columns {
		narrowTo(g.x[i], c.combine(steps))
	}
	if err := g.inverse(g.x, g.y); err != nil {
		return err
	}
	if err := g.a(g.y, g.x); err != nil {
		return err
	}
	for i, c := range g.columns {
		for k := range c.solution {
			c.solution[k] += complex128(g.y[i][k])
			c.residual[k] -= complex128(g.x[i][k])
		}
		c.left = norm2(c.residual)
	}
	return nil
}

// combine solves the small problem and returns the sum over the basis.
func (c *column) combine(steps int) []complex128 {
	y := append([]complex128(nil), c.g[:steps]...)
	for i := steps - 1; i >= 0; i-- {
		for k := i + 1; k < steps; k++ {
			y[i] -= c.h[k][i] * y[k]
		}
		if c.h[i][i] != 0 {
			y[i] /= c.h[i][i]
		} else {
			y[i] = 0
		}
	}
	sum := make([]complex128, len(c.solution))
	for i, v := range y {
		axpy(v, c.basis[i], sum)
	}
	return sum
}

// scaledTo returns v over size in to, or a new slice; nil vectors stay nil.
func scaledTo(to, v []complex128, size float64) []complex128 {
	if to == nil {
		to = make([]complex128, len(v))
	}
	if size == 0 {
		clear(to)
		return to
	}
	for i, x := range v {
		to[i] = x * complex(1/size, 0)
	}
	return to
}

func narrowTo(to []complex64, v []complex128) {
	for i, x := range v {
		to[i] = complex64(x)
	}
}

// inner returns the sum of conj(a)·b.
func inner(a, b []complex128) complex128 {
	re, im := 0.0, 0.0
	for i, x := range a {
		y := b[i]
		re += real(x)*real(y) + imag(x)*imag(y)
		im += real(x)*imag(y) - imag(x)*real(y)
	}
	return complex(re, im)
}

func norm2(v []complex128) float64 { return math.Sqrt(real(inner(v, v))) }
