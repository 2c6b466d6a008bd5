package driver

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// ImpedanceSweep is a measured impedance against frequency.
type ImpedanceSweep struct {
	Frequency []float64 // Hz, ascending
	Magnitude []float64 // Ω
	Phase     []float64 // rad; nil when the measurement has none
}

// SweepError is a fault in the text of a sweep.
type SweepError struct {
	Line int // from 1
	Text string
}

func (e *SweepError) Error() string { return fmt.Sprintf("line %d: %s", e.Line, e.Text) }

// ErrNoData says that the text holds no line of numbers.
var ErrNoData = errors.New("no line with a frequency and an impedance")

// sweepLimit bounds the size of a sweep's text.
const sweepLimit = 16 << 20 // bytes

// ReadImpedance reads an impedance sweep: lines of frequency in Hz, magnitude in
// ohm and, if all lines have it, phase in degree.
//
// Columns are separated by semicolons, tabs, commas or spaces. Decimal commas
// are understood when semicolons, tabs or spaces separate. Empty lines, lines
// that start with # * % ; ! " ' or //, lines of words before the first number,
// a byte-order mark, and any kind of line end are tolerated. Everything else is
// a *SweepError with its line: other words, numbers that are not finite and
// positive, changing column counts, and frequencies that do not rise.
func ReadImpedance(r io.Reader) (ImpedanceSweep, error) {
	text, err := io.ReadAll(io.LimitReader(r, sweepLimit+1))
	if err != nil {
		return ImpedanceSweep{}, err
	}
	if len(text) > sweepLimit {
		return ImpedanceSweep{}, fmt.Errorf("larger than %d MB: not an impedance sweep", sweepLimit>>20)
	}
	if bytes.HasPrefix(text, []byte("\xff\xfe")) || bytes.HasPrefix(text, []byte("\xfe\xff")) {
		return ImpedanceSweep{}, &SweepError{1, "this is UTF-16 text: save it as UTF-8"}
	}
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	lines := strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(string(text))
	var p sweepParser
	for i, line := range strings.Split(lines, "\n") {
		if err := p.line(strings.TrimSpace(line)); err != nil {
			return ImpedanceSweep{}, &SweepError{i + 1, err.Error()}
		}
	}
	if len(p.sweep.Frequency) == 0 {
		return ImpedanceSweep{}, ErrNoData
	}
	return p.sweep, nil
}

// sweepParser collects the points of one text.
type sweepParser struct {
	sweep   ImpedanceSweep
	columns int // of the first line of numbers
}

// commentStarts are the characters that begin a line to skip.
const commentStarts = "#*%;!\"'"

// line takes one trimmed line.
func (p *sweepParser) line(s string) error {
	if s == "" || strings.ContainsRune(commentStarts, rune(s[0])) || strings.HasPrefix(s, "//") {
		return p.units(s)
	}
	fields, err := splitColumns(s)
	if err != nil {
		return err
	}
	if _, err := parseNumber(fields[0]); err != nil && p.columns == 0 && startsLikeWord(fields[0]) {
		return p.units(s)
	}
	return p.point(fields)
}

// startsLikeWord tells a header from a broken number.
func startsLikeWord(s string) bool {
	word := strings.ToLower(s)
	if word == "nan" || strings.HasPrefix(word, "inf") {
		return false
	}
	first := []rune(s + " ")[0]
	return unicode.IsLetter(first) || first == '(' || first == '['
}

// units refuses a header that names other units than hertz and degree.
func (p *sweepParser) units(s string) error {
	if p.columns > 0 {
		return nil
	}
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
func (p *sweepParser) point(fields []string) error {
	n := len(fields)
	switch {
	case n < 2:
		return fmt.Errorf("one column: want frequency, ohm and perhaps degree")
	case n > 3:
		return fmt.Errorf("%d columns: want 2 or 3; with decimal commas, separate columns by semicolons, tabs or spaces", n)
	case p.columns != 0 && n != p.columns:
		return fmt.Errorf("%d columns where the first line of numbers has %d", n, p.columns)
	}
	var v [3]float64
	for i, f := range fields {
		x, err := parseNumber(f)
		if err != nil {
			return err
		}
		v[i] = x
	}
	if err := p.check(v); err != nil {
		return err
	}
	p.columns = n
	p.sweep.Frequency = append(p.sweep.Frequency, v[0])
	p.sweep.Magnitude = append(p.sweep.Magnitude, v[1])
	if n == 3 {
		p.sweep.Phase = append(p.sweep.Phase, v[2]*math.Pi/180)
	}
	return nil
}

func (p *sweepParser) check(v [3]float64) error {
	switch {
	case !(v[0] > 0):
		return fmt.Errorf("frequency %g: must be above zero", v[0])
	case !(v[1] > 0):
		return fmt.Errorf("impedance %g: the magnitude must be above zero", v[1])
	case math.Abs(v[2]) > 360:
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

// splitColumns splits a line of numbers and turns decimal commas into points.
func splitColumns(s string) ([]string, error) {
	for _, separator := range []string{";", "\t"} {
		if strings.Contains(s, separator) {
			return decimalPoints(trimFields(strings.Split(s, separator))), nil
		}
	}
	if !strings.Contains(s, ",") {
		return strings.Fields(s), nil
	}
	beside, inside := commaPositions(s)
	switch words := strings.Fields(s); {
	case strings.Contains(s, ".") || len(words) == 1 || (beside > 0 && inside == 0):
		return trimFields(strings.Split(s, ",")), nil
	case beside == 0:
		return decimalPoints(words), nil
	}
	return nil, errors.New("some commas stand between digits and some beside spaces: separate columns by semicolons or tabs")
}

// commaPositions counts the commas that touch a space and those that do not.
func commaPositions(s string) (beside, inside int) {
	for i, r := range s {
		if r != ',' {
			continue
		}
		if (i > 0 && s[i-1] == ' ') || (i+1 < len(s) && s[i+1] == ' ') {
			beside++
		} else {
			inside++
		}
	}
	return beside, inside
}

// trimFields trims every field and drops one empty field at the end, the mark
// of a trailing separator.
func trimFields(fields []string) []string {
	for i := range fields {
		fields[i] = strings.TrimSpace(fields[i])
	}
	if n := len(fields); n > 1 && fields[n-1] == "" {
		fields = fields[:n-1]
	}
	return fields
}

// decimalPoints replaces a lone comma in each field by a point.
func decimalPoints(fields []string) []string {
	for i, f := range fields {
		if strings.Count(f, ",") == 1 && !strings.Contains(f, ".") {
			fields[i] = strings.Replace(f, ",", ".", 1)
		}
	}
	return fields
}

// parseNumber reads a finite number.
func parseNumber(s string) (float64, error) {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return 0, fmt.Errorf("%q is not a number", s)
	}
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, fmt.Errorf("%q: must be a finite number", s)
	}
	return v, nil
}
