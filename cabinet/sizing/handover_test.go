package sizing

import (
	"math"
	"testing"

	"gapline/cabinet/design"
	"gapline/internal/numeric"
	"gapline/internal/optional"
)

// Limits set by hand: 1.2 times a cutoff of 500 Hz is 600 Hz.
func TestHornHandover(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		name                         string
		couple, horn, lowest, cutoff float64
		from, to, least              float64
		limit                        LowestLimit
		open                         bool
		covered, under, over         float64
	}{
		{name: "closed", couple: 1200, horn: 900, lowest: 800, cutoff: 500, from: 900, to: 1200, least: 800, limit: LowestOfDriver, covered: 1000, under: 850, over: 1300},
		{name: "open", couple: 500, horn: 900, lowest: 450, cutoff: 200, from: 500, to: 900, least: 450, limit: LowestOfDriver, open: true},
		{name: "open above the lowest", couple: 500, horn: 900, lowest: 800, cutoff: 500, from: 800, to: 900, least: 800, limit: LowestOfDriver, open: true},
		{name: "the flare forbids more", couple: 500, horn: 900, lowest: 550, cutoff: 500, from: 600, to: 900, least: 600, limit: LowestOfFlare, open: true},
		{name: "only the flare", couple: 1000, horn: 900, lowest: nan, cutoff: 500, from: 900, to: 1000, least: 600, limit: LowestOfFlare},
		{name: "the driver is the horn's limit", couple: 500, horn: 900, lowest: 900, cutoff: 500, from: 900, to: 900, least: 900, limit: LowestOfDriver, open: true},
		{name: "no limit of the woofers", couple: inf, horn: 900, lowest: 800, cutoff: nan, from: 900, to: inf, least: 800, limit: LowestOfDriver, covered: 5000, under: 850},
		{name: "no pattern", couple: 900, horn: nan, lowest: 800, cutoff: nan, from: nan, to: nan, least: 800, limit: LowestOfDriver},
		{name: "nothing", couple: nan, horn: nan, lowest: nan, cutoff: nan, from: nan, to: nan, least: nan},
	} {
		d := design.New()
		if numeric.Given(c.lowest) {
			d.Horn.Lowest = optional.Of(c.lowest)
		}
		s := Sizing{Gap: Gap{Low: c.couple, High: c.horn}, Horn: HornSizing{Cutoff: c.cutoff}}
		h := HornHandover(&d, &s)
		same := func(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }
		if !same(h.From, c.from) || !same(h.To, c.to) || !same(h.Lowest, c.least) || h.Limit != c.limit || h.Open != c.open || h.Known() == math.IsNaN(c.from) {
			t.Errorf("%s: %+v", c.name, h)
		}
		if c.covered > 0 && !h.Covers(c.covered) || c.under > 0 && h.Covers(c.under) || c.over > 0 && h.Covers(c.over) || c.open && h.Covers(c.to) {
			t.Errorf("%s: covers the wrong frequencies, %+v", c.name, h)
		}
	}
}

// Mids from 400 Hz on woofers that leave half an octave open, or overlap by half of one.
func TestMidHandover(t *testing.T) {
	d := design.New()
	d.Mid.Lowest = optional.Of(400.0)
	open := MidHandover(&d, &Sizing{Gap: Gap{WooferMid: 0.5}})
	if open.From != 400 || open.To != 400 || !open.Open || open.Lowest != 400 || open.Limit != LowestOfMids {
		t.Errorf("open: %+v", open)
	}
	closed := MidHandover(&d, &Sizing{Gap: Gap{WooferMid: -0.5}})
	if closed.From != 400 || math.Abs(closed.To-400*math.Sqrt2) > 1e-9 || closed.Open {
		t.Errorf("closed: %+v", closed)
	}
}
