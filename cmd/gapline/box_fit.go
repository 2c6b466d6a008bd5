package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/advice"
	"gapline/internal/cleantext"
	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/numeric"
	"gapline/internal/openfile"
	"gapline/internal/optional"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/study/box"
	"gapline/internal/wholefile"
	"gapline/internal/wordset"

	"github.com/spf13/cobra"
)

// fitFlags are the flags of a fit as typed.
type fitFlags struct {
	sweep, second      string
	mass, volume, area string
	inductor, re       string
	from, to           string // of the box command, where given
	write, title       string
	force              bool
}

func (o *fitFlags) add(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&o.sweep, "fit", "", "fit the driver to the impedance sweep `SWEEP`, measured in free air")
	f.StringVar(&o.second, "second", "", "a second `SWEEP`, with --added-mass or --known-volume, for vas")
	f.StringVar(&o.mass, "added-mass", "", "`MASS` fixed to the cone in the second sweep")
	f.StringVar(&o.volume, "known-volume", "", "`VOLUME` of the closed box in the second sweep")
	f.StringVar(&o.area, "sd", "", "piston `AREA` for the second sweep; from FILE unless given")
	f.StringVar(&o.inductor, "inductor", box.AutoInductor.Name(), "`MODEL` of the inductance: "+strings.Join(wordset.Names[box.Inductor](), ", "))
	f.StringVar(&o.re, "re", "", "`RESISTANCE` of the voice coil, measured with direct current: held in the fit")
	f.StringVar(&o.write, "write", "", "write the fitted driver to the driver file `FILE`")
	f.StringVar(&o.title, "driver-title", "", "`TITLE` in the driver file; its name unless given")
	f.BoolVar(&o.force, "force", false, "overwrite the driver file if it exists")
	_ = cmd.RegisterFlagCompletionFunc("inductor", cobra.FixedCompletions(wordset.Names[box.Inductor](), cobra.ShellCompDirectiveNoFileComp))
}

// check refuses combinations of flags that make no sense.
func (o *fitFlags) check(cmd *cobra.Command) error {
	if o.sweep == "" {
		for _, name := range []string{"second", "added-mass", "known-volume", "sd", "inductor", "re", "write", "driver-title", "force"} {
			if cmd.Flags().Changed(name) {
				return fmt.Errorf("--%s needs --fit SWEEP", name)
			}
		}
		return nil
	}
	switch {
	case (o.mass != "" || o.volume != "") && o.second == "":
		return errors.New("--added-mass and --known-volume need --second SWEEP")
	case o.second != "" && (o.mass != "") == (o.volume != ""):
		return errors.New("--second needs one of --added-mass and --known-volume")
	case !slices.Contains(wordset.Names[box.Inductor](), o.inductor):
		return fmt.Errorf("--inductor is %q: one of %s is needed", o.inductor, strings.Join(wordset.Names[box.Inductor](), ", "))
	case o.write != "" && filepath.Ext(o.write) != ".toml":
		return fmt.Errorf("--write is %q: a name that ends in .toml is needed", o.write)
	}
	if _, err := os.Stat(o.write); o.write != "" && !o.force && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s exists: choose another name, or use --force to overwrite it", o.write)
	}
	if cmd.Flags().Changed("from") {
		o.from = cmd.Flags().Lookup("from").Value.String()
	}
	if cmd.Flags().Changed("to") {
		o.to = cmd.Flags().Lookup("to").Value.String()
	}
	return nil
}

// options reads the quantities.
func (o *fitFlags) options(d *design.Design) (box.FitOptions, error) {
	out := box.FitOptions{AddedMass: numeric.Absent, KnownVolume: numeric.Absent}
	out.Inductor, _ = wordset.Parse[box.Inductor](o.inductor) // checked
	for _, x := range []struct {
		flag, text string
		kind       quantity.Kind
		into       func(float64)
	}{
		{"--added-mass", o.mass, quantity.Mass, func(v float64) { out.AddedMass = v }},
		{"--known-volume", o.volume, quantity.Volume, func(v float64) { out.KnownVolume = v }},
		{"--re", o.re, quantity.Resistance, func(v float64) { out.Re = optional.Of(v) }},
		{"--from", o.from, quantity.Frequency, func(v float64) { out.From = optional.Of(v) }},
		{"--to", o.to, quantity.Frequency, func(v float64) { out.To = optional.Of(v) }},
		{"--sd", o.area, quantity.Area, func(v float64) { d.Woofer.Sd = optional.Of(v) }},
	} {
		if x.text == "" {
			continue
		}
		v, err := flagQuantity(x.flag, x.text, x.kind)
		if err != nil {
			return out, err
		}
		if !(v > 0) {
			return out, fmt.Errorf("%s is %s: must be above zero", x.flag, x.text)
		}
		x.into(v)
	}
	if out.From.Given() && out.To.Given() && !(out.From.Value() < out.To.Value()) {
		return out, fmt.Errorf("--from is %s and --to is %s: the band must rise", o.from, o.to)
	}
	return out, nil
}

func runFit(ctx context.Context, a *app, name string, o fitFlags) error {
	design := design.New()
	if name == "" && len(a.settings) > 0 {
		return usageError{errors.New("--set changes a design file: give one, or use --sd")}
	}
	if name != "" {
		file, err := a.load(ctx, name)
		if err != nil {
			return err
		}
		design = file.Design
	}
	options, err := o.options(&design)
	if err != nil {
		return usageError{err}
	}
	if o.second != "" && !numeric.Given(design.Woofer.PistonArea()) {
		return usageError{box.ErrNoArea}
	}
	if options.Sweep, err = readSweep(ctx, o.sweep); err != nil {
		return err
	}
	if o.second != "" {
		second, err := readSweep(ctx, o.second)
		if err != nil {
			return err
		}
		options.Second = &second
	}
	fit, err := box.RunFit(ctx, &design, options)
	var unfit *box.SweepError
	switch {
	case errors.As(err, &unfit):
		return designfile.Problems{{Where: unfit.File, Text: unfit.Err.Error()}}
	case err != nil:
		return err
	}
	shown := describe.BoxFit(fit, advice.FitFindings(fit))
	if err := a.print(shown); err != nil {
		return err
	}
	if o.write != "" {
		if err := wholefile.Write(o.write, driverFile(o.driverTitle(), fit)); err != nil {
			return err
		}
		a.note("wrote %s; try [woofer] file = %q in a design file", o.write, filepath.Base(o.write))
	}
	return a.picture(shown)
}

// readSweep reads an impedance sweep. Faults have file and line.
func readSweep(ctx context.Context, name string) (box.Sweep, error) {
	s := box.Sweep{File: cleantext.Line(name)}
	file, err := openfile.Open(ctx, name, "an impedance sweep")
	if err != nil {
		return s, designfile.Problems{{Where: name, Text: err.Error()}}
	}
	defer file.Close()
	if s.Impedance, err = driver.ReadImpedance(file); err != nil {
		problem := designfile.Problem{Where: name, Text: err.Error()}
		var at *driver.SweepError
		if errors.As(err, &at) {
			problem.Line, problem.Text = at.Line, at.Text
		}
		return s, designfile.Problems{problem}
	}
	return s, nil
}

// driverFile is the text of a driver file with the fitted parameters, and those that
// the design gives beside them.
func driverFile(title string, f *box.Fit) []byte {
	var about []string
	for _, t := range describe.FitRemarks(f) {
		about = append(about, terminal.Text(t, quantity.Metric))
	}
	var values []designfile.DriverValue
	le, exponent, off := f.First.StandIn()
	for _, e := range f.Estimates() {
		v := designfile.DriverValue{Key: e.Key, Value: e.Value, Low: e.Low, High: e.High}
		switch {
		case e.Key == "qts": // follows from qes and qms
			continue
		case off > 0 && e.Key == "le":
			v = designfile.DriverValue{Key: e.Key, Value: le, Low: numeric.Absent, High: numeric.Absent}
		case off > 0 && e.Key == "le_exponent":
			v = designfile.DriverValue{Key: e.Key, Value: exponent, Low: numeric.Absent, High: numeric.Absent}
		}
		values = append(values, v)
	}
	w := &f.Design.Woofer
	for _, x := range []struct {
		key   string
		value float64
	}{{"sd", w.Sd.Value()}, {"effective_diameter", w.EffectiveDiameter.Value()}, {"xmax", w.Xmax.Value()}, {"power", w.Power.Value()}} {
		values = append(values, designfile.DriverValue{Key: x.key, Value: x.value, Low: numeric.Absent, High: numeric.Absent})
	}
	var lacks []string
	if f.Vas == nil {
		lacks = []string{"vas and sd are still to be found: a second sweep with an added mass or in a known volume gives vas."}
	}
	return designfile.EncodeDriver(title, about, values, lacks...)
}

func (o *fitFlags) driverTitle() string {
	if o.title != "" {
		return o.title
	}
	return strings.TrimSuffix(filepath.Base(o.write), ".toml")
}
