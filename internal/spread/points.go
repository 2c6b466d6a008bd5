package spread

import (
	"math/bits"
)

// Many is from how many points on a sample is drawn without keeping it.
const Many = Held + 1

// Points returns a function that puts the inputs of point i of a Latin hypercube of n
// into x. Below Many points it is that of Sample; from there on each input takes its
// shares in an order that is computed point by point, so that the memory does not grow
// with n. The function may be called by several goroutines at once.
func Points(inputs []Input, n int, seed uint64) func(i int, x []float64) {
	if n < Many {
		all := Sample(inputs, n, seed)
		return func(i int, x []float64) { copy(x, all.RawRowView(i)) }
	}
	orders := make([]shuffle, len(inputs))
	for j := range orders {
		orders[j] = newShuffle(uint64(n), mix(seed^mix(uint64(j)+1)))
	}
	return func(i int, x []float64) {
		for j, in := range inputs {
			o := &orders[j]
			// The place within the share: half a step off 0 and 1, where a normal input
			// has no value.
			within := (float64(mix(o.key^mix(uint64(i)))>>12) + 0.5) / (1 << 52)
			x[j] = in.Quantile((float64(o.at(uint64(i))) + within) / float64(n))
		}
	}
}

// shuffle is an order of 0 to n−1 of which each place can be asked for by itself: a
// Feistel network over the next even number of bits (M. Luby and C. Rackoff, SIAM J.
// Comput. 17 (1988) 373-386), walked on until it comes back below n (J. Black and P.
// Rogaway, CT-RSA 2002, LNCS 2271, 114-130).
type shuffle struct {
	n, key uint64
	half   int // bits of each half
}

func newShuffle(n, key uint64) shuffle {
	return shuffle{n, key, (bits.Len64(n-1) + 1) / 2}
}

// rounds of a Feistel network: four suffice against those who ask for its key.
const rounds = 4

// at returns what stands at place i.
func (s *shuffle) at(i uint64) uint64 {
	mask := uint64(1)<<s.half - 1
	for {
		left, right := i>>s.half, i&mask
		for r := range uint64(rounds) {
			left, right = right, left^mix(right^s.key+r<<56)&mask
		}
		if i = left<<s.half | right; i < s.n {
			return i
		}
	}
}

// mix scatters the bits of a number (the finaliser of splitmix64: G. L. Steele Jr., D.
// Lea and C. H. Flood, OOPSLA 2014).
func mix(x uint64) uint64 {
	x += 0x9E3779B97F4A7C15
	x = (x ^ x>>30) * 0xBF58476D1CE4E5B9
	x = (x ^ x>>27) * 0x94D049BB133111EB
	return x ^ x>>31
}
