package measured

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"math"
	"math/cmplx"
	"slices"
	"strings"
	"unicode"

	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/texttable"
)

// errNoNumbers says that the text holds no line of numbers.
var errNoNumbers = errors.New("no line with a frequency and a level: want frequency, dB and perhaps degree")

// Bounds of what a response can hold; beyond them a file is something else.
const (
	maxLevel     = 400 // dB, either way
	maxFrequency = 1e6 // Hz
	maxPhase     = 1e7 // degree, unwrapped
)

// ReadText reads a response from a text table: lines of frequency in Hz, level
// in dB and, if all lines have it, phase in degree, in any of the forms that
// package texttable reads.
//
// What a file may do besides, each told in the trace's notes:
//   - frequencies in any order: the points are sorted;
//   - a frequency more than once: its points become one, their mean pressure
//     where there are phases and else their mean power;
//   - a line at 0 Hz, as of a Fourier transform: left out;
//   - "nan" or "-inf" in place of a value: the point is left out;
//   - more points than need be held: those that lie closest are joined as equal ones are;
//   - kHz or rad named in the line of words right above the numbers: converted.
//
// Faults are a *texttable.Error with their line.
func ReadText(r io.Reader) (Trace, error) {
	var p textParser
	p.table = texttable.Reader{Columns: "frequency, dB and perhaps degree", Missing: true, Header: p.header, Row: p.row}
	if err := p.table.Read(r); err != nil {
		return Trace{}, err
	}
	return p.finish()
}

// point is one line of a table, or several that were joined.
type point struct {
	f     float64 // Hz
	level float64 // dB
	phase float64 // rad; 0 where the table has none
	lines float64
}

// textParser collects the points of one text.
type textParser struct {
	table     texttable.Reader
	title     string // the last line of words before the numbers
	titleLine int
	points    []point
	hasPhase  bool
	zero      int // lines at 0 Hz
	missing   int // points without a value
	unsorted  bool
	kilohertz bool
	radian    bool
	cells     float64 // in an octave, to which lines were joined; 0: they were not
}

func (p *textParser) header(text string) error {
	p.title, p.titleLine = text, p.table.Line
	return nil
}

// units reads the units from the title line, which is known when the first row
// comes. A title that names hertz as well leaves the choice to the usual unit.
func (p *textParser) units() error {
	words := strings.FieldsFunc(strings.ToLower(p.title), func(r rune) bool { return !unicode.IsLetter(r) && r != '°' })
	has := func(any ...string) bool {
		return slices.ContainsFunc(any, func(w string) bool { return slices.Contains(words, w) })
	}
	if has("ohm", "ohms", "ω", "impedance") {
		return fmt.Errorf("line %d says that this is an impedance: want levels in dB", p.titleLine)
	}
	p.kilohertz = has("khz") && !has("hz")
	p.radian = has("rad", "radian", "radians") && !has("deg", "degree", "degrees", "°")
	return nil
}

// row checks and stores one line of numbers.
func (p *textParser) row(v []float64) error {
	if len(p.points)+p.zero+p.missing == 0 {
		p.hasPhase = len(v) == 3
		if err := p.units(); err != nil {
			return err
		}
	}
	f, phase, turn := v[0], 0.0, quantity.Degree
	if p.kilohertz {
		f *= 1000
	}
	if p.radian {
		turn = 1
	}
	if len(v) == 3 {
		phase = v[2]
	}
	if err := p.check(f, v[1], phase*(turn/quantity.Degree)); err != nil {
		return err
	}
	switch {
	case f == 0:
		p.zero++
	case math.IsNaN(v[1]) || math.IsNaN(phase):
		p.missing++
	default:
		if n := len(p.points); n > 0 && f < p.points[n-1].f {
			p.unsorted = true
		}
		p.points = append(p.points, point{f, v[1], phase * turn, 1})
		if len(p.points) >= mostPoints {
			p.thin()
		}
	}
	return nil
}

func (p *textParser) check(f, level, degree float64) error {
	switch {
	case f < 0:
		return fmt.Errorf("frequency %.6g: must not be below zero", f)
	case f > maxFrequency && p.kilohertz:
		return fmt.Errorf("frequency %.6g kHz, as line %d says kHz: take that word out if these are Hz", f/1000, p.titleLine)
	case f > maxFrequency:
		return fmt.Errorf("frequency %.6g Hz: too high for sound", f)
	case math.Abs(level) > maxLevel:
		return fmt.Errorf("level %.6g: not in dB? within ±%d dB is needed", level, maxLevel)
	case math.Abs(degree) > maxPhase:
		return fmt.Errorf("phase %.6g degree: too far from zero", degree)
	}
	return nil
}

func (p *textParser) sort() {
	slices.SortStableFunc(p.points, func(a, b point) int { return cmp.Compare(a.f, b.f) })
}

// mostPoints bounds the points that are held; a table with more is joined to finestCells
// in an octave, or to half as many as often as it takes: far finer than the 48 points an
// octave that traces are compared at.
const (
	mostPoints  = 1 << 17
	finestCells = 1024
)

// thin joins the points that lie in one cell.
func (p *textParser) thin() {
	p.sort()
	if p.cells == 0 {
		p.cells = finestCells
	}
	for ; ; p.cells /= 2 {
		cell := func(f float64) float64 { return math.Floor(p.cells * math.Log2(f)) }
		kept := p.points[:0]
		for i := 0; i < len(p.points); {
			j, at := i+1, cell(p.points[i].f)
			for j < len(p.points) && cell(p.points[j].f) == at {
				j++
			}
			one := p.points[i]
			if j > i+1 {
				one = meanPoint(p.points[i:j], p.hasPhase)
			}
			kept = append(kept, one)
			i = j
		}
		if p.points = kept; len(kept) <= mostPoints/2 {
			return
		}
	}
}

// finish sorts the points, joins equal frequencies and writes the notes.
func (p *textParser) finish() (Trace, error) {
	if len(p.points) == 0 && p.zero+p.missing == 0 {
		return Trace{}, errNoNumbers
	}
	p.sort()
	if p.cells > 0 {
		p.thin()
	}
	var t Trace
	joined := 0
	for i := 0; i < len(p.points); {
		j := i + 1
		for j < len(p.points) && p.points[j].f == p.points[i].f {
			j++
		}
		if j > i+1 {
			joined++
		}
		t.add(p.points[i:j], p.hasPhase)
		i = j
	}
	if len(t.Frequency) < 2 {
		return Trace{}, fmt.Errorf("too few points: %d usable, at least two at different frequencies are needed", len(t.Frequency))
	}
	t.Notes = p.notes(joined)
	return t, nil
}

// add appends one point made of all points at one frequency.
func (t *Trace) add(same []point, hasPhase bool) {
	mean := same[0]
	if len(same) > 1 {
		mean = meanPoint(same, hasPhase)
	}
	if math.IsInf(mean.level, 0) {
		return // points that cancel have no level
	}
	t.Frequency = append(t.Frequency, mean.f)
	t.Level = append(t.Level, mean.level)
	if hasPhase {
		t.Phase = append(t.Phase, mean.phase)
	}
}

// meanPoint is the mean pressure of points with phase, else their mean power, at their
// mean frequency; lines count alike.
func meanPoint(same []point, hasPhase bool) point {
	var pressure complex128
	power, f, lines := 0.0, 0.0, 0.0
	for _, x := range same {
		lines += x.lines
	}
	for _, x := range same {
		share := x.lines / lines
		pressure += complex(share, 0) * cmplx.Rect(numeric.FromDB(x.level), x.phase)
		power += share * math.Pow(10, x.level/10)
		f += share * x.f
	}
	if same[0].f == same[len(same)-1].f {
		f = same[0].f
	}
	const rounding = 1e-12 // of the pressures: less than that is an exact cancellation
	switch a := cmplx.Abs(pressure); {
	case !hasPhase:
		return point{f, 10 * math.Log10(power), 0, lines}
	case a < rounding*math.Sqrt(power):
		return point{f, math.Inf(-1), 0, lines}
	default:
		return point{f, numeric.DB(a), cmplx.Phase(pressure), lines}
	}
}

// notes tells what was done to the points.
func (p *textParser) notes(joined int) []string {
	var notes []string
	add := func(when bool, format string, args ...any) {
		if when {
			notes = append(notes, fmt.Sprintf(format, args...))
		}
	}
	add(p.kilohertz, "frequencies are in kHz, as line %d says", p.titleLine)
	add(p.radian && p.hasPhase, "phases are in rad, as line %d says", p.titleLine)
	add(p.unsorted, "sorted by frequency")
	add(p.cells > 0, "more than %d points: joined to %g in an octave", mostPoints, p.cells)
	kind := "power"
	if p.hasPhase {
		kind = "pressure"
	}
	add(joined > 0, "%s more than once: their mean %s is taken", count(joined, "frequency stands", "frequencies stand"), kind)
	add(p.zero > 0, "%s at 0 Hz left out", count(p.zero, "line", "lines"))
	add(p.missing > 0, "%s without a value left out", count(p.missing, "point", "points"))
	return notes
}

// count is "1 line" or "3 lines".
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
