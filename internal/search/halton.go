package search

import (
	"math"
	"math/rand/v2"
)

// Halton is a scrambled Halton sequence whose points can be had in any order:
// the radical inverse in one prime base for each dimension, with a random
// permutation at each digit (A. B. Owen, A randomized Halton algorithm, 2017,
// arXiv:1706.02808).
type Halton struct {
	bases []int
	perms [][][]int // by dimension and digit
}

// NewHalton prepares a sequence. The same seed gives the same points.
func NewHalton(dims int, seed uint64) *Halton {
	rng := rand.New(rand.NewPCG(seed, 0x68616c74))
	h := &Halton{bases: primes(dims)}
	for _, b := range h.bases {
		var digits [][]int
		for scale := 1 / float64(b); 1-scale < 1; scale /= float64(b) {
			digits = append(digits, rng.Perm(b))
		}
		h.perms = append(h.perms, digits)
	}
	return h
}

// At puts point i into dst, one value in [0, 1) for each dimension.
func (h *Halton) At(i int, dst []float64) {
	for d, b := range h.bases {
		rest, scale, sum := i, 1.0, 0.0
		for _, perm := range h.perms[d] {
			scale /= float64(b)
			sum += float64(perm[rest%b]) * scale
			rest /= b
		}
		dst[d] = math.Min(sum, 1-1e-16)
	}
}

// primes returns the first n prime numbers.
func primes(n int) []int {
	var out []int
	for k := 2; len(out) < n; k++ {
		prime := true
		for _, p := range out {
			if k%p == 0 {
				prime = false
				break
			}
		}
		if prime {
			out = append(out, k)
		}
	}
	return out
}
