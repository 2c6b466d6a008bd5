package measured

import (
	"math"

	"gapline/internal/numeric"
)

// Fall returns the lowest frequency in Hz from which a difference in dB stays at or below
// −db for the given number of octaves or to the end of the data, between grid points
// linear over log f; NaN where it never does, or lies there from the first value on. f is
// the grid in Hz; NaN in the difference is no value and ends what stays.
func Fall(f, difference []float64, db, octaves float64) float64 {
	for i := 1; i < len(f); i++ {
		above, below := difference[i-1], difference[i]
		if !(above > -db && below <= -db) || !stays(f[i:], difference[i:], db, octaves) {
			continue
		}
		return f[i-1] * math.Pow(f[i]/f[i-1], (above+db)/(above-below))
	}
	return numeric.Absent
}

// stays reports whether the difference begins with the given number of octaves at or below
// −db, or with fewer and then the end of the data.
func stays(f, difference []float64, db, octaves float64) bool {
	last := len(f) - 1
	for last > 0 && !numeric.Given(difference[last]) {
		last--
	}
	for i := 0; i <= last && math.Log2(f[i]/f[0]) <= octaves; i++ {
		if !(difference[i] <= -db) {
			return false
		}
	}
	return true
}

// Spread is how far to either side in octaves a frequency that is read off a smoothed trace may
// lie off what the trace itself would give: half the width of the smoothing, and half a step
// of the grid without one.
func (s Smoothing) Spread() float64 {
	if s.Fraction > 0 {
		return 0.5 / float64(s.Fraction)
	}
	return 0.5 / PointsPerOctave
}
