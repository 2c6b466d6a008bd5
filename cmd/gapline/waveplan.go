package main

import (
	"context"

	"gapline/cabinet/design"
	"gapline/cabinet/section"
	"gapline/cabinet/sizing"
	"gapline/internal/bem"
	"gapline/internal/designfile"
	"gapline/internal/picture"
	"gapline/internal/screen"
	"gapline/internal/wavecache"
	"gapline/plots"
	"gapline/waveguide/wave"
)

// plan solves the horizontal section.
func (j *waveJob) plan(ctx context.Context, file *designfile.File) error {
	a, d := j.app, &file.Design
	p, problems := section.Plan(d, j.driven)
	if len(problems) > 0 {
		return file.Fault(problems...)
	}
	j.forecast(p.Problem(section.Air(d)))
	field, err := j.planField(ctx, d, p)
	if err != nil {
		return err
	}
	bar := a.newProgress("solved", j.steps())
	c, err := section.CheckPlan(ctx, d, p, j.driven, j.solve(bar))
	bar.end()
	if err != nil {
		return err
	}
	j.store(ctx, file, p, c.Figures)
	s := sizing.Size(d)
	s.Wave = c.Figures
	if err := j.printPlan(d, &s, c); err != nil {
		return err
	}
	return j.drawPlan(ctx, d, &s, c, field)
}

// planField solves the field that is to be drawn, before the sweep, so that one
// that is too large is refused at once; nil when there is none.
func (j *waveJob) planField(ctx context.Context, d *design.Design, p wave.Plan) (*wave.Field, error) {
	if !j.needsField() {
		return nil, nil
	}
	return section.PlanField(ctx, d, p, j.at[0], bem.Options{})
}

// store keeps the figures of a run for other commands. Not being able to is no
// failure of the run.
func (j *waveJob) store(ctx context.Context, file *designfile.File, geometry any, figures sizing.WaveSizing) {
	err := wavecache.Beside(file.Name).Put(ctx, geometry, section.Air(&file.Design), j.frequencies, figures)
	if err != nil {
		j.app.note("the result is not stored: %v", err)
	}
}

func (j *waveJob) printPlan(d *design.Design, s *sizing.Sizing, c *section.PlanCheck) error {
	a := j.app
	switch {
	case a.json:
		return screen.WriteJSON(a.out, screen.WavePlanObject(d, s, c))
	case a.csv:
		return screen.WavePlanCSV(a.out, c)
	}
	return screen.WavePlan(a.out, d, s, c, a.system())
}

func (j *waveJob) drawPlan(ctx context.Context, d *design.Design, s *sizing.Sizing, c *section.PlanCheck, field *wave.Field) error {
	a := j.app
	err := a.draw(func() plots.Figure {
		switch j.view {
		case "polar":
			return picture.PlanPolar(d, s, c, j.at, a.system())
		case "map":
			return picture.PlanMap(d, s, c, a.system())
		case "field", "instant":
			return picture.PlanField(d, s, c, field, picture.FieldView{Instant: j.view == "instant"}, a.system())
		}
		return picture.PlanBeamwidth(d, s, c, a.system())
	})
	if err != nil || j.animate == "" {
		return err
	}
	return j.loop(ctx, func(phase float64) plots.Figure {
		return picture.PlanField(d, s, c, field, picture.FieldView{Instant: true, Phase: phase}, a.system())
	})
}
