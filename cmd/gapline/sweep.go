package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"sync"

	"gapline/cabinet/sizing"
	"gapline/internal/advice"
	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/figure"
	"gapline/internal/part"
	"gapline/internal/render/rows"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
	"gapline/internal/schema"
	"gapline/internal/study/size"
	"gapline/internal/study/space"

	"github.com/spf13/cobra"
)

// sweepFlags are the flags of the sweep command.
type sweepFlags struct {
	vary, show []string
	part       string
}

func newSweep(a *app) *cobra.Command {
	var f sweepFlags
	cmd := &cobra.Command{
		Use:     "sweep FILE --vary KEY=FROM:TO:STEP",
		GroupID: "ask",
		Short:   "Vary one or two keys: table, gap curve or gap map",
		Long: `Vary one or two keys of the design and size every design in between. With one
--vary the picture shows the gap against it, a curve for each number of mouths;
with two, a map of the gap. Keys under [follow] move along; the dashed curve
leaves them where they are. Designs that cannot exist are reported and skipped.

--show adds figures to the printed table, and keys of the design, so that linked ones are
seen to move; JSON and CSV hold every figure, and the keys that are shown. Where line.boxes
varies, lists of one entry for each box keep those of the top boxes: a shorter line drops
the lowest, a longer one repeats the last.

The columns of --csv name their units. The rows of --json hold the varied keys
under their plain names in SI, so angles in rad; figures name their units.

--part K/N writes one slice of the table as a part file, for gapline merge, which
joins all N to what one run would have written. See gapline help merge for a
batch scheduler's array job.`,
		Example: `  gapline sweep box.toml --vary cabinet.pitch=160mm:320mm:5mm -o gap.png
  gapline sweep box.toml --vary horn.mouth_width=250:600:10mm --vary horn.coverage=60:120:5deg -o map.svg
  gapline sweep box.toml --vary insert.mouths=1,2,3 --csv
  gapline sweep box.toml --vary cabinet.pitch=200:300:10mm --show horn.flat_to_hz
  gapline sweep box.toml --vary cabinet.pitch=250:310:20mm --show horn.mouth_width,horn.mouth_height
  gapline sweep box.toml --vary cabinet.pitch=200:300:0.1mm --csv --part 3/8 > part-3`,
		Args:              args(cobra.ExactArgs(1), "one design file is needed"),
		ValidArgsFunction: completeDesignFiles,
		RunE: func(cmd *cobra.Command, given []string) error {
			return runSweep(cmd.Context(), a, given[0], f)
		},
	}
	cmd.Flags().StringArrayVar(&f.vary, "vary", nil, "`KEY=FROM:TO:STEP` or KEY=a,b,c (once or twice)")
	cmd.Flags().StringSliceVar(&f.show, "show", nil, "`FIGURES` or keys to add to the table, such as horn.flat_to_hz,horn.mouth_width")
	cmd.Flags().StringVar(&f.part, "part", "", "write slice `K/N` of the table as a part file")
	_ = cmd.RegisterFlagCompletionFunc("vary", completeVary)
	_ = cmd.RegisterFlagCompletionFunc("show", completeShown)
	return cmd
}

func runSweep(ctx context.Context, a *app, name string, f sweepFlags) error {
	axes, err := parseAxes(f.vary)
	if err != nil {
		return usageError{err}
	}
	shown, err := sweepShown(f.show)
	if err != nil {
		return usageError{err}
	}
	slice, err := a.parsePart(f.part)
	if err != nil {
		return usageError{err}
	}
	file, err := a.load(ctx, name)
	if err != nil {
		return err
	}
	grid, err := space.NewGrid(&file.Project, axes)
	if err != nil {
		return usageError{err}
	}
	if len(a.outputs) > 0 && !drawable(axes) {
		return usageError{errors.New("a picture needs numbers to vary: leave out -o, or vary quantities")}
	}
	place, format := a.rowForm()
	s := sweep{app: a, grid: grid, part: slice, rows: describe.NewSweep(place, axes, shown)}
	s.layout = rows.New(format, a.system(), s.rows.Columns())
	s.scratch.New = func() any { return &scratch{setter: s.layout.NewSetter()} }
	a.noteRefits(file, grid)
	s.run = runID(file, string(format), a.units, f.vary, f.show)
	if err := s.print(ctx); err != nil {
		return err
	}
	if len(a.outputs) == 0 {
		return nil
	}
	return drawSweep(ctx, a, grid)
}

// parsePart reads --part; nil without it. A part is text for gapline merge,
// which alone can draw.
func (a *app) parsePart(text string) (*part.Part, error) {
	if text == "" {
		return nil, nil
	}
	if len(a.outputs) > 0 {
		return nil, errors.New("--part and -o exclude each other: a picture shows the whole")
	}
	p, err := part.Parse(text)
	if err != nil {
		return nil, fmt.Errorf("--part %w", err)
	}
	return &p, nil
}

// noteRefits tells which lists follow the number of boxes in a table of rows, which has no
// room for it.
func (a *app) noteRefits(file *designfile.File, grid *space.Grid) {
	for _, f := range advice.Refits(file.Refits) {
		a.note("%s", terminal.Text(f.Text, a.system()))
	}
	for _, k := range grid.Refitted() {
		a.note("%s follows line.boxes: %s", k.Path, schema.RefitRule)
	}
}

// rowForm is what the flags ask for: the place where rows are shown and their format.
func (a *app) rowForm() (result.Place, rows.Format) {
	switch {
	case a.json:
		return result.Data, rows.JSON
	case a.csv:
		return result.Listing, rows.CSV
	}
	return result.Screen, rows.Text
}

func parseAxes(vary []string) ([]space.Axis, error) {
	if len(vary) < 1 || len(vary) > 2 {
		return nil, fmt.Errorf("%d --vary given: one or two are needed, such as --vary cabinet.pitch=160mm:320mm:5mm", len(vary))
	}
	var axes []space.Axis
	for _, text := range vary {
		axis, err := space.ParseAxis(text)
		if err != nil {
			return nil, fmt.Errorf("--vary: %w", err)
		}
		axes = append(axes, axis)
	}
	return axes, nil
}

// sweepShown are the figures and keys of the printed table.
func sweepShown(show []string) ([]schema.Measure, error) {
	var out []schema.Measure
	for _, f := range []*figure.Def{figure.GapOpen, figure.GapInsert, figure.GapLow, figure.GapHigh} {
		out = append(out, schema.Measure{Figure: f})
	}
	for _, name := range show {
		m, err := schema.FindColumn(strings.TrimSpace(name))
		if err != nil {
			return nil, fmt.Errorf("--show: %w", err)
		}
		out = append(out, m)
	}
	return out, nil
}

func drawable(axes []space.Axis) bool {
	for _, x := range axes {
		if !x.Key.Numeric() || x.Len() < 2 {
			return false
		}
		for i := range x.Len() {
			if math.IsInf(x.At(i).Number, 0) {
				return false
			}
		}
	}
	return true
}

// sweep is one run over a grid, or over a slice of it.
type sweep struct {
	app     *app
	grid    *space.Grid
	rows    *describe.Sweep
	layout  *rows.Layout
	part    *part.Part // nil: the whole grid
	run     string
	scratch sync.Pool // of *scratch
}

// scratch is what one goroutine sets rows with.
type scratch struct {
	setter *rows.Setter
	cells  []result.Cell
	text   []byte
}

// writer returns where the rows go, and the range of designs.
func (s *sweep) writer() (out rows.Writer, lo, hi int, err error) {
	if s.part == nil {
		return rows.NewWhole(bufio.NewWriterSize(s.app.out, 1<<16), s.layout), 0, s.grid.Len(), nil
	}
	lo, hi = s.part.Range(s.grid.Len())
	w, err := part.NewWriter(s.app.out, part.Head{
		Command: "sweep", Part: *s.part, Format: string(s.layout.Format), Designs: s.grid.Len(), Run: s.run})
	return &rows.Part{Layout: s.layout, W: w}, lo, hi, err
}

// sweptLine is a design as the output holds it.
type sweptLine struct {
	index int
	text  []byte
	err   error // why it cannot exist
}

// line formats one design; it runs on all cores.
func (s *sweep) line(p *space.Point) sweptLine {
	if p.Err != nil {
		return sweptLine{index: p.Index, err: p.Err}
	}
	room := s.scratch.Get().(*scratch)
	defer s.scratch.Put(room)
	sized := p.Size()
	room.cells = s.rows.Row(room.cells[:0], p.Values, p.Fits(), &p.Design, &sized)
	room.text = room.setter.Row(room.text[:0], room.cells)
	return sweptLine{index: p.Index, text: bytes.Clone(room.text)}
}

// print writes the rows. When it is stopped, the output ends properly after the
// rows that were done; a part stays incomplete.
func (s *sweep) print(ctx context.Context) error {
	out, lo, hi, err := s.writer()
	if err != nil {
		return err
	}
	skipped := skipReport{total: hi - lo, part: s.part != nil}
	bar := s.app.newProgress("sized", hi-lo)
	defer bar.end()
	if err := out.Begin(s.axes()); err != nil {
		return err
	}
	done := 0
	err = space.Each(ctx, &s.grid.Space, s.grid.Values, lo, hi, s.line, func(l sweptLine) error {
		done++
		bar.at(done)
		if l.err != nil {
			values := s.grid.At(l.index)
			why := space.Why(values, l.err)
			skipped.add(why)
			return out.Skip(s.layout.Skipped(s.rows.Varied(nil, values), l.err.Error()), why)
		}
		return out.Row(l.text)
	})
	bar.end()
	switch {
	case err != nil && ctx.Err() == nil:
		return err
	case err != nil && s.part != nil:
		return err // without its foot the part is incomplete
	case err != nil: // the rows that were done are shown
		return errors.Join(err, out.End())
	}
	if err := out.End(); err != nil {
		return err
	}
	return skipped.report(s.app)
}

// axes are the varied keys with their values.
func (s *sweep) axes() []rows.Axis {
	var out []rows.Axis
	for _, a := range s.grid.Axes {
		out = append(out, rows.Axis{Key: a.Key.Path, Values: s.rows.Values(a)})
	}
	return out
}

// skipReport counts the designs that cannot exist.
type skipReport struct {
	total int
	part  bool // a slice in which nothing can exist is no failure
	count int
	first string
}

func (s *skipReport) add(why string) {
	if s.count++; s.count == 1 {
		s.first = why
	}
}

// report says how many were skipped and why the first one was. A sweep in which
// nothing can exist has failed.
func (s *skipReport) report(a *app) error {
	switch {
	case s.count == 0:
		return nil
	case s.count == s.total && !s.part:
		return fmt.Errorf("none of the %d designs can exist; the first: %s", s.count, s.first)
	}
	a.note("skipped %d of %d designs that cannot exist; the first: %s", s.count, s.total, s.first)
	return nil
}

func drawSweep(ctx context.Context, a *app, grid *space.Grid) error {
	design := grid.Base
	sized := sizing.Size(design)
	if len(grid.Axes) == 2 {
		gap, fits, err := grid.Gaps(ctx)
		if err != nil {
			return err
		}
		return a.picture(describe.GapMap(grid.Axes, gap, fits, design, &sized))
	}
	curves, err := grid.MouthCurves(ctx)
	if err != nil {
		return err
	}
	return a.picture(describe.LeverChart(grid.Axes[0], curves, design, &sized))
}

// completeShown completes the last of several figures and keys.
func completeShown(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
	var out []string
	for i := range schema.Keys {
		out = append(out, schema.Keys[i].Path)
	}
	for _, f := range size.Table {
		out = append(out, f.Key)
	}
	return startingWith(typed, out), cobra.ShellCompDirectiveNoFileComp
}
