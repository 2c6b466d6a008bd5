package main

import (
	"context"
	"errors"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/advice"
	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/numeric"
	"gapline/internal/study/stored"

	"github.com/spf13/cobra"
)

func newSize(a *app) *cobra.Command {
	var f sizeFlags
	cmd := &cobra.Command{
		Use:     "size [FILE]",
		GroupID: "design",
		Short:   "Compute coupling limits, horn control, the gap and what would close it",
		Long: `Compute how far the woofers couple, how low the horn holds its pattern, how wide
the crossover gap is, what an insert does to it, and what would close it. Without
FILE it sizes the built-in starter. Every change that would close it says what gap
it leaves at each level of trust; by wave only where a run of the changed design is
stored, which --solve sees to. The screen is short; --all adds the rows and
notes that it leaves out, and --json and --csv hold every figure.

Every figure comes with its level of trust: rule (the trade's one-line estimate),
aperture (closed form or aperture integral), wave (stored by gapline wave),
geometry (arithmetic on the file).
gapline explain KEY tells what stands behind a figure.`,
		Example: `  gapline size
  gapline size box.toml -o strip.png
  gapline size box.toml --set cabinet.pitch=230mm --units inch
  gapline size box.toml --all
  gapline size box.toml --json
  gapline size box.toml --solve
  gapline size box.toml --strict || echo "a target is not met"`,
		Args:              args(cobra.MaximumNArgs(1), "one design file at most"),
		ValidArgsFunction: completeDesignFiles,
		RunE: func(cmd *cobra.Command, given []string) error {
			return runSize(cmd.Context(), a, given, f)
		},
	}
	cmd.Flags().BoolVar(&f.all, "all", false, "print every row and every note")
	cmd.Flags().BoolVar(&f.strict, "strict", false, "exit with 3 when a target is not met; names the stored wave run that it goes by")
	cmd.Flags().BoolVar(&f.solve, "solve", false, "solve the wave equation for each lever's design, and store the runs; seconds each")
	return cmd
}

// sizeFlags are the flags of size.
type sizeFlags struct{ strict, all, solve bool }

func runSize(ctx context.Context, a *app, given []string, f sizeFlags) error {
	if f.solve && len(given) == 0 {
		return usageError{errors.New("--solve needs a FILE: its runs are stored beside it")}
	}
	file, err := designOrStarter(ctx, a, given)
	if err != nil {
		return err
	}
	d := &file.Design
	s := sizing.Size(d)
	stored.Into(ctx, file.Name, d, &s, a.warn)
	fits := a.fitOf(d).Fit
	runs := a.leverRuns(file)
	fits.Runs = func(x *design.Design) sizing.WaveSizing { return runs.of(ctx, x) }
	var stopped error
	if f.solve {
		stopped = runs.solve(ctx, d, &s, fits)
		if w := runs.of(ctx, d); numeric.Given(w.Pattern) {
			s.Wave = w // a lever that leaves the horn alone has solved the design too
		}
	}
	findings := advice.Findings(d, &s, fits)
	if run := s.Wave.Run; f.strict && run != "" {
		a.note("wave: by the stored run sha256 %s", run)
	}
	err = a.show(describe.Size(d, &s, fits, findings, f.all))
	if err := errors.Join(stopped, err); err != nil {
		return err
	}
	if f.strict && (advice.Unmet(findings) || len(fits.Misfits) > 0) {
		return errStrict
	}
	return nil
}

// designOrStarter reads the file that is given, or else the first starter.
func designOrStarter(ctx context.Context, a *app, given []string) (*designfile.File, error) {
	if len(given) == 0 {
		return a.fitted(designfile.LoadStarter(designfile.Starters[0].Name, a.settings))
	}
	return a.load(ctx, given[0])
}
