package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"math"

	"gapline/cabinet"
	"gapline/internal/designfile"
	"gapline/internal/picture"
	"gapline/internal/screen"
	"gapline/internal/study"
	"gapline/plots"

	"github.com/spf13/cobra"
)

func newSweep(a *app) *cobra.Command {
	var vary, show []string
	cmd := &cobra.Command{
		Use:     "sweep FILE --vary KEY=FROM:TO:STEP",
		GroupID: "ask",
		Short:   "Vary one or two keys: table, gap curve or gap map",
		Long: `Vary one or two keys of the design and size every design in between. With one
--vary the picture shows the gap against it, a curve for each number of mouths;
with two, a map of the gap. Keys under [follow] move along; the dashed curve
leaves them where they are. Designs that cannot exist are reported and skipped.`,
		Example: `  gapline sweep box.toml --vary cabinet.pitch=160mm:320mm:5mm -o gap.png
  gapline sweep box.toml --vary horn.mouth_width=250:600:10mm --vary horn.coverage=60:120:5deg -o map.svg
  gapline sweep box.toml --vary insert.mouths=1,2,3 --csv
  gapline sweep box.toml --vary cabinet.pitch=200:300:10mm --show horn.flat_to_hz`,
		Args:              args(cobra.ExactArgs(1), "one design file is needed"),
		ValidArgsFunction: completeDesignFiles,
		RunE: func(cmd *cobra.Command, given []string) error {
			return runSweep(cmd.Context(), a, given[0], vary, show)
		},
	}
	cmd.Flags().StringArrayVar(&vary, "vary", nil, "`KEY=FROM:TO:STEP` or KEY=a,b,c (once or twice)")
	cmd.Flags().StringSliceVar(&show, "show", nil, "figures to add to the printed table")
	_ = cmd.RegisterFlagCompletionFunc("vary", completeVary)
	_ = cmd.RegisterFlagCompletionFunc("show", completeFigures)
	return cmd
}

func runSweep(ctx context.Context, a *app, name string, vary, show []string) error {
	axes, err := parseAxes(vary)
	if err != nil {
		return usageError{err}
	}
	figures, err := sweepFigures(show)
	if err != nil {
		return usageError{err}
	}
	file, err := a.load(name)
	if err != nil {
		return err
	}
	grid, err := study.NewGrid(file, axes)
	if err != nil {
		return usageError{err}
	}
	if len(a.outputs) > 0 && !drawable(axes) {
		return usageError{errors.New("a picture needs numbers to vary: leave out -o, or vary quantities")}
	}
	if err := printSweep(ctx, a, grid, figures); err != nil {
		return err
	}
	if len(a.outputs) == 0 {
		return nil
	}
	return drawSweep(ctx, a, grid)
}

func parseAxes(vary []string) ([]study.Axis, error) {
	if len(vary) < 1 || len(vary) > 2 {
		return nil, fmt.Errorf("%d --vary given: one or two are needed, such as --vary cabinet.pitch=160mm:320mm:5mm", len(vary))
	}
	var axes []study.Axis
	for _, text := range vary {
		axis, err := study.ParseAxis(text)
		if err != nil {
			return nil, fmt.Errorf("--vary: %w", err)
		}
		axes = append(axes, axis)
	}
	return axes, nil
}

// sweepFigures are the columns of the printed table.
func sweepFigures(show []string) ([]*cabinet.Figure, error) {
	var out []*cabinet.Figure
	for _, key := range append([]string{"gap.open_oct", "gap.insert_oct", "gap.low_hz", "gap.high_hz"}, show...) {
		f := cabinet.FindFigure(key)
		if f == nil {
			return nil, fmt.Errorf("--show: %q is not a figure; gapline explain lists them", key)
		}
		out = append(out, f)
	}
	return out, nil
}

func drawable(axes []study.Axis) bool {
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

func printSweep(ctx context.Context, a *app, grid *study.Grid, figures []*cabinet.Figure) error {
	out := bufio.NewWriter(a.out)
	var rows screen.RowWriter = &screen.TextRows{W: out, Axes: grid.Axes, Figures: figures, System: a.system()}
	switch {
	case a.json:
		rows = &screen.JSONRows{W: out, Axes: grid.Axes}
	case a.csv:
		rows = &screen.CSVRows{W: out, Axes: grid.Axes}
	}
	skipped := skipReport{axes: grid}
	bar := a.newProgress("sized", grid.Len())
	defer bar.end()
	if err := rows.Begin(); err != nil {
		return err
	}
	err := grid.Each(ctx, func(r study.Row) error {
		bar.at(r.Index)
		values := grid.At(r.Index)
		if r.Err != nil {
			skipped.add(values, r.Err)
			return rows.Skip(values, r.Err)
		}
		return rows.Row(values, &r.Sizing)
	})
	if err != nil {
		return errors.Join(err, out.Flush())
	}
	if err := errors.Join(rows.End(), out.Flush()); err != nil {
		return err
	}
	bar.end()
	return skipped.report(a)
}

// skipReport counts the designs that cannot exist.
type skipReport struct {
	axes  *study.Grid
	count int
	first string
}

func (s *skipReport) add(values []designfile.Value, why error) {
	if s.count++; s.count > 1 {
		return
	}
	for _, v := range values {
		s.first += v.Key.Path + " = " + v.Show(0) + ": "
	}
	s.first += why.Error()
}

// report says how many were skipped and why the first one was. A sweep in which
// nothing can exist has failed.
func (s *skipReport) report(a *app) error {
	switch {
	case s.count == 0:
		return nil
	case s.count == s.axes.Len():
		return fmt.Errorf("none of the %d designs can exist; the first: %s", s.count, s.first)
	}
	a.note("skipped %d of %d designs that cannot exist; the first: %s", s.count, s.axes.Len(), s.first)
	return nil
}

func drawSweep(ctx context.Context, a *app, grid *study.Grid) error {
	design := &grid.Base.Design
	present := picture.Sized{Design: design, Sizing: cabinet.Size(design)}
	if len(grid.Axes) == 2 {
		gap, err := grid.Gaps(ctx)
		if err != nil {
			return err
		}
		return a.draw(func() plots.Figure { return picture.GapMap(grid.Axes, gap, present, a.system()) })
	}
	curves, err := grid.MouthCurves(ctx)
	if err != nil {
		return err
	}
	return a.draw(func() plots.Figure { return picture.LeverChart(grid.Axes[0], curves, present, a.system()) })
}

func completeFigures(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	var out []string
	for i := range cabinet.Figures {
		out = append(out, cabinet.Figures[i].Key)
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}
