package describe

import (
	"testing"

	"gapline/cabinet/sizing"
	"gapline/internal/designfile"
	"gapline/internal/figure"
	"gapline/internal/formula"
	"gapline/internal/study/size"
)

// Each formula in full leads to the figure, which the studies compute their own way: in
// every starter, and in variants that take the other ways through the lines.
func TestFormulasInFullLeadToTheFigure(t *testing.T) {
	led := map[string]int{}
	for _, starter := range designfile.Starters {
		for _, settings := range [][]string{
			nil,
			{"targets.coupling=lobe"},
			{"fold.virtual_path=1.5m"},
			{"fold.virtual_path=0.9m", "fold.throat_height=20mm"},
			{"fold.virtual_path=none", "fold.wall=straight"},
			{"fold.virtual_path=none", "fold.throat_to_wall=none", "horn.path_length=0.8m"},
			{"horn.profile=hyperbolic"}, {"horn.profile=catenoidal"}, {"horn.profile=tractrix"}, {"horn.profile=conical"},
			{"enclosure.kind=closed"}, {"enclosure.leak_q=none", "woofer.le=none"}, {"enclosure.kind=closed", "enclosure.absorption_q=30"},
			{"enclosure.absorption_q=40", "enclosure.vent_q=25", "woofer.le_exponent=0.7"}, {"enclosure.tuning=none", "enclosure.vent_length=140mm"},
			{"horn.flare_length=60mm", "horn.flare_angle=100deg", "horn.flare_splitters=1", "horn.flare_splitter_width=6mm"},
			{"woofer.sd=none", "woofer.effective_diameter=190mm"},
			{"targets.level_at=none", "targets.lowest=none"},
			{"air.temperature=3degC", "air.humidity=20%"},
			{"line.boxes=12", "targets.lobe_level=-20dB"},
		} {
			file, err := designfile.LoadStarter(starter.Name, settings)
			if err != nil {
				t.Logf("%s %v: %v", starter.Name, settings, err) // not every key goes with every starter
				continue
			}
			s := sizing.Size(&file.Design)
			w := worked{d: &file.Design, s: &s}
			for _, f := range figure.Sized() {
				if len(f.Hand) == 0 || w.lacks(f) != "" || isFlatFold(f, &s) {
					continue
				}
				if file.Design.Fold.ThroatHeight.Given() && f == figure.FoldDepth {
					continue // the lines say that they are for a throat at the mouth's middle
				}
				if w.byHand(f) == nil {
					t.Errorf("%s %v: %s is %g, its lines give %v", starter.Name, settings, f.Key, size.Of(&s, f), lines(t, &w, f))
				}
				led[f.Key]++
			}
		}
	}
	if len(led) < 40 {
		t.Errorf("only %d figures were led to", len(led))
	}
}

// isFlatFold reports whether a figure is that of a plane front, or of a limit that is not
// there: words say so, and no number.
func isFlatFold(f *figure.Def, s *sizing.Sizing) bool {
	c := size.Cell(s, f)
	return !isFinite(c.SI) || f.Words != nil && f.Words(c.SI) != ""
}

func lines(t *testing.T, w *worked, f *figure.Def) []formula.Value {
	t.Helper()
	lines, err := formula.Parse(f.Hand)
	if err != nil {
		t.Fatal(err)
	}
	values, err := formula.Evaluate(lines, w.inputs(f))
	if err != nil {
		t.Fatal(err)
	}
	return values
}
