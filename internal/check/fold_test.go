package check

import (
	"math"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/internal/designtest"
	"gapline/internal/optional"
	"gapline/waveguide"
)

// Every impossible fold is refused with the reason.
func TestCheckFold(t *testing.T) {
	for _, c := range []struct {
		change func(*design.Design)
		want   string
	}{
		{func(d *design.Design) {
			d.Fold.ThroatToWall = optional.Of(0.06)
			d.Fold.VirtualPath = optional.Of(math.Inf(1))
		}, "less than 180°"},
		{func(d *design.Design) { d.Fold.MouthDistance = optional.Of(0.01) }, "the throat lies outside"},
		{func(d *design.Design) { d.Fold.VirtualPath = optional.Of(0.1) }, "puts the apex in front of the wall"},
		{func(d *design.Design) { d.Fold.Wall = waveguide.StraightWall }, "leave fold.virtual_path out"},
		{func(d *design.Design) { d.Horn.Sides.Splitters = 2 }, "horn.flare_length is needed"},
		{func(d *design.Design) { d.Horn.Distances = []float64{0, 1} }, "they go in pairs"},
		{func(d *design.Design) {
			d.Horn.Distances, d.Horn.Areas = []float64{0, 0.1, 0.1}, []float64{0.001, 0.002, 0.003}
		}, "distances must rise"},
		{func(d *design.Design) {
			d.Horn.Distances, d.Horn.Areas = []float64{0, 0.1, 0.2}, []float64{0.001, 0.003, 0.002}
		}, "narrows"},
		{func(d *design.Design) { d.Horn.Profile = waveguide.ByPoints }, "horn.distances and horn.areas are needed"},
	} {
		d := designtest.Folded()
		c.change(&d)
		var all []string
		for _, p := range Design(&d) {
			all = append(all, p.Text)
		}
		if text := strings.Join(all, "\n"); !strings.Contains(text, c.want) {
			t.Errorf("want %q, got %q", c.want, text)
		}
	}
	d := designtest.Folded()
	if p := Design(&d); len(p) > 0 {
		t.Errorf("the sound design is refused: %v", p)
	}
}
