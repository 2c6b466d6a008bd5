package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"gapline/internal/designfile"
	"gapline/internal/measured"
	"gapline/internal/numeric"
	"gapline/internal/overlay"
	"gapline/internal/picture"
	"gapline/internal/quantity"
	"gapline/internal/screen"
	"gapline/internal/texttable"
	"gapline/plots"

	"github.com/spf13/cobra"
)

// traceFlags are the command's flags as typed.
type traceFlags struct {
	against, voltage       string
	smooth, average        string
	align, gate, delay     string
	pairs                  []string
	part                   string
	channel                int
	curves                 bool
	options                overlay.Options
	imports                measured.Import
	advance                float64 // s
	pairFiles              [][2]string
	measuredFiles, allFile []string
}

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

--pair names two traces that differ in one thing: with and without the insert,
boxes packed and spaced. Where they part by more than --part is the measured
coupling limit; the predicted limits stand beside it.`,
		Example: `  gapline trace box.toml on-axis.txt -o trace.png
  gapline trace box.toml on-axis.txt off-axis.txt --smooth 1/6 --align 100:400Hz
  gapline trace box.toml --pair with.txt,without.txt --part 3dB -o pair.svg
  gapline trace box.toml impulse.wav --gate 2:20ms --average complex
  gapline trace box.toml on-axis.txt --curves --csv`,
		Args:              args(cobra.MinimumNArgs(1), "a design file and measured responses are needed"),
		ValidArgsFunction: completeTrace,
		RunE: func(_ *cobra.Command, given []string) error {
			if err := f.settle(given[1:]); err != nil {
				return usageError{err}
			}
			return runTrace(a, given[0], &f)
		},
	}
	f.add(cmd)
	return cmd
}

func (f *traceFlags) add(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.StringVar(&f.against, "against", overlay.Auto, "the prediction: "+strings.Join(overlay.Choices, ", ")+" (box: with the insert if there is one; bare: without)")
	flags.StringVar(&f.voltage, "voltage", "2.83V", "rms voltage at the box's terminals for the prediction")
	flags.StringVar(&f.smooth, "smooth", "1/12", "smoothing in octaves, 1/1 to 1/48, or none")
	flags.StringVar(&f.average, "average", "power", "what smoothing takes the mean of: power or complex (needs phases)")
	flags.StringVar(&f.align, "align", "auto", "move levels to match in the band `LOW:HIGH`; auto: the predicted passband; none: as measured")
	flags.StringArrayVar(&f.pairs, "pair", nil, "`WITH,WITHOUT`: two traces to subtract (repeatable)")
	flags.StringVar(&f.part, "part", "3dB", "by how much a pair must differ to have parted")
	flags.StringVar(&f.gate, "gate", "none", "gate an impulse response: `AFTER` or BEFORE:AFTER its peak, such as 2:20ms")
	flags.StringVar(&f.delay, "delay", "", "take this delay out of the phases, such as 8.7ms")
	flags.IntVar(&f.channel, "channel", 0, "which channel of a WAV file with several, from 1")
	flags.BoolVar(&f.curves, "curves", false, "with --csv: print the curves, not the statistics")
	complete := func(name string, words ...string) {
		// A registration fails only for a flag that does not exist.
		_ = cmd.RegisterFlagCompletionFunc(name, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp))
	}
	complete("against", overlay.Choices...)
	complete("smooth", "none", "1/3", "1/6", "1/12", "1/24")
	complete("average", "power", "complex")
	complete("align", "auto", "none")
}

// settle reads the flags before any file is opened.
func (f *traceFlags) settle(files []string) error {
	var err error
	o := &f.options
	if o.Against = f.against; !slices.Contains(overlay.Choices, o.Against) {
		return fmt.Errorf("--against is %q: one of %s is needed", f.against, strings.Join(overlay.Choices, ", "))
	}
	if o.Volts, err = positive(f.voltage, quantity.Voltage); err != nil {
		return fmt.Errorf("--voltage: %w", err)
	}
	if o.Smoothing, err = measured.ParseSmoothing(f.smooth); err != nil {
		return fmt.Errorf("--smooth: %w", err)
	}
	switch f.average {
	case "power":
	case "complex":
		o.Smoothing.By = measured.Complex
	default:
		return fmt.Errorf("--average is %q: power or complex is needed", f.average)
	}
	if o.Align, err = parseAlign(f.align); err != nil {
		return fmt.Errorf("--align: %w", err)
	}
	if o.PartLevel, err = positive(f.part, quantity.Level); err != nil {
		return fmt.Errorf("--part: %w", err)
	}
	if f.delay != "" {
		if f.advance, err = quantity.Parse(f.delay, quantity.Time); err != nil {
			return fmt.Errorf("--delay: %w", err)
		}
	}
	if f.imports.Gate, err = parseGate(f.gate); err != nil {
		return fmt.Errorf("--gate: %w", err)
	}
	if f.imports.Channel = f.channel; f.channel < 0 {
		return fmt.Errorf("--channel is %d: channels count from 1", f.channel)
	}
	return f.settleFiles(files)
}

// settleFiles sorts out which files are pairs and which stand alone.
func (f *traceFlags) settleFiles(files []string) error {
	f.pairFiles, f.allFile = nil, slices.Clone(files)
	for _, p := range f.pairs {
		with, without, ok := strings.Cut(p, ",")
		if !ok || with == "" || without == "" || strings.Contains(without, ",") {
			return fmt.Errorf("--pair is %q: two file names with a comma between are needed, WITH,WITHOUT", p)
		}
		f.pairFiles = append(f.pairFiles, [2]string{with, without})
		f.allFile = append(f.allFile, with, without)
	}
	if len(f.allFile) == 0 {
		return errors.New("no measured response: name text tables or WAV files after the design file, or use --pair")
	}
	// A file named twice, as in two pairs, is one trace.
	seen := map[string]bool{}
	f.allFile = slices.DeleteFunc(f.allFile, func(name string) bool {
		again := seen[name]
		seen[name] = true
		return again
	})
	return nil
}

// positive reads a quantity above zero.
func positive(text string, k quantity.Kind) (float64, error) {
	v, err := quantity.Parse(text, k)
	if err == nil && !(v > 0) {
		err = fmt.Errorf("%q: must be above zero", text)
	}
	return v, err
}

// parsePair reads "A:B" of kind k; a part without a unit takes the other's.
func parsePair(text string, k quantity.Kind) (a, b float64, err error) {
	left, right, ok := strings.Cut(text, ":")
	if !ok {
		return 0, 0, fmt.Errorf("%q: two values with a colon between are needed", text)
	}
	a, b, _, err = quantity.ParseRange(left+":"+right+":"+right, k)
	return a, b, err
}

func parseAlign(text string) (overlay.Align, error) {
	switch text {
	case "auto":
		return overlay.Align{}, nil
	case "none":
		return overlay.Align{Off: true}, nil
	}
	low, high, err := parsePair(text, quantity.Frequency)
	if err == nil && !(low > 0 && low < high) {
		err = fmt.Errorf("%q: a low and a higher frequency are needed", text)
	}
	return overlay.Align{Low: low, High: high}, err
}

func parseGate(text string) (measured.Gate, error) {
	if text == "none" {
		return measured.Gate{}, nil
	}
	if !strings.Contains(text, ":") {
		after, err := positive(text, quantity.Time)
		return measured.Gate{Before: numeric.Absent, After: after}, err
	}
	before, after, err := parsePair(text, quantity.Time)
	if err == nil && !(before >= 0 && after > 0) {
		err = fmt.Errorf("%q: the time after the peak must be above zero, the time before it not below", text)
	}
	return measured.Gate{Before: before, After: after}, err
}

func runTrace(a *app, design string, f *traceFlags) error {
	if f.curves && !a.csv {
		return usageError{errors.New("--curves goes with --csv; --json always holds the curves")}
	}
	file, err := a.load(design)
	if err != nil {
		return err
	}
	inputs, pairs, err := f.read()
	if err != nil {
		return err
	}
	v, err := overlay.Compare(&file.Design, inputs, pairs, f.options)
	if err != nil {
		return usageError{err}
	}
	if err := printTrace(a, file, v, f.curves); err != nil {
		return err
	}
	return a.draw(func() plots.Figure { return picture.Overlay(&file.Design, v, a.system()) })
}

func printTrace(a *app, file *designfile.File, v *overlay.Overlay, curves bool) error {
	switch {
	case a.json:
		return screen.WriteJSON(a.out, screen.TraceObject(&file.Design, v))
	case a.csv && curves:
		return screen.CurvesCSV(a.out, v)
	case a.csv:
		return screen.TraceCSV(a.out, v)
	}
	return screen.Trace(a.out, &file.Design, v, a.system())
}

// read loads all traces and reports every faulty file at once.
func (f *traceFlags) read() ([]overlay.Input, []overlay.PairInput, error) {
	var problems designfile.Problems
	byFile := map[string]overlay.Input{}
	var inputs []overlay.Input
	for i, path := range f.allFile {
		t, err := measured.Load(path, f.imports)
		if err != nil {
			problems = append(problems, traceProblem(path, err))
			continue
		}
		t.Advance(f.advance)
		byFile[path] = overlay.Input{Name: traceName(f.allFile, i), Trace: t}
		inputs = append(inputs, byFile[path])
	}
	if len(problems) > 0 {
		return nil, nil, problems
	}
	var pairs []overlay.PairInput
	for _, p := range f.pairFiles {
		pairs = append(pairs, overlay.PairInput{With: byFile[p[0]], Without: byFile[p[1]]})
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
	// The system's errors name the file once more.
	if rest, ok := strings.CutPrefix(p.Text, "open "+path+": "); ok {
		p.Text = "cannot be read: " + rest
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
			return short(files[i])
		}
	}
	return filepath.ToSlash(files[i])
}

func completeTrace(_ *cobra.Command, given []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(given) == 0 {
		return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
	}
	return nil, cobra.ShellCompDirectiveDefault
}
