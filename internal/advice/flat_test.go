package advice

import (
	"math"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/designfile"
	"gapline/internal/figure"
	"gapline/internal/optional"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
	"gapline/internal/study/fit"
)

// The verdict on a target by its levels, against the table of the issue: one yes and one no is
// divided, a level that cannot tell leaves it unknown, a named level decides alone.
func TestWeighAgainstTheTable(t *testing.T) {
	yes, no, open := standing{sizing.ByRule, GapMet, result.Text{}}, standing{sizing.ByAperture, GapMissed, result.Text{}}, standing{sizing.ByWave, GapUnknown, result.Text{}}
	also := standing{sizing.ByAperture, GapMet, result.Text{}}
	for _, c := range []struct {
		by   design.Deciding
		list []standing
		want Verdict
	}{
		{0, []standing{yes}, GapMet},
		{0, []standing{no}, GapMissed},
		{0, []standing{yes, also}, GapMet},
		{0, []standing{yes, no}, GapDivided},
		{0, []standing{yes, no, open}, GapDivided},
		{0, []standing{yes, open}, GapUnknown},
		{0, []standing{no, open}, GapUnknown},
		{design.RuleDecides, []standing{yes, no}, GapMet},
		{design.ApertureDecides, []standing{yes, no}, GapMissed},
		{design.WaveDecides, []standing{yes, no}, GapUnknown},
	} {
		if got := weigh(c.by, c.list); got != c.want {
			t.Errorf("%v by %v: %s, want %s", c.list, c.by, got, c.want)
		}
	}
}

// A proposed path, put in as it is printed, makes the front flat enough by the quarter wave and
// by lobes; one that is headed "narrows" leaves lobes.
func TestFlatLeverHolds(t *testing.T) {
	tried := 0
	for _, name := range []string{"hatch-insert", "hatch-mids"} {
		for _, want := range []float64{9e3, 12e3, 14e3, 18e3} {
			file, err := designfile.LoadStarter(name, nil)
			if err != nil {
				t.Fatal(err)
			}
			d := &file.Design
			d.Targets.FlatTo, d.Fold.VirtualPath = optional.Of(want), optional.Of(0.9)
			s := sizing.Size(d)
			for _, x := range Findings(d, &s, &fit.Fit{}) {
				if x.Severity != result.Try || x.Key != "fold.virtual_path" {
					continue
				}
				tried++
				text := terminal.Text(x.Text, quantity.Metric)
				narrows := strings.HasPrefix(text, "Narrows: ")
				_, rest, _ := strings.Cut(text, "Path ")
				value, _, _ := strings.Cut(rest, " (")
				path, err := quantity.Parse(value, quantity.Length)
				if err != nil {
					t.Fatal(err)
				}
				d.Fold.VirtualPath = optional.Of(path)
				after := sizing.Size(d)
				if after.Horn.FlatTo < want*(1-1e-6) || !narrows && after.Horn.FlatLobe < want*(1-1e-6) {
					t.Errorf("%s to %g Hz: %q leaves a quarter wave up to %g, lobes from %g", name, want, text, after.Horn.FlatTo, after.Horn.FlatLobe)
				}
			}
		}
	}
	if tried < 6 {
		t.Errorf("only %d paths were proposed", tried)
	}
}

// The lobes of a stack of flat fronts without gaps are none: nothing to divide the verdict.
func TestPlaneFrontIsMet(t *testing.T) {
	file, err := designfile.LoadStarter("hatch-mids", []string{"fold.virtual_path=flat"})
	if err != nil {
		t.Fatal(err)
	}
	s := sizing.Size(&file.Design)
	if !math.IsInf(s.Horn.FlatTo, 1) {
		t.Fatalf("flat to %g", s.Horn.FlatTo)
	}
	for _, x := range Findings(&file.Design, &s, &fit.Fit{}) {
		if x.Key == figure.HornFlatTo.Key && x.Severity != result.Met {
			t.Errorf("%s", terminal.Text(x.Text, quantity.Metric))
		}
	}
}
