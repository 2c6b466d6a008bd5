package size

import (
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/result"
)

// values finds the figures of the Table by their definitions.
var values = func() map[*figure.Def]func(*sizing.Sizing) float64 {
	m := make(map[*figure.Def]func(*sizing.Sizing) float64, len(Table))
	for _, f := range Table {
		m[f.Def] = f.Of
	}
	return m
}()

// Of returns a figure in SI; NaN when the design does not give enough, and for a
// figure that no sizing holds.
func Of(s *sizing.Sizing, f *figure.Def) float64 {
	if of := values[f]; of != nil {
		return of(s)
	}
	return numeric.Absent
}

// Trust returns the level of trust of a figure in this sizing: a figure that follows
// the gap's basis takes the basis's level, a crossover that the file says is geometry.
func Trust(s *sizing.Sizing, f *figure.Def) figure.Trust {
	switch {
	case f.Trust != figure.ByBasis:
		return f.Trust
	case f == figure.WoofersAcross.Crossover && s.Woofers.Stated, f == figure.MidsAcross.Crossover && s.Mids.Stated:
		return figure.Geometry
	case s.Gap.Basis == design.Lobe:
		return figure.Aperture
	}
	return figure.Rule
}

// at names, of figures that belong to one frequency or angle, that figure.
var at = map[*figure.Def]*figure.Def{
	figure.HornNarrowest:       figure.HornNarrowestAt,
	figure.HornNarrowestWave:   figure.HornNarrowestWaveAt,
	figure.BoxMaxSPL:           figure.BoxMaxSPLAt,
	figure.WoofersAcross.Width: figure.WoofersAcross.Crossover,
	figure.WoofersAcross.Dip:   figure.WoofersAcross.DipAt,
	figure.MidsAcross.Width:    figure.MidsAcross.Crossover,
	figure.MidsAcross.Dip:      figure.MidsAcross.DipAt,
}

// Cell returns a figure as it is shown: with the frequency or the angle at which it
// stands, and beyond the model, or still falling, where the run of the wave solver
// ended below it.
func Cell(s *sizing.Sizing, f *figure.Def) result.Cell {
	c := result.Fig(f, Of(s, f))
	if f.Trust == figure.ByBasis {
		c.Trust = Trust(s, f)
	}
	if where := at[f]; where != nil {
		place := result.Fig(where, Of(s, where))
		c.At = &place
	}
	if math.IsNaN(c.SI) && noControl(s, f) {
		c.Words = "none"
	}
	if math.IsNaN(c.SI) && isWide(s, f) {
		c.Words = "over 180°"
	}
	if f == figure.HornNarrowestWave && numeric.Given(s.Wave.FallsTo) {
		phrase := result.Say("%s at %s, still falling", result.Fig(f, c.SI), *c.At)
		c.Phrase, c.At = &phrase, nil
	}
	if f == figure.FoldFlatToWave && math.IsNaN(c.SI) && numeric.Given(s.Wave.FlatBeyond) {
		c.SI, c.State = s.Wave.FlatBeyond, result.Beyond
	}
	return c
}

// Group lists the figures of a group of keys, such as "horn", in order.
func Group(name string) []*figure.Def {
	var out []*figure.Def
	for _, f := range Table {
		if f.Group() == name {
			out = append(out, f.Def)
		}
	}
	return out
}

// isWide reports whether a figure is the width of a band that falls nowhere to −6 dB.
func isWide(s *sizing.Sizing, f *figure.Def) bool {
	h := &s.Woofers
	switch f {
	case figure.WoofersAcross.Width:
	case figure.MidsAcross.Width:
		h = &s.Mids
	default:
		return false
	}
	return h.Columns > 0 && numeric.Given(h.Crossover)
}

// noControl reports whether a figure of the pattern does not exist because a mouth
// of that coverage does not narrow to it; the rule gives a frequency all the same.
func noControl(s *sizing.Sizing, f *figure.Def) bool {
	switch f {
	case figure.HornPatternComputed, figure.HornRuleDeviation, figure.HornNarrowest:
		return numeric.Given(s.Horn.PatternRule)
	}
	return false
}
