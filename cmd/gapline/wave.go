package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"gapline/cabinet/outside"
	"gapline/cabinet/section"
	"gapline/internal/bem"
	"gapline/internal/bem3"
	"gapline/internal/check"
	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/part"
	"gapline/internal/preferred"
	"gapline/internal/quantity"
	"gapline/internal/render/picture"
	"gapline/internal/result"
	study "gapline/internal/study/wave"
	"gapline/plots"
	"gapline/waveguide/wave"

	"github.com/spf13/cobra"
)

// The sections of --of, each with its views; the first one is the default.
var waveViews = map[string][]string{
	"plan":  describe.WavePlanViews,
	"fold":  describe.WaveFoldViews,
	"front": describe.WaveFrontViews,
}

// Ends of the frequency range when nothing is said, and the widest one, Hz.
const (
	defaultFrom, defaultTo = study.PlanFrom, study.PlanTo
	frontFrom, frontTo     = 100, 2000
	lowestWave             = 10
	mostFrequencies        = 2000
)

// waveFlags are the flags of wave as typed.
type waveFlags struct {
	of, view, woofers, exit string
	from, to, plate         string
	at                      []string
	count                   int
	drive                   string
	boxes                   int
	plane                   string
	openJoints              bool
	floor                   string
	check                   bool
	animate                 string
	part                    string
}

func newWave(a *app) *cobra.Command {
	var f waveFlags
	cmd := &cobra.Command{
		Use:     "wave FILE",
		GroupID: "design",
		Short:   "Check horn and fold by solving the wave equation (boundary elements)",
		Long: `Solve the wave equation in a plane section of the design, or around it in space,
and put the result, at trust level wave, beside rule, aperture and rays.

  --of plan   horizontal section through cabinet and horn: -6 dB width against
              frequency, pattern, and the frequency from which it holds
  --of fold   the two layers of the folded guide: phase and level along the mouth,
              how far up the front is flat, the load on the throat; with --view
              bend a section through the turn between the layers
  --of front  the outside of one box, or of --boxes of the stack, in three
              dimensions: levels with and without the insert, patterns in both
              planes, the chamber's corner and the lobes of a stack of such boxes;
              an odd number of boxes tells what neighbours do to the middle one

--part K/N solves one share of the frequencies of --of front, dealt so that all take
about as long, and writes a part file for gapline merge, which prints and stores what
one run would have; see gapline help merge for an array job.

A field (--view field or instant), or the pressure on the box (--view surface), is
solved at --at alone, unless --from, --to or
--count ask for more.

Figures that a run finds are stored in a folder .gapline-cache beside the file,
and size shows them as long as the design stays the same. The folder may be
deleted. In --json everything is the same from run to run but "seconds", the time
that each frequency took.`,
		Example: `  gapline wave box.toml -o width.png
  gapline wave box.toml --set cabinet.width=700mm --set cabinet.edge_radius=40mm
  gapline wave box.toml --view map -o map.png
  gapline wave box.toml --view field --at 1.2kHz -o field.png
  gapline wave box.toml --at 2kHz --animate box.gif
  gapline wave box.toml --woofers sources --from 200Hz --to 2kHz --view polar -o woofers.png
  gapline wave box.toml --of fold --check -o flatness.png
  gapline wave box.toml --of front -o response.png -o mesh.stl
  gapline wave box.toml --of front --boxes 5 --from 800Hz
  gapline wave box.toml --of front --floor 0mm --to 500Hz
  gapline wave box.toml --of front --part 3/8 > part-3
  gapline wave box.toml --of front --view surface --at 1kHz -o surface.png
  gapline wave box.toml --of fold --view bend -o bend.png`,
		Args:              args(cobra.ExactArgs(1), "one design file is needed"),
		ValidArgsFunction: completeDesignFiles,
		Annotations:       map[string]string{filesAnnotation: ".stl .obj"},
		RunE: func(cmd *cobra.Command, given []string) error {
			job, err := f.parse(a)
			if err != nil {
				return usageError{err}
			}
			return job.run(cmd.Context(), given[0])
		},
	}
	f.add(cmd)
	return cmd
}

// add registers the flags.
func (f *waveFlags) add(cmd *cobra.Command) {
	fl := cmd.Flags()
	fl.StringVar(&f.of, "of", "plan", "`WHAT` to solve: plan, fold or front")
	fl.StringVar(&f.drive, "drive", "", "front, plan: `WHAT` moves: horn (plan unless given), woofers (front unless given) or mids (front)")
	fl.IntVar(&f.boxes, "boxes", 1, "front: `N` boxes of the stack about the middle one, straight; all of them as they hang")
	fl.BoolVar(&f.openJoints, "open-joints", false, "front: leave the gaps between boxes open")
	fl.StringVar(&f.floor, "floor", "", "front: a rigid floor `HEIGHT` below the lowest front, 0mm to stand on it")
	fl.StringVar(&f.view, "view", "", "`VIEW` that the picture shows; plan: beamwidth, polar, map, field, instant; fold: flatness, mouth, throat, bend, field, instant; front: response, polar, map, beamwidth, surface, field")
	fl.StringVar(&f.plane, "plane", "", "front, `PLANE` of a field: upright (unless given) or level, through the middle")
	fl.StringArrayVar(&f.at, "at", nil, "`FREQUENCY` of a field or of --animate; repeatable for polar and mouth")
	fl.StringVar(&f.from, "from", "", "lowest `FREQUENCY`; 250 Hz unless given, of front 100 Hz")
	fl.StringVar(&f.to, "to", "", "highest `FREQUENCY`; 16 kHz unless given, of front 2 kHz")
	fl.IntVar(&f.count, "count", 0, "`N` frequencies, evenly spaced in pitch; unless given, the preferred numbers of ISO 3: series R40, twelve an octave; of front R20, six")
	fl.BoolVar(&f.check, "check", false, "solve again with elements of half the size and print the change")
	fl.StringVar(&f.animate, "animate", "", "write one period of the sound field at --at to `PATH`, a .gif")
	fl.StringVar(&f.woofers, "woofers", "rigid", "plan, `HOW`: the woofers' openings are rigid, or are the sources instead of the horn")
	fl.StringVar(&f.exit, "exit", "matched", "fold, `HOW`: the mouth ends in ρc (matched) or as a slot in a wide wall (slot)")
	fl.StringVar(&f.plate, "plate", "", "bend: `THICKNESS` of the plate between the layers; twice fold.bend_radius, or a quarter of the layer, unless given")
	fl.StringVar(&f.part, "part", "", "front: solve share `K/N` of the frequencies only and write a part file")
	complete := func(flag string, words ...string) {
		_ = cmd.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp))
	}
	complete("of", "plan", "fold", "front")
	complete("drive", "horn", "woofers", "mids")
	complete("view", slices.Concat(waveViews["plan"], waveViews["fold"][:4], []string{describe.WaveResponse, describe.WaveSurface})...)
	complete("plane", "upright", "level")
	complete("woofers", "rigid", "sources")
	complete("exit", "matched", "slot")
	_ = cmd.RegisterFlagCompletionFunc("animate", cobra.FixedCompletions([]string{"gif"}, cobra.ShellCompDirectiveFilterFileExt))
}

// waveJob is a command line of wave that makes sense.
type waveJob struct {
	app         *app
	of, view    string
	driven      section.Driven
	exit        wave.Exit
	frequencies []float64
	alone       bool // of a field, whose frequency is the only one
	at          []float64
	plate       float64
	check       bool
	animate     string
	front       study.FrontOptions
	part        *part.Part // nil: the whole run
	typed       *waveFlags
}

// parse checks everything that can be known without the design.
func (f *waveFlags) parse(a *app) (*waveJob, error) {
	j := &waveJob{app: a, typed: f, of: f.of, view: f.view, check: f.check, animate: f.animate, plate: numeric.Absent}
	views, known := waveViews[f.of]
	switch {
	case !known:
		return nil, fmt.Errorf("--of is %q: plan, fold or front is needed", f.of)
	case f.view == "":
		j.view = views[0]
	case !slices.Contains(views, f.view):
		return nil, fmt.Errorf("--view is %q: --of %s has %s", f.view, f.of, strings.Join(views, ", "))
	}
	if err := j.parseChoices(f); err != nil {
		return nil, err
	}
	if err := j.parseFrequencies(f); err != nil {
		return nil, err
	}
	if err := j.parsePart(f); err != nil {
		return nil, err
	}
	return j, j.parseAt(f)
}

func (j *waveJob) parseChoices(f *waveFlags) error {
	switch f.woofers {
	case "rigid":
	case "sources":
		j.driven = section.ByWoofers
	default:
		return fmt.Errorf("--woofers is %q: rigid or sources is needed", f.woofers)
	}
	switch f.exit {
	case "matched":
	case "slot":
		j.exit = wave.Slot
	default:
		return fmt.Errorf("--exit is %q: matched or slot is needed", f.exit)
	}
	if err := j.parseFront(f); err != nil {
		return err
	}
	if f.plate != "" {
		v, err := quantity.Parse(f.plate, quantity.Length)
		if err == nil && !(v > 0) {
			err = errors.New("a plate has a thickness of more than 0")
		}
		if err != nil {
			return fmt.Errorf("--plate: %w", err)
		}
		j.plate = v
	}
	return nil
}

// parseFrequencies settles where to solve.
func (j *waveJob) parseFrequencies(f *waveFlags) error {
	low, high := float64(defaultFrom), float64(defaultTo)
	series := preferred.Twelfths
	if f.of == "front" {
		low, high, series = frontFrom, frontTo, preferred.Sixths
	}
	var err error
	if f.from != "" {
		if low, err = hertz("--from", f.from); err != nil {
			return err
		}
	}
	if f.to != "" {
		if high, err = hertz("--to", f.to); err != nil {
			return err
		}
	}
	switch {
	case high <= low && f.count != 1:
		return fmt.Errorf("--from %.6g Hz is not below --to %.6g Hz", low, high)
	case f.count < 0 || f.count > mostFrequencies:
		return fmt.Errorf("--count is %d: 1 to %d are possible", f.count, mostFrequencies)
	case f.count > 0:
		j.frequencies = bem.LogFrequencies(low, high, f.count)
	default:
		j.frequencies = series(low, high)
	}
	if len(j.frequencies) == 0 {
		return fmt.Errorf("between %.6g Hz and %.6g Hz lies no preferred number of ISO 3, series R40: give --count", low, high)
	}
	return nil
}

// parseFront settles what moves, and how many boxes stand there.
func (j *waveJob) parseFront(f *waveFlags) error {
	front := f.of == "front"
	switch f.drive {
	case "":
	case "horn":
		j.driven, j.front.Driven = section.ByHorn, outside.ByHorn
	case "woofers":
		j.driven = section.ByWoofers
	case "mids":
		j.front.Driven = outside.ByMids
		if !front {
			return errors.New("--drive mids goes with --of front")
		}
	default:
		return fmt.Errorf("--drive is %q: horn, woofers or mids is needed", f.drive)
	}
	switch {
	case f.boxes < 1:
		return fmt.Errorf("--boxes is %d: 1 or more are needed", f.boxes)
	case !front && (f.boxes > 1 || f.openJoints || f.floor != ""):
		return errors.New("--boxes, --open-joints and --floor go with --of front")
	case front && f.woofers != "rigid":
		return errors.New("--woofers is of plan: --drive woofers moves them in space, as it does unless horn or mids are given")
	case front && (f.exit != "matched" || f.plate != ""):
		return errors.New("--exit and --plate are of fold")
	case front && (f.check || f.animate != ""):
		return errors.New("--check and --animate are of plan and fold")
	}
	j.front.Boxes, j.front.OpenJoints = f.boxes, f.openJoints
	if f.floor != "" {
		v, err := quantity.Parse(f.floor, quantity.Length)
		if err == nil && !(v >= 0) {
			err = errors.New("a floor lies below the boxes: 0 mm or more is needed")
		}
		if err != nil {
			return fmt.Errorf("--floor: %w", err)
		}
		j.front.Floor = optional.Of(v)
	}
	return j.parsePlane(f)
}

// parsePlane settles what of the outside in space a picture of one frequency shows.
func (j *waveJob) parsePlane(f *waveFlags) error {
	field := f.of == "front" && j.view == describe.WaveField
	switch {
	case f.plane != "" && !field:
		return errors.New("--plane goes with --of front --view field")
	case f.plane != "" && f.plane != "upright" && f.plane != "level":
		return fmt.Errorf("--plane is %q: upright or level is needed", f.plane)
	case field && f.plane == "level":
		j.front.Look.Slice = outside.LevelSlice
	case field:
		j.front.Look.Slice = outside.UprightSlice
	case j.view == describe.WaveSurface:
		j.front.Look.Skin = true
	}
	return nil
}

// hertz reads a frequency.
func hertz(flag, text string) (float64, error) {
	v, err := quantity.Parse(text, quantity.Frequency)
	if err == nil && !(v >= lowestWave) {
		err = fmt.Errorf("%.6g Hz is below %d Hz", v, lowestWave)
	}
	if err != nil {
		return 0, fmt.Errorf("%s: %w", flag, err)
	}
	return v, nil
}

// parseAt settles which frequencies a picture shows.
func (j *waveJob) parseAt(f *waveFlags) error {
	for _, text := range f.at {
		v, err := hertz("--at", text)
		if err != nil {
			return err
		}
		j.at = append(j.at, v)
	}
	switch {
	case j.view == describe.WaveMap && len(j.frequencies) < 2:
		return errors.New("--view map runs over frequency: two or more are needed")
	case j.fieldView() && len(j.at) != 1:
		return fmt.Errorf("--view %s shows one frequency: give it by --at, such as --at 1kHz", j.view)
	}
	if j.alone = j.fieldView() && f.from == "" && f.to == "" && f.count == 0; j.alone {
		j.frequencies = j.at
	}
	switch {
	case j.animate == "":
		return nil
	case j.view == describe.WaveBend:
		return errors.New("--animate shows the plan section or the layers: --view bend has no field")
	case len(j.at) != 1:
		return errors.New("--animate shows one frequency: give it by --at, such as --at 1kHz")
	}
	return plots.CheckLoopPath(j.animate)
}

// fieldView says whether the picture is of one frequency, to be solved at --at.
func (j *waveJob) fieldView() bool {
	return j.view == describe.WaveField || j.view == describe.WaveInstant || j.view == describe.WaveSurface
}

// run reads the design and does the job.
func (j *waveJob) run(ctx context.Context, name string) error {
	file, err := j.app.load(ctx, name)
	if err != nil {
		return err
	}
	start := time.Now()
	if err := j.solve(ctx, file); err != nil {
		return waveError(err, file)
	}
	j.app.note("solved in %s s", briefly(time.Since(start).Seconds()))
	return nil
}

// briefly writes a run time, s, to two digits, whole seconds from ten on.
func briefly(seconds float64) string {
	if seconds >= 10 {
		return fmt.Sprintf("%.0f", seconds)
	}
	return fmt.Sprintf("%.2g", seconds)
}

// waveError turns the solver's complaints into ones about the file and the
// command line.
func waveError(err error, file *designfile.File) error {
	var problems study.Problems
	switch {
	case errors.As(err, &problems):
		return file.Fault(problems...)
	case errors.Is(err, section.ErrCrossMode):
		return usageError{fmt.Errorf("%w: lower --from", err)}
	case errors.Is(err, bem3.ErrTooLarge):
		return usageError{fmt.Errorf("%w; lower --to, or take fewer --boxes", err)}
	case errors.Is(err, bem.ErrTooLarge):
		return usageError{fmt.Errorf("%w; lower --to or --at", err)}
	case errors.Is(err, bem.ErrGeometry):
		return file.Fault(check.Problem{Text: fmt.Sprintf(
			"the section cannot be solved: %v; look at [horn], [fold] and the cabinet's width and depth", err)})
	}
	return err
}

// manyUnknowns is the size from which a solution takes seconds.
const manyUnknowns = 3000

// options returns what to solve, with progress shown on the bar and large problems
// announced before the work starts.
func (j *waveJob) options(bar *progress) study.Options {
	o := study.Options{Frequencies: j.frequencies, Halve: j.check, Progress: bar.of}
	if j.fieldView() && len(j.app.outputs) > 0 || j.animate != "" {
		o.Field = j.at[0]
	}
	o.Forecast = func(f float64, unknowns int, bytes float64) {
		if unknowns >= manyUnknowns {
			j.app.note("%.6g Hz takes %d unknowns and %.2g GB; Ctrl-C stops", f, unknowns, bytes/1e9)
		}
	}
	return o
}

// The moving picture: frames in a period, and how long a period is shown.
const (
	frames     = 24
	loopPeriod = 1200 * time.Millisecond
)

// loop writes one period of a field, which frame describes at a phase in rad.
func (j *waveJob) loop(ctx context.Context, frame func(phase float64) result.Part) error {
	if j.animate == "" {
		return nil
	}
	var list []plots.Figure
	for i := range frames {
		list = append(list, picture.Figure(frame(2*math.Pi*float64(i)/frames), j.app.system()))
	}
	if err := plots.SaveLoop(ctx, j.animate, list, loopPeriod); err != nil {
		return err
	}
	j.app.note("wrote %s", j.animate)
	return nil
}
