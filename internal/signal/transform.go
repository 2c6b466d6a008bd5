package signal

import (
	"math"

	"gonum.org/v1/gonum/dsp/fourier"
)

// Length returns the lowest power of two that is not less than n.
func Length(n int) int {
	p := 2
	for p < n {
		p *= 2
	}
	return p
}

// Spectrum returns the spectrum of x with zeros behind it up to n samples, n even.
func Spectrum(x []float64, n int) []complex128 {
	if len(x) > n || n%2 != 0 {
		panic("signal: Spectrum: n is odd or less than the samples")
	}
	padded := make([]float64, n)
	copy(padded, x)
	return fourier.NewFFT(n).Coefficients(nil, padded)
}

// Samples returns the n samples of a spectrum of n/2 + 1 values.
func Samples(h []complex128) []float64 {
	n := 2 * (len(h) - 1)
	x := fourier.NewFFT(n).Sequence(nil, h)
	for i := range x {
		x[i] /= float64(n)
	}
	return x
}

// MinimumPhase returns the phase in rad of the minimum-phase system whose magnitude at
// the n/2 + 1 frequencies of a spectrum is e^{logs}: the Hilbert transform of the
// logarithm, by way of the folded cepstrum (A. V. Oppenheim and R. W. Schafer,
// Discrete-Time Signal Processing, 1989, section 12.7; from memory). It is that of a
// sampled system: the magnitude counts as even about half the sample rate.
func MinimumPhase(logs []float64) []float64 {
	c := make([]complex128, len(logs))
	for i, l := range logs {
		c[i] = complex(l, 0)
	}
	cepstrum := Samples(c)
	n := len(cepstrum)
	for i := 1; i < n/2; i++ {
		cepstrum[i] *= 2
		cepstrum[n-i] = 0
	}
	folded := Spectrum(cepstrum, n)
	out := make([]float64, len(logs))
	for i, z := range folded {
		out[i] = imag(z)
	}
	return out
}

// Fade fades the first samples in and the last ones out with half a Hann window, in place.
func Fade(x []float64, in, out int) {
	ramp := func(i, n int) float64 { return (1 - math.Cos(math.Pi*(float64(i)+0.5)/float64(n))) / 2 }
	for i := range min(in, len(x)) {
		x[i] *= ramp(i, in)
	}
	for i := range min(out, len(x)) {
		x[len(x)-1-i] *= ramp(i, out)
	}
}
