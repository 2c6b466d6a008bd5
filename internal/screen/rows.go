package screen

import (
	"bufio"
	"fmt"
	"strings"

	"gapline/internal/part"
	"gapline/internal/schema"
	"gapline/internal/study/space"
)

// RowWriter takes the rows of a grid one by one, so that memory stays flat.
type RowWriter interface {
	Begin() error
	Row(line []byte) error // as RowFormat.Row made it
	Skip(values []schema.Value, why error) error
	End() error
}

// maxSkipped bounds the skipped designs that are listed; the rest are counted.
const maxSkipped = 1000

// Joiner writes lines of a format the way they stand in one output.
type Joiner struct {
	W       *bufio.Writer
	Format  string
	rows    int
	skipped [][]byte
	more    int
}

// between is what stands before a row.
func (j *Joiner) between() string {
	if j.Format == JSONFormat && j.rows > 0 {
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

// Skipped takes a line about a design that cannot exist.
func (j *Joiner) Skipped(line []byte) {
	switch {
	case line == nil:
	case len(j.skipped) == maxSkipped:
		j.more++
	default:
		j.skipped = append(j.skipped, line)
	}
}

// SkippedMore counts designs that cannot exist and have no line.
func (j *Joiner) SkippedMore(n int) { j.more += n }

// End writes what stands behind the rows, and flushes.
func (j *Joiner) End() error {
	if j.Format != JSONFormat {
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

// WholeRows writes the rows of a whole grid.
type WholeRows struct {
	Format RowFormat
	Joiner
}

// Begin writes the head.
func (r *WholeRows) Begin() error { return r.Format.Head(r.W) }

// Row writes one design.
func (r *WholeRows) Row(line []byte) error {
	if err := r.NextRow(); err != nil {
		return err
	}
	_, err := r.W.Write(line)
	return err
}

// Skip notes a design that cannot exist.
func (r *WholeRows) Skip(values []schema.Value, why error) error {
	r.Skipped(r.Format.Skipped(values, why))
	return nil
}

// PartRows writes the rows of a slice of a grid as a part file.
type PartRows struct {
	Format RowFormat
	W      *part.Writer
	Foot   part.Foot
	listed int
}

// The letters of the lines of a sweep's part file.
const (
	headLine    = 'H'
	rowLine     = 'R'
	skippedLine = 'S'
)

// Begin writes the head.
func (r *PartRows) Begin() error {
	var head strings.Builder
	w := bufio.NewWriter(&head)
	if err := r.Format.Head(w); err != nil {
		return err
	}
	if err := w.Flush(); err != nil {
		return err
	}
	return r.W.Line(headLine, []byte(head.String()))
}

// Row writes one design.
func (r *PartRows) Row(line []byte) error { return r.W.Line(rowLine, line) }

// Skip notes a design that cannot exist.
func (r *PartRows) Skip(values []schema.Value, why error) error {
	if r.Foot.Skipped++; r.Foot.Skipped == 1 {
		r.Foot.First = space.Why(values, why)
	}
	line := r.Format.Skipped(values, why)
	if line == nil || r.listed == maxSkipped {
		return nil
	}
	r.listed++
	return r.W.Line(skippedLine, line)
}

// End writes the foot.
func (r *PartRows) End() error { return r.W.End(r.Foot) }
