package measured

import (
	"errors"
	"fmt"
	"math"
	"math/bits"
	"math/cmplx"

	"gapline/internal/numeric"

	"gonum.org/v1/gonum/dsp/fourier"
)

// Gate is the part of an impulse response that counts, about its peak. The zero
// value takes the whole record as it is.
//
// The window rises over the first half of Before with half a Hann window, is 1
// from there to three quarters of After, and falls over the last quarter with
// half a Hann window:
//
//	      ________________
//	     /       |        \
//	____/        |         \____
//	   −B  −B/2  0   ¾A    A
//
// It keeps reflections out that arrive after the gate ends, at the price of all
// detail finer than the reciprocal of its length, and of everything below.
type Gate struct {
	Before float64 // s; NaN: a quarter of After, or as much as the record holds
	After  float64 // s
}

// whole says whether the record is taken as it is.
func (g Gate) whole() bool { return g.Before == 0 && g.After == 0 }

// String says what was done.
func (g Gate) String() string {
	if g.whole() {
		return "no gate, whole record"
	}
	return fmt.Sprintf("gate %.4g ms before to %.4g ms after the peak, half-Hann rise over its first %.4g ms and fall over its last %.4g ms",
		1e3*g.Before, 1e3*g.After, 1e3*g.Before/2, 1e3*g.After/4)
}

// weight returns the window at t seconds after the peak.
func (g Gate) weight(t float64) float64 {
	switch {
	case t < -g.Before || t > g.After:
		return 0
	case t < -g.Before/2:
		return hannRise((t + g.Before) / (g.Before / 2))
	case t > g.After*3/4:
		return hannRise((g.After - t) / (g.After / 4))
	}
	return 1
}

// hannRise goes from 0 at 0 to 1 at 1.
func hannRise(x float64) float64 { return (1 - math.Cos(math.Pi*x)) / 2 }

// longest bounds the samples that are transformed: 11 s at 192 kHz.
const longest = 1 << 21

// Trace returns the Fourier transform of the gated impulse response,
//
//	H(f) = Σ w_n·x_n·e^{−j2πf(n−n0)/rate},  n0 the sample with the largest |x|,
//
// at evenly spaced frequencies from the reciprocal of the gate's length to half
// the sample rate. Levels are in dB of full scale: a single sample of 1 is 0 dB at
// all frequencies. The spacing is at most a quarter of the reciprocal of the
// gate's length (half for records longer than 2^18 samples). A gate that
// reaches beyond the record is an error; so is a silent record.
func (p Impulse) Trace(g Gate) (Trace, error) {
	peak, err := p.peak()
	if err != nil {
		return Trace{}, err
	}
	if !numeric.Given(g.Before) {
		g.Before = min(g.After/4, float64(peak)/p.Rate)
	}
	first, last, err := p.extent(g, peak)
	if err != nil {
		return Trace{}, err
	}
	n := last - first + 1
	padding := 4
	if n > 1<<18 {
		padding = 2
	}
	sequence := make([]float64, 1<<bits.Len(uint(padding*n-1)))
	for i := first; i <= last; i++ {
		w := 1.0
		if !g.whole() {
			w = g.weight(float64(i-peak) / p.Rate)
		}
		sequence[i-first] = w * p.Samples[i]
	}
	t := p.spectrum(sequence, peak-first, p.Rate/float64(n))
	if len(t.Frequency) < 2 {
		return Trace{}, fmt.Errorf("%d samples are too few for a response: a longer record or gate is needed", n)
	}
	t.Notes = []string{
		fmt.Sprintf("impulse response, %s, %g kHz, peak at %.4g ms, dB re full scale", p.Format, p.Rate/1000, 1e3*float64(peak)/p.Rate),
		fmt.Sprintf("%s; nothing below and no detail finer than %.3g Hz", g, p.Rate/float64(n)),
	}
	return t, nil
}

// peak returns the index of the largest sample.
func (p Impulse) peak() (int, error) {
	best := 0
	for i, x := range p.Samples {
		if math.Abs(x) > math.Abs(p.Samples[best]) {
			best = i
		}
	}
	if len(p.Samples) == 0 || p.Samples[best] == 0 {
		return 0, errors.New("the record is silent")
	}
	return best, nil
}

// extent returns the first and last sample within the gate.
func (p Impulse) extent(g Gate, peak int) (first, last int, err error) {
	first, last = 0, len(p.Samples)-1
	if !g.whole() {
		before, after := math.Floor(g.Before*p.Rate+1e-9), math.Floor(g.After*p.Rate+1e-9)
		if before > float64(peak) || after > float64(last-peak) {
			return 0, 0, fmt.Errorf("the gate reaches beyond the record, which holds %.4g ms before and %.4g ms after the peak",
				1e3*float64(peak)/p.Rate, 1e3*float64(last-peak)/p.Rate)
		}
		first, last = peak-int(before), peak+int(after)
	}
	if last-first+1 > longest {
		return 0, 0, fmt.Errorf("%d samples are too many: choose a part with --gate", last-first+1)
	}
	return first, last, nil
}

// spectrum transforms the sequence; its sample zero is the one at time 0. Points
// that cancel exactly have no level and are left out.
func (p Impulse) spectrum(sequence []float64, zero int, lowest float64) Trace {
	coefficients := fourier.NewFFT(len(sequence)).Coefficients(nil, sequence)
	step := p.Rate / float64(len(sequence))
	t := Trace{Impulse: true}
	for k := int(math.Ceil(lowest/step - 1e-9)); k < len(coefficients); k++ {
		h := coefficients[k]
		if k == 0 || h == 0 {
			continue
		}
		turn := 2 * math.Pi * math.Mod(float64(k)*float64(zero)/float64(len(sequence)), 1)
		h *= cmplx.Rect(1, turn)
		t.Frequency = append(t.Frequency, float64(k)*step)
		t.Level = append(t.Level, numeric.DB(cmplx.Abs(h)))
		t.Phase = append(t.Phase, cmplx.Phase(h))
	}
	return t
}
