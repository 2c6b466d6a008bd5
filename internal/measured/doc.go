// Package measured reads measured frequency responses and prepares them for
// comparison: text tables and impulse responses in WAV files become a Trace;
// traces are smoothed, brought onto a common grid of frequencies, aligned in
// level, subtracted from one another and summed up octave by octave.
//
// Levels are in dB of whatever the measurement took as reference; the package
// never guesses it. NaN marks a grid frequency at which a trace has no value.
// Phases are those of e^{+jωt}: a delay turns the phase towards minus.
package measured

import (
	"math"

	"gapline/internal/numeric"
)

// Trace is one measured response.
type Trace struct {
	Frequency []float64 // Hz, strictly rising, at least two
	Level     []float64 // dB
	Phase     []float64 // rad; nil when the measurement has none
	Impulse   bool      // it is the transform of an impulse response
	Notes     []string  // what was done while reading, in words for the user
}

// Range returns the lowest and highest frequency in Hz.
func (t *Trace) Range() (low, high float64) {
	return t.Frequency[0], t.Frequency[len(t.Frequency)-1]
}

// Advance takes a delay of tau seconds out of the phase.
func (t *Trace) Advance(tau float64) {
	for i := range t.Phase {
		t.Phase[i] += 2 * math.Pi * t.Frequency[i] * tau
	}
}

// PointsPerOctave is the density of the common grid.
const PointsPerOctave = 48

// Grid returns the frequencies 1 kHz·2^(k/48), k whole, from low to high in Hz:
// the common grid of all comparisons. An end that lies on the grid counts.
func Grid(low, high float64) []float64 {
	const slack = 1e-9 // of a step, against rounding
	step := func(f float64) float64 { return PointsPerOctave * math.Log2(f/1000) }
	var grid []float64
	for k := math.Ceil(step(low) - slack); k <= step(high)+slack; k++ {
		grid = append(grid, 1000*math.Exp2(k/PointsPerOctave))
	}
	return grid
}

// Subtract returns a − b, NaN where either is. The lengths must agree.
func Subtract(a, b []float64) []float64 {
	if len(a) != len(b) {
		panic("measured: Subtract: a and b differ in length")
	}
	out := make([]float64, len(a))
	for i := range a {
		out[i] = a[i] - b[i]
	}
	return out
}

// Shift adds db to every level, in place.
func Shift(level []float64, db float64) {
	for i := range level {
		level[i] += db
	}
}

// BandMean returns the mean in dB of the values at the grid frequencies f
// between low and high in Hz, and which share of them has a value. It is NaN
// when none has.
func BandMean(f, value []float64, low, high float64) (mean, covered float64) {
	sum, n, all := 0.0, 0, 0
	for i, x := range f {
		if x < low || x > high {
			continue
		}
		all++
		if numeric.Given(value[i]) {
			sum += value[i]
			n++
		}
	}
	if n == 0 {
		return numeric.Absent, 0
	}
	return sum / float64(n), float64(n) / float64(all)
}
