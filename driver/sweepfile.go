package driver

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"unicode"

	"gapline/internal/quantity"
	"gapline/internal/texttable"
)

// ImpedanceSweep is a measured impedance against frequency.
type ImpedanceSweep struct {
	Frequency []float64 // Hz, ascending
	Magnitude []float64 // Ω
	Phase     []float64 // rad; nil when the measurement has none
}

// SweepError is a fault in the text of a sweep.
type SweepError = texttable.Error

// ErrNoData says that the text holds no line of numbers.
var ErrNoData = errors.New("no line with a frequency and an impedance")

// ReadImpedance reads an impedance sweep: lines of frequency in Hz, magnitude in
// ohm and, if all lines have it, phase in degree, in any of the forms that
// package texttable reads. Faults are a *SweepError with their line: other
// words, numbers that are not finite and positive, changing column counts, and
// frequencies that do not rise.
func ReadImpedance(r io.Reader) (ImpedanceSweep, error) {
	var p sweepParser
	table := texttable.Reader{Columns: "frequency, ohm and perhaps degree", Header: p.units, Row: p.point}
	if err := table.Read(r); err != nil {
		return ImpedanceSweep{}, err
	}
	if len(p.sweep.Frequency) == 0 {
		return ImpedanceSweep{}, ErrNoData
	}
	return p.sweep, nil
}

// sweepParser collects the points of one text.
type sweepParser struct{ sweep ImpedanceSweep }

// units refuses a header that names other units than hertz and degree.
func (p *sweepParser) units(s string) error {
	for _, word := range strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) }) {
		switch word {
		case "khz":
			return errors.New("the header says kHz: frequencies must be in Hz")
		case "rad", "radian", "radians":
			return errors.New("the header says rad: phases must be in degree")
		}
	}
	return nil
}

// point checks and stores one line of numbers.
func (p *sweepParser) point(v []float64) error {
	if err := p.check(v); err != nil {
		return err
	}
	p.sweep.Frequency = append(p.sweep.Frequency, v[0])
	p.sweep.Magnitude = append(p.sweep.Magnitude, v[1])
	if len(v) == 3 {
		p.sweep.Phase = append(p.sweep.Phase, v[2]*quantity.Degree)
	}
	return nil
}

func (p *sweepParser) check(v []float64) error {
	switch {
	case !(v[0] > 0):
		return fmt.Errorf("frequency %g: must be above zero", v[0])
	case !(v[1] > 0):
		return fmt.Errorf("impedance %g: the magnitude must be above zero", v[1])
	case len(v) == 3 && math.Abs(v[2]) > 360:
		return fmt.Errorf("phase %g: must lie within ±360 degree", v[2])
	}
	if f := p.sweep.Frequency; len(f) > 0 {
		last := f[len(f)-1]
		if v[0] == last {
			return fmt.Errorf("frequency %g appears twice", v[0])
		}
		if v[0] < last {
			return fmt.Errorf("frequency %g after %g: sort the sweep by rising frequency", v[0], last)
		}
	}
	return nil
}
