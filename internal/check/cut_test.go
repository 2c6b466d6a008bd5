package check

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/section"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/waveguide"
)

const degree = math.Pi / 180

func TestCutNamesTheKeys(t *testing.T) {
	absent := numeric.Absent
	box := design.New()
	box.Cabinet.Width, box.Cabinet.Depth = optional.Of(0.62), optional.Of(0.43)
	box.Horn.Coverage, box.Horn.MouthWidth, box.Horn.MouthHeight, box.Horn.Throat = optional.Of(85*degree), optional.Of(0.33), optional.Of(0.258), optional.Of(0.036)
	box.Horn.Profile, box.Horn.Length = waveguide.ExponentialProfile, optional.Of(0.3)
	box.Woofer.EffectiveDiameter = optional.Of(0.12)
	box.Woofer.PerBox, box.Bands.Woofer.Lateral = 2, optional.Of(0.465)
	box.Bands.Woofer.Offset, box.Bands.Horn.Offset = optional.Of(0), optional.Of(0)
	folded := func(d *design.Design) {
		d.Fold.ThroatToWall, d.Fold.VirtualPath, d.Fold.Layer = optional.Of(0.11), optional.Of(1.2), optional.Of(0.014)
	}
	cases := []struct {
		change func(*design.Design)
		driven section.Driven
		keys   []string
		text   string
	}{
		{func(d *design.Design) { d.Cabinet.Width = optional.Of(absent) }, section.ByHorn, []string{"cabinet.width"}, "is needed"},
		{func(d *design.Design) { d.Cabinet.Depth = optional.Of(absent) }, section.ByHorn, []string{"cabinet.depth"}, "is needed"},
		{func(d *design.Design) { d.Horn.Throat = optional.Of(absent) }, section.ByHorn, []string{"horn.throat"}, "horn.slot_width"},
		{func(d *design.Design) { d.Horn.Coverage = optional.Of(absent) }, section.ByHorn, []string{"horn.coverage"}, "is needed"},
		{func(d *design.Design) { d.Horn.MouthWidth = optional.Of(0.03) }, section.ByHorn, []string{"horn.throat", "horn.mouth_width"}, "a horn widens"},
		{func(d *design.Design) { d.Section.SlotWidth = optional.Of(0.5) }, section.ByHorn, []string{"horn.slot_width", "horn.mouth_width"}, "a horn widens"},
		{func(d *design.Design) { d.Horn.Coverage = optional.Of(20 * degree) }, section.ByHorn, []string{"horn.coverage", "horn.mouth_width", "cabinet.depth"}, "834 mm deep"},
		{func(d *design.Design) { d.Section.SideWalls, d.Horn.Length = design.ProfileWalls, optional.Of(0.5) }, section.ByHorn, []string{"horn.length", "horn.profile", "cabinet.depth"}, "500 mm long"},
		{func(d *design.Design) { d.Section.SideWalls, d.Horn.Profile = design.ProfileWalls, 0 }, section.ByHorn, []string{"horn.profile", "horn.length", "horn.side_walls"}, "horn.profile is not given"},
		{func(d *design.Design) { folded(d); d.Horn.MouthWidth = optional.Of(0.01) }, section.ByHorn, []string{"fold.layer", "horn.mouth_width"}, "14 mm"},
		{func(d *design.Design) {
			folded(d)
			d.Section.SideWalls, d.Horn.Length = design.ProfileWalls, optional.Of(0.25)
		}, section.ByHorn, []string{"horn.length", "fold.throat_to_wall", "horn.side_walls"}, "takes 252 mm"},
		{func(d *design.Design) { d.Cabinet.Width = optional.Of(0.3) }, section.ByHorn, []string{"horn.mouth_width", "horn.offset", "cabinet.width"}, "reaches 165 mm to the side"},
		{func(d *design.Design) { d.Woofer.EffectiveDiameter = optional.Of(0.2) }, section.ByWoofers, []string{"woofer.size", "horn.mouth_width", "cabinet.width"}, "145 mm"},
		{func(d *design.Design) { d.Woofer.EffectiveDiameter = optional.Of(absent) }, section.ByWoofers, []string{"woofer.size"}, "is needed"},
	}
	for _, c := range cases {
		d := box
		c.change(&d)
		_, faults := section.PlanOf(&d, c.driven)
		problems := Cut(&d, faults)
		if len(problems) != 1 || !slices.Equal(problems[0].Keys, c.keys) || !strings.Contains(problems[0].Text, c.text) {
			t.Errorf("%+v, want one about %v with %q", problems, c.keys, c.text)
		}
	}
}

// Whatever a section lacks or cannot be is said in keys of the file.
func TestCutWordsEveryReason(t *testing.T) {
	d := design.New()
	for of := range section.ReasonCount {
		f := section.Fault{Of: of, Values: []float64{0.1, 0.2, 0.3, 0.4}, Err: errors.New("no reason")}
		problems := Cut(&d, []section.Fault{f})
		if len(problems) != 1 || len(problems[0].Keys) == 0 || !strings.Contains(problems[0].Text, problems[0].Keys[0][:4]) {
			t.Errorf("reason %d: %+v", of, problems)
		}
	}
}
