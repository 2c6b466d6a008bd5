package space

import (
	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/designfile"
	"gapline/internal/figures"
	"gapline/internal/numeric"
)

// GapKey returns the figure that is the gap of the design as given.
func GapKey(d *design.Design) string {
	if d.HasInsert() {
		return "gap.insert_oct"
	}
	return "gap.open_oct"
}

// Targets lists what the design asks of itself, as limits on figures: the same
// judgements as advice.Findings makes. Those that cannot be computed are left
// out.
func Targets(d *design.Design, s *sizing.Sizing) []designfile.Limit {
	var out []designfile.Limit
	add := func(key string, atMost bool, value float64) {
		m := designfile.Measure{Figure: figures.Find(key)}
		if numeric.Given(value) && numeric.Given(m.Value(d, s)) {
			out = append(out, designfile.Limit{Of: m, AtMost: atMost, Value: value})
		}
	}
	gap := 0.0
	if numeric.Given(d.Targets.Gap) {
		gap = d.Targets.Gap
	}
	add(GapKey(d), true, gap)
	if d.HasMid() {
		add("gap.woofer_mid_oct", true, 0)
	}
	add("coupling.lower_hz", true, d.Targets.Lowest)
	add("horn.flat_to_hz", false, d.Targets.FlatTo)
	return out
}
