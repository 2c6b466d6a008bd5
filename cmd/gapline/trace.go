package main

import (
	"context"
	"errors"
	"path/filepath"
	"strings"
	"syscall"

	"gapline/internal/cleantext"
	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/measured"
	"gapline/internal/study/trace"
	"gapline/internal/texttable"
	"gapline/internal/wavecache"

	"github.com/spf13/cobra"
)

func newTrace(a *app) *cobra.Command {
	var f traceFlags
	cmd := &cobra.Command{
		Use:     "trace FILE MEASURED...",
		GroupID: "ask",
		Short:   "Lay measured responses over the prediction: differences, statistics, pairs",
		Long: `Lay measured responses over what gapline predicts for the design. MEASURED is a
text table (frequency in Hz, level in dB and, if there is, phase in degree;
separated by commas, semicolons, tabs or spaces) or the impulse response in a WAV
file (PCM 16, 24 or 32 bit, float 32 bit).

All traces are smoothed alike and brought onto one grid. Printed are, octave by
octave, mean, standard deviation and worst value of measured minus predicted.
Where the design gives too little for a prediction, the first trace takes its
place.

--pair names two traces of one box, with and without its insert. Each is laid over
its own prediction; where they part by more than --threshold the insert begins to
change the level of the box. --stacks names two traces of stacks that differ in one
thing, such as boxes spaced and packed: where these part is the measured coupling
limit of the first, and the predicted limits stand beside it. --edge names two
traces of a horn, on its axis and half its coverage to the side: from where the
second stays 6 dB under the first the horn holds its pattern.

--write keeps the pairs of --stacks and --edge in the design, in a table [measured]
with a digest of the geometry that they depend on. They are a level of trust of
their own then, beside rule, aperture and wave, until the geometry changes.`,
		Example: `  gapline trace box.toml on-axis.txt -o trace.png
  gapline trace box.toml on-axis.txt off-axis.txt --smooth 1/6 --align 100:400Hz
  gapline trace box.toml --pair with.txt,without.txt --threshold 3dB -o pair.svg
  gapline trace box.toml --stacks spaced.txt,packed.txt --align 60:200Hz
  gapline trace box.toml --edge axis.txt,edge.txt --state "prototype 2" --write kept.toml
  gapline trace box.toml impulse.wav --gate 2:20ms --average complex
  gapline trace box.toml on-axis.txt --curves --csv`,
		Args:              args(cobra.MinimumNArgs(1), "a design file and measured responses are needed"),
		ValidArgsFunction: completeTrace,
		RunE: func(cmd *cobra.Command, given []string) error {
			if err := f.settle(given[1:]); err != nil {
				return usageError{err}
			}
			if err := f.idle(a, cmd.Flags().Changed); err != nil {
				return usageError{err}
			}
			return runTrace(cmd.Context(), a, given[0], &f)
		},
	}
	f.add(cmd)
	return cmd
}

func runTrace(ctx context.Context, a *app, design string, f *traceFlags) error {
	file, err := a.load(ctx, design)
	if err != nil {
		return err
	}
	inputs, pairs, err := f.read(ctx)
	if err != nil {
		return err
	}
	f.options.Wave = wavecache.Beside(file.Name).Figures(ctx, &file.Design, a.warn)
	v, err := trace.Compare(&file.Design, inputs, pairs, f.options)
	if err != nil {
		return usageError{err}
	}
	r := describe.Trace(v)
	views := []string(nil)
	if f.curves {
		views = append(views, describe.TraceCurves)
	}
	if err := a.show(r, views...); err != nil || f.write == "" {
		return err
	}
	changes, err := f.kept(&file.Design)
	if err != nil {
		return err
	}
	return a.writeChanged(f.write, f.force, file.Text, changes)
}

// read loads all traces and reports every faulty file at once.
func (f *traceFlags) read(ctx context.Context) ([]trace.Input, []trace.PairInput, error) {
	var problems designfile.Problems
	byFile := map[string]trace.Input{}
	var inputs []trace.Input
	impulse := false
	for i, path := range f.allFiles {
		t, err := measured.Load(ctx, path, f.imports)
		if err != nil {
			problems = append(problems, traceProblem(path, err))
			continue
		}
		impulse = impulse || t.Impulse
		t.Advance(f.advance)
		byFile[path] = trace.Input{Name: traceName(f.allFiles, i), Trace: t}
		inputs = append(inputs, byFile[path])
	}
	if len(problems) > 0 {
		return nil, nil, problems
	}
	if !impulse && (f.imports != measured.Import{}) {
		return nil, nil, usageError{errors.New("--gate and --channel are for impulse responses: none of the files is one")}
	}
	var pairs []trace.PairInput
	for _, p := range f.pairFiles {
		pairs = append(pairs, trace.PairInput{With: byFile[p.with], Without: byFile[p.without], Of: p.of})
	}
	return inputs, pairs, nil
}

// traceProblem puts file and line in front, as for design files.
func traceProblem(path string, err error) designfile.Problem {
	p := designfile.Problem{Where: filepath.ToSlash(path), Text: err.Error()}
	var at *texttable.Error
	if errors.As(err, &at) {
		p.Line, p.Text = at.Line, at.Text
	}
	if system := syscall.Errno(0); errors.As(err, &system) {
		p.Text = "cannot be read: " + p.Text
	}
	return p
}

// traceName is the file's name without folder and ending, or more of it when two
// files share that.
func traceName(files []string, i int) string {
	base := func(s string) string { return filepath.Base(s) }
	stem := func(s string) string { return strings.TrimSuffix(base(s), filepath.Ext(s)) }
	for _, short := range []func(string) string{stem, base} {
		same := 0
		for _, other := range files {
			if short(other) == short(files[i]) {
				same++
			}
		}
		if same == 1 {
			return cleantext.Line(short(files[i]))
		}
	}
	return cleantext.Line(filepath.ToSlash(files[i]))
}

func completeTrace(_ *cobra.Command, given []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(given) == 0 {
		return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
	}
	return nil, cobra.ShellCompDirectiveDefault
}
