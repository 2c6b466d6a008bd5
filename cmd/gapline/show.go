package main

import (
	"gapline/internal/describe"
	"gapline/internal/render/machine"
	"gapline/internal/render/picture"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
	"gapline/plots"
)

// show prints a result in the form that the flags ask for and draws its picture to
// every -o path.
func (a *app) show(r *result.Result, views ...string) error {
	if err := a.print(r, views...); err != nil {
		return err
	}
	return a.picture(r, views...)
}

// print prints a result, before it what of the designs that were read cannot be built.
func (a *app) print(r *result.Result, views ...string) error {
	if len(a.fits) > 0 {
		r = describe.Misfits(r, a.fits)
	}
	switch {
	case a.json:
		return machine.JSON(a.out, r)
	case a.csv:
		return machine.CSV(a.out, r, views...)
	}
	return terminal.Write(a.out, r, a.system(), views...)
}

func (a *app) picture(r *result.Result, views ...string) error {
	if len(a.outputs) == 0 {
		return nil
	}
	fig, err := picture.Of(r, a.system(), views...)
	if err != nil {
		return err
	}
	return a.draw(func() plots.Figure { return fig })
}
