package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"gapline/cabinet/section"
	"gapline/internal/bem"
	"gapline/internal/describe"
	"gapline/internal/numeric"
	"gapline/internal/preferred"
	"gapline/internal/quantity"
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
