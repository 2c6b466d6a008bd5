// Package preferred lists the preferred frequencies of ISO 266.
package preferred

// r40 is one decade of the R40 series, from 1 to 9.5: ISO 266:1997 and ISO 3
// (values from memory). Every fourth is of the R10 series, third octaves.
var r40 = [...]float64{
	1.00, 1.06, 1.12, 1.18, 1.25, 1.32, 1.40, 1.50, 1.60, 1.70,
	1.80, 1.90, 2.00, 2.12, 2.24, 2.36, 2.50, 2.65, 2.80, 3.00,
	3.15, 3.35, 3.55, 3.75, 4.00, 4.25, 4.50, 4.75, 5.00, 5.30,
	5.60, 6.00, 6.30, 6.70, 7.10, 7.50, 8.00, 8.50, 9.00, 9.50,
}

// slack lets the ends of a range meet a listed frequency in spite of rounding.
const slack = 1e-9

// Twelfths returns the preferred frequencies of the R40 series, twelve to the
// octave, from low to high in Hz, both included.
func Twelfths(low, high float64) []float64 {
	var out []float64
	for decade := 1.0; decade <= high*(1+slack); decade *= 10 {
		for _, v := range r40 {
			if f := v * decade; f >= low*(1-slack) && f <= high*(1+slack) {
				out = append(out, f)
			}
		}
	}
	return out
}
