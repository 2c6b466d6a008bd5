package figure

import "gapline/internal/quantity"

// The figures of the gap.
var (
	GapOpen = &Def{
		Key: "gap.open_oct", Name: "gap to the horn, without insert", Symbol: "g", Kind: quantity.Octaves, Trust: ByBasis,
		Formula: "log2(f_horn/f_couple), f_couple the bare cones' limit on the basis (the mids' when there is a mid band)",
		Terms:   []Term{{"f_horn", "horn.lower_hz"}, {"", "coupling.open.half_wave_hz"}, {"", "coupling.open.lobe_hz"}, {"", "targets.coupling"}}, Source: "difference of the two limits in octaves",
		Note: "Positive: open, no frequency is served by both. Negative: overlap.",
	}

	GapInsert = &Def{
		Key: "gap.insert_oct", Name: "gap to the horn, with insert", Symbol: "g_n", Kind: quantity.Octaves, Trust: ByBasis,
		Formula: "log2(f_horn/f_couple), f_couple the lower of the insert's coupling limit and its chamber corner",
		Terms:   []Term{{"f_horn", "horn.lower_hz"}, {"", "coupling.insert.half_wave_hz"}, {"", "coupling.insert.lobe_hz"}, {"", "coupling.insert.chamber_hz"}, {"", "targets.coupling"}},
		Source:  "difference of the two limits in octaves",
	}

	GapLow = &Def{
		Key: "gap.low_hz", Name: "coupling side of the design as given", Symbol: "f_couple", Kind: quantity.Frequency, Trust: ByBasis,
		Formula: "coupling limit of what meets the horn: mids, insert or bare cones", Terms: From("targets.coupling"), Source: practice,
	}

	GapHigh = &Def{
		Key: "gap.high_hz", Name: "horn side of the design as given", Symbol: "f_horn", Kind: quantity.Frequency, Trust: ByBasis,
		Formula: "horn.lower_hz", Terms: From("horn.lower_hz"), Source: practice,
	}

	GapCrossover = &Def{
		Key: "gap.crossover_hz", Name: "crossover inside the overlap", Symbol: "f_x", Kind: quantity.Frequency, Trust: ByBasis,
		Formula: "√(f_couple·f_horn), when they overlap",
		Terms:   []Term{{"f_couple", "gap.low_hz"}, {"f_horn", "gap.high_hz"}}, Source: practice,
		Domain: "where the two limits overlap",
	}

	GapWooferMid = &Def{
		Key: "gap.woofer_mid_oct", Name: "gap between woofers and mids", Symbol: "g_m", Kind: quantity.Octaves, Trust: ByBasis,
		Formula: "log2(mid.lowest/f_couple of the woofers)",
		Terms:   []Term{{"", "mid.lowest"}, {"f_couple", "coupling.open.half_wave_hz"}}, Source: practice,
	}
)
