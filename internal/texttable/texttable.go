// Package texttable reads measurements that other programs wrote as text:
// lines of two or three numbers, the first a frequency.
//
// Columns are separated by semicolons, tabs, commas or spaces; a field may
// stand in double quotes. Decimal commas are understood when semicolons, tabs,
// spaces or quotes separate. Empty lines, comment lines, lines of words before
// the first number, a byte-order mark and any kind of line end are tolerated.
// Everything else is an *Error with its line: what cannot be told apart is
// never guessed.
package texttable

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// Error is a fault in a text.
type Error struct {
	Line int // from 1
	Text string
}

func (e *Error) Error() string { return fmt.Sprintf("line %d: %s", e.Line, e.Text) }

// Limit bounds the size of a text.
const Limit = 64 << 20 // bytes

// Reader says what a text holds and takes its parts in the order of the lines.
// An error of Header or Row becomes an *Error with the line's number.
type Reader struct {
	Columns string // what the columns are, for messages: "frequency, dB and perhaps degree"
	Missing bool   // "nan" and "-inf" stand for a value that is not there, NaN
	Header  func(text string) error
	Row     func(v []float64) error // two or three numbers; the same count in all rows
	Line    int                     // the line being read, from 1

	columns int // of the first line of numbers
}

// Read reads the whole text, line by line: it holds one line at a time.
func (t *Reader) Read(r io.Reader) error {
	limited := &io.LimitedReader{R: r, N: Limit + 1}
	lines := bufio.NewScanner(limited)
	lines.Buffer(nil, longestLine)
	lines.Split(splitLines)
	t.columns, t.Line = 0, 0
	for lines.Scan() {
		t.Line++
		line := lines.Text()
		if t.Line == 1 {
			if strings.HasPrefix(line, "\xff\xfe") || strings.HasPrefix(line, "\xfe\xff") {
				return &Error{1, "this is UTF-16 text: save it as UTF-8"}
			}
			line = strings.TrimPrefix(line, "\xef\xbb\xbf")
		}
		if err := t.line(strings.TrimSpace(line)); err != nil {
			return &Error{t.Line, err.Error()}
		}
	}
	switch err := lines.Err(); {
	case errors.Is(err, bufio.ErrTooLong):
		return &Error{t.Line + 1, fmt.Sprintf("longer than %d characters: not a line of a table", longestLine)}
	case err != nil:
		return err
	case limited.N == 0:
		return fmt.Errorf("larger than %d MB: not a table of a measurement", Limit>>20)
	}
	return nil
}

// longestLine bounds a line, bytes.
const longestLine = 1 << 16

// splitLines is a bufio.SplitFunc for lines that end in \n, \r\n or \r.
func splitLines(data []byte, atEOF bool) (advance int, line []byte, err error) {
	i := bytes.IndexAny(data, "\r\n")
	switch {
	case i < 0 && !atEOF, i >= 0 && data[i] == '\r' && i+1 == len(data) && !atEOF:
		return 0, nil, nil // \n may follow
	case i < 0 && len(data) == 0:
		return 0, nil, nil
	case i < 0:
		return len(data), data, nil
	case data[i] == '\r' && i+1 < len(data) && data[i+1] == '\n':
		return i + 2, data[:i], nil
	}
	return i + 1, data[:i], nil
}

// commentStarts are the characters that begin a line to skip.
const commentStarts = "#*%;!'"

// line takes one trimmed line.
func (t *Reader) line(s string) error {
	if s == "" || strings.ContainsRune(commentStarts, rune(s[0])) || strings.HasPrefix(s, "//") {
		return t.header(s)
	}
	fields, err := split(s)
	if err != nil {
		return err
	}
	if quotedWord(fields[0]) || (t.columns == 0 && t.startsLikeWord(fields[0])) {
		return t.header(s)
	}
	return t.row(fields)
}

// header hands on a line of words that stands before the first numbers.
func (t *Reader) header(s string) error {
	if t.columns > 0 || s == "" || t.Header == nil {
		return nil
	}
	return t.Header(s)
}

// quotedWord tells a quoted remark from a quoted number.
func quotedWord(field string) bool {
	if !strings.HasPrefix(field, `"`) {
		return false
	}
	_, err := strconv.ParseFloat(strings.Trim(field, `"`), 64)
	return err != nil
}

// startsLikeWord tells a header from a broken number.
func (t *Reader) startsLikeWord(field string) bool {
	word := strings.ToLower(field)
	if word == "nan" || word == "inf" || word == "infinity" {
		return false
	}
	first := []rune(word + " ")[0]
	return unicode.IsLetter(first) || first == '(' || first == '[' || first == unicode.ReplacementChar
}

// row checks and hands on one line of numbers.
func (t *Reader) row(fields []string) error {
	n := len(fields)
	switch {
	case n < 2:
		return fmt.Errorf("one column: want %s", t.Columns)
	case n > 3:
		return fmt.Errorf("%d columns: want %s; with decimal commas, separate columns by semicolons, tabs or spaces", n, t.Columns)
	case t.columns != 0 && n != t.columns:
		return fmt.Errorf("%d columns where the first line of numbers has %d", n, t.columns)
	}
	var v [3]float64
	for i, f := range fields {
		x, err := t.number(strings.Trim(f, `"`), i)
		if err != nil {
			return err
		}
		v[i] = x
	}
	if err := t.Row(v[:n]); err != nil {
		return err
	}
	t.columns = n
	return nil
}

var errNotFinite = errors.New("must be a finite number")

// number reads a decimal number. A frequency, column 0, is never missing.
func (t *Reader) number(s string, column int) (float64, error) {
	s = strings.ReplaceAll(s, "−", "-")
	v, err := strconv.ParseFloat(s, 64)
	if (err != nil && !errors.Is(err, strconv.ErrRange)) || strings.ContainsAny(s, "xXpP_") {
		return 0, fmt.Errorf("%q is not a number", s)
	}
	switch {
	case !math.IsNaN(v) && !math.IsInf(v, 0):
		return v, nil
	case t.Missing && column > 0 && err == nil && !math.IsInf(v, 1):
		return math.NaN(), nil
	}
	return 0, fmt.Errorf("%q: %w", s, errNotFinite)
}
