package measured

import (
	"math"

	"gapline/internal/numeric"
)

// Band is what is known of a set of values, in dB, over a band of frequencies.
type Band struct {
	Nominal   float64 // nominal centre, Hz; NaN for the whole range
	Low, High float64 // edges, Hz
	Mean      float64 // dB
	Deviation float64 // standard deviation about the mean, dB
	Worst     float64 // the value farthest from zero, with its sign, dB
	WorstAt   float64 // where, Hz
	Covered   float64 // share of the band in which there are values, 0 to 1
}

// nominalOctaves are the nominal mid-band frequencies of the octave bands from
// 16 Hz to 31.5 kHz (ISO 266, from memory). The exact ones are 1 kHz·10^(3k/10)
// (IEC 61260-1:2014, base ten).
var nominalOctaves = []float64{16, 31.5, 63, 125, 250, 500, 1000, 2000, 4000, 8000, 16000, 31500}

// firstOctave is k of the first of nominalOctaves.
const firstOctave = -6

// leastCovered is the share of an octave below which it is left out.
const leastCovered = 0.25

// Octaves sums up the values at the grid frequencies f octave by octave, every
// grid point with the same weight, and the whole range last. NaN values are
// left out, and so are octaves of which less than a quarter has values.
func Octaves(f, value []float64) []Band {
	var bands []Band
	for i, nominal := range nominalOctaves {
		centre := 1000 * math.Pow(10, 0.3*float64(firstOctave+i))
		half := math.Pow(10, 0.15)
		b := Band{Nominal: nominal, Low: centre / half, High: centre * half}
		n := b.take(f, value)
		b.Covered = min(float64(n)/(PointsPerOctave*math.Log2(b.High/b.Low)), 1)
		if b.Covered >= leastCovered {
			bands = append(bands, b)
		}
	}
	whole := Band{Nominal: numeric.Absent, Low: numeric.Absent, High: numeric.Absent, Covered: 1}
	for i, x := range f {
		if !numeric.Given(value[i]) {
			continue
		}
		if !numeric.Given(whole.Low) {
			whole.Low = x
		}
		whole.High = math.Nextafter(x, math.Inf(1))
	}
	if whole.take(f, value) == 0 {
		return nil
	}
	return append(bands, whole)
}

// take fills in the figures from the values with Low ≤ f < High and returns
// their number.
func (b *Band) take(f, value []float64) int {
	n, sum := 0, 0.0
	b.Mean, b.Deviation, b.Worst, b.WorstAt = numeric.Absent, numeric.Absent, 0, numeric.Absent
	in := func(i int) bool { return f[i] >= b.Low && f[i] < b.High && numeric.Given(value[i]) }
	for i := range f {
		if !in(i) {
			continue
		}
		n++
		sum += value[i]
		if math.Abs(value[i]) >= math.Abs(b.Worst) {
			b.Worst, b.WorstAt = value[i], f[i]
		}
	}
	if n == 0 {
		b.Worst = numeric.Absent
		return 0
	}
	b.Mean = sum / float64(n)
	squares := 0.0
	for i := range f {
		if in(i) {
			squares += (value[i] - b.Mean) * (value[i] - b.Mean)
		}
	}
	b.Deviation = math.Sqrt(squares / float64(n))
	return n
}
