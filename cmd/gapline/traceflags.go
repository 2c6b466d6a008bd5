package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"gapline/internal/measured"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/study/trace"

	"github.com/spf13/cobra"
)

// pairFiles are the files of a pair.
type pairFiles struct {
	with, without string
	of            trace.PairOf
}

// traceFlags are the command's flags, as typed and as read.
type traceFlags struct {
	against, volts, smooth, average, align, gate, delay, part string
	write, state                                              string
	force                                                     bool
	pairs, stacks, edges                                      []string
	channel                                                   int
	curves                                                    bool

	options   trace.Options
	imports   measured.Import
	advance   float64 // s, taken out of the phases
	pairFiles []pairFiles
	allFiles  []string // of traces and pairs, each once
}

func (f *traceFlags) add(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.StringVar(&f.against, "against", trace.Auto, "`WHICH` prediction: "+strings.Join(trace.Choices, ", ")+" (box: with the insert if there is one; bare: without)")
	flags.StringVar(&f.volts, "volts", "2.83V", "rms `VOLTAGE` at the box's terminals for the prediction")
	flags.StringVar(&f.smooth, "smooth", "1/12", "smoothing over `OCTAVES`, 1/1 to 1/48, or none")
	flags.StringVar(&f.average, "average", "power", "`WHAT` smoothing takes the mean of: power or complex (needs phases)")
	flags.StringVar(&f.align, "align", "auto", "move levels to match in the band `LOW:HIGH`; auto: the predicted passband; none: as measured")
	flags.StringArrayVar(&f.pairs, "pair", nil, "`WITH,WITHOUT`: two traces of one box to subtract, with and without its insert (repeatable)")
	flags.StringArrayVar(&f.stacks, "stacks", nil, "`ONE,OTHER`: two traces of stacks to subtract (repeatable)")
	flags.StringArrayVar(&f.edges, "edge", nil, "`AXIS,EDGE`: two traces of a horn, on its axis and half its coverage to the side (repeatable)")
	flags.StringVar(&f.write, "write", "", "write the design to `FILE`, with the traces of --stacks and --edge kept in it")
	flags.StringVar(&f.state, "state", "", "with --write: what the traces were taken on, `TEXT`")
	flags.BoolVar(&f.force, "force", false, "with --write: overwrite FILE")
	flags.StringVar(&f.part, "threshold", "3dB", "`LEVEL` by which a pair must differ to have parted")
	flags.StringVar(&f.gate, "gate", "none", "gate an impulse response: `AFTER` or BEFORE:AFTER its peak, such as 2:20ms")
	flags.StringVar(&f.delay, "delay", "", "take this `DELAY` out of the phases, such as 8.7ms")
	flags.IntVar(&f.channel, "channel", 0, "channel `N` of a WAV file with several, from 1")
	flags.BoolVar(&f.curves, "curves", false, "with --csv: print the curves, not the statistics")
	complete := func(name string, words ...string) {
		// A registration fails only for a flag that does not exist.
		_ = cmd.RegisterFlagCompletionFunc(name, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp))
	}
	complete("against", trace.Choices...)
	complete("smooth", "none", "1/3", "1/6", "1/12", "1/24")
	complete("average", "power", "complex")
	complete("align", "auto", "none")
}

// settle reads the flags before any file is opened.
func (f *traceFlags) settle(files []string) error {
	var err error
	o := &f.options
	if o.Against = f.against; !slices.Contains(trace.Choices, o.Against) {
		return fmt.Errorf("--against is %q: one of %s is needed", f.against, strings.Join(trace.Choices, ", "))
	}
	if o.Volts, err = positive(f.volts, quantity.Voltage); err != nil {
		return fmt.Errorf("--volts: %w", err)
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
		return fmt.Errorf("--threshold: %w", err)
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

// idle refuses flags that would do nothing.
func (f *traceFlags) idle(a *app, changed func(string) bool) error {
	isComplex := f.options.Smoothing.By == measured.Complex
	switch {
	case f.curves && !a.csv:
		return errors.New("--curves goes with --csv; --json always holds the curves")
	case isComplex && f.options.Smoothing.Fraction == 0:
		return errors.New("--average complex needs a smoothing: not --smooth none")
	case changed("delay") && !isComplex:
		return errors.New("--delay changes phases, which only --average complex looks at")
	case changed("threshold") && len(f.pairs)+len(f.stacks) == 0:
		return errors.New("--threshold goes with --pair or --stacks")
	case f.write == "" && (changed("state") || changed("force")):
		return errors.New("--state and --force go with --write")
	case f.write != "":
		return f.keepable()
	}
	return nil
}

// settleFiles sorts out which files are pairs and which stand alone.
func (f *traceFlags) settleFiles(files []string) error {
	f.pairFiles, f.allFiles = nil, slices.Clone(files)
	if err := f.settlePairs("--pair", "WITH,WITHOUT", f.pairs, trace.OfBox); err != nil {
		return err
	}
	if err := f.settlePairs("--stacks", "ONE,OTHER", f.stacks, trace.OfStacks); err != nil {
		return err
	}
	if err := f.settlePairs("--edge", "AXIS,EDGE", f.edges, trace.OfEdge); err != nil {
		return err
	}
	if len(f.allFiles) == 0 {
		return errors.New("no measured response: name text tables or WAV files after the design file, or use --pair, --stacks or --edge")
	}
	// A file named twice, as in two pairs, is one trace.
	seen := map[string]bool{}
	f.allFiles = slices.DeleteFunc(f.allFiles, func(name string) bool {
		again := seen[name]
		seen[name] = true
		return again
	})
	return checkCount("traces", len(f.allFiles), mostTraces)
}

// settlePairs takes the two files of each pair apart.
func (f *traceFlags) settlePairs(flag, form string, given []string, of trace.PairOf) error {
	for _, p := range given {
		with, without, ok := strings.Cut(p, ",")
		if !ok || with == "" || without == "" || strings.Contains(without, ",") {
			return fmt.Errorf("%s is %q: two file names with a comma between are needed, %s", flag, p, form)
		}
		f.pairFiles = append(f.pairFiles, pairFiles{with, without, of})
		f.allFiles = append(f.allFiles, with, without)
	}
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

func parseAlign(text string) (trace.Align, error) {
	switch text {
	case "auto":
		return trace.Align{}, nil
	case "none":
		return trace.Align{Off: true}, nil
	}
	low, high, err := parsePair(text, quantity.Frequency)
	if err == nil && !(low > 0 && low < high) {
		err = fmt.Errorf("%q: a low and a higher frequency are needed", text)
	}
	return trace.Align{Low: low, High: high}, err
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
