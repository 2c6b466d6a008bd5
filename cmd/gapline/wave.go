package main

import (
	"context"
	"errors"
	"fmt"
	"time"

	"gapline/cabinet/section"
	"gapline/internal/bem"
	"gapline/internal/bem3"
	"gapline/internal/check"
	"gapline/internal/designfile"
	"gapline/internal/part"
	study "gapline/internal/study/wave"
	"gapline/waveguide/wave"

	"github.com/spf13/cobra"
)

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
and size shows them as long as the design stays the same; of --of front what one box,
or the middle one of an odd number, radiates all round too, which line, crossover,
listen and report hang in the stack. The folder may be deleted. In --json everything is the same from run to run but "seconds", the time
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
