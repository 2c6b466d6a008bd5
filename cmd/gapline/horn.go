package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"gapline/internal/advice"
	"gapline/internal/check"
	"gapline/internal/describe"
	"gapline/internal/study/horn"
	"gapline/internal/study/stored"

	"github.com/spf13/cobra"
)

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
			if !slices.Contains(describe.HornViews, view) {
				return usageError{fmt.Errorf("--view is %q: one of %s is needed", view, strings.Join(describe.HornViews, ", "))}
			}
			return runHorn(cmd.Context(), a, given[0], view)
		},
	}
	cmd.Flags().StringVar(&view, "view", describe.HornViews[0], "`VIEW` that -o and --csv show: "+strings.Join(describe.HornViews, ", "))
	_ = cmd.RegisterFlagCompletionFunc("view", cobra.FixedCompletions(describe.HornViews, cobra.ShellCompDirectiveNoFileComp))
	return cmd
}

func runHorn(ctx context.Context, a *app, name, view string) error {
	file, err := a.load(ctx, name)
	if err != nil {
		return err
	}
	if problems := check.HornProblems(&file.Design); len(problems) > 0 {
		return file.Fault(problems...)
	}
	st, err := horn.Run(&file.Design)
	if err != nil {
		return file.Fault(check.Problem{Text: err.Error()})
	}
	stored.Into(ctx, file.Name, &file.Design, &st.Sizing, a.warn)
	if len(a.outputs) > 0 && st.Loading == nil && (view == describe.HornImpedance || view == describe.HornEfficiency) {
		return file.Fault(check.Problem{Keys: []string{"horn.profile"}, Text: "--view " + view + " needs the horn's profile: " + st.NoLoading})
	}
	if view == describe.HornMap {
		st.AddMap()
	}
	return a.show(describe.Horn(st, advice.HornFindings(st)), view)
}
