package main

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"gapline/cabinet"
	"gapline/internal/picture"
	"gapline/internal/quantity"
	"gapline/internal/screen"
	"gapline/internal/wavecache"
	"gapline/plots"

	"github.com/spf13/cobra"
)

var hornViews = []string{"beamwidth", "map", "impedance", "efficiency", "rule"}

func newHorn(a *app) *cobra.Command {
	var view string
	cmd := &cobra.Command{
		Use:     "horn FILE",
		GroupID: "design",
		Short:   "Work out the horn: beamwidth, control, lower limit, throat impedance, efficiency",
		Long: `Work out the horn: its −6 dB width against frequency in both planes, from where it
holds its coverage by rule and by integral, what sets its lower limit, its throat
impedance and how much power enters it.

[horn] mouth_width and coverage suffice for the horizontal pattern. The vertical
one takes mouth_height and the real front: that of [fold], or one about an apex
path_length behind the mouth. The loading takes profile, throat and length, or
the profile by points (distances, areas). The source is the driver of
[compression_driver], or else a plane-wave tube. Side flares (flare_length,
flare_angle, flare_splitters) widen the horizontal exit only.

--view chooses the picture, and what --csv prints: beamwidth (with impedance and
efficiency: all curves over frequency), map (horizontal level over angle and
frequency), rule (Keele's rule against the aperture integral over coverages).`,
		Example: `  gapline horn box.toml -o beamwidth.png
  gapline horn box.toml --view map -o map.png
  gapline horn box.toml --view impedance -o loading.svg
  gapline horn box.toml --view rule
  gapline horn box.toml --set horn.flare_length=80mm --csv`,
		Args:              args(cobra.ExactArgs(1), "one design file is needed"),
		ValidArgsFunction: completeDesignFiles,
		RunE: func(cmd *cobra.Command, given []string) error {
			if !slices.Contains(hornViews, view) {
				return usageError{fmt.Errorf("--view is %q: one of %s is needed", view, strings.Join(hornViews, ", "))}
			}
			return runHorn(cmd.Context(), a, given[0], view)
		},
	}
	cmd.Flags().StringVar(&view, "view", hornViews[0], "`VIEW` that -o and --csv show: "+strings.Join(hornViews, ", "))
	_ = cmd.RegisterFlagCompletionFunc("view", cobra.FixedCompletions(hornViews, cobra.ShellCompDirectiveNoFileComp))
	return cmd
}

func runHorn(ctx context.Context, a *app, name, view string) error {
	file, err := a.load(ctx, name)
	if err != nil {
		return err
	}
	if problems := cabinet.HornProblems(&file.Design); len(problems) > 0 {
		return file.Fault(problems...)
	}
	st, err := cabinet.StudyHorn(&file.Design)
	if err != nil {
		return file.Fault(cabinet.Problem{Text: err.Error()})
	}
	st.Sizing.Wave = wavecache.Beside(file.Name).Figures(ctx, &file.Design, a.warn)
	if len(a.outputs) > 0 && st.Loading == nil && (view == "impedance" || view == "efficiency") {
		return file.Fault(cabinet.Problem{Keys: []string{"horn.profile"}, Text: "--view " + view + " needs the horn's profile: " + st.NoLoading})
	}
	var angles []float64
	var level [][]float64
	if view == "map" {
		angles = mapAngles()
		level = st.PatternMap(angles, mapFloor)
	}
	if err := printHorn(a, st, view, angles, level); err != nil {
		return err
	}
	return a.draw(func() plots.Figure { return hornPicture(a, st, view, angles, level) })
}

// mapFloor is the lowest level of a map, dB re axis: an exact null has none.
const mapFloor = -60

// mapAngles are the angles of a map in rad: ±90° in steps of 2°.
func mapAngles() []float64 {
	var out []float64
	for deg := -90; deg <= 90; deg += 2 {
		out = append(out, float64(deg)*math.Pi/180)
	}
	return out
}

func printHorn(a *app, st *cabinet.HornStudy, view string, angles []float64, level [][]float64) error {
	switch {
	case a.json:
		return screen.WriteJSON(a.out, screen.HornObject(st, cabinet.HornFindings(st, quantity.Metric), angles, level))
	case a.csv && view == "map":
		return screen.HornMapCSV(a.out, st, angles, level)
	case a.csv && view == "rule":
		return screen.HornRuleCSV(a.out, st)
	case a.csv:
		return screen.HornCSV(a.out, st)
	case view == "rule":
		return screen.HornRule(a.out, st, a.system())
	}
	return screen.Horn(a.out, st, cabinet.HornFindings(st, a.system()), a.system())
}

func hornPicture(a *app, st *cabinet.HornStudy, view string, angles []float64, level [][]float64) plots.Figure {
	switch view {
	case "map":
		return picture.HornMap(st, angles, level, a.system())
	case "impedance":
		return picture.HornImpedance(st, a.system())
	case "efficiency":
		return picture.HornEfficiency(st, a.system())
	case "rule":
		return picture.HornRule(st, a.system())
	}
	return picture.HornBeamwidth(st, a.system())
}
