package filter

import (
	"fmt"
	"math"
	"math/cmplx"
)

// Alignment is the family of a section.
type Alignment int

// The families.
const (
	Butterworth   Alignment = iota // −3.01 dB at the corner; orders 1, 2, 3, 4, 8
	LinkwitzRiley                  // −6.02 dB at the corner; orders 2, 4, 8
)

var alignmentNames = [...]string{"Butterworth", "Linkwitz-Riley"}

func (a Alignment) String() string {
	if a < 0 || int(a) >= len(alignmentNames) {
		return fmt.Sprintf("Alignment(%d)", int(a))
	}
	return alignmentNames[a]
}

// orders lists what each family offers.
var orders = map[Alignment][]int{
	Butterworth:   {1, 2, 3, 4, 8},
	LinkwitzRiley: {2, 4, 8},
}

// Kind is the side a section lets through.
type Kind int

// The kinds.
const (
	LowPass Kind = iota
	HighPass
)

// Section is one low-pass or high-pass.
type Section struct {
	Kind      Kind
	Alignment Alignment
	Order     int
	Corner    float64 // Hz
}

// Validate checks family, order and corner.
func (s Section) Validate() error {
	known, ok := orders[s.Alignment]
	if !ok {
		return fmt.Errorf("unknown alignment %d", int(s.Alignment))
	}
	if s.Kind != LowPass && s.Kind != HighPass {
		return fmt.Errorf("unknown kind of section %d", int(s.Kind))
	}
	found := false
	for _, o := range known {
		found = found || o == s.Order
	}
	if !found {
		return fmt.Errorf("%s of order %d: the orders are %v", s.Alignment, s.Order, known)
	}
	if !(s.Corner > 0 && !math.IsInf(s.Corner, 1)) {
		return fmt.Errorf("corner at %v Hz: need more than 0", s.Corner)
	}
	return nil
}

// Response returns the complex gain at f in Hz of a valid section.
func (s Section) Response(f float64) complex128 {
	if s.Alignment == LinkwitzRiley {
		half := butterworth(s.Kind, s.Order/2, f/s.Corner)
		return half * half
	}
	return butterworth(s.Kind, s.Order, f/s.Corner)
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
