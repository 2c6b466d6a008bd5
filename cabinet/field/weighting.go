package field

import "math"

// AWeighting returns the A-weighting in dB at f in Hz: IEC 61672-1:2013, annex E,
// with the pole frequencies 20.598997, 107.65265, 737.86223 and 12194.217 Hz and
// 0 dB at 1 kHz.
func AWeighting(f float64) float64 {
	return 20 * math.Log10(aGain(f)/aGain(1000))
}

func aGain(f float64) float64 {
	const f1, f2, f3, f4 = 20.598997, 107.65265, 737.86223, 12194.217
	q := f * f
	return f4 * f4 * q * q / ((q + f1*f1) * math.Sqrt((q+f2*f2)*(q+f3*f3)) * (q + f4*f4))
}
