package programme

import "math"

// Poles of the frequency weightings, Hz: IEC 61672-1:2013, annex E.
const (
	pole1, pole2, pole3, pole4 = 20.598997, 107.65265, 737.86223, 12194.217
)

// AWeighting returns the A-weighting in dB at f in Hz,
//
//	A = 20 lg [ f4² f⁴ / ((f²+f1²) √(f²+f2²) √(f²+f3²) (f²+f4²)) ], 0 dB at 1 kHz
//
// (IEC 61672-1:2013, annex E, formula E.6).
func AWeighting(f float64) float64 {
	return 20 * math.Log10(aGain(f)/aGain(1000))
}

func aGain(f float64) float64 {
	q := f * f
	return pole4 * pole4 * q * q / ((q + pole1*pole1) * math.Sqrt((q+pole2*pole2)*(q+pole3*pole3)) * (q + pole4*pole4))
}

// CWeighting returns the C-weighting in dB at f in Hz,
//
//	C = 20 lg [ f4² f² / ((f²+f1²) (f²+f4²)) ], 0 dB at 1 kHz
//
// (IEC 61672-1:2013, annex E, formula E.1).
func CWeighting(f float64) float64 {
	return 20 * math.Log10(cGain(f)/cGain(1000))
}

func cGain(f float64) float64 {
	q := f * f
	return pole4 * pole4 * q / ((q + pole1*pole1) * (q + pole4*pole4))
}
