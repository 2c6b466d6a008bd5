package sizing

import (
	"math"
	"testing"

	"gapline/cabinet/design"
	"gapline/internal/optional"
)

// A box with mids whose woofers stand behind an insert: both gaps by hand, with the limit
// that binds eased by a tenth of an octave. What does not bind, or is not there, moves
// nothing, and easing by nothing gives the sizing itself.
func TestEased(t *testing.T) {
	d := design.New()
	d.Cabinet.Pitch, d.Line.Boxes = optional.Of(0.3), 4
	d.Woofer.Size = optional.Of(0.25)
	d.Horn.Coverage, d.Horn.MouthWidth = optional.Of(math.Pi/2), optional.Of(0.3)
	bare := d
	d.Mid.Size, d.Mid.PerBox, d.Mid.Lowest = optional.Of(0.1), 2, optional.Of(700)
	low := bare
	low.Horn.Lowest = optional.Of(2000)
	for l, limit := range map[Level]GapLimit{ByRule: GapPattern, ByAperture: GapPatternComputed} {
		s := Size(&bare)
		e := s.Eased(&bare, limit, 0.1)
		for at := range ByWave {
			want := 0.0
			if at == l {
				want = 0.1
			}
			if fell := s.Level(at).Gap - e.Level(at).Gap; math.Abs(fell-want) > 1e-9 {
				t.Errorf("limit %d eased: the gap at level %d falls by %g, want %g", limit, at, fell, want)
			}
		}
	}
	const by = 0.1
	for _, c := range []struct {
		name                    string
		d                       *design.Design
		limit                   GapLimit
		open, wooferMid, lowest float64 // by how much they fall, octaves
	}{
		{"cones", &bare, GapSpacing, by, 0, 0},
		{"pattern", &bare, GapPattern, by, 0, by},
		{"no driver given", &bare, GapDriver, 0, 0, 0},
		{"driver", &low, GapDriver, by, 0, by},
		{"pattern below the driver", &low, GapPattern, 0, 0, 0},
		{"no chamber", &bare, GapChamber, 0, 0, 0},
		{"no insert", &bare, GapInPhase, 0, 0, 0},
		{"no mids", &bare, GapWoofers, 0, 0, 0},
		{"mids", &d, GapSpacing, by, 0, 0},
		{"woofers under mids", &d, GapWoofers, 0, by, 0},
		{"lowest of the mids", &d, GapMidLowest, 0, by, 0},
	} {
		s := Size(c.d)
		e := s.Eased(c.d, c.limit, by)
		fell := func(what string, before, after, want float64) {
			if want == 0 && math.IsNaN(before) && math.IsNaN(after) {
				return
			}
			if !(math.Abs(before-after-want) < 1e-9) {
				t.Errorf("%s: %s falls from %g to %g, want by %g", c.name, what, before, after, want)
			}
		}
		fell("gap", s.Gap.Open, e.Gap.Open, c.open)
		fell("gap of the woofers", s.Gap.WooferMid, e.Gap.WooferMid, c.wooferMid)
		fell("lower limit of the horn", math.Log2(s.Horn.Lower), math.Log2(e.Horn.Lower), c.lowest)
		// With neither insert nor flare both levels end at the same limits as the gap, but for
		// the pattern, of which each has its own.
		if own := c.limit == GapPattern || c.limit == GapPatternComputed; !own {
			fell("gap by aperture", s.Level(ByAperture).Gap, e.Level(ByAperture).Gap, c.open)
		}
		fell("gap by rule", s.Level(ByRule).Gap, e.Level(ByRule).Gap, c.open)
		if e.Coupling.Open.HalfWave != s.Coupling.Open.HalfWave || e.Horn.PatternRule != s.Horn.PatternRule {
			t.Errorf("%s: easing has changed the limit's own figure", c.name)
		}
		if same := s.Eased(c.d, c.limit, 0); same.Gap.Open != s.Gap.Open {
			t.Errorf("%s: eased by nothing the gap is %g, not %g", c.name, same.Gap.Open, s.Gap.Open)
		}
	}
}
