package measured

import (
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"gapline/internal/numeric"
)

const rate = 48000.0

// impulse is silence of n samples with the given ones set.
func impulse(n int, at map[int]float64) Impulse {
	p := Impulse{Rate: rate, Format: "made up", Samples: make([]float64, n)}
	for i, x := range at {
		p.Samples[i] = x
	}
	return p
}

func mustTrace(t *testing.T, p Impulse, g Gate) Trace {
	t.Helper()
	got, err := p.Trace(g)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// compare checks level and phase against a closed form, by the complex value.
func compare(t *testing.T, name string, got Trace, want func(f float64) complex128, tolerance float64) {
	t.Helper()
	for i, f := range got.Frequency {
		h := cmplx.Rect(numeric.FromDB(got.Level[i]), got.Phase[i])
		if w := want(f); cmplx.Abs(h-w) > tolerance*math.Max(1, cmplx.Abs(w)) {
			t.Fatalf("%s at %g Hz: %v, want %v", name, f, h, w)
		}
	}
}

// rounding of a transform of some thousand points
const fftTolerance = 1e-11

// A single sample has level 0 dB and, being the peak, phase 0.
func TestSingleSampleIsFlat(t *testing.T) {
	for _, g := range []Gate{{}, {Before: 1e-3, After: 10e-3}, {Before: numeric.Absent, After: 10e-3}} {
		got := mustTrace(t, impulse(1000, map[int]float64{137: 1}), g)
		compare(t, g.String(), got, func(float64) complex128 { return 1 }, fftTolerance)
	}
}

// A reflection r after time τ gives |1 + r·e^{−jωτ}|; a gate that ends before it
// takes it out.
func TestReflectionInClosedForm(t *testing.T) {
	const r, delay = 0.6, 240 // 5 ms
	p := impulse(2000, map[int]float64{300: 1, 300 + delay: r})
	comb := func(f float64) complex128 { return 1 + complex(r, 0)*cmplx.Rect(1, -2*math.Pi*f*delay/rate) }
	compare(t, "whole", mustTrace(t, p, Gate{}), comb, fftTolerance)
	compare(t, "long gate", mustTrace(t, p, Gate{Before: 2e-3, After: 20e-3}), comb, fftTolerance)
	compare(t, "short gate", mustTrace(t, p, Gate{Before: 2e-3, After: 4.9e-3}), func(float64) complex128 { return 1 }, fftTolerance)
	// In the middle of the falling quarter the window is one half.
	half := func(f float64) complex128 { return 1 + complex(r/2, 0)*cmplx.Rect(1, -2*math.Pi*f*delay/rate) }
	compare(t, "half", mustTrace(t, p, Gate{Before: 2e-3, After: 5e-3 / 0.875}), half, 1e-9)
}

// geometric is Σ z^n from n = first to last.
func geometric(z complex128, first, last int) complex128 {
	return (cmplx.Pow(z, complex(float64(first), 0)) - cmplx.Pow(z, complex(float64(last+1), 0))) / (1 - z)
}

// The ungated transform of a damped oscillation aⁿ·cos(ω₀n) is the sum of two
// geometric series.
func TestDampedOscillationInClosedForm(t *testing.T) {
	const a, turn, n = 0.99, 2 * math.Pi * 500 / rate, 3000
	p := impulse(n, nil)
	for i := range p.Samples {
		p.Samples[i] = math.Pow(a, float64(i)) * math.Cos(turn*float64(i))
	}
	want := func(f float64) complex128 {
		w := 2 * math.Pi * f / rate
		up := geometric(cmplx.Rect(a, turn-w), 0, n-1)
		down := geometric(cmplx.Rect(a, -turn-w), 0, n-1)
		return (up + down) / 2
	}
	compare(t, "damped oscillation", mustTrace(t, p, Gate{}), want, 1e-10)
}

// With the gate's window, a sum of exponentials itself, the transform of aⁿ is a
// sum of geometric series: flat part to ¾A, and on the last quarter half of the
// sum less half of the part turned by the window's cosine.
func TestGatedDecayInClosedForm(t *testing.T) {
	const a, length = 0.995, 480 // 10 ms
	p := impulse(2000, nil)
	for i := range 1900 {
		p.Samples[100+i] = math.Pow(a, float64(i))
	}
	const flat, quarter = 360, 120.0
	want := func(f float64) complex128 {
		z := cmplx.Rect(a, -2*math.Pi*f/rate)
		sum := geometric(z, 0, flat)
		sum += geometric(z, flat+1, length) / 2
		// cos(π(A − n)/q) as two exponentials
		lead := math.Pi * length / quarter
		for _, sign := range []float64{1, -1} {
			turned := z * cmplx.Rect(1, -sign*math.Pi/quarter)
			sum -= cmplx.Rect(1, sign*lead) * geometric(turned, flat+1, length) / 4
		}
		return sum
	}
	got := mustTrace(t, p, Gate{Before: 1e-3, After: 10e-3})
	compare(t, "gated decay", got, want, 1e-9)
	if f := got.Frequency[0]; math.Abs(f-rate/529) > 30 { // 48 + 480 + 1 samples
		t.Errorf("lowest frequency %g Hz, want about 1/(11 ms)", f)
	}
}

// The rise of the window, by its definition, on samples before the peak.
func TestGateRise(t *testing.T) {
	g := Gate{Before: 4e-3, After: 8e-3}
	for tms, want := range map[float64]float64{
		-5: 0, -4: 0, -3: 0.5, -2: 1, 0: 1, 6: 1, 7: 0.5, 8: 0, 9: 0, // half of the Hann window lies at its middle
	} {
		if got := g.weight(tms / 1000); math.Abs(got-want) > 1e-12 {
			t.Errorf("weight at %g ms is %g, want %g", tms, got, want)
		}
	}
}

// Parseval: the mean of |H|² over all lines is the energy of the samples.
func TestEnergyIsKept(t *testing.T) {
	p := impulse(1024, nil)
	energy := 0.0
	for i := range p.Samples {
		p.Samples[i] = math.Sin(float64(i*i)) * math.Exp(-float64(i)/200)
		energy += p.Samples[i] * p.Samples[i]
	}
	got := mustTrace(t, p, Gate{})
	lines := 4096.0 // padding to four times the length
	sum := 0.0
	for i, f := range got.Frequency {
		share := 2.0
		if f == rate/2 {
			share = 1
		}
		sum += share * math.Pow(10, got.Level[i]/10) / lines
	}
	// The lines below 1/T are left out: here four of 2049, with little energy.
	if math.Abs(sum/energy-1) > 0.01 {
		t.Errorf("energy of the lines %g, of the samples %g", sum, energy)
	}
}

func TestGateRefuses(t *testing.T) {
	p := impulse(480, map[int]float64{48: 1})
	for name, c := range map[string]struct {
		p    Impulse
		g    Gate
		want string
	}{
		"silence":       {impulse(100, nil), Gate{}, "silent"},
		"nothing":       {Impulse{Rate: rate}, Gate{}, "silent"},
		"beyond end":    {p, Gate{Before: 0.5e-3, After: 20e-3}, "which holds 1 ms before and 8.979 ms after"},
		"before begin":  {p, Gate{Before: 2e-3, After: 4e-3}, "beyond the record"},
		"single sample": {impulse(1, map[int]float64{0: 1}), Gate{}, "too few"},
	} {
		if _, err := c.p.Trace(c.g); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: err = %v, want %q", name, err, c.want)
		}
	}
	if _, err := p.Trace(Gate{Before: numeric.Absent, After: 8e-3}); err != nil {
		t.Errorf("a gate without a given beginning takes what there is: %v", err)
	}
}

func BenchmarkTrace(b *testing.B) {
	p := impulse(65536, map[int]float64{1000: 1})
	for b.Loop() {
		if _, err := p.Trace(Gate{}); err != nil {
			b.Fatal(err)
		}
	}
}
