package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"gapline/internal/advice"
	"gapline/internal/check"
	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/study/line"

	"github.com/spf13/cobra"
)

func newLine(a *app) *cobra.Command {
	var f lineFlags
	cmd := &cobra.Command{
		Use:     "line [FILE]",
		GroupID: "field",
		Short:   "Sum the stack: polars, maps, level against distance and at the seats; aim it",
		Long: `Sum the sound of every mouth of every box of the stack, near and far: polars, maps
over frequency and angle, level against distance beside the published formulas,
the hall from the side, and levels at the seats of [audience]. The stack is judged
by its main beam: where it aims, its −6 dB edges against the seats, lobes beside
them; pictures over angle refer to it (--reference).

--aim looks for the splay that spreads the sound evenly over the seats: the
A-weighted level and the octaves that the stack steers. audience.fall asks for a
slope from front to back, audience.quiet_from and its neighbours keep sound off a
stage or neighbours; --shade and --delay turn boxes down and delay them. Without
FILE it takes the built-in starter.

The octaves at the seats are energy means over tones, 6 in each octave and then
twice as many until no seat's level moves by more than 0.2 dB, 384 at most;
--average does alike within 20 dB of the loudest place, 96 at most.

Levels are dB SPL where the file gives the woofers' parameters or a sensitivity,
else relative; the output says which. Views:
` + viewNames() + `.
-o draws the views asked for, angle-map unless --view says otherwise.`,
		Example: `  gapline line box.toml
  gapline line box.toml --view polar -o polar.png
  gapline line box.toml --view side --frequencies 500Hz -o hall.png
  gapline line box.toml --view distance --frequencies 250Hz,1kHz,4kHz --csv
  gapline line box.toml --aim --write aimed.toml
  gapline line box.toml --aim --delay --set audience.fall=3dB
  gapline line box.toml --view polar --reference seat:20m
  gapline line box.toml --shape arc:9deg --set line.boxes=12 --set line.tilt=-1deg
  gapline line box.toml --tables polars --frequencies sixths`,
		Args:              args(cobra.MaximumNArgs(1), "one design file at most"),
		ValidArgsFunction: completeDesignFiles,
		RunE: func(cmd *cobra.Command, given []string) error {
			return runLine(cmd.Context(), a, &f, given)
		},
	}
	f.add(cmd)
	return cmd
}

func viewNames() string {
	var names []string
	for _, v := range line.Views {
		names = append(names, string(v.View))
	}
	return strings.Join(names, ", ")
}

func runLine(ctx context.Context, a *app, f *lineFlags, given []string) error {
	request, err := f.request(a)
	if err != nil {
		return usageError{err}
	}
	conditions, err := f.conditions()
	if err != nil {
		return usageError{err}
	}
	if conditions.Shape != nil {
		a.settings = append(a.settings, "line.splay=") // the curve stands in its place
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
	r, err := f.hear(ctx, file, conditions, request)
	bar.end()
	if err != nil {
		return lineError(file, err)
	}
	if err := f.lacksMaximum(r); err != nil {
		return usageError{err}
	}
	described := describe.Line(r, advice.LineFindings(r))
	if err := a.print(described, f.printed(a, request)...); err != nil {
		return err
	}
	if err := drawViews(a, described, f.pictured(request, r)); err != nil {
		return err
	}
	if err := f.writeTables(ctx, a, r); err != nil {
		return err
	}
	return f.writeDesign(a, file.Text, r)
}

// hear hangs the design, aims it where asked, and computes the views.
func (f *lineFlags) hear(ctx context.Context, file *designfile.File, c line.Conditions, request line.Request) (*line.Result, error) {
	s, problems := line.New(&file.Design, c)
	if problems != nil {
		return nil, file.Problems(problems)
	}
	needsSeats := f.aim || slices.Contains(f.asked, line.AudienceView) || slices.Contains(f.asked, line.ProgrammeView) || c.Reference.To == line.ToSeat
	if missing := s.SeatProblems(); missing != nil {
		if needsSeats {
			return nil, file.Problems(missing)
		}
		request.Views = slices.DeleteFunc(slices.Clone(request.Views), func(v line.View) bool { return v == line.AudienceView || v == line.ProgrammeView })
	}
	if request.Frame == (line.Frame{}) {
		request.Frame = s.Frame()
	}
	if !f.aim {
		return s.Hear(ctx, request)
	}
	return s.HearAimed(ctx, request, line.AimRequest{AnyOrder: f.anyOrder, Shade: f.shade, Delay: f.delay, Weighted: f.even == "dba"})
}

// lacksMaximum says what the views of the largest levels need where one of them alone is
// asked for and there is none.
func (f *lineFlags) lacksMaximum(r *line.Result) error {
	if len(f.asked) != 1 || r.Maximum != nil && (f.asked[0] != line.ProgrammeView || r.Maximum.Seats != nil) {
		return nil
	}
	if v := f.asked[0]; v == line.MaximumView || v == line.ProgrammeView {
		return fmt.Errorf("--view %s needs a level and a limit: the woofers' parameters with enclosure.volume, or a sensitivity, and a power or xmax", v)
	}
	return nil
}

// lineError turns what the field refuses into faults of the file or the command
// line.
func lineError(file *designfile.File, err error) error {
	var problems line.Problems
	text := err.Error()
	switch {
	case errors.Is(err, context.Canceled):
		return err
	case errors.As(err, &problems):
		return file.Problems(problems)
	case strings.HasPrefix(text, "seating "):
		return file.Problems([]check.Problem{{Keys: []string{"audience.start", "audience.end"}, Text: "audience: " + text}})
	case strings.HasPrefix(text, "at a distance"):
		return usageError{fmt.Errorf("--range: %w", err)}
	case strings.HasPrefix(text, "field point"):
		return usageError{fmt.Errorf("--point: %w", err)}
	case strings.HasPrefix(text, "polar at"):
		return usageError{fmt.Errorf("--at: %w", err)}
	}
	return err
}

// printed lists the views to print: the summary where pictures are drawn as well, so
// that a picture does not take its place.
func (f *lineFlags) printed(a *app, r line.Request) []string {
	out := []string{describe.Always}
	switch {
	case a.csv:
		return []string{string(r.Views[0])}
	case len(f.asked) == 0 || len(a.outputs) > 0:
		return append(out, describe.LineSummary)
	}
	for _, v := range f.asked {
		out = append(out, string(v))
	}
	return out
}
