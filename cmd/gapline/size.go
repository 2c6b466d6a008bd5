package main

import (
	"context"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/advice"
	"gapline/internal/cleantext"
	"gapline/internal/designfile"
	"gapline/internal/picture"
	"gapline/internal/result"
	"gapline/internal/screen"
	"gapline/internal/study/size"
	"gapline/internal/wavecache"
	"gapline/plots"

	"github.com/spf13/cobra"
)

func newSize(a *app) *cobra.Command {
	var strict, all bool
	cmd := &cobra.Command{
		Use:     "size [FILE]",
		GroupID: "design",
		Short:   "Compute coupling limits, horn control, the gap and what would close it",
		Long: `Compute how far the woofers couple, how low the horn holds its pattern, how wide
the crossover gap is, what an insert does to it, and what would close it. Without
FILE it sizes the built-in starter. The screen is short; --all adds the rows and
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
  gapline size box.toml --strict || echo "a target is not met"`,
		Args:              args(cobra.MaximumNArgs(1), "one design file at most"),
		ValidArgsFunction: completeDesignFiles,
		RunE: func(cmd *cobra.Command, given []string) error {
			return runSize(cmd.Context(), a, given, strict, all)
		},
	}
	cmd.Flags().BoolVar(&all, "all", false, "print every row and every note")
	cmd.Flags().BoolVar(&strict, "strict", false, "exit with 3 when a target is not met")
	return cmd
}

func runSize(ctx context.Context, a *app, given []string, strict, all bool) error {
	file, err := designOrStarter(ctx, a, given)
	if err != nil {
		return err
	}
	d := &file.Design
	s := sizing.Size(d)
	s.Wave = wavecache.Beside(file.Name).Figures(ctx, d, a.warn)
	findings := advice.Findings(d, &s)
	if err := printSize(a, d, &s, findings, all); err != nil {
		return err
	}
	err = a.draw(func() plots.Figure {
		return picture.Strip([]picture.Sized{{Design: d, Sizing: s}}, a.system())
	})
	if err == nil && strict && advice.Missed(findings) {
		return errStrict
	}
	return err
}

// designOrStarter reads the file that is given, or else the first starter.
func designOrStarter(ctx context.Context, a *app, given []string) (*designfile.File, error) {
	if len(given) == 0 {
		return designfile.LoadStarter(designfile.Starters[0].Name, a.settings)
	}
	return a.load(ctx, given[0])
}

func printSize(a *app, d *design.Design, s *sizing.Sizing, findings []result.Finding, all bool) error {
	switch {
	case a.json:
		return screen.WriteJSON(a.out, screen.SizingObject(d.Title, s, findings))
	case a.csv:
		return figuresCSV(a, s)
	}
	return screen.Size(a.out, d, s, findings, a.system(), all)
}

// figuresCSV prints the table of figures: key, value in the key's unit, trust.
func figuresCSV(a *app, s *sizing.Sizing) error {
	w := cleantext.NewCSV(a.out)
	if err := w.Write([]string{"key", "value", "trust", "name"}); err != nil {
		return err
	}
	for _, f := range size.Table {
		if err := w.Write([]string{f.Key, screen.FigureCell(f.Def, s), size.Trust(s, f.Def).String(), f.Name}); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}
