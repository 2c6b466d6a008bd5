package figure

import (
	"gapline/internal/quantity"
	"slices"
	"strings"
)

// inLevels is what higher levels of trust add to a figure of the gap.
const inLevels = "gap.by_trust holds the gap at each level of trust, with figures of that level on both sides"

// byBasis is the line that takes the half-wave figure or that of the lobe criterion, as
// targets.coupling says, of the first pair that is given.
func byBasis(name string, pairs ...string) string {
	var ways []string
	for i := 0; i < len(pairs); i += 2 {
		ways = append(ways, pairs[i]+" where targets.coupling is half-wave", pairs[i+1]+" where targets.coupling is lobe")
	}
	return name + " = " + strings.Join(ways, ", else ")
}

// The figures of the gap.
var (
	GapOpen = &Def{
		Key: "gap.open_oct", Name: "gap to the horn, without insert", Symbol: "g", Kind: quantity.Octaves, Trust: ByBasis,
		Formula: "log2(f_horn/f_couple), f_couple the bare cones' limit on the basis (the mids' when there is a mid band)",
		Hand: []string{
			byBasis("f_couple", "f_m½", "f_mλ", "f_½", "f_λ") + "; of mids, or of bare cones",
			"g = log2(f_horn/f_couple)",
		},
		Terms: []Term{{"f_horn", "horn.lower_hz"}, {"f_½", "coupling.open.half_wave_hz"}, {"f_λ", "coupling.open.lobe_hz"},
			{"f_m½", "coupling.mid.half_wave_hz"}, {"f_mλ", "coupling.mid.lobe_hz"}, {"", "targets.coupling"}}, Source: "difference of the two limits in octaves",
		Higher: inLevels,
		Note:   "Positive: open, no frequency is served by both. Negative: overlap.",
	}

	GapInsert = &Def{
		Key: "gap.insert_oct", Name: "gap to the horn, with insert", Symbol: "g_n", Kind: quantity.Octaves, Trust: ByBasis,
		Formula: "log2(f_horn/f_couple), f_couple the least of the insert's coupling limit, its chamber corner and the limit of its mouths' phases, on the basis",
		Hand: []string{
			byBasis("f_i", "f_½", "f_λ") + "; of the mouths",
			byBasis("f_V", "f_ch", "f_chm") + "; of the chamber",
			byBasis("f_φ", "f_Δ", "f_90") + "; of the mouths' phases",
			"f_couple = min(f_i, f_V, f_φ)",
			"g_n = log2(f_horn/f_couple)",
		},
		Terms: []Term{{"f_horn", "horn.lower_hz"}, {"f_½", "coupling.insert.half_wave_hz"}, {"f_λ", "coupling.insert.lobe_hz"}, {"f_ch", "coupling.insert.chamber_hz"}, {"f_chm", "coupling.insert.chamber_coupled_hz"},
			{"f_Δ", "coupling.insert.in_phase_hz"}, {"f_90", "coupling.insert.mouths_part_hz"}, {"", "targets.coupling"}},
		Higher: inLevels,
		Source: "difference of the two limits in octaves",
	}

	GapLow = &Def{
		Key: "gap.low_hz", Name: "coupling side of the design as given", Symbol: "f_couple", Kind: quantity.Frequency, Trust: ByBasis,
		Formula: "coupling limit of what meets the horn: mids, insert or bare cones",
		Hand: []string{
			byBasis("f_i", "f_n½", "f_nλ") + "; with an insert",
			byBasis("f_V", "f_ch", "f_chm") + "; its chamber",
			byBasis("f_φ", "f_Δ", "f_90") + "; its mouths' phases",
			byBasis("f_o", "f_m½", "f_mλ", "f_½", "f_λ") + "; of mids, or of bare cones",
			"f_couple = f_o where f_m½ is given, else min(f_i, f_V, f_φ) where f_i is given, else f_o",
		},
		Terms: []Term{{"f_m½", "coupling.mid.half_wave_hz"}, {"f_mλ", "coupling.mid.lobe_hz"}, {"f_n½", "coupling.insert.half_wave_hz"}, {"f_nλ", "coupling.insert.lobe_hz"},
			{"f_ch", "coupling.insert.chamber_hz"}, {"f_chm", "coupling.insert.chamber_coupled_hz"}, {"f_Δ", "coupling.insert.in_phase_hz"}, {"f_90", "coupling.insert.mouths_part_hz"},
			{"f_½", "coupling.open.half_wave_hz"}, {"f_λ", "coupling.open.lobe_hz"}, {"", "targets.coupling"}},
		Source: practice, Higher: inLevels,
	}

	GapHigh = &Def{
		Key: "gap.high_hz", Name: "horn side of the design as given", Symbol: "f_horn", Kind: quantity.Frequency, Trust: ByBasis,
		Formula: "horn.lower_hz", Hand: []string{"f_horn = horn.lower_hz"}, Terms: From("horn.lower_hz"), Source: practice, Higher: inLevels,
	}

	GapCrossover = &Def{
		Key: "gap.crossover_hz", Name: "crossover inside the overlap", Symbol: "f_x", Kind: quantity.Frequency, Trust: ByBasis,
		Formula: "√(f_couple·f_horn), when they overlap", Hand: []string{"f_x = √(f_couple·f_horn)"},
		Terms: []Term{{"f_couple", "gap.low_hz"}, {"f_horn", "gap.high_hz"}}, Source: practice,
		Domain: "where the two limits overlap",
		Note:   "Of the basis alone: gap.window.crossover_hz is where all levels of trust that decide overlap.",
	}

	GapWooferMid = &Def{
		Key: "gap.woofer_mid_oct", Name: "gap between woofers and mids", Symbol: "g_m", Kind: quantity.Octaves, Trust: ByBasis,
		Formula: "log2(mid.lowest/f_couple of the woofers)",
		Terms:   []Term{{"", "mid.lowest"}, {"f_couple", "coupling.open.half_wave_hz"}}, Source: practice,
	}
)

// The window that both sides serve at all levels of trust that decide.
var (
	GapWindowLow = &Def{
		Key: "gap.window.low_hz", Name: "both sides serve from, at all deciding levels", Symbol: "f_w", Kind: quantity.Frequency, Trust: ByFigure,
		Formula: "greatest of gap.by_trust.*.high_hz over the levels that decide", Terms: windowTerms, Source: practice, Domain: inWindow,
	}
	GapWindowHigh = &Def{
		Key: "gap.window.high_hz", Name: "both sides serve to, at all deciding levels", Symbol: "f_W", Kind: quantity.Frequency, Trust: ByFigure,
		Formula: "least of gap.by_trust.*.low_hz over the levels that decide", Terms: windowTerms, Source: practice, Domain: inWindow,
	}
	GapWindowCrossover = &Def{
		Key: "gap.window.crossover_hz", Name: "crossover inside the window of all deciding levels", Symbol: "f_x", Kind: quantity.Frequency, Trust: ByFigure,
		Formula: "√(f_w·f_W)", Terms: []Term{{"f_w", "gap.window.low_hz"}, {"f_W", "gap.window.high_hz"}}, Source: practice, Domain: inWindow,
	}

	windowTerms = From("gap.by_trust.rule.low_hz", "gap.by_trust.rule.high_hz", "gap.by_trust.aperture.low_hz", "gap.by_trust.aperture.high_hz",
		"gap.by_trust.wave.low_hz", "gap.by_trust.wave.high_hz", "targets.trust")
)

// inWindow is where the window exists.
const inWindow = "where no level that decides leaves the gap open"

// gapWindow lists them.
var gapWindow = []*Def{GapWindowLow, GapWindowHigh, GapWindowCrossover}

// GapLevel is the figures of the gap at one level of trust.
type GapLevel struct{ Low, High, Gap, Range *Def }

// The levels.
var (
	GapByRule     = newGapLevel("gap.by_trust.", "", "rule", Rule)
	GapByAperture = newGapLevel("gap.by_trust.", "", "aperture", Aperture)
	GapByWave     = newGapLevel("gap.by_trust.", "", "wave", Wave)
	GapByMeasured = newGapLevel("gap.by_trust.", "", "measured", Measured)
)

// The levels of the gap between woofers and mids.
var (
	MidGapByRule     = newGapLevel("gap.woofer_mid_by_trust.", "woofers to mids: ", "rule", Rule)
	MidGapByAperture = newGapLevel("gap.woofer_mid_by_trust.", "woofers to mids: ", "aperture", Aperture)
)

func newGapLevel(group, of, name string, trust Trust) GapLevel {
	def := func(leaf, what, symbol, formula string, kind quantity.Kind, terms []Term) *Def {
		return &Def{Key: group + name + "." + leaf, Name: of + what + ", by " + name, Symbol: symbol, Kind: kind, Trust: trust, Formula: formula, Terms: terms,
			Source: "each side takes the figures of this level, or of the next lower one where it has none"}
	}
	below := From("coupling.open.half_wave_hz", "coupling.open.lobe_hz", "coupling.insert.chamber_hz", "coupling.insert.chamber_coupled_hz", "coupling.insert.in_phase_hz", "coupling.insert.mouths_part_hz", "coupling.lobe_wave_hz", "coupling.insert.chamber_wave_hz", "coupling.insert.mouths_part_wave_hz", "coupling.measured_hz", "targets.coupling")
	above := From("horn.pattern_rule_hz", "horn.pattern_computed_hz", "horn.pattern_wave_hz", "horn.pattern_measured_hz", "horn.cutoff_hz", "horn.lowest")
	high := "greatest of pattern, 1.2 × flare cutoff and the driver's lowest"
	what := [2]string{"upper end of what meets the horn", "lower end of the horn"}
	if of != "" {
		above, high = From("mid.lowest"), "the mids' lowest crossover frequency"
		what = [2]string{"upper end of the woofers", "lower end of the mids"}
	}
	g := GapLevel{
		Low:  def("low_hz", what[0], "f_l", "least of the criterion, the chamber's corner and the limit of the mouths' phases", quantity.Frequency, below),
		High: def("high_hz", what[1], "f_h", high, quantity.Frequency, above),
		Gap: byHand(def("oct", "gap", "g", "log2(f_h/f_l)", quantity.Octaves,
			[]Term{{"f_l", group + name + ".low_hz"}, {"f_h", group + name + ".high_hz"}}), "g = log2(f_h/f_l)"),
		Range: def("oct_range", "range of the gap", "g_r", "between what the gap lies by this level's own uncertainty: twice the same where limits are closed forms; of a run, what every second frequency and the larger elements read instead; of traces, half the width of their smoothing to either side", quantity.Octaves, From(group+name+".oct")),
	}
	if of == "" {
		g.closedForms(name)
	}
	return g
}

// closedForms gives the ends of the gap by rule and by aperture their formulas in full.
func (g *GapLevel) closedForms(level string) {
	chamber, phases, pattern := "coupling.insert.chamber_hz", "coupling.insert.in_phase_hz", "horn.pattern_rule_hz"
	switch level {
	case "aperture":
		chamber, phases, pattern = "coupling.insert.chamber_coupled_hz", "coupling.insert.mouths_part_hz", "horn.pattern_computed_hz"
	case "rule":
	default:
		return
	}
	byHand(g.Low,
		byBasis("f_m", "f_m½", "f_mλ")+"; of mids",
		byBasis("f_n", "f_n½", "f_nλ")+"; of an insert's mouths",
		byBasis("f_o", "f_½", "f_λ")+"; of bare cones",
		"f_l = f_m, else min(f_n, f_V, f_φ) where f_n is given, else f_o; f_V ends the chamber, f_φ what the mouths have in phase")
	g.Low.Terms = []Term{{"f_m½", "coupling.mid.half_wave_hz"}, {"f_mλ", "coupling.mid.lobe_hz"}, {"f_n½", "coupling.insert.half_wave_hz"}, {"f_nλ", "coupling.insert.lobe_hz"},
		{"f_½", "coupling.open.half_wave_hz"}, {"f_λ", "coupling.open.lobe_hz"}, {"f_V", chamber}, {"f_φ", phases}, {"", "targets.coupling"}}
	byHand(g.High, "f_h = max(f_p, 1.2·f_c, f_d)")
	g.High.Terms = []Term{{"f_p", pattern}, {"f_c", "horn.cutoff_hz"}, {"f_d", "horn.lowest"}}
}

// byHand gives a figure its formula in full.
func byHand(d *Def, lines ...string) *Def {
	d.Hand = lines
	return d
}

// sized are those that a sizing holds.
func (g GapLevel) sized() []*Def { return []*Def{g.Low, g.High, g.Gap} }

func (g GapLevel) all() []*Def { return append(g.sized(), g.Range) }

// gapLevels lists those of a sizing, gapRanges the others; midLevels are those of the gap
// between woofers and mids.
var (
	gapLevels = slices.Concat(GapByRule.sized(), GapByAperture.sized(), GapByWave.sized(), GapByMeasured.sized())
	gapRanges = []*Def{GapByRule.Range, GapByAperture.Range, GapByWave.Range, GapByMeasured.Range}
	midLevels = slices.Concat(MidGapByRule.all(), MidGapByAperture.all())
)

// What a lever leaves of the gap.
var (
	LeverByRule     = leverGap("rule", Rule)
	LeverByAperture = leverGap("aperture", Aperture)
	LeverByWave     = leverGap("wave", Wave)
)

func leverGap(level string, trust Trust) *Def {
	return &Def{Key: "levers.gap_oct." + level, Name: "gap that a lever leaves, by " + level, Symbol: "g_l", Kind: quantity.Octaves, Trust: trust,
		Formula: "gap.by_trust." + level + ".oct of the design with the lever's settings", Terms: From("gap.by_trust." + level + ".oct"), Source: "the design sized again, with what follows the lever"}
}

// leverGaps lists them.
var leverGaps = []*Def{LeverByRule, LeverByAperture, LeverByWave}
