package spread

import (
	"cmp"
	"math"
	"slices"
)

// Effect is what one input does to the result when it alone moves.
type Effect struct {
	Input         int     // its place in the list of inputs
	AtLow, AtHigh float64 // the result with the input at its ends; NaN where there is none
	InLow, InHigh float64 // the ends
	Swing         float64 // how far apart the result gets, base included
	Missing       bool    // the result does not exist at one end or at both
}

// OneAtATime moves each input to its ends with the others at their centres and
// ranks the inputs by how far the result swings; equal ones keep their order. f
// takes one value for each input and may return NaN.
func OneAtATime(inputs []Input, f func(x []float64) float64) (base float64, ranked []Effect) {
	x := make([]float64, len(inputs))
	for i, in := range inputs {
		x[i] = in.Centre
	}
	base = f(x)
	for i, in := range inputs {
		e := Effect{Input: i}
		e.InLow, e.InHigh = in.Ends()
		x[i] = e.InLow
		e.AtLow = f(x)
		x[i] = e.InHigh
		e.AtHigh = f(x)
		x[i] = in.Centre
		e.Swing, e.Missing = swing(base, e.AtLow, e.AtHigh)
		ranked = append(ranked, e)
	}
	slices.SortStableFunc(ranked, func(a, b Effect) int { return -cmp.Compare(a.Swing, b.Swing) })
	return base, ranked
}

// swing is the span of those of the values that exist.
func swing(values ...float64) (span float64, missing bool) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range values {
		if math.IsNaN(v) {
			missing = true
			continue
		}
		low, high = math.Min(low, v), math.Max(high, v)
	}
	if low > high || low == high {
		return 0, missing
	}
	return high - low, missing
}
