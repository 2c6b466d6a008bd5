package field

import (
	"math"

	"gapline/internal/numeric"
)

// SmoothSlope returns the drop of a level for each doubling of the distance, taken as
// the slope of the straight line that fits the level best over a window of so many
// doublings about each place. distance is in m and ascends; NaN where the window
// reaches beyond the ends, half a step's slack allowed. A ripple of period T doublings
// is left by a factor 3·j₁(u)/u, u = π·window/T.
func SmoothSlope(distance, level []float64, window float64) []float64 {
	if len(distance) != len(level) {
		panic("field: a level for each distance is needed")
	}
	const slack = 1e-9
	out := make([]float64, len(level))
	x := make([]float64, len(level))
	for i, d := range distance {
		x[i] = math.Log2(d)
		out[i] = numeric.Absent
	}
	last := len(x) - 1
	for i := range x {
		low, high := x[i]-window/2, x[i]+window/2
		if low < x[0]-slack || high > x[last]+slack {
			continue
		}
		var n, sx, sy, sxx, sxy float64
		for j := range x {
			if x[j] < low-slack || x[j] > high+slack {
				continue
			}
			u := x[j] - x[i]
			n, sx, sy, sxx, sxy = n+1, sx+u, sy+level[j], sxx+u*u, sxy+u*level[j]
		}
		if d := n*sxx - sx*sx; n >= 3 && d > 0 {
			out[i] = -(n*sxy - sx*sy) / d
		}
	}
	return out
}

// SlopeCrossings returns every distance at which a slope passes 4.5 dB for each
// doubling, between the cylinder's 3 and the sphere's 6, m.
func SlopeCrossings(distance, slope []float64) []float64 {
	var out []float64
	for i := 1; i < len(slope); i++ {
		a, b := slope[i-1]-crossingSlope, slope[i]-crossingSlope
		if math.IsNaN(a) || math.IsNaN(b) || (a < 0) == (b < 0) {
			continue
		}
		out = append(out, distance[i-1]*math.Pow(distance[i]/distance[i-1], a/(a-b)))
	}
	return out
}
