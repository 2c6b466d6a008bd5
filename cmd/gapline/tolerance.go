package main

import (
	"context"
	"errors"
	"fmt"

	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/study/space"

	"github.com/spf13/cobra"
)

// toleranceFlags are the flags of the tolerance command.
type toleranceFlags struct {
	vary    string
	samples int
	seed    int64
}

func newTolerance(a *app) *cobra.Command {
	var f toleranceFlags
	cmd := &cobra.Command{
		Use:     "tolerance FILE",
		GroupID: "ask",
		Short:   "Show the spread of every figure within the tolerances, and which one matters",
		Long: `Size many designs that are off by what the file's [tolerance] table allows: the
median and the 5 and 95 % points of every figure, the chance to meet each target,
and how far each tolerance by itself moves the gap.

  [tolerance]
  "cabinet.pitch"    = "2 mm"               # plus or minus, anything in between
  "horn.mouth_width" = { sigma = "1 mm" }   # normal, with this standard deviation
  "horn.coverage"    = "5 %"                # of the value
  "air.temperature"  = "10 degC"
  samples = 2000                            # how many designs; seed = 1 which ones

Any quantity of the design can have one. Keys under [follow] do not follow here: a
box that comes out too high does not change its horn. With --vary the gap is shown
against one lever with its band, and there the lever's links do act.

Designs that cannot exist are counted and miss every target. The chances come
with the 95 % interval that the number of samples leaves. Above 16384 samples the
memory grows no more: percentiles are then interpolated between 4096 cells, to
0.024 % of the samples.`,
		Example: `  gapline tolerance box.toml
  gapline tolerance box.toml -o ranking.png
  gapline tolerance box.toml --vary cabinet.pitch=240mm:300mm:5mm -o band.png
  gapline tolerance box.toml --samples 20000 --json`,
		Args:              args(cobra.ExactArgs(1), "one design file is needed"),
		ValidArgsFunction: completeDesignFiles,
		RunE: func(cmd *cobra.Command, given []string) error {
			return runTolerance(cmd.Context(), a, given[0], f)
		},
	}
	cmd.Flags().StringVar(&f.vary, "vary", "", "show the gap against `KEY=FROM:TO:STEP` with its band")
	cmd.Flags().IntVar(&f.samples, "samples", 0, "`N` designs to size, in place of the file's number")
	cmd.Flags().Int64Var(&f.seed, "seed", -1, "`SEED` of the sample, in place of the file's")
	_ = cmd.RegisterFlagCompletionFunc("vary", completeVary)
	return cmd
}

func runTolerance(ctx context.Context, a *app, name string, f toleranceFlags) error {
	file, err := a.load(ctx, name)
	if err != nil {
		return err
	}
	t, err := space.NewTolerance(&file.Project)
	if err != nil {
		return file.Locate(err)
	}
	if err := t.Override(f.samples, f.seed); err != nil {
		return usageError{err}
	}
	var grid *space.Grid
	if f.vary != "" {
		if grid, err = leverGrid(file, f.vary); err != nil {
			return usageError{err}
		}
	}
	found, lever, stopped := spreadOf(ctx, a, t, grid)
	if found == nil {
		return stopped
	}
	r := describe.Tolerance(t, found, lever)
	if err := a.print(r); err != nil {
		return err
	}
	if found.Impossible == found.Samples && stopped == nil {
		return fmt.Errorf("none of the %d designs can exist; the first: %s", found.Samples, found.First)
	}
	return errors.Join(stopped, a.picture(r))
}

// mostVaried bounds the values of --vary: each has a sample of its own.
const mostVaried = 2000

// leverGrid is the grid of --vary: one axis of numbers.
func leverGrid(file *designfile.File, text string) (*space.Grid, error) {
	axes, err := parseAxes([]string{text})
	if err != nil {
		return nil, err
	}
	if !drawable(axes) || axes[0].Len() > mostVaried {
		return nil, fmt.Errorf("--vary %s: 2 to %d numbers are needed", text, mostVaried)
	}
	return space.NewGrid(&file.Project, axes)
}

// spreadOf runs the study. When it is stopped it returns what was done with the reason;
// nil when that is nothing.
func spreadOf(ctx context.Context, a *app, t *space.Tolerance, grid *space.Grid) (*space.ToleranceResult, []space.LeverBand, error) {
	bar := a.newProgress("sized", t.Samples)
	found, err := t.Run(ctx, bar.at)
	bar.end()
	switch {
	case err != nil && found.Samples == 0:
		return nil, nil, err
	case err != nil:
		a.note("stopped after %d of %d designs; this is what they say", found.Samples, t.Samples)
		return found, nil, err
	case grid == nil:
		return found, nil, nil
	}
	bar = a.newProgress("values", grid.Len())
	defer bar.end()
	lever, err := t.Along(ctx, grid, bar.at)
	if err != nil {
		a.note("stopped after %d of %d values of the lever", len(lever), grid.Len())
	}
	return found, lever, err
}
