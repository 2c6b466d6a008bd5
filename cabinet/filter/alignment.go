package filter

import (
	"fmt"
	"math"
	"math/cmplx"

	"gapline/internal/wordset"
)

// Alignment is the family of a section; zero: not given, which is
// Linkwitz-Riley.
type Alignment int

// The families.
const (
	Butterworth   Alignment = 1 + iota // −3.01 dB at the corner
	LinkwitzRiley                      // −6.02 dB at the corner
	alignmentCount
)

// alignments say what each family does.
var alignments = [alignmentCount]struct {
	name, words string
	orders      []int
	// response is the gain of an order at f/f_c = w.
	response func(kind Kind, order int, w float64) complex128
	// opposed tells whether low-pass and high-pass of an order are half a turn
	// apart at the corner.
	opposed func(order int) bool
}{
	Butterworth:   {"butterworth", "Butterworth", []int{1, 2, 3, 4, 8}, butterworth, quarterTurns},
	LinkwitzRiley: {"linkwitz-riley", "Linkwitz-Riley", []int{2, 4, 8}, linkwitzRiley, quarterTurns},
}

// Name returns the family's word in the design file.
func (a Alignment) Name() string { return wordset.Row(alignments[:], a).name }

// String returns the family's name for people.
func (a Alignment) String() string {
	if words := wordset.Row(alignments[:], a).words; words != "" {
		return words
	}
	return fmt.Sprintf("Alignment(%d)", int(a))
}

// Orders returns the orders that the family offers.
func (a Alignment) Orders() []int { return wordset.Row(alignments[:], a).orders }

// OrDefault returns the family, Linkwitz-Riley when none is given.
func (a Alignment) OrDefault() Alignment {
	if a == 0 {
		return LinkwitzRiley
	}
	return a
}

// quarterTurns is opposed for low and high order·90° apart at every frequency.
func quarterTurns(order int) bool { return order%4 == 2 }

// linkwitzRiley is two Butterworth sections of half the order in series.
func linkwitzRiley(kind Kind, order int, w float64) complex128 {
	half := butterworth(kind, order/2, w)
	return half * half
}

// butterworth returns the response of order n at f/f_c = w:
//
//	low-pass   1/Π(s − p_k),  p_k = e^{jπ(2k+n−1)/(2n)}, k = 1 … n
//	high-pass  the same at 1/s
func butterworth(kind Kind, n int, w float64) complex128 {
	s := complex(0, w)
	if kind == HighPass {
		s = complex(0, -1/w)
	}
	d := complex(1, 0)
	for k := 1; k <= n; k++ {
		d *= s - cmplx.Rect(1, math.Pi*float64(2*k+n-1)/float64(2*n))
	}
	return 1 / d
}
