package spread

import (
	"math"
	"slices"
)

// Held is how many values a Stream keeps as they are. Its band is exact up to that many;
// beyond, it takes no more memory.
const Held = 1 << 14

// cells is into how many cells of equal share the values held are then divided.
const cells = 1 << 12

// Stream gathers values for a Band without keeping them all. The first Held values
// divide the line into cells that hold a share of 1/4096 each, or one value that comes
// more often, and the values after them are counted in their cells: a percentile is off
// by at most one cell, a share of 1/4096 of all values (0.024 %), and by far less where
// they lie densely, as it is interpolated. The sample's own error is larger: 0.05 % of
// all values at the 5 % point of 200,000. The zero value is ready.
type Stream struct {
	held  []float64 // until there are too many
	given int

	edges        []float64 // ascending, each once
	at           []int     // values that are just an edge
	above        []int     // values between an edge and the next
	below, after int       // values beyond the first and the last edge
	low, high    float64   // the least and the greatest value
}

// Add takes in a value. NaN is left out, as of BandOf.
func (s *Stream) Add(x float64) {
	if math.IsNaN(x) {
		return
	}
	s.given++
	if s.edges != nil {
		s.count(x)
		return
	}
	if s.held = append(s.held, x); len(s.held) > Held {
		s.divide()
	}
}

// divide lays out the cells and counts what was held.
func (s *Stream) divide() {
	slices.Sort(s.held)
	last := len(s.held) - 1
	s.low, s.high = s.held[0], s.held[last]
	for i := range cells + 1 {
		if x := s.held[i*last/cells]; len(s.edges) == 0 || x != s.edges[len(s.edges)-1] {
			s.edges = append(s.edges, x)
		}
	}
	s.at, s.above = make([]int, len(s.edges)), make([]int, len(s.edges))
	for _, x := range s.held {
		s.count(x)
	}
	s.held = nil
}

// count counts a value in its cell.
func (s *Stream) count(x float64) {
	switch last := len(s.edges) - 1; {
	case x < s.edges[0]:
		s.below++
		s.low = math.Min(s.low, x)
		return
	case x > s.edges[last]:
		s.after++
		s.high = math.Max(s.high, x)
		return
	}
	i, ok := slices.BinarySearch(s.edges, x)
	if ok {
		s.at[i]++
	} else {
		s.above[i-1]++
	}
}

// Band is the band of the values so far. It may be asked for once.
func (s *Stream) Band() Band {
	if s.edges == nil {
		return BandOf(s.held)
	}
	return Band{s.quantile(0.05), s.quantile(0.5), s.quantile(0.95), s.given}
}

// quantile finds the cell that holds the percentile, and the place in it on a line.
func (s *Stream) quantile(p float64) float64 {
	rank := p * float64(s.given-1)
	n := float64(s.below)
	if rank < n {
		return between(s.low, s.edges[0], rank/n)
	}
	for i, edge := range s.edges {
		if n += float64(s.at[i]); rank < n {
			return edge
		}
		if inside := float64(s.above[i]); rank < n+inside {
			return between(edge, s.edges[i+1], (rank-n+0.5)/inside)
		} else {
			n += inside
		}
	}
	return between(s.edges[len(s.edges)-1], s.high, (rank-n)/math.Max(float64(s.after), 1))
}

// between is a + t(b−a); infinities have no difference.
func between(a, b, t float64) float64 {
	if a == b || math.IsInf(a, 0) || math.IsInf(b, 0) {
		return a
	}
	return a + min(t, 1)*(b-a)
}
