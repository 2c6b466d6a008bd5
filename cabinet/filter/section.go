package filter

import (
	"fmt"
	"math"
	"slices"
)

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
	known := s.Alignment.Orders()
	if known == nil {
		return fmt.Errorf("unknown alignment %d", int(s.Alignment))
	}
	if s.Kind != LowPass && s.Kind != HighPass {
		return fmt.Errorf("unknown kind of section %d", int(s.Kind))
	}
	if !slices.Contains(known, s.Order) {
		return fmt.Errorf("%s of order %d: the orders are %v", s.Alignment, s.Order, known)
	}
	if !(s.Corner > 0 && !math.IsInf(s.Corner, 1)) {
		return fmt.Errorf("corner at %v Hz: need more than 0", s.Corner)
	}
	return nil
}

// Response returns the complex gain at f in Hz of a valid section.
func (s Section) Response(f float64) complex128 {
	return alignments[s.Alignment].response(s.Kind, s.Order, f/s.Corner)
}
