package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gapline/cabinet/source"
	"gapline/internal/advice"
	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/study/line"

	"github.com/spf13/cobra"
)

// crossoverFlags are the flags of the crossover command.
type crossoverFlags struct {
	views                        []string
	frequencies, at, below       string
	vertical, horizontal, window string
	place                        placeFlags
	best, withoutBest            bool
	asked                        []line.CrossoverView
}

func newCrossover(a *app) *cobra.Command {
	var f crossoverFlags
	cmd := &cobra.Command{
		Use:     "crossover [FILE]",
		GroupID: "field",
		Short:   "Sum woofers and horn through the crossover, on and off axis; find the best",
		Long: `Sum two neighbouring bands of the stack through their crossover with their true
places: on axis, and over both planes. Prints the deepest notch within the
coverage and looks for the frequency, delay and polarity that lose least there and
on axis, where both bands cover the frequency, and never under what the upper band
allows. Where no frequency is covered by both it finds the least bad. Views:
response, vertical, horizontal.`,
		Example: `  gapline crossover box.toml
  gapline crossover box.toml --view horizontal -o across.png
  gapline crossover box.toml --best --view vertical -o best.png
  gapline crossover box.toml --window 700Hz:1.2kHz --horizontal 60deg
  gapline crossover mids.toml --below woofers --json`,
		Args:              args(cobra.MaximumNArgs(1), "one design file at most"),
		ValidArgsFunction: completeDesignFiles,
		RunE: func(cmd *cobra.Command, given []string) error {
			return runCrossover(cmd.Context(), a, &f, given)
		},
	}
	fs := cmd.Flags()
	fs.StringSliceVar(&f.views, "view", nil, "`VIEW` to draw or list as CSV: response, vertical, horizontal (repeatable)")
	fs.StringVar(&f.below, "below", "", "the lower `BAND`: woofers or mids; the one below the horn unless given")
	fs.StringVar(&f.frequencies, "frequencies", "", "`LIST` such as 250Hz,1kHz, or thirds, sixths, twelfths with a range; two octaves about the crossover unless given")
	fs.StringVar(&f.at, "at", "far", "`DISTANCE`, or far")
	fs.StringVar(&f.vertical, "vertical", "", "full coverage `ANGLE` up and down within which notches count; the splay's unless given")
	fs.StringVar(&f.horizontal, "horizontal", "", "full coverage `ANGLE` across; the horn's unless given")
	fs.StringVar(&f.window, "window", "", "`FROM:TO` of the search; what both bands cover, or the gap between them, unless given")
	fs.BoolVar(&f.best, "best", false, "draw or list the best crossover found in place of the file's")
	fs.BoolVar(&f.withoutBest, "without-best", false, "leave the search out")
	f.place.add(cmd)
	_ = cmd.RegisterFlagCompletionFunc("below", cobra.FixedCompletions([]string{source.Woofers, source.Mids}, cobra.ShellCompDirectiveNoFileComp))
	_ = cmd.RegisterFlagCompletionFunc("view", cobra.FixedCompletions([]string{"response", "vertical", "horizontal"}, cobra.ShellCompDirectiveNoFileComp))
	return cmd
}

func runCrossover(ctx context.Context, a *app, f *crossoverFlags, given []string) error {
	request, err := f.request(a)
	if err != nil {
		return usageError{err}
	}
	conditions, err := f.place.conditions()
	if err != nil {
		return usageError{err}
	}
	file, err := designOrStarter(ctx, a, given)
	if err != nil {
		return err
	}
	if err := f.place.hang(ctx, a, file, &conditions); err != nil {
		return err
	}
	bar := a.newProgress("", 0)
	defer bar.end()
	conditions.Progress = bar.to
	c, s, err := line.Crossovers(ctx, &file.Design, conditions, request)
	bar.end()
	if err != nil {
		return crossoverError(file, err)
	}
	described := describe.Crossover(c, s, f.best, advice.CrossoverFindings(c, s))
	if err := a.print(described, string(f.asked[0])); err != nil {
		return err
	}
	return drawViews(a, described, f.asked)
}

// crossoverError turns what cannot be into faults of the file or the command line.
func crossoverError(file *designfile.File, err error) error {
	if strings.HasPrefix(err.Error(), "there is no crossover") {
		return usageError{fmt.Errorf("--below: %w", err)}
	}
	if low := (line.WindowTooLow{}); errors.As(err, &low) {
		return usageError{fmt.Errorf("--window: %w", err)}
	}
	return lineError(file, err)
}

func (f *crossoverFlags) request(a *app) (line.CrossoverRequest, error) {
	r := line.CrossoverRequest{Low: f.below, WithoutBest: f.withoutBest,
		Vertical: numeric.Absent, Horizontal: numeric.Absent, From: numeric.Absent, To: numeric.Absent}
	var err error
	if err = f.parseViews(); err != nil {
		return r, err
	}
	switch {
	case a.csv && len(f.asked) > 1:
		return r, fmt.Errorf("--csv prints one table: give one --view")
	case f.best && f.withoutBest:
		return r, fmt.Errorf("--best and --without-best exclude each other")
	case f.below != "" && f.below != source.Woofers && f.below != source.Mids:
		return r, fmt.Errorf("--below is %q: woofers or mids is needed", f.below)
	}
	if f.frequencies != "" {
		if r.Spectrum, err = line.ParseSpectrum(f.frequencies, false); err != nil {
			return r, fmt.Errorf("--frequencies: %w", err)
		}
	}
	if r.Distance, err = parseDistance(f.at); err != nil {
		return r, fmt.Errorf("--at: %w", err)
	}
	if r.Vertical, err = parseCoverage("--vertical", f.vertical); err != nil {
		return r, err
	}
	if r.Horizontal, err = parseCoverage("--horizontal", f.horizontal); err != nil {
		return r, err
	}
	return r, f.windowInto(&r)
}

func (f *crossoverFlags) parseViews() error {
	for _, name := range f.views {
		v := line.CrossoverView(name)
		if !slices.Contains(line.CrossoverViews, v) {
			return fmt.Errorf("--view is %q: response, vertical or horizontal is needed", name)
		}
		if !slices.Contains(f.asked, v) {
			f.asked = append(f.asked, v)
		}
	}
	if len(f.asked) == 0 {
		f.asked = []line.CrossoverView{line.ResponseView}
	}
	return nil
}

// parseCoverage reads a full angle; NaN when none is given.
func parseCoverage(flag, text string) (float64, error) {
	if text == "" {
		return numeric.Absent, nil
	}
	x, err := quantity.Parse(text, quantity.Angle)
	if err != nil {
		return x, fmt.Errorf("%s: %w", flag, err)
	}
	if !(x >= 0 && x <= math.Pi+1e-9) {
		return x, fmt.Errorf("%s is %q: 0 to 180 deg is needed", flag, text)
	}
	return x, nil
}

func (f *crossoverFlags) windowInto(r *line.CrossoverRequest) error {
	if f.window == "" {
		return nil
	}
	from, to, ok := strings.Cut(f.window, ":")
	if !ok {
		return fmt.Errorf("--window is %q: two frequencies are needed, such as 700Hz:1.2kHz", f.window)
	}
	var err error
	if r.From, err = quantity.Parse(from, quantity.Frequency); err != nil {
		return fmt.Errorf("--window: %w", err)
	}
	if r.To, err = quantity.Parse(to, quantity.Frequency); err != nil {
		return fmt.Errorf("--window: %w", err)
	}
	if !(r.From >= 20 && r.From <= r.To && r.To <= 20e3) {
		return fmt.Errorf("--window is %q: a rising range within 20 Hz and 20 kHz is needed", f.window)
	}
	return nil
}
