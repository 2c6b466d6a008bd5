package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/section"
	"gapline/cabinet/sizing"
	"gapline/internal/advice"
	"gapline/internal/designfile"
	"gapline/internal/numeric"
	"gapline/internal/preferred"
	"gapline/internal/study/fit"
	"gapline/internal/study/stored"
	study "gapline/internal/study/wave"
	"gapline/internal/wavecache"
)

// leverRuns reads what stored runs of the wave level say of designs changed by a lever, and
// solves those of the plan section that are not stored.
type leverRuns struct {
	app  *app
	file string
	runs *stored.Runs
}

func (a *app) leverRuns(file *designfile.File) *leverRuns {
	return &leverRuns{app: a, file: file.Name, runs: stored.NewRuns(file.Name)}
}

// of returns what is known of a design; absent where nothing is, or no more is read.
func (r *leverRuns) of(ctx context.Context, d *design.Design) sizing.WaveSizing {
	if ctx.Err() != nil {
		return sizing.AbsentWave
	}
	return r.runs.Of(ctx, d)
}

// solve solves the plan section of every lever's design of which no run is stored, as gapline
// wave does, and stores the runs. One that cannot be solved is named and left out; when ctx
// ends, the rest is too.
func (r *leverRuns) solve(ctx context.Context, d *design.Design, s *sizing.Sizing, fits *fit.Fit) error {
	judged := advice.Judge(d, s, fits)
	list := judged.Proposes(d, fits.Links, s)
	var reasons []string
	unsolved := map[string][]string{} // first settings of levers, by why
	defer func() {
		for _, why := range reasons {
			r.app.note("not checked by wave: %s; for %s", why, strings.Join(unsolved[why], ", "))
		}
	}()
	for i := range list {
		l := &list[i]
		if numeric.Given(r.of(ctx, &l.Design).Pattern) {
			continue
		}
		switch err := r.run(ctx, &l.Design, fmt.Sprintf("lever %d of %d solved", i+1, len(list))); {
		case ctx.Err() != nil:
			r.app.note("stopped: levers left are not checked by wave")
			return ctx.Err()
		case err != nil:
			if unsolved[err.Error()] == nil {
				reasons = append(reasons, err.Error())
			}
			unsolved[err.Error()] = append(unsolved[err.Error()], l.Set[0])
		}
	}
	return nil
}

// errNoPattern says that a run has no figure for the gap.
var errNoPattern = errors.New("its width does not fall to the coverage within the run")

// run solves one design and stores what it found.
func (r *leverRuns) run(ctx context.Context, d *design.Design, what string) error {
	f := preferred.Twelfths(defaultFrom, defaultTo)
	bar := r.app.newProgress(what, 0)
	st, err := study.RunPlan(ctx, d, section.ByHorn, study.Options{Frequencies: f, Progress: bar.of})
	bar.end()
	if err != nil {
		return err
	}
	w := st.Check.Figures
	if !numeric.Given(w.Pattern) {
		return errNoPattern
	}
	if err := wavecache.Beside(r.file).Put(ctx, st.Check.Plan, section.Air(d), f, w); err != nil {
		r.app.note("the result is not stored: %v", err)
		r.runs.Hold(d, w)
	}
	return nil
}
