package check

import (
	"slices"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/internal/designtest"
	"gapline/internal/optional"
)

func TestCheckNamesBothKeys(t *testing.T) {
	base := func() design.Design {
		d := designtest.Box()
		d.Horn.Throat = optional.Of(0.03)
		return d
	}
	good := base()
	if p := Design(&good); len(p) != 0 {
		t.Fatalf("a sound design has problems: %v", p)
	}
	for _, c := range []struct {
		name   string
		change func(*design.Design)
		keys   []string
	}{
		{"piston larger than driver", func(d *design.Design) { d.Woofer.EffectiveDiameter = optional.Of(0.25) }, []string{"woofer.effective_diameter", "woofer.size"}},
		{"overlapping mouths", func(d *design.Design) { d.Insert.MouthHeight = optional.Of(0.14) }, []string{"insert.mouth_height", "insert.spacing"}},
		{"mouths missing", func(d *design.Design) { d.Insert.Mouths = 0 }, []string{"insert.mouths"}},
		{"splay too short", func(d *design.Design) { d.Line.Splay = []float64{0.1} }, []string{"line.splay", "line.boxes"}},
		{"pitch against gap", func(d *design.Design) { d.Cabinet.Pitch = optional.Of(0.3) }, []string{"cabinet.pitch", "cabinet.gap"}},
		{"woofers in unequal columns", func(d *design.Design) { d.Woofer.PerBox, d.Bands.Woofer.Columns = 3, 2 }, []string{"woofer.columns", "woofer.per_box"}},
		{"rear higher than front", func(d *design.Design) { d.Cabinet.RearHeight = optional.Of(0.3) }, []string{"cabinet.rear_height", "cabinet.height"}},
		{"throat larger than mouth", func(d *design.Design) { d.Horn.Throat = optional.Of(0.4) }, []string{"horn.throat", "horn.mouth_width"}},
		{"mid without size", func(d *design.Design) { d.Mid.PerBox = 2 }, []string{"mid.size"}},
		{"driver of no mid", func(d *design.Design) { d.Mid.Fs, d.Mid.Power = optional.Of(200), optional.Of(50) }, []string{"mid.size", "mid.power", "mid.fs"}},
	} {
		d := base()
		c.change(&d)
		found := false
		for _, p := range Design(&d) {
			if slices.Equal(p.Keys, c.keys) {
				found = true
				for _, k := range c.keys {
					if !strings.Contains(p.Text, k) {
						t.Errorf("%s: message %q does not name %s", c.name, p.Text, k)
					}
				}
			}
		}
		if !found {
			t.Errorf("%s: no problem with keys %v in %v", c.name, c.keys, Design(&d))
		}
	}
}
