package filter

import (
	"fmt"
	"math"
	"math/cmplx"
)

// Path is the processing of one path of a system: sections in series, gain, delay
// and polarity. The zero value passes everything.
type Path struct {
	Sections []Section
	Gain     float64 // dB
	Delay    float64 // s
	Invert   bool
}

// Validate checks the path and its sections.
func (w Path) Validate() error {
	for i, s := range w.Sections {
		if err := s.Validate(); err != nil {
			return fmt.Errorf("section %d: %w", i+1, err)
		}
	}
	if math.IsNaN(w.Gain) || math.IsInf(w.Gain, 0) {
		return fmt.Errorf("gain of %v dB: need a finite value", w.Gain)
	}
	if math.IsNaN(w.Delay) || math.IsInf(w.Delay, 0) {
		return fmt.Errorf("delay of %v s: need a finite value", w.Delay)
	}
	return nil
}

// Response returns the complex gain at f in Hz. Its signature is that of
// field.Drive.Filter.
func (w Path) Response(f float64) complex128 {
	r := cmplx.Rect(math.Pow(10, w.Gain/20), -2*math.Pi*f*w.Delay)
	for _, s := range w.Sections {
		r *= s.Response(f)
	}
	if w.Invert {
		return -r
	}
	return r
}

// Pair returns low and high path of a crossover at f in Hz. For second-order
// Linkwitz-Riley and Butterworth, and wherever the paths are half a turn apart at
// the corner, the high path is inverted, so that they add in phase there.
func Pair(a Alignment, order int, f float64) (low, high Path, err error) {
	low = Path{Sections: []Section{{LowPass, a, order, f}}}
	high = Path{Sections: []Section{{HighPass, a, order, f}}}
	if err := low.Validate(); err != nil {
		return Path{}, Path{}, err
	}
	high.Invert = alignments[a].opposed(order)
	return low, high, nil
}
