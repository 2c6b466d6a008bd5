package figure

import "gapline/internal/quantity"

const sampling = "Halton sequence shifted by the seed (J. H. Halton, Numer. Math. 2 (1960) 84-90), or every combination"

// What gapline search works out beside the figures of size.
var (
	SearchDesigns = &Def{Key: "search.designs", Name: "designs sampled", Symbol: "n", Kind: quantity.Number, Trust: Geometry,
		Formula: "search designs, or --designs; every combination where there are no more", Source: sampling, Chosen: true}
	SearchSeed = &Def{Key: "search.seed", Name: "seed of the sample", Symbol: "s", Kind: quantity.Number, Trust: Geometry,
		Formula: "search seed, or --seed", Source: ofRun, Chosen: true}
	SearchImpossible = &Def{Key: "search.impossible", Name: "sampled designs that cannot exist", Symbol: "n_0", Kind: quantity.Number, Trust: Geometry,
		Formula: "values out of range, or that contradict each other", Terms: From("search.designs"), Source: geometry}
	SearchMisfits = &Def{Key: "search.not_buildable", Name: "sampled designs that cannot be built", Symbol: "n_m", Kind: quantity.Number, Trust: Geometry,
		Formula: "designs that could exist and in which stated parts are in each other's way", Terms: From("search.designs"), Source: geometry}
	SearchNotComputed = &Def{Key: "search.not_computed", Name: "sampled designs of which a goal or limit cannot be computed", Symbol: "n_-", Kind: quantity.Number, Trust: Geometry,
		Formula: "count", Terms: From("search.designs"), Source: ofRun}
	SearchFeasible = &Def{Key: "search.feasible", Name: "sampled designs that meet every limit", Symbol: "n_f", Kind: quantity.Number, Trust: ByFigure,
		Formula: "count", Terms: From("search.designs"), Source: ofRun}
	SearchRefined = &Def{Key: "search.refined", Name: "designs tried by local searches", Symbol: "n_r", Kind: quantity.Number, Trust: Geometry,
		Formula: "count", Terms: From("search.designs"), Source: "J. A. Nelder and R. Mead, Comput. J. 7 (1965) 308-313, with exact penalties"}
	SearchLimit = &Def{Key: "search.limits.value", Name: "value of the limit", Symbol: "x_l", Kind: quantity.Number, Trust: Geometry,
		Formula: "as the file gives it, in the figure's unit or, of a key, SI", Source: geometry, Chosen: true}
	SearchLimitMet = &Def{Key: "search.limits.met", Name: "sampled designs that meet the limit", Symbol: "m", Kind: quantity.Number, Trust: ByFigure,
		Formula: "count", Terms: From("search.designs"), Source: ofRun}
	SearchValue = &Def{Key: "search.best.values", Name: "value of a varied key", Symbol: "x", Kind: quantity.Number, Trust: Geometry,
		Formula: "SI, within [search.vary]", Source: geometry, Chosen: true}
	SearchGoal = &Def{Key: "search.best.goals", Name: "what a goal comes to", Symbol: "g", Kind: quantity.Number, Trust: ByFigure,
		Formula: "the figure or key that the goal names, such as gap.open_oct", Terms: From("gap.open_oct"), Source: "the figure's"}
	SearchLimited = &Def{Key: "search.best.limits", Name: "what a limit looks at", Symbol: "l", Kind: quantity.Number, Trust: ByFigure,
		Formula: "the figure or key that the limit names, such as gap.open_oct", Terms: From("gap.open_oct"), Source: "the figure's"}
	SearchRelaxTo = &Def{Key: "search.relax.to", Name: "value at which a limit lets one design in", Symbol: "x_r", Kind: quantity.Number, Trust: ByFigure,
		Formula: "nearest value found with all other limits met, rounded outward to four digits", Terms: From("search.limits.value"), Source: ofRun}
	SearchRelaxShare = &Def{Key: "search.relax.share_of_range", Name: "how far the limit has to move", Symbol: "δ", Kind: quantity.Fraction, Trust: ByFigure,
		Formula: "|x_r − x_l|/(highest − lowest value among the first designs)",
		Terms:   []Term{{"x_r", "search.relax.to"}, {"x_l", "search.limits.value"}}, Source: ofRun, Style: tenthsOfPercent}
)

// searchStudy lists them.
var searchStudy = []*Def{
	SearchDesigns, SearchSeed, SearchImpossible, SearchMisfits, SearchNotComputed, SearchFeasible, SearchRefined, SearchLimit, SearchLimitMet,
	SearchValue, SearchGoal, SearchLimited, SearchRelaxTo, SearchRelaxShare,
}
