package rows

import (
	"bufio"
	"fmt"
	"strings"

	"gapline/internal/part"
)

// Writer takes rows one by one, so that memory stays flat.
type Writer interface {
	Begin(axes []Axis) error
	Row(line []byte) error // as Layout.Row made it
	// Skip takes a line about a row that cannot be, as Layout.Skipped made it, and why
	// in words that name the row.
	Skip(line []byte, why string) error
	End() error
}

// maxSkipped bounds the skipped rows that are listed; the rest are counted.
const maxSkipped = 1000

// Joiner writes lines of a format the way they stand in one output.
type Joiner struct {
	W       *bufio.Writer
	Format  Format
	rows    int
	skipped [][]byte
	more    int
}

// between is what stands before a row.
func (j *Joiner) between() string {
	if j.Format == JSON && j.rows > 0 {
		return ",\n"
	}
	return "\n"
}

// NextRow writes what stands before the next row, which the caller writes.
func (j *Joiner) NextRow() error {
	_, err := j.W.WriteString(j.between())
	j.rows++
	return err
}

// Skipped takes a line about a row that cannot be.
func (j *Joiner) Skipped(line []byte) {
	switch {
	case line == nil:
	case len(j.skipped) == maxSkipped:
		j.more++
	default:
		j.skipped = append(j.skipped, line)
	}
}

// SkippedMore counts rows that cannot be and have no line.
func (j *Joiner) SkippedMore(n int) { j.more += n }

// End writes what stands behind the rows, and flushes.
func (j *Joiner) End() error {
	if j.Format != JSON {
		j.W.WriteByte('\n')
		return j.W.Flush()
	}
	j.W.WriteString("],\n\"skipped\":[")
	for i, line := range j.skipped {
		if i > 0 {
			j.W.WriteByte(',')
		}
		j.W.Write(line)
	}
	fmt.Fprintf(j.W, "],\"skipped_not_listed\":%d}\n", j.more)
	return j.W.Flush() // a bufio.Writer keeps its first error
}

// Whole writes a whole table.
type Whole struct {
	Layout *Layout
	Joiner
}

// NewWhole returns the writer of a whole table.
func NewWhole(w *bufio.Writer, l *Layout) *Whole { return &Whole{l, Joiner{W: w, Format: l.Format}} }

// Begin writes the head.
func (r *Whole) Begin(axes []Axis) error { return r.Layout.Head(r.W, axes) }

// Row writes one row.
func (r *Whole) Row(line []byte) error {
	if err := r.NextRow(); err != nil {
		return err
	}
	_, err := r.W.Write(line)
	return err
}

// Skip notes a row that cannot be.
func (r *Whole) Skip(line []byte, _ string) error {
	r.Skipped(line)
	return nil
}

// Part writes a slice of a table as a part file.
type Part struct {
	Layout *Layout
	W      *part.Writer
	Foot   part.Foot
	listed int
}

// The letters of the lines of a part file of rows.
const (
	headLine    = 'H'
	rowLine     = 'R'
	skippedLine = 'S'
)

// Begin writes the head.
func (r *Part) Begin(axes []Axis) error {
	var head strings.Builder
	w := bufio.NewWriter(&head)
	if err := r.Layout.Head(w, axes); err != nil {
		return err
	}
	if err := w.Flush(); err != nil {
		return err
	}
	return r.W.Line(headLine, []byte(head.String()))
}

// Row writes one row.
func (r *Part) Row(line []byte) error { return r.W.Line(rowLine, line) }

// Skip notes a row that cannot be.
func (r *Part) Skip(line []byte, why string) error {
	if r.Foot.Skipped++; r.Foot.Skipped == 1 {
		r.Foot.First = why
	}
	if line == nil || r.listed == maxSkipped {
		return nil
	}
	r.listed++
	return r.W.Line(skippedLine, line)
}

// End writes the foot.
func (r *Part) End() error { return r.W.End(r.Foot) }
