package driver

import (
	"errors"
	"math"
)

// errSingular says that a system of equations has no unique solution.
var errSingular = errors.New("the network's equations have no unique solution")

// system is a dense complex system of n equations, kept for reuse.
type system struct {
	n int
	a []complex128 // n × n, by rows
	b []complex128 // right-hand side, then the solution
}

func newSystem(n int) *system {
	return &system{n: n, a: make([]complex128, n*n), b: make([]complex128, n)}
}

// clear sets everything to zero.
func (s *system) clear() {
	clear(s.a)
	clear(s.b)
}

// add adds v to the coefficient in row i and column j.
func (s *system) add(i, j int, v complex128) { s.a[i*s.n+j] += v }

// solve replaces b by the solution, by Gaussian elimination with partial
// pivoting; a is overwritten.
func (s *system) solve() error {
	n := s.n
	for k := range n {
		if err := s.pivot(k); err != nil {
			return err
		}
		top := s.a[k*n : (k+1)*n]
		for i := k + 1; i < n; i++ {
			row := s.a[i*n : (i+1)*n]
			if row[k] == 0 {
				continue
			}
			q := row[k] / top[k]
			for j := k + 1; j < n; j++ {
				row[j] -= q * top[j]
			}
			s.b[i] -= q * s.b[k]
		}
	}
	for i := n - 1; i >= 0; i-- {
		row := s.a[i*n : (i+1)*n]
		for j := i + 1; j < n; j++ {
			s.b[i] -= row[j] * s.b[j]
		}
		s.b[i] /= row[i]
	}
	return nil
}

// pivot brings the largest entry of column k, at or below row k, to row k.
func (s *system) pivot(k int) error {
	best, size := -1, 0.0
	for i := k; i < s.n; i++ {
		z := s.a[i*s.n+k]
		if v := math.Abs(real(z)) + math.Abs(imag(z)); v > size {
			best, size = i, v
		}
	}
	if best < 0 {
		return errSingular
	}
	if best != k {
		for j := range s.n {
			s.a[k*s.n+j], s.a[best*s.n+j] = s.a[best*s.n+j], s.a[k*s.n+j]
		}
		s.b[k], s.b[best] = s.b[best], s.b[k]
	}
	return nil
}
