package signal

import (
	"math"
	"math/rand/v2"

	"gapline/internal/programme"
)

// Seeds of the noise: the same length and rate give the same samples.
const noiseSeed1, noiseSeed2 = 0x6c697374656e, 0x6e6f697365

// Noise returns n samples of normal noise with a programme spectrum and an r.m.s. value
// of rms over the whole band. Third octaves above half the rate are left out.
func Noise(s *programme.Spectrum, n, rate int, rms float64) []float64 {
	long := Length(n)
	r := rand.New(rand.NewPCG(noiseSeed1, noiseSeed2))
	white := make([]float64, long)
	for i := range white {
		white[i] = r.NormFloat64()
	}
	h := Spectrum(white, long)
	thirds := s.Thirds()
	band := 0
	for k := range h {
		f := float64(k) * float64(rate) / float64(long)
		for band < len(thirds) && f >= thirds[band].High {
			band++
		}
		if band == len(thirds) || f < thirds[band].Low {
			h[k] = 0
			continue
		}
		// Even over log frequency within a third octave: power per Hz falls as 1/f.
		h[k] *= complex(math.Sqrt(thirds[band].Share/f), 0)
	}
	x := Samples(h)[:n]
	scale := rms / RMS(x)
	for i := range x {
		x[i] *= scale
	}
	return x
}

// RMS returns the root of the mean square; 0 for nothing.
func RMS(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v * v
	}
	if len(x) == 0 {
		return 0
	}
	return math.Sqrt(sum / float64(len(x)))
}

// Clicks returns n samples of single ones of the given height, every step samples from
// half a step on, or from the middle of what is shorter than a step.
func Clicks(n, step int, height float64) []float64 {
	x := make([]float64, n)
	for i := min(step, n) / 2; i < n; i += step {
		x[i] = height
	}
	return x
}
