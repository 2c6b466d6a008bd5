package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/driver"
	"gapline/internal/advice"
	"gapline/internal/cleantext"
	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/numeric"
	"gapline/internal/render/machine"
	"gapline/internal/study/box"
	"gapline/internal/study/stored"

	"github.com/spf13/cobra"
)

func newCompare(a *app) *cobra.Command {
	var all bool
	var view string
	cmd := &cobra.Command{
		Use:     "compare FILE FILE...",
		GroupID: "ask",
		Short:   "Put designs side by side: table of differences and overlaid strips",
		Long: `Size several designs and print what differs, keys of the design files first and
figures below. A star marks what differs from the first design. The picture
shows their frequency strips one below the other or, with --view level, their
maximum levels at the low end overlaid: smaller woofers close the gap but lose
the bottom.`,
		Example: `  gapline compare bare.toml insert.toml mids.toml
  gapline compare bare.toml insert.toml -o strips.png
  gapline compare bare.toml insert.toml mids.toml --view level -o levels.png
  gapline compare bare.toml insert.toml --all --csv`,
		Args:              args(cobra.MinimumNArgs(2), "two or more design files are needed"),
		ValidArgsFunction: completeDesignFiles,
		RunE: func(cmd *cobra.Command, given []string) error {
			return runCompare(cmd.Context(), a, given, all, view)
		},
	}
	cmd.Flags().StringVar(&view, "view", describe.CompareViews[0], "`VIEW` that -o shows: "+strings.Join(describe.CompareViews, ", "))
	_ = cmd.RegisterFlagCompletionFunc("view", cobra.FixedCompletions(describe.CompareViews, cobra.ShellCompDirectiveNoFileComp))
	cmd.Flags().BoolVar(&all, "all", false, "print every row, not only those that differ")
	return cmd
}

func runCompare(ctx context.Context, a *app, names []string, all bool, view string) error {
	if !slices.Contains(describe.CompareViews, view) {
		return usageError{fmt.Errorf("--view is %q: one of %s is needed", view, strings.Join(describe.CompareViews, ", "))}
	}
	if err := checkCount("designs", len(names), mostCompared); err != nil {
		return err
	}
	var designs []describe.Sized
	var problems designfile.Problems
	for i, name := range names {
		file, err := a.load(ctx, name)
		if err != nil {
			problems = append(problems, err.(designfile.Problems)...)
			continue
		}
		s := sizing.Size(&file.Design)
		stored.Into(ctx, file.Name, &file.Design, &s, a.warn)
		runs := a.leverRuns(file)
		a.fitOf(&file.Design).Fit.Runs = func(d *design.Design) sizing.WaveSizing { return runs.of(ctx, d) }
		designs = append(designs, describe.Sized{Design: &file.Design, Sizing: &s, Name: designName(names, i)})
	}
	if len(problems) > 0 {
		return problems
	}
	r := describe.Compare(designs, all, advice.DesignCautions(loud(designs)))
	r.Add(describe.Strip(designs))
	if view == describe.CompareLevel && len(a.outputs) > 0 {
		levels, err := maxLevels(a, designs)
		if err != nil {
			return err
		}
		r.Add(describe.Levels(levels))
	}
	if a.json {
		if err := compareJSON(a, designs); err != nil {
			return err
		}
		return a.picture(r, view)
	}
	return a.show(r, view)
}

// Range of the overlaid levels, Hz.
const levelFrom, levelTo, levelPoints = 20, 1000, 240

// maxLevels works out the levels of the designs that give a box; the others are
// left out of the picture and named.
func maxLevels(a *app, designs []describe.Sized) ([]describe.Leveled, error) {
	f := driver.Frequencies(levelFrom, levelTo, levelPoints)
	var out []describe.Leveled
	for _, d := range designs {
		level, err := box.MaxLevels(d.Design, f)
		if err == nil && !slices.ContainsFunc(level, numeric.Given) {
			err = errors.New("woofer.xmax or woofer.power is needed")
		}
		if err != nil {
			a.note("%s is not in the picture: %s", d.Name, err)
			continue
		}
		out = append(out, describe.Leveled{Sized: d, Frequency: f, Level: level})
	}
	if len(out) == 0 {
		return nil, usageError{errors.New("--view level: no design gives what its maximum level needs (gapline explain box.max_spl_db)")}
	}
	return out, nil
}

// designName is the file's name without folder and ending, or with its folder
// when two files share a name.
func designName(names []string, i int) string {
	short := func(s string) string { return strings.TrimSuffix(filepath.Base(s), ".toml") }
	for j, other := range names {
		if j != i && short(other) == short(names[i]) {
			return cleantext.Line(filepath.ToSlash(names[i]))
		}
	}
	return cleantext.Line(short(names[i]))
}

// compareJSON prints what size --json prints of each design, with its name, and the table
// that they are weighed by.
func compareJSON(a *app, designs []describe.Sized) error {
	var list []*machine.Object
	for _, d := range designs {
		fits := a.fitOf(d.Design)
		r := describe.Size(d.Design, d.Sizing, fits.Fit, advice.Findings(d.Design, d.Sizing, fits.Fit), true)
		r = describe.Misfits(r, []describe.Fitted{fits})
		list = append(list, machine.ObjectOf(r).Set("name", d.Name))
	}
	o := &machine.Object{}
	o.Set("schema_version", machine.SchemaVersion).Set("designs", list)
	return machine.Write(a.out, o.Add(describe.Tradeoff(designs)))
}

// loud reports whether any design gives a level.
func loud(designs []describe.Sized) bool {
	return slices.ContainsFunc(designs, func(d describe.Sized) bool { return numeric.Given(d.Sizing.Box.MaxLevel) })
}
