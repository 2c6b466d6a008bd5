package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"gapline/cabinet/design"
	"gapline/internal/advice"
	"gapline/internal/check"
	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/quantity"
	"gapline/internal/study/box"
	"gapline/internal/wordset"

	"github.com/spf13/cobra"
)

// boxFlags are the flags of the box command as typed.
type boxFlags struct {
	volts, watts string
	view         string
	from, to     string
	perOctave    int
	boxes        string

	programme, crest string

	drivers, by string
	fit         fitFlags
}

func newBox(a *app) *cobra.Command {
	var o boxFlags
	cmd := &cobra.Command{
		Use:     "box FILE",
		GroupID: "design",
		Short:   "Work out one box: response, impedance, excursion, maximum level, stack, insert",
		Long: `Work out the low end of one box from the woofer's parameters and its enclosure:
response, impedance, excursion, maximum level, vent air speed, the classical
alignments near it; what a stack of such boxes gains; and what an insert costs.

Any sufficient set of parameters will do (fs, qes, qms, vas, sd, re; or mms, cms,
rms, bl, sd, re; or a mixture): the rest is derived, and values that contradict
each other by more than 5 % are named. Levels are at 1 m in half space,
excursions and air speeds are peak values.

Two models stand side by side. One box alone (spl_db, max_spl_db, impedance and
excursion) takes the air in front of bare cones and of vents as mass only, Small's
convention; an insert's mouths have their exact radiation. The stack (stack_1_spl_db
and so on, stack.spl_db in JSON) and the comparison with and without insert take the
exact radiation of cones and mouths. So spl_db and stack_1_spl_db of one box differ
by some tenths of a decibel.

With --drivers it ranks a folder of driver files in this cabinet. With --fit it
finds the driver's parameters from a measured impedance sweep: text with columns
of frequency in Hz, ohm and, if measured, degree. All models of the coil's inductance
are weighed against each other unless --inductor names one; --re holds Re at a value
measured with direct current, and --from and --to are then the band of the fit.`,
		Example: `  gapline box box.toml
  gapline box box.toml --watts 100W -o low-end.png
  gapline box box.toml --view insert -o insert.svg
  gapline box box.toml --json
  gapline box box.toml --drivers shelf/ --by level
  gapline box --fit free.txt --second mass.txt --added-mass 15g --sd 330cm2 --write my10.toml
  gapline box --fit free.txt --re 5.6ohm --to 5kHz -o fit.png`,
		Args:              args(cobra.MaximumNArgs(1), "one design file is needed"),
		ValidArgsFunction: completeDesignFiles,
		RunE: func(cmd *cobra.Command, given []string) error {
			return runBox(cmd, a, given, o)
		},
	}
	f := cmd.Flags()
	f.StringVar(&o.volts, "volts", "", "rms `VOLTAGE` at the terminals of one box; the file's, or 2.83 V, unless given")
	f.StringVar(&o.watts, "watts", "", "`POWER` into the nominal resistance, in place of --volts")
	f.StringVar(&o.view, "view", describe.BoxViews[0], "`VIEW` that -o shows: "+strings.Join(describe.BoxViews, ", "))
	f.StringVar(&o.from, "from", "10 Hz", "lowest `FREQUENCY`; of a fit, the sweep's unless given")
	f.StringVar(&o.to, "to", "2 kHz", "highest `FREQUENCY`; of a fit, the sweep's unless given")
	f.IntVar(&o.perOctave, "per-octave", 48, "`N` frequencies in an octave")
	f.StringVar(&o.boxes, "boxes", "1,2,4,8", "`SIZES` of the stack, each against the one before")
	addSignal(f, &o.programme, &o.crest)
	f.StringVar(&o.drivers, "drivers", "", "rank the driver files of the folder `DIR` in this cabinet")
	f.StringVar(&o.by, "by", box.ByLevel.Name(), "`WHAT` --drivers ranks by: "+strings.Join(wordset.Names[box.Order](), ", "))
	o.fit.add(cmd)
	_ = cmd.RegisterFlagCompletionFunc("view", cobra.FixedCompletions(describe.BoxViews, cobra.ShellCompDirectiveNoFileComp))
	_ = cmd.RegisterFlagCompletionFunc("by", cobra.FixedCompletions(wordset.Names[box.Order](), cobra.ShellCompDirectiveNoFileComp))
	return cmd
}

func runBox(cmd *cobra.Command, a *app, given []string, o boxFlags) error {
	name := ""
	if len(given) > 0 {
		name = given[0]
	}
	if err := o.fit.check(cmd); err != nil {
		return usageError{err}
	}
	switch {
	case o.fit.sweep != "" && o.drivers != "":
		return usageError{errors.New("--fit and --drivers exclude each other")}
	case o.fit.sweep != "":
		return runFit(cmd.Context(), a, name, o.fit)
	case name == "":
		return usageError{errors.New("one design file is needed; usage: gapline box FILE")}
	case o.drivers != "":
		return runDrivers(cmd.Context(), a, name, o)
	}
	return runOneBox(cmd.Context(), a, name, o)
}

func runOneBox(ctx context.Context, a *app, name string, o boxFlags) error {
	if !slices.Contains(describe.BoxViews, o.view) {
		return usageError{fmt.Errorf("--view is %q: one of %s is needed", o.view, strings.Join(describe.BoxViews, ", "))}
	}
	options, err := o.options()
	if err != nil {
		return usageError{err}
	}
	file, err := a.load(ctx, name)
	if err != nil {
		return err
	}
	if err := o.drive(&file.Design.Drive); err != nil {
		return usageError{err}
	}
	study, err := box.Run(ctx, &file.Design, options)
	if err != nil {
		return boxFault(file, err)
	}
	if len(a.outputs) > 0 {
		if err := lacksView(study, o.view); err != nil {
			return usageError{err}
		}
	}
	return a.show(describe.Box(study, advice.BoxFindings(study)), o.view)
}

// boxFault names file and lines where the design does not give a box.
func boxFault(file *designfile.File, err error) error {
	var lacks *check.BoxError
	if errors.As(err, &lacks) {
		return file.Problems(lacks.Problems)
	}
	return err
}

// lacksView says what a view needs that the study does not hold.
func lacksView(s *box.Study, view string) error {
	switch {
	case view == describe.BoxInsert && s.Insert == nil:
		return errors.New("--view insert needs a design with an insert and all its dimensions")
	case view == describe.BoxStack && s.Stack == nil:
		return fmt.Errorf("--view stack: %s", s.StackWhy)
	case view == describe.BoxFull && s.Full == nil:
		return fmt.Errorf("--view full: %s", s.FullWhy)
	case view == describe.BoxMax && !numeric.Given(s.Max[0].Level):
		return errors.New("--view max needs woofer.xmax or woofer.power")
	}
	return nil
}

// drive puts the flags in place of the file's drive.
func (o *boxFlags) drive(d *design.Drive) error {
	if o.volts != "" && o.watts != "" {
		return errors.New("--volts and --watts exclude each other")
	}
	for _, x := range []struct {
		flag, text string
		kind       quantity.Kind
		set, clear *optional.Float
	}{{"--volts", o.volts, quantity.Voltage, &d.Voltage, &d.Power}, {"--watts", o.watts, quantity.Power, &d.Power, &d.Voltage}} {
		if x.text == "" {
			continue
		}
		v, err := flagQuantity(x.flag, x.text, x.kind)
		if err != nil {
			return err
		}
		if !(v > 0) {
			return fmt.Errorf("%s is %s: must be above zero", x.flag, x.text)
		}
		*x.set, *x.clear = optional.Of(v), optional.Float{}
	}
	return nil
}

// flagQuantity reads a flag's quantity; a bare number takes the kind's SI unit
// when the flag's name says it.
func flagQuantity(flag, text string, kind quantity.Kind) (float64, error) {
	if kind == quantity.Voltage || kind == quantity.Power {
		if v, err := strconv.ParseFloat(text, 64); err == nil && v > 0 && v < 1e9 {
			return v, nil
		}
	}
	v, err := quantity.Parse(text, kind)
	if err != nil {
		return v, fmt.Errorf("%s %q: %w", flag, text, err)
	}
	return v, nil
}

// options reads the frequencies and the sizes of the stack.
func (o *boxFlags) options() (box.Options, error) {
	out := box.Options{PerOctave: o.perOctave}
	if o.perOctave < 1 {
		return out, fmt.Errorf("--per-octave is %d: at least 1 is needed", o.perOctave)
	}
	var err error
	if out.From, err = flagQuantity("--from", o.from, quantity.Frequency); err != nil {
		return out, err
	}
	if out.To, err = flagQuantity("--to", o.to, quantity.Frequency); err != nil {
		return out, err
	}
	if out.Boxes, err = stackSizes(o.boxes); err != nil {
		return out, err
	}
	if out.Signal, err = parseSignal(o.programme, o.crest); err != nil {
		return out, err
	}
	return out, out.Check()
}

// Limits of --boxes: the work grows with the cube of the largest.
const mostBoxes, mostSizes = 64, 8

func stackSizes(text string) ([]int, error) {
	var out []int
	for _, part := range strings.Split(text, ",") {
		n, err := strconv.Atoi(strings.TrimSpace(part))
		if err != nil || n < 1 || n > mostBoxes || len(out) > 0 && n <= out[len(out)-1] {
			return nil, fmt.Errorf("--boxes is %q: rising numbers of boxes up to %d are needed, such as 1,2,4,8", text, mostBoxes)
		}
		out = append(out, n)
	}
	if len(out) > mostSizes {
		return nil, fmt.Errorf("--boxes has %d sizes: at most %d are possible", len(out), mostSizes)
	}
	return out, nil
}
