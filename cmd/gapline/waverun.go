package main

import (
	"context"

	"gapline/cabinet/section"
	"gapline/cabinet/sizing"
	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/result"
	study "gapline/internal/study/wave"
	"gapline/internal/wavecache"
	"gapline/waveguide/wave"
)

// solve solves the section asked for and shows it.
func (j *waveJob) solve(ctx context.Context, file *designfile.File) error {
	switch {
	case j.of == "plan":
		return j.plan(ctx, file)
	case j.of == "front":
		return j.outside(ctx, file)
	case j.view == describe.WaveBend:
		return j.bend(ctx, file)
	}
	return j.fold(ctx, file)
}

// plan solves the horizontal section.
func (j *waveJob) plan(ctx context.Context, file *designfile.File) error {
	bar := j.app.newProgress("solved", 0)
	st, err := study.RunPlan(ctx, &file.Design, j.driven, j.options(bar))
	bar.end()
	if err != nil {
		return err
	}
	j.store(ctx, file, st.Check.Plan, st.Check.Figures)
	if err := j.app.show(describe.WavePlan(st, j.at), j.view); err != nil {
		return err
	}
	return j.loop(ctx, func(phase float64) result.Part { return describe.WavePlanFrame(st, phase) })
}

// fold solves the two layers of the folded guide.
func (j *waveJob) fold(ctx context.Context, file *designfile.File) error {
	bar := j.app.newProgress("solved", 0)
	st, err := study.RunFold(ctx, &file.Design, j.exit, j.options(bar))
	bar.end()
	if err != nil {
		return err
	}
	if j.exit == wave.Matched { // the exit that stored figures stand for
		j.store(ctx, file, st.Check.Guide, st.Check.Figures)
	}
	if err := j.app.show(describe.WaveFold(st, j.at), j.view); err != nil {
		return err
	}
	return j.loop(ctx, func(phase float64) result.Part { return describe.WaveFoldFrame(st, phase) })
}

// bend solves the turn between the layers.
func (j *waveJob) bend(ctx context.Context, file *designfile.File) error {
	bar := j.app.newProgress("solved", 0)
	st, err := study.RunTurn(ctx, &file.Design, j.plate, j.options(bar))
	bar.end()
	if err != nil {
		return err
	}
	return j.app.show(describe.WaveTurn(st), j.view)
}

// store keeps the figures of a run for other commands; a field's one frequency finds none.
// Not being able to is no failure of the run.
func (j *waveJob) store(ctx context.Context, file *designfile.File, geometry any, figures sizing.WaveSizing) {
	if j.alone {
		return
	}
	err := wavecache.Beside(file.Name).Put(ctx, geometry, section.Air(&file.Design), j.frequencies, figures)
	if err != nil {
		j.app.note("the result is not stored: %v", err)
	}
}

// storePatterns keeps what a box radiates all round for the commands that hang it in a stack.
func (j *waveJob) storePatterns(ctx context.Context, file *designfile.File, st *study.Front) {
	if j.alone {
		return
	}
	for _, p := range st.Patterns() {
		if err := wavecache.Beside(file.Name).PutPattern(ctx, p.Of, section.Air(&file.Design), p.Pattern, p.Volts); err != nil {
			j.app.note("the pattern is not stored: %v", err)
		}
	}
}
