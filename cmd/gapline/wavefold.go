package main

import (
	"context"
	"errors"
	"fmt"

	"gapline/cabinet/design"
	"gapline/cabinet/section"
	"gapline/cabinet/sizing"
	"gapline/internal/bem"
	"gapline/internal/designfile"
	"gapline/internal/picture"
	"gapline/internal/screen"
	"gapline/plots"
	"gapline/waveguide/wave"
)

// fold solves the two layers of the folded guide.
func (j *waveJob) fold(ctx context.Context, file *designfile.File) error {
	a, d := j.app, &file.Design
	rays, guide, problems := section.Fold(d, j.exit)
	if len(problems) > 0 {
		return file.Fault(problems...)
	}
	j.forecast(guide.Problem(section.Air(d)))
	var first, second *wave.Field
	if j.needsField() { // before the sweep, so that one that is too large is refused at once
		var err error
		if first, second, err = section.FoldField(ctx, d, guide, j.at[0], bem.Options{}); err != nil {
			return err
		}
	}
	bar := a.newProgress("solved", j.steps())
	c, err := section.CheckFold(ctx, d, rays, guide, j.solve(bar))
	bar.end()
	if err != nil {
		return err
	}
	if j.exit == wave.Matched { // the exit that stored figures stand for
		j.store(ctx, file, guide, c.Figures)
	}
	s := sizing.Size(d)
	s.Wave = c.Figures
	if err := j.printFold(d, &s, c); err != nil {
		return err
	}
	return j.drawFold(ctx, d, &s, c, first, second)
}

func (j *waveJob) printFold(d *design.Design, s *sizing.Sizing, c *section.FoldCheck) error {
	a := j.app
	switch {
	case a.json:
		return screen.WriteJSON(a.out, screen.WaveFoldObject(d, c))
	case a.csv:
		return screen.WaveFoldCSV(a.out, c)
	}
	return screen.WaveFold(a.out, d, s, c, a.system())
}

func (j *waveJob) drawFold(ctx context.Context, d *design.Design, s *sizing.Sizing, c *section.FoldCheck, first, second *wave.Field) error {
	a := j.app
	err := a.draw(func() plots.Figure {
		switch j.view {
		case "mouth":
			return picture.FoldMouth(d, s, c, j.at, a.system())
		case "throat":
			return picture.FoldThroat(d, s, c, a.system())
		case "field", "instant":
			return picture.FoldField(d, s, c, first, second, picture.FieldView{Instant: j.view == "instant"}, a.system())
		}
		return picture.FoldFlatness(d, s, c, a.system())
	})
	if err != nil || j.animate == "" {
		return err
	}
	return j.loop(ctx, func(phase float64) plots.Figure {
		return picture.FoldField(d, s, c, first, second, picture.FieldView{Instant: true, Phase: phase}, a.system())
	})
}

// bend solves the turn between the layers.
func (j *waveJob) bend(ctx context.Context, file *designfile.File) error {
	a, d := j.app, &file.Design
	c, problems := section.Turns(d, j.plate)
	if len(problems) > 0 {
		return file.Fault(problems...)
	}
	bar := a.newProgress("solved", j.steps()*len(c.Turns))
	err := c.Solve(ctx, d, j.solve(bar))
	bar.end()
	if errors.Is(err, section.ErrCrossMode) {
		return usageError{fmt.Errorf("%w: lower --from", err)}
	}
	if err != nil {
		return err
	}
	s := sizing.Size(d)
	if err := j.printBend(d, &s, c); err != nil {
		return err
	}
	return a.draw(func() plots.Figure { return picture.TurnChart(d, &s, c, a.system()) })
}

func (j *waveJob) printBend(d *design.Design, s *sizing.Sizing, c *section.TurnCheck) error {
	a := j.app
	switch {
	case a.json:
		return screen.WriteJSON(a.out, screen.WaveTurnObject(d, c))
	case a.csv:
		return screen.WaveTurnCSV(a.out, c)
	}
	return screen.WaveTurn(a.out, d, s, c, a.system())
}
