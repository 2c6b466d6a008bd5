package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"gapline/cabinet/sizing"
	"gapline/driver"
	"gapline/internal/advice"
	"gapline/internal/cleantext"
	"gapline/internal/designfile"
	"gapline/internal/numeric"
	"gapline/internal/picture"
	"gapline/internal/quantity"
	"gapline/internal/screen"
	"gapline/internal/study/box"
	"gapline/plots"

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
	cmd.Flags().StringVar(&view, "view", compareViews[0], "`VIEW` that -o shows: "+strings.Join(compareViews, ", "))
	_ = cmd.RegisterFlagCompletionFunc("view", cobra.FixedCompletions(compareViews, cobra.ShellCompDirectiveNoFileComp))
	cmd.Flags().BoolVar(&all, "all", false, "print every row, not only those that differ")
	return cmd
}

// compareViews are the pictures of a comparison.
var compareViews = []string{"strip", "level"}

func runCompare(ctx context.Context, a *app, names []string, all bool, view string) error {
	if !slices.Contains(compareViews, view) {
		return usageError{fmt.Errorf("--view is %q: one of %s is needed", view, strings.Join(compareViews, ", "))}
	}
	var designs []picture.Sized
	var problems designfile.Problems
	for i, name := range names {
		file, err := a.load(ctx, name)
		if err != nil {
			problems = append(problems, err.(designfile.Problems)...)
			continue
		}
		designs = append(designs, picture.Sized{
			Design: &file.Design,
			Sizing: sizing.Size(&file.Design),
			Name:   designName(names, i),
		})
	}
	if len(problems) > 0 {
		return problems
	}
	var levels []picture.Leveled
	if view == "level" && len(a.outputs) > 0 {
		var err error
		if levels, err = maxLevels(a, designs); err != nil {
			return err
		}
	}
	if err := printCompare(a, designs, all); err != nil {
		return err
	}
	if levels != nil {
		return a.draw(func() plots.Figure { return picture.Levels(levels, a.system()) })
	}
	return a.draw(func() plots.Figure { return picture.Strip(designs, a.system()) })
}

// Range of the overlaid levels, Hz.
const levelFrom, levelTo, levelPoints = 20, 1000, 240

// maxLevels works out the levels of the designs that give a box; the others are
// left out of the picture and named.
func maxLevels(a *app, designs []picture.Sized) ([]picture.Leveled, error) {
	f := driver.Frequencies(levelFrom, levelTo, levelPoints)
	var out []picture.Leveled
	for _, d := range designs {
		level, err := box.MaxLevels(d.Design, f)
		if err == nil && !slices.ContainsFunc(level, numeric.Given) {
			err = errors.New("woofer.xmax or woofer.power is needed")
		}
		if err != nil {
			a.note("%s is not in the picture: %s", d.Name, err)
			continue
		}
		out = append(out, picture.Leveled{Sized: d, Frequency: f, Level: level})
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

func printCompare(a *app, designs []picture.Sized, all bool) error {
	rows := screen.CompareRows(columns(designs), a.compareSystem())
	switch {
	case a.json:
		return compareJSON(a, designs)
	case a.csv:
		w := cleantext.NewCSV(a.out)
		head := []string{"key"}
		for _, d := range designs {
			head = append(head, d.Name)
		}
		if err := w.Write(head); err != nil {
			return err
		}
		for _, r := range rows {
			if all || r.Differs {
				if err := w.Write(append([]string{r.Key}, r.Cells...)); err != nil {
					return err
				}
			}
		}
		w.Flush()
		return w.Error()
	}
	return screen.WriteCompare(a.out, columns(designs), rows, all)
}

// compareSystem keeps CSV in one unit system.
func (a *app) compareSystem() quantity.System {
	if a.csv {
		return quantity.Metric
	}
	return a.system()
}

func columns(designs []picture.Sized) []screen.Column {
	out := make([]screen.Column, len(designs))
	for i := range designs {
		out[i] = screen.Column{Name: designs[i].Name, Design: designs[i].Design, Sizing: &designs[i].Sizing}
	}
	return out
}

func compareJSON(a *app, designs []picture.Sized) error {
	var list []*screen.Object
	for i := range designs {
		d := &designs[i]
		o := screen.SizingObject(d.Design.Title, &d.Sizing, advice.Findings(d.Design, &d.Sizing))
		list = append(list, o.Set("name", d.Name))
	}
	o := &screen.Object{}
	if err := screen.WriteJSON(a.out, o.Set("schema_version", screen.SchemaVersion).Set("designs", list)); err != nil {
		return fmt.Errorf("writing JSON: %w", err)
	}
	return nil
}
