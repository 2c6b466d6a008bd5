package section

import (
	"math"
	"testing"

	"gapline/cabinet/design"
	"gapline/internal/wordset"
	"gapline/waveguide"
)

// Every shape of the side walls with every profile gives a wall from slot to mouth,
// or says why not.
func TestEverySideWallWithEveryProfile(t *testing.T) {
	for _, shape := range append(wordset.All[design.SideWalls](), 0) {
		for _, profile := range wordset.All[waveguide.Profile]() {
			d := box()
			d.Section.SideWalls, d.Horn.Profile = shape, profile
			if profile == waveguide.ByPoints {
				d.Horn.Distances, d.Horn.Areas = []float64{0, 0.3}, []float64{0.001, 0.08}
			}
			p, faults := PlanOf(&d, ByHorn)
			if len(faults) > 0 {
				if shape != design.ProfileWalls || profile != waveguide.ByPoints {
					t.Errorf("%s walls, %s: %v", shape, profile, faults)
				}
				continue
			}
			wall := p.Horn[1:]
			if from, to := wall[0].Across, wall[len(wall)-1].Across; math.Abs(from-0.018) > 1e-12 || math.Abs(to-0.165) > 1e-12 {
				t.Errorf("%s walls, %s: from %g to %g m, want 0.018 to 0.165", shape, profile, from, to)
			}
		}
	}
}
