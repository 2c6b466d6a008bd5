package measured

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"slices"
	"sort"
	"strconv"
	"strings"

	"gapline/internal/numeric"
)

// Averaging is what a smoothing takes the mean of.
type Averaging int

// The averagings.
const (
	Power   Averaging = iota // of the squared pressure: phases do not count
	Complex                  // of the pressure with its phase: what arrives out of phase cancels
)

// String returns the word for it.
func (a Averaging) String() string {
	if a == Complex {
		return "complex"
	}
	return "power"
}

// Smoothing is a running mean over a band of constant relative width. The zero
// value smooths nothing.
type Smoothing struct {
	Fraction int // the band is one Fraction-th of an octave; 0: none
	By       Averaging
}

// maxFraction is the narrowest band that ParseSmoothing takes: that of the grid.
const maxFraction = PointsPerOctave

// ParseSmoothing reads "1/12" or "none".
func ParseSmoothing(text string) (Smoothing, error) {
	if text == "none" {
		return Smoothing{}, nil
	}
	below, ok := strings.CutPrefix(text, "1/")
	n, err := strconv.Atoi(below)
	if !ok || err != nil || n < 1 || n > maxFraction {
		return Smoothing{}, fmt.Errorf("%q is not a smoothing: want none or 1/1 to 1/%d of an octave, such as 1/6", text, maxFraction)
	}
	return Smoothing{Fraction: n}, nil
}

// String says what was done, as it stands beside every smoothed level.
func (s Smoothing) String() string {
	if s.Fraction == 0 {
		return "none"
	}
	return fmt.Sprintf("1/%d octave, mean %s over log frequency", s.Fraction, map[Averaging]string{Power: "power", Complex: "complex pressure"}[s.By])
}

// errNoPhase is returned where complex smoothing meets a trace without phase.
var errNoPhase = errors.New("has no phase: complex smoothing needs frequency, dB and degree")

// Apply returns the trace's level in dB at the frequencies at in Hz, rising:
//
//	L(f) = 10·log10 of 1/(2w)·∫ P(e^x) dx,  x from ln f − w to ln f + w
//
// with w = ln 2/(2n) for 1/n octave and P the squared pressure, or the same mean
// of the complex pressure and 20·log10 of its magnitude. Every frequency weighs
// alike on a logarithmic axis. Between the points P is linear over ln f. Within
// half a band of the trace's ends the band shrinks about its centre so as not to
// reach beyond them. Without smoothing the level itself is linear over ln f.
// Outside the trace the level is NaN.
func (s Smoothing) Apply(t Trace, at []float64) ([]float64, error) {
	if s.Fraction == 0 {
		return resample(t, at), nil
	}
	m := running{x: make([]float64, len(t.Frequency)), v: make([]complex128, len(t.Frequency))}
	if s.By == Complex && t.Phase == nil {
		return nil, errNoPhase
	}
	for i, f := range t.Frequency {
		m.x[i] = math.Log(f)
		if s.By == Complex {
			m.v[i] = cmplx.Rect(numeric.FromDB(t.Level[i]), t.Phase[i])
		} else {
			m.v[i] = complex(math.Pow(10, t.Level[i]/10), 0)
		}
	}
	half := math.Ln2 / (2 * float64(s.Fraction))
	out := make([]float64, len(at))
	for i, f := range at {
		mean := m.mean(math.Log(f), half)
		out[i] = 10 * math.Log10(real(mean))
		if s.By == Complex {
			out[i] = numeric.DB(cmplx.Abs(mean))
		}
		if math.IsInf(out[i], 0) {
			out[i] = numeric.Absent // exact cancellation has no level
		}
	}
	return out, nil
}

// running takes means of a function that is linear between the points (x, v).
type running struct {
	x []float64
	v []complex128
}

// mean returns the mean over x ± half, the band shrunk to stay inside; NaN when
// x lies outside.
func (m *running) mean(x, half float64) complex128 {
	first, last := m.x[0], m.x[len(m.x)-1]
	const slack = 1e-12 // rounding of logarithms at the ends
	if x < first-slack || x > last+slack {
		return cmplx.NaN()
	}
	x = min(max(x, first), last)
	half = min(half, x-first, last-x)
	if half <= slack {
		return m.at(x)
	}
	low, high := x-half, x+half
	sum := complex128(0)
	at, value := low, m.at(low)
	for i := sort.SearchFloat64s(m.x, low); i < len(m.x) && m.x[i] < high; i++ {
		sum += complex((m.x[i]-at)/2, 0) * (value + m.v[i])
		at, value = m.x[i], m.v[i]
	}
	sum += complex((high-at)/2, 0) * (value + m.at(high))
	return sum / complex(2*half, 0)
}

// at interpolates.
func (m *running) at(x float64) complex128 {
	i, share := interval(m.x, x)
	return complex(1-share, 0)*m.v[i] + complex(share, 0)*m.v[i+1]
}

// interval returns i and share such that x = x_i + share·(x_{i+1} − x_i). xs
// must have two points or more.
func interval(xs []float64, x float64) (i int, share float64) {
	i, _ = slices.BinarySearch(xs, x)
	i = min(max(i-1, 0), len(xs)-2)
	return i, (x - xs[i]) / (xs[i+1] - xs[i])
}

// resample interpolates the level over the logarithm of frequency.
func resample(t Trace, at []float64) []float64 {
	out := make([]float64, len(at))
	low, high := t.Range()
	const slack = 1e-12
	for i, f := range at {
		if f < low*(1-slack) || f > high*(1+slack) {
			out[i] = numeric.Absent
			continue
		}
		f = min(max(f, low), high)
		k, _ := interval(t.Frequency, f)
		share := math.Log(f/t.Frequency[k]) / math.Log(t.Frequency[k+1]/t.Frequency[k])
		out[i] = (1-share)*t.Level[k] + share*t.Level[k+1]
	}
	return out
}
