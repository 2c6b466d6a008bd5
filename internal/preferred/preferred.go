// Package preferred lists frequencies that are preferred numbers of ISO 3.
package preferred

import "math"

// r40 is one decade of the R40 series in hundredths, from 1 to 9.5: ISO 3 (values
// from memory). Every fourth is of the R10 series, the third octaves, which is
// all that ISO 266 lists.
var r40 = [...]float64{
	100, 106, 112, 118, 125, 132, 140, 150, 160, 170,
	180, 190, 200, 212, 224, 236, 250, 265, 280, 300,
	315, 335, 355, 375, 400, 425, 450, 475, 500, 530,
	560, 600, 630, 670, 710, 750, 800, 850, 900, 950,
}

// slack lets the ends of a range meet a listed frequency in spite of rounding.
const slack = 1e-9

// Twelfths returns the preferred numbers of the R40 series as frequencies, twelve
// to the octave, from low to high in Hz, both included, 1 Hz and above.
func Twelfths(low, high float64) []float64 { return every(1, low, high) }

// Sixths returns those of the R20 series, six to the octave, likewise.
func Sixths(low, high float64) []float64 { return every(2, low, high) }

func every(step int, low, high float64) []float64 {
	var out []float64
	for decade := 1.0; decade <= high*(1+slack); decade *= 10 {
		for i := 0; i < len(r40); i += step {
			if f := r40[i] * decade / 100; f >= low*(1-slack) && f <= high*(1+slack) {
				out = append(out, f)
			}
		}
	}
	return out
}

// Nominal returns the preferred third-octave frequency that an exact middle, a power
// of 10^(1/10), stands for; other frequencies stay.
func Nominal(f float64) float64 {
	decade := math.Pow(10, math.Floor(math.Log10(f)))
	for i := 0; i <= len(r40); i += 4 {
		exact := math.Pow(10, float64(i)/float64(len(r40)))
		if math.Abs(f/decade/exact-1) >= 1e-6 {
			continue
		}
		if i == len(r40) { // rounding put it into the decade below
			return 10 * decade
		}
		return r40[i] / 100 * decade
	}
	return f
}
