package space

import (
	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/schema"
	"gapline/internal/study/size"
)

// GapFigure returns the figure that is the gap of the design as given.
func GapFigure(d *design.Design) *figure.Def {
	if d.HasInsert() {
		return figure.GapInsert
	}
	return figure.GapOpen
}

// Targets lists what the design asks of itself, as limits on figures: the same
// judgements as advice.Findings makes. Those that cannot be computed are left
// out.
func Targets(d *design.Design, s *sizing.Sizing) []schema.Limit {
	var out []schema.Limit
	add := func(f *figure.Def, atMost bool, value float64) {
		if numeric.Given(value) && numeric.Given(size.Of(s, f)) {
			out = append(out, schema.Limit{Of: schema.Measure{Figure: f}, AtMost: atMost, Value: value})
		}
	}
	gap := 0.0
	if d.Targets.Gap.Given() {
		gap = d.Targets.Gap.Value()
	}
	add(GapFigure(d), true, gap)
	if d.HasMid() {
		add(figure.GapWooferMid, true, gap)
	}
	add(figure.CouplingLower, true, d.Targets.Lowest.Value())
	add(figure.HornFlatTo, false, d.Targets.FlatTo.Value())
	add(figure.HornFlatLobe, false, d.Targets.FlatTo.Value())
	return out
}
