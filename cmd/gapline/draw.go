package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"gapline/cabinet/sizing"
	"gapline/internal/check"
	"gapline/internal/describe"
	"gapline/internal/render/terminal"
	"gapline/internal/study/stored"

	"github.com/spf13/cobra"
)

// drawOptions are the flags of the command.
type drawOptions struct {
	view            string
	defaults, force bool
}

func newDraw(a *app) *cobra.Command {
	var o drawOptions
	cmd := &cobra.Command{
		Use:     "draw FILE",
		GroupID: "design",
		Short:   "Draw the box and the stack to scale, with dimensions; panels as DXF",
		Long: `Draw the one layout that all commands work with: every part of the box with its
place, turn and size, and the boxes of the stack as they hang. The screen lists the
parts; --defaults adds what was taken for what the file does not say, and the key
that settles it.

Places are in the box: x forward, y to the left as seen from behind the box, z up,
from the middle of the front. --view chooses the drawing: front (from in front),
plan (from above, lid off), side (from the right-hand side, panel off), stack (all
boxes from the right-hand side). Each says from where it is seen. Hidden edges are
dashed; parts that cannot be built where they stand are bold and hatched.

A .dxf holds the panels in mm, outside sizes, beside each other: layer FRONT with the
cut-outs, SIDE (left and right panel), PLATE (of the insert, one for each column),
FOLD, and REAR where something opens through it. A cone's hole is as wide as its
piston where the file gives that, else as its flange.`,
		Example: `  gapline draw box.toml
  gapline draw box.toml --defaults
  gapline draw box.toml -o front.svg
  gapline draw box.toml --view stack -o stack.pdf
  gapline draw box.toml -o panels.dxf
  gapline draw box.toml --json`,
		Args:              args(cobra.ExactArgs(1), "one design file is needed"),
		ValidArgsFunction: completeDesignFiles,
		Annotations:       map[string]string{filesAnnotation: ".dxf"},
		RunE: func(cmd *cobra.Command, given []string) error {
			if !slices.Contains(describe.DrawViews, o.view) {
				return usageError{fmt.Errorf("--view is %q: one of %s is needed", o.view, strings.Join(describe.DrawViews, ", "))}
			}
			return runDraw(cmd.Context(), a, given[0], o)
		},
	}
	f := cmd.Flags()
	f.StringVar(&o.view, "view", describe.DrawViews[0], "`VIEW` that -o shows: "+strings.Join(describe.DrawViews, ", "))
	f.BoolVar(&o.defaults, "defaults", false, "list what was taken for what the file does not say")
	f.BoolVar(&o.force, "force", false, "write files to cut by for a box that cannot be built too")
	_ = cmd.RegisterFlagCompletionFunc("view", cobra.FixedCompletions(describe.DrawViews, cobra.ShellCompDirectiveNoFileComp))
	return cmd
}

func runDraw(ctx context.Context, a *app, name string, o drawOptions) error {
	file, err := a.load(ctx, name)
	if err != nil {
		return err
	}
	d := &file.Design
	if problems := check.DrawProblems(d); len(problems) > 0 {
		return file.Fault(problems...)
	}
	s := sizing.Size(d)
	stored.Into(ctx, file.Name, d, &s, a.warn)
	fits := a.fitOf(d).Fit
	r := describe.Draw(d, &s, fits, o.defaults)
	if err := a.print(r); err != nil {
		return err
	}
	var notes []string
	for _, t := range describe.CutNotes(d, fits) {
		notes = append(notes, terminal.Text(t, a.system()))
	}
	return a.writeDrawing(drawing{outlines: fits.Layout.Outlines, title: d.Title, texts: notes, r: r, view: o.view, force: o.force,
		why: "--view stack needs line.boxes"})
}
