package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gapline/cabinet/field"
	"gapline/cabinet/source"
	"gapline/internal/designfile"
	"gapline/internal/quantity"
	"gapline/internal/study/line"

	"github.com/spf13/cobra"
)

// lineFlags are the flags of the line command.
type lineFlags struct {
	views       []string
	asked       []line.View // views, parsed
	frequencies string
	average     bool
	at          string
	span        string
	frame       string
	points      []string
	shape       string
	reference   string
	place       placeFlags

	programme, crest string

	aim, anyOrder, shade, delay bool
	even                        string
	write                       string
	force                       bool
	tables, step                string
}

// placeFlags say what surrounds the mouths; line and crossover share them.
type placeFlags struct {
	boundary      string
	ground        float64
	absorption    string
	withoutInsert bool
	pattern       patternFlag
}

func (p *placeFlags) add(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&p.boundary, "boundary", "free", "`HOW` the mouths stand; free: mouths in the open; baffle: each mouth in its own wall")
	f.BoolVar(&p.withoutInsert, "without-insert", false, "hang the bare cones even where the design has an insert")
	p.pattern.add(f)
	p.pattern.complete(cmd)
	_ = cmd.RegisterFlagCompletionFunc("boundary", cobra.FixedCompletions([]string{"free", "baffle"}, cobra.ShellCompDirectiveNoFileComp))
}

func (f *lineFlags) add(cmd *cobra.Command) {
	fs := cmd.Flags()
	fs.StringSliceVar(&f.views, "view", nil, "`VIEW` to print, draw or list, or all (repeatable)")
	fs.StringVar(&f.frequencies, "frequencies", "", "`LIST` such as 250Hz,1kHz, or octaves, thirds, sixths, twelfths, with a range: thirds:100Hz:4kHz")
	fs.BoolVar(&f.average, "average", false, "average the energy over each band in place of taking tones")
	fs.StringVar(&f.at, "at", "far", "`DISTANCE` of polars and maps over angle, or far")
	fs.StringVar(&f.span, "range", "1m:128m", "`FROM:TO` of level against distance")
	fs.StringVar(&f.frame, "frame", "", "`X:X:Z:Z` shown in the side view, such as -2m:40m:0m:10m")
	fs.StringArrayVar(&f.points, "point", nil, "print the level at `X,Y,Z`: forward, left, above the ground (repeatable)")
	fs.StringVar(&f.shape, "shape", "", "`CURVE` in place of line.splay: straight, arc:ANGLE or progressive:ANGLE in all")
	fs.StringVar(&f.reference, "reference", "beam", "`WHAT` levels over angle refer to: axis, beam (the loudest angle), seat (the farthest) or seat:DISTANCE; JSON and CSV stay on the axis")
	fs.Float64Var(&f.place.ground, "ground", 0, "`REFLECTION` of the floor at points, at seats and in the side view: 0 none, 1 rigid")
	fs.StringVar(&f.place.absorption, "absorption", "auto", "`WHETHER` air absorbs: on, off, or auto (at seats, points and in the side view)")
	addSignal(fs, &f.programme, &f.crest)
	fs.BoolVar(&f.aim, "aim", false, "look for the splay that spreads the sound evenly over the seats")
	fs.BoolVar(&f.anyOrder, "any-order", false, "with --aim: a joint may turn less than the one above it")
	fs.BoolVar(&f.shade, "shade", false, "with --aim: boxes may be turned down (line.gain_steps)")
	fs.BoolVar(&f.delay, "delay", false, "with --aim: boxes may be delayed (line.delay_steps)")
	fs.StringVar(&f.even, "even", "octaves", "with --aim: `WHAT` is to be even: octaves, those that the stack can steer beside the A-weighted level, or dba alone")
	fs.StringVar(&f.write, "write", "", "with --aim: write the design with the new splay to `FILE`")
	fs.BoolVar(&f.force, "force", false, "with --write: overwrite FILE if it exists")
	fs.StringVar(&f.tables, "tables", "", "write polars of both planes to folder `DIR`, a text table for each angle")
	fs.StringVar(&f.step, "step", "5deg", "with --tables: `ANGLE` between them")
	f.place.add(cmd)
	_ = cmd.RegisterFlagCompletionFunc("view", completeViews)
	_ = cmd.RegisterFlagCompletionFunc("absorption", cobra.FixedCompletions([]string{"auto", "on", "off"}, cobra.ShellCompDirectiveNoFileComp))
	_ = cmd.RegisterFlagCompletionFunc("shape", cobra.FixedCompletions([]string{"straight", "arc:", "progressive:"}, cobra.ShellCompDirectiveNoSpace|cobra.ShellCompDirectiveNoFileComp))
	_ = cmd.RegisterFlagCompletionFunc("programme", cobra.FixedCompletions(programmeNames(), cobra.ShellCompDirectiveNoFileComp))
	_ = cmd.RegisterFlagCompletionFunc("reference", cobra.FixedCompletions([]string{"axis", "beam", "seat"}, cobra.ShellCompDirectiveNoFileComp))
	_ = cmd.RegisterFlagCompletionFunc("frequencies", cobra.FixedCompletions([]string{"octaves", "thirds", "sixths", "twelfths"}, cobra.ShellCompDirectiveNoFileComp))
	_ = cmd.RegisterFlagCompletionFunc("even", cobra.FixedCompletions([]string{"octaves", "dba"}, cobra.ShellCompDirectiveNoFileComp))
	_ = cmd.RegisterFlagCompletionFunc("write", completeDesignFiles)
	_ = cmd.MarkFlagDirname("tables")
}

func completeViews(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	out := []string{"all\tevery view"}
	for _, v := range line.Views {
		out = append(out, string(v.View)+"\t"+v.Doc)
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

// conditions reads what surrounds the mouths.
func (p *placeFlags) conditions() (line.Conditions, error) {
	c := line.Conditions{Ground: p.ground, Choice: source.Choice{WithoutInsert: p.withoutInsert}}
	switch p.boundary {
	case "free":
	case "baffle":
		c.Boundary = field.Baffled
	default:
		return c, fmt.Errorf("--boundary is %q: free or baffle is needed", p.boundary)
	}
	switch p.absorption {
	case "", "auto":
	case "on":
		c.Absorption = line.WithAbsorption
	case "off":
		c.Absorption = line.WithoutAbsorption
	default:
		return c, fmt.Errorf("--absorption is %q: on, off or auto is needed", p.absorption)
	}
	if err := p.pattern.check(c.Boundary == field.Baffled); err != nil {
		return c, err
	}
	if !(p.ground >= 0 && p.ground <= 1) {
		return c, fmt.Errorf("--ground is %.6g: 0 (no floor) to 1 (rigid) is needed", p.ground)
	}
	return c, nil
}

// hang puts the patterns of a design's box into the conditions.
func (p *placeFlags) hang(ctx context.Context, a *app, file *designfile.File, c *line.Conditions) (err error) {
	c.Choice.Patterns, err = p.pattern.patterns(ctx, a, file.Name, &file.Design, c.Choice.WithoutInsert, c.Boundary == field.Baffled)
	return err
}

func (f *lineFlags) conditions() (line.Conditions, error) {
	c, err := f.place.conditions()
	if err == nil && f.shape != "" {
		if c.Shape, err = line.ParseShape(f.shape); err != nil {
			err = fmt.Errorf("--shape: %w", err)
		}
	}
	if err == nil {
		if c.Reference, err = line.ParseReference(f.reference); err != nil {
			err = fmt.Errorf("--reference: %w", err)
		}
	}
	return c, err
}

// request reads what is asked for and refuses what makes no sense together.
func (f *lineFlags) request(a *app) (line.Request, error) {
	r := line.Request{PerDoubling: line.PerDoubling, MapAngles: math.Pi / 360, MapSpread: math.Pi}
	if err := f.parseViews(); err != nil {
		return r, err
	}
	if err := f.together(a); err != nil {
		return r, err
	}
	r.Views = f.wanted(a)
	for _, read := range []func(*line.Request) error{f.spectra, f.distances, f.frameInto, f.pointsInto, f.signalInto} {
		if err := read(&r); err != nil {
			return r, err
		}
	}
	return r, nil
}

func (f *lineFlags) parseViews() error {
	for _, name := range f.views {
		known := false
		for _, v := range line.Views {
			if (name == string(v.View) || name == "all") && !slices.Contains(f.asked, v.View) {
				f.asked = append(f.asked, v.View)
			}
			known = known || name == string(v.View) || name == "all"
		}
		if !known {
			return fmt.Errorf("--view is %q: %s or all is needed", name, viewNames())
		}
	}
	return nil
}

// together refuses flags that need or exclude each other.
func (f *lineFlags) together(a *app) error {
	switch {
	case a.csv && len(f.asked) > 1:
		return fmt.Errorf("--csv prints one table: give one --view, of %s", viewNames())
	case !f.aim && (f.anyOrder || f.shade || f.delay || f.write != ""):
		return errors.New("--any-order, --shade, --delay and --write need --aim")
	case f.even != "octaves" && f.even != "dba":
		return fmt.Errorf("--even is %q: octaves or dba is needed", f.even)
	case !f.aim && f.even != "octaves":
		return errors.New("--even needs --aim")
	case f.aim && f.shape != "":
		return errors.New("--aim finds the curve itself: leave out --shape")
	case f.force && f.write == "":
		return errors.New("--force needs --write")
	case f.tables != "" && f.average:
		return errors.New("--tables writes level and phase of tones: leave out --average")
	}
	_, err := f.steps()
	return err
}

// summaryViews are what the summary is made of; the JSON adds the coupling.
var summaryViews = []line.View{line.PolarView, line.DistanceView, line.AudienceView, line.MaximumView, line.ProgrammeView}

// wanted lists every view to compute: those printed and those drawn.
func (f *lineFlags) wanted(a *app) []line.View {
	printed := f.asked
	switch {
	case len(printed) == 0 && a.csv:
		printed = []line.View{line.DistanceView}
	case len(printed) == 0 && a.json:
		printed = append(slices.Clone(summaryViews), line.CouplingView)
	case len(printed) == 0 || len(a.outputs) > 0 && !a.json && !a.csv:
		printed = append(slices.Clone(printed), summaryViews...)
	}
	if len(a.outputs) > 0 && len(f.asked) == 0 {
		printed = append(slices.Clone(printed), line.AngleMapView)
	}
	return printed
}

// pictured lists the views to draw.
func (f *lineFlags) pictured(r line.Request, found *line.Result) []line.View {
	if len(f.asked) > 0 {
		return slices.DeleteFunc(slices.Clone(f.asked), func(v line.View) bool {
			return len(f.asked) > 1 && (v == line.MaximumView && found.Maximum == nil || v == line.ProgrammeView && (found.Maximum == nil || found.Maximum.Seats == nil))
		})
	}
	return r.Views[len(r.Views)-1:]
}

// Frequencies unless others are asked for.
const (
	fewFrequencies   = "octaves:125Hz:8kHz"
	denseFrequencies = "twelfths:63Hz:16kHz" // averaged: tones far up are all fringes
	sideFrequencies  = "1kHz"
)

func (f *lineFlags) spectra(r *line.Request) error {
	for _, s := range []struct {
		into      *line.Spectrum
		otherwise string
	}{{&r.Few, fewFrequencies}, {&r.Dense, denseFrequencies}, {&r.SideSpectrum, sideFrequencies}} {
		text, average := s.otherwise, f.average || s.otherwise == denseFrequencies
		if f.frequencies != "" {
			text, average = f.frequencies, f.average
		} else if text == sideFrequencies && average {
			text = "octaves:1kHz:1kHz"
		}
		var err error
		if *s.into, err = line.ParseSpectrum(text, average); err != nil {
			return fmt.Errorf("--frequencies: %w", err)
		}
	}
	return nil
}

func (f *lineFlags) distances(r *line.Request) error {
	var err error
	if r.PolarDistance, err = parseDistance(f.at); err != nil {
		return fmt.Errorf("--at: %w", err)
	}
	from, to, ok := strings.Cut(f.span, ":")
	if !ok {
		return fmt.Errorf("--range is %q: two distances are needed, such as 1m:100m", f.span)
	}
	if r.From, err = quantity.Parse(from, quantity.Length); err != nil {
		return fmt.Errorf("--range: %w", err)
	}
	if r.To, err = quantity.Parse(to, quantity.Length); err != nil {
		return fmt.Errorf("--range: %w", err)
	}
	if !(r.From >= 0.01 && r.From < r.To && r.To <= 1e5) {
		return fmt.Errorf("--range is %q: a rising range within 10 mm and 100 km is needed", f.span)
	}
	return nil
}

// parseDistance reads a length, or far.
func parseDistance(text string) (float64, error) {
	if text == "far" {
		return math.Inf(1), nil
	}
	d, err := quantity.Parse(text, quantity.Length)
	switch {
	case err != nil:
		return d, fmt.Errorf("%w, or far", err)
	case !(d > 0):
		return d, fmt.Errorf("%q: more than 0 is needed, or far", text)
	}
	return d, nil
}

func (f *lineFlags) frameInto(r *line.Request) error {
	if f.frame == "" {
		return nil
	}
	x, err := parseLengths(f.frame, ":", 4)
	if err != nil {
		return fmt.Errorf("--frame: %w", err)
	}
	r.Frame = line.Frame{FromX: x[0], ToX: x[1], FromZ: x[2], ToZ: x[3]}
	if !(x[0] < x[1] && x[2] < x[3]) {
		return fmt.Errorf("--frame is %q: both ranges must rise", f.frame)
	}
	return nil
}

func (f *lineFlags) pointsInto(r *line.Request) error {
	if err := checkCount("points", len(f.points), mostPoints); err != nil {
		return err
	}
	for _, text := range f.points {
		x, err := parseLengths(text, ",", 3)
		if err != nil {
			return fmt.Errorf("--point: %w", err)
		}
		r.Spots = append(r.Spots, field.Vec{X: x[0], Y: x[1], Z: x[2]})
	}
	return nil
}

func parseLengths(text, separator string, n int) ([]float64, error) {
	parts := strings.Split(text, separator)
	if len(parts) != n {
		return nil, fmt.Errorf("%q has %d parts: %d lengths with %q between them are needed", text, len(parts), n, separator)
	}
	out := make([]float64, n)
	for i, p := range parts {
		var err error
		if out[i], err = quantity.Parse(p, quantity.Length); err != nil {
			return nil, err
		}
		if math.Abs(out[i]) > 1e4 {
			return nil, fmt.Errorf("%q is farther than 10 km", p)
		}
	}
	return out, nil
}
