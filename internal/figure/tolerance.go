package figure

import "gapline/internal/quantity"

const (
	latin       = "Latin hypercube (M. D. McKay, R. J. Beckman and W. J. Conover, Technometrics 21 (1979) 239-245)"
	wilson      = "E. B. Wilson, JASA 22 (1927) 209-212"
	hyndman     = "R. J. Hyndman and Y. Fan, The American Statistician 50 (1996) 361-365, definition 7"
	independent = "tolerances independent of one another; nothing follows anything"
)

// tenthsOfPercent reads shares with one decimal.
var tenthsOfPercent = quantity.Style{Verb: "%.1f", Unit: "%"}

// toleranceLevel is the chance that a level of trust closes the gap.
func toleranceLevel(level string, trust Trust) *Def {
	return &Def{Key: "tolerance.by_trust." + level, Name: "chance that the gap is closed, by " + level, Symbol: "p_" + level[:1], Kind: quantity.Fraction, Trust: trust,
		Formula: "share of the sampled designs whose gap.by_trust." + level + ".oct is at most targets.gap", Terms: From("gap.by_trust."+level+".oct", "targets.gap"),
		Domain: independent, Source: latin, Style: tenthsOfPercent}
}

// gapTerms are what a gap within tolerances depends on.
var gapTerms = From("gap.open_oct", "gap.insert_oct")

// What gapline tolerance works out beside the figures of size.
var (
	ToleranceSamples = &Def{Key: "tolerance.samples", Name: "designs sampled", Symbol: "n", Kind: quantity.Number, Trust: Geometry,
		Formula: "tolerance samples, or --samples; fewer when stopped", Source: ofRun, Chosen: true}
	ToleranceSeed = &Def{Key: "tolerance.seed", Name: "seed of the sample", Symbol: "s", Kind: quantity.Number, Trust: Geometry,
		Formula: "tolerance seed, or --seed", Source: ofRun, Chosen: true}
	ToleranceImpossible = &Def{Key: "tolerance.impossible", Name: "sampled designs that cannot exist", Symbol: "n_0", Kind: quantity.Number, Trust: Geometry,
		Formula: "values out of range, or that contradict each other", Terms: From("tolerance.samples"), Source: geometry}
	ToleranceFits = &Def{Key: "tolerance.fits", Name: "share of the sampled designs that can be built", Symbol: "n_f/n", Kind: quantity.Fraction, Trust: Geometry,
		Formula: "designs in which no stated parts are in each other's way, over those sampled", Terms: From("tolerance.samples"), Source: geometry, Style: tenthsOfPercent}
	ToleranceByRule     = toleranceLevel("rule", Rule)
	ToleranceByAperture = toleranceLevel("aperture", Aperture)
	ToleranceDivided    = &Def{Key: "tolerance.by_trust.divided", Name: "designs that one level closes and another leaves open", Symbol: "p_d", Kind: quantity.Fraction, Trust: Aperture,
		Formula: "share of the sampled designs", Terms: From("tolerance.by_trust.rule", "tolerance.by_trust.aperture"), Domain: independent, Source: latin, Style: tenthsOfPercent}
	ToleranceChance = &Def{Key: "tolerance.targets.chance", Name: "chance to meet a target", Symbol: "p", Kind: quantity.Fraction, Trust: ByBasis,
		Formula: "p = m/n, designs that cannot exist miss", Terms: []Term{{"m", "tolerance.targets.met"}, {"n", "tolerance.targets.of"}},
		Domain: independent, Source: latin, Style: tenthsOfPercent}
	ToleranceChanceLow = &Def{Key: "tolerance.targets.low", Name: "low end of the 95 % interval of the chance", Symbol: "p_lo", Kind: quantity.Fraction, Trust: ByBasis,
		Formula: "score interval of p of n, z = 1.960", Terms: []Term{{"p", "tolerance.targets.chance"}, {"n", "tolerance.targets.of"}},
		Domain: independent, Source: wilson, Style: tenthsOfPercent}
	ToleranceChanceHigh = &Def{Key: "tolerance.targets.high", Name: "high end of the 95 % interval of the chance", Symbol: "p_hi", Kind: quantity.Fraction, Trust: ByBasis,
		Formula: "score interval of p of n, z = 1.960", Terms: []Term{{"p", "tolerance.targets.chance"}, {"n", "tolerance.targets.of"}},
		Domain: independent, Source: wilson, Style: tenthsOfPercent}
	ToleranceTarget = &Def{Key: "tolerance.targets.value", Name: "value of the target", Symbol: "x_t", Kind: quantity.Number, Trust: Geometry,
		Formula: "as [targets] gives it, SI", Terms: From("targets.gap", "targets.lowest", "targets.flat_to"), Source: geometry}
	ToleranceMet = &Def{Key: "tolerance.targets.met", Name: "designs that meet the target", Symbol: "m", Kind: quantity.Number, Trust: ByBasis,
		Formula: "count", Terms: From("tolerance.targets.of"), Source: latin}
	ToleranceOf = &Def{Key: "tolerance.targets.of", Name: "designs judged by the target", Symbol: "n", Kind: quantity.Number, Trust: Geometry,
		Formula: "tolerance.samples", Terms: From("tolerance.samples"), Source: ofRun}

	ToleranceKeyValue = &Def{Key: "tolerance.effects.as_designed", Name: "value of the key as designed", Symbol: "x", Kind: quantity.Number, Trust: Geometry,
		Formula: "the key's value, in the unit that column names", Source: geometry, Chosen: true}
	ToleranceKeyLow = &Def{Key: "tolerance.effects.low", Name: "low end of the tolerance", Symbol: "x_lo", Kind: quantity.Number, Trust: Geometry,
		Formula: "value − half width, or the 5 % point of a normal one", Terms: From("tolerance.effects.as_designed"), Source: geometry}
	ToleranceKeyHigh = &Def{Key: "tolerance.effects.high", Name: "high end of the tolerance", Symbol: "x_hi", Kind: quantity.Number, Trust: Geometry,
		Formula: "value + half width, or the 95 % point of a normal one", Terms: From("tolerance.effects.as_designed"), Source: geometry}
	ToleranceGapAtLow = &Def{Key: "tolerance.effects.gap_at_low_oct", Name: "gap with the key at its low end", Symbol: "G_lo", Kind: quantity.Octaves, Trust: ByBasis,
		Formula: "the gap as given, other keys as designed", Terms: append(From("tolerance.effects.low"), gapTerms...), Source: "one at a time"}
	ToleranceGapAtHigh = &Def{Key: "tolerance.effects.gap_at_high_oct", Name: "gap with the key at its high end", Symbol: "G_hi", Kind: quantity.Octaves, Trust: ByBasis,
		Formula: "the gap as given, other keys as designed", Terms: append(From("tolerance.effects.high"), gapTerms...), Source: "one at a time"}
	ToleranceMoves = &Def{Key: "tolerance.effects.moves_oct", Name: "how far the tolerance moves the gap", Symbol: "ΔG", Kind: quantity.Octaves, Trust: ByBasis,
		Formula: "highest − lowest of the gap as designed and at both ends",
		Terms:   append(From("tolerance.effects.gap_at_low_oct", "tolerance.effects.gap_at_high_oct"), gapTerms...),
		Source:  "one at a time", Style: quantity.Style{Verb: "%.3f"}}

	ToleranceDesigned = &Def{Key: "tolerance.figures.as_designed", Name: "a figure as designed", Symbol: "y", Kind: quantity.Number, Trust: ByFigure,
		Formula: "the figure under its own key, such as gap.open_oct, in its unit", Terms: gapTerms, Source: "the figure's"}
	ToleranceLow = &Def{Key: "tolerance.figures.p05", Name: "a figure's 5 % point", Symbol: "y_05", Kind: quantity.Number, Trust: ByFigure,
		Formula: "5 % of the designs that can exist lie below", Terms: From("tolerance.figures.computed"), Domain: independent, Source: hyndman}
	ToleranceMedian = &Def{Key: "tolerance.figures.median", Name: "a figure's median", Symbol: "y_50", Kind: quantity.Number, Trust: ByFigure,
		Formula: "half of the designs that can exist lie below", Terms: From("tolerance.figures.computed"), Domain: independent, Source: hyndman}
	ToleranceHigh = &Def{Key: "tolerance.figures.p95", Name: "a figure's 95 % point", Symbol: "y_95", Kind: quantity.Number, Trust: ByFigure,
		Formula: "5 % of the designs that can exist lie above", Terms: From("tolerance.figures.computed"), Domain: independent, Source: hyndman}
	ToleranceComputed = &Def{Key: "tolerance.figures.computed", Name: "designs for which a figure can be computed", Symbol: "n_y", Kind: quantity.Number, Trust: Geometry,
		Formula: "count", Terms: From("tolerance.samples"), Source: ofRun}

	ToleranceLeverValue = &Def{Key: "tolerance.lever.values", Name: "value of the lever", Symbol: "x", Kind: quantity.Number, Trust: Geometry,
		Formula: "--vary, SI", Source: geometry, Chosen: true}
	ToleranceLeverGap = &Def{Key: "tolerance.lever.gap_oct", Name: "gap without tolerances", Symbol: "G", Kind: quantity.Octaves, Trust: ByBasis,
		Formula: "the gap as given at the lever's value, links acting", Terms: gapTerms, Source: geometry}
	ToleranceLeverLow = &Def{Key: "tolerance.lever.p05_oct", Name: "5 % point of the gap", Symbol: "G_05", Kind: quantity.Octaves, Trust: ByBasis,
		Formula: "5 % of the designs that can exist lie below", Terms: From("tolerance.lever.gap_oct"), Domain: independent, Source: hyndman}
	ToleranceLeverMedian = &Def{Key: "tolerance.lever.median_oct", Name: "median of the gap", Symbol: "G_50", Kind: quantity.Octaves, Trust: ByBasis,
		Formula: "half of the designs that can exist lie below", Terms: From("tolerance.lever.gap_oct"), Domain: independent, Source: hyndman}
	ToleranceLeverHigh = &Def{Key: "tolerance.lever.p95_oct", Name: "95 % point of the gap", Symbol: "G_95", Kind: quantity.Octaves, Trust: ByBasis,
		Formula: "5 % of the designs that can exist lie above", Terms: From("tolerance.lever.gap_oct"), Domain: independent, Source: hyndman}
	ToleranceLeverImpossible = &Def{Key: "tolerance.lever.impossible", Name: "sampled designs that cannot exist", Symbol: "n_0", Kind: quantity.Number, Trust: Geometry,
		Formula: "values out of range, or that contradict each other", Terms: From("tolerance.samples"), Source: geometry}
	ToleranceLeverFits = &Def{Key: "tolerance.lever.fits", Name: "share of the sampled designs that can be built", Symbol: "n_f/n", Kind: quantity.Fraction, Trust: Geometry,
		Formula: "designs at the lever's value in which no stated parts are in each other's way, over those sampled", Terms: From("tolerance.samples"), Source: geometry, Style: tenthsOfPercent}
)

// toleranceStudy lists them.
var toleranceStudy = []*Def{
	ToleranceSamples, ToleranceSeed, ToleranceImpossible, ToleranceFits, ToleranceByRule, ToleranceByAperture, ToleranceDivided, ToleranceTarget, ToleranceChance, ToleranceChanceLow, ToleranceChanceHigh, ToleranceMet, ToleranceOf,
	ToleranceKeyValue, ToleranceKeyLow, ToleranceKeyHigh, ToleranceGapAtLow, ToleranceGapAtHigh, ToleranceMoves,
	ToleranceDesigned, ToleranceLow, ToleranceMedian, ToleranceHigh, ToleranceComputed,
	ToleranceLeverValue, ToleranceLeverGap, ToleranceLeverLow, ToleranceLeverMedian, ToleranceLeverHigh, ToleranceLeverImpossible, ToleranceLeverFits,
}
