package plots

import (
	"fmt"
	"math"
)

// ScaleKind says how an axis is divided.
type ScaleKind int

// The kinds of axis.
const (
	Linear ScaleKind = iota
	Logarithmic
	Frequency // logarithmic, in Hz, labelled 20 50 100 … 1k …
)

// Axis describes one axis of a chart.
type Axis struct {
	Label     string // the quantity
	Unit      string // its unit as written; may be empty
	Low, High float64
	// Low and High both zero: the range comes from the data, on a logarithmic
	// axis its upper three decades. A frequency axis then runs from 20 Hz to
	// 20 kHz.
	Kind ScaleKind
	Step float64 // between labels of a linear axis; zero: a round step that fits
}

// title is the axis title: the quantity and its unit.
func (a Axis) title() string {
	label, unit := clean(a.Label), clean(a.Unit)
	if label == "" && a.Kind == Frequency {
		label = "Frequency"
	}
	if unit == "" && a.Kind == Frequency {
		unit = "Hz"
	}
	if unit == "" {
		return label
	}
	if label == "" {
		return unit
	}
	return label + ", " + unit
}

// automatic says whether the range comes from the data.
func (a Axis) automatic() bool { return a.Low == 0 && a.High == 0 }

// scaleFor settles the range of an axis for data between low and high. Automatic
// linear ranges are widened to labelled ticks.
func (a Axis) scaleFor(low, high float64, ticks int) (scale, error) {
	s := scale{low: a.Low, high: a.High, log: a.Kind != Linear}
	if a.automatic() {
		s.low, s.high = automaticRange(a.Kind, low, high, ticks)
	}
	switch {
	case !finite(s.low) || !finite(s.high) || s.high <= s.low:
		return s, fmt.Errorf("axis %q from %g to %g: want low < high", a.title(), s.low, s.high)
	case s.log && s.low <= 0:
		return s, fmt.Errorf("logarithmic axis %q starts at %g: want a value above zero", a.title(), s.low)
	}
	return s, nil
}

func automaticRange(kind ScaleKind, low, high float64, ticks int) (float64, float64) {
	switch {
	case kind == Frequency:
		return 20, 20e3
	case kind == Logarithmic:
		// What lies more than three decades down is of no interest, and would
		// squeeze the rest.
		low, high = logFloor(math.Max(low, high/1e3)), logCeil(high)
		if low == high {
			high *= 2
		}
		return low, high
	case low == high:
		d := math.Max(math.Abs(low)*0.1, 1e-9)
		low, high = low-d, high+d
	}
	step, _ := niceStep((high - low) / float64(ticks))
	return math.Floor(low/step+1e-9) * step, math.Ceil(high/step-1e-9) * step
}

// logFloor is the largest 1, 2 or 5 times a power of ten not above v.
func logFloor(v float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(v)+1e-12))
	for _, m := range []float64{5, 2} {
		if v >= m*p*(1-1e-12) {
			return m * p
		}
	}
	return p
}

// logCeil is the smallest 1, 2 or 5 times a power of ten not below v.
func logCeil(v float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(v)+1e-12))
	for _, m := range []float64{1, 2, 5} {
		if v <= m*p*(1+1e-12) {
			return m * p
		}
	}
	return 10 * p
}

// ticks marks the axis; want is about how many labels fit.
func (a Axis) ticks(s scale, want int) []tick {
	switch a.Kind {
	case Frequency:
		return frequencyTicks(s.low, s.high)
	case Logarithmic:
		if s.high/s.low < 4 { // too short for 1, 2, 5: label like a linear axis
			return numberTicks(s.low, s.high, want)
		}
		return logTicks(s.low, s.high, plain)
	}
	if a.Step > 0 && (s.high-s.low)/a.Step < 100 {
		return fixedTicks(s.low, s.high, a.Step)
	}
	return numberTicks(s.low, s.high, want)
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
