package signal

import (
	"math"
	"math/cmplx"
	"testing"

	"gapline/internal/programme"
	"gapline/internal/reftable"
)

// One pole, H = 1/(1 − a·e^{−jω}), is of minimum phase: −atan(a·sin ω/(1 − a·cos ω)).
func TestMinimumPhaseOfOnePole(t *testing.T) {
	minimumPhaseOfOnePole(t, 0.6, 1e-12) // a^n is nothing: the cepstrum does not wrap round
	minimumPhaseOfOnePole(t, 0.98, 1e-5) // a^(n/2) is 3e-5: the cepstrum reaches to its middle
}

func minimumPhaseOfOnePole(t *testing.T, a, within float64) {
	const n = 1024
	logs := make([]float64, n/2+1)
	for k := range logs {
		w := 2 * math.Pi * float64(k) / n
		logs[k] = -math.Log(cmplx.Abs(1 - complex(a, 0)*cmplx.Exp(complex(0, -w))))
	}
	for k, got := range MinimumPhase(logs) {
		w := 2 * math.Pi * float64(k) / n
		reftable.Within(t, "phase", got, -math.Atan(a*math.Sin(w)/(1-a*math.Cos(w))), within)
	}
}

// Samples undoes Spectrum, and the spectrum of a late one turns as e^{−jωt}.
func TestTransformsAreInverse(t *testing.T) {
	x := []float64{0, 0, 1, -2, 3, 0, 0.5, 0}
	for i, v := range Samples(Spectrum(x, 8)) {
		reftable.Within(t, "sample", v, x[i], 1e-15)
	}
	h := Spectrum([]float64{0, 1}, 8)
	if d := cmplx.Abs(h[1] - cmplx.Exp(complex(0, -math.Pi/4))); d > 1e-15 {
		t.Errorf("delay of one sample is off by %g", d)
	}
}

// Sines whose crest lies between the samples. A quarter of the rate at 45° shows samples
// of 0.707 alone. The filter's own ripple, as published measurements of it tell, is up
// to 0.2 dB there and 0.01 dB far down.
func TestTruePeakOfSines(t *testing.T) {
	for _, c := range []struct{ part, phase, within float64 }{{0.25, math.Pi / 4, 0.25}, {0.02, 0.3, 0.05}, {0.1, 0.2, 0.2}} {
		x := make([]float64, 4000)
		for i := range x {
			x[i] = 0.5 * math.Sin(2*math.Pi*c.part*float64(i)+c.phase)
		}
		Fade(x, 400, 400) // without a start that rings
		reftable.Within(t, "true peak, dB", 20*math.Log10(TruePeak(x)/0.5), 0, c.within)
	}
	if got := TruePeak([]float64{0, 1, 0}); got != 1 {
		t.Errorf("a single one has a true peak of %g", got)
	}
}

// The annex prints one filter of 48 taps in four phases: the last two are the
// first two backwards.
func TestInterpolatorIsSymmetric(t *testing.T) {
	for k := range 12 {
		if interpolator[0][k] != interpolator[3][11-k] || interpolator[1][k] != interpolator[2][11-k] {
			t.Errorf("tap %d breaks the symmetry", k)
		}
	}
}

// Each third octave holds its share of the power, summed from an own transform. Half a
// minute has 140 and more independent values in the lowest third used: 1 dB is some 2.5
// standard deviations there, 10·log10(1 + 1/√140) = 0.35 dB.
func TestNoiseHasItsSpectrum(t *testing.T) {
	const rate, n = 48000, 1 << 20
	for _, s := range programme.Spectra {
		x := Noise(s, n, rate, 0.1)
		reftable.Within(t, "r.m.s.", RMS(x), 0.1, 1e-12)
		h := Spectrum(x, n)
		total := 0.0
		for _, z := range h[1 : n/2] {
			total += real(z)*real(z) + imag(z)*imag(z)
		}
		for _, b := range s.Thirds() {
			if b.Mid < 30 {
				continue
			}
			power := 0.0
			for k := int(math.Ceil(b.Low * n / rate)); float64(k)*rate/n < b.High; k++ {
				power += real(h[k])*real(h[k]) + imag(h[k])*imag(h[k])
			}
			within := 0.15 // more values
			if b.Mid < 1000 {
				within = 1
			}
			reftable.Within(t, s.Name+" third octave, dB", 10*math.Log10(power/total/b.Share), 0, within)
		}
	}
}

func TestFadeAndClicks(t *testing.T) {
	x := []float64{1, 1, 1, 1, 1, 1}
	Fade(x, 2, 3)
	if x[2] != 1 || !(x[0] < x[1] && x[1] < 1 && x[5] < x[4] && x[4] < x[3] && x[3] < 1) {
		t.Errorf("faded %v", x)
	}
	if short := Clicks(3, 8, 0.5); short[1] != 0.5 {
		t.Errorf("no click in %v", short)
	}
	c := Clicks(10, 4, 0.5)
	for i, v := range c {
		if (i == 2 || i == 6) != (v == 0.5) {
			t.Errorf("clicks %v", c)
		}
	}
}

// The powers of two, by hand; a spectrum is of an even number of samples, no fewer than there are.
func TestLengths(t *testing.T) {
	for n, want := range map[int]int{0: 2, 1: 2, 2: 2, 3: 4, 4: 4, 5: 8, 8: 8, 1000: 1024} {
		if got := Length(n); got != want {
			t.Errorf("Length(%d) = %d, want %d", n, got, want)
		}
	}
	for _, n := range []int{2, 5} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("three samples make a spectrum of %d", n)
				}
			}()
			Spectrum([]float64{1, 2, 3}, n)
		}()
	}
}

func TestRMS(t *testing.T) {
	reftable.Near(t, "of 3 and 4", RMS([]float64{3, -4}), math.Sqrt(12.5), 1e-15)
	if got := RMS(nil); got != 0 {
		t.Errorf("of nothing: %g", got)
	}
}

// Half a Hann window of four points, taken in the middle of each: sin² of 1, 3, 5 and 7
// sixteenths of a half turn.
func TestFadeIsHalfAHannWindow(t *testing.T) {
	x := []float64{1, 1, 1, 1, 1, 1, 1, 1}
	Fade(x, 4, 4)
	for i := range 4 {
		want := math.Pow(math.Sin(float64(2*i+1)*math.Pi/16), 2)
		reftable.Within(t, "faded in", x[i], want, 1e-15)
		reftable.Within(t, "faded out", x[7-i], want, 1e-15)
	}
}

// What the printed taps make of a few samples, by hand: two equal ones lie under taps 6 and 7 of
// the second phase, 0.4650878906250 + 0.7797851562500; twelve with the signs of its taps, last
// first, give the sum of their magnitudes, 2.0228271484375.
func TestTruePeakByHand(t *testing.T) {
	reftable.Near(t, "two", TruePeak([]float64{1, 1}), 1.2448730468750, 1e-15)
	reftable.Near(t, "two after silence", TruePeak([]float64{0, 0, 0, 1, 1, 0}), 1.2448730468750, 1e-15)
	signs := []float64{-1, 1, -1, 1, -1, 1, 1, -1, 1, -1, 1, -1}
	reftable.Near(t, "twelve", TruePeak(signs), 2.0228271484375, 1e-15)
	if got := TruePeak([]float64{-3}); got != 3 {
		t.Errorf("one sample of -3: %g", got)
	}
}
