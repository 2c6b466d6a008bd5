package figure

import (
	"slices"

	"gapline/internal/quantity"
)

// columnsByHand tells how many woofers stand side by side, from columnTerms.
const columnsByHand = "k = n_c, else 1 where d_w is given, else n_w; woofers side by side"

var columnTerms = []Term{{"n_c", "woofer.columns"}, {"n_w", "woofer.per_box"}, {"d_w", "woofer.spacing"}}

// The figures that only an insert has.
var (
	CouplingInsertSpacingError = &Def{
		Key: "coupling.insert.spacing_error", Name: "spacing error of the mouths", Symbol: "e", Kind: quantity.Number, Trust: Geometry,
		Formula: "d/(p/n) − 1", Hand: []string{"e = d/(p/n) − 1, else 0"},
		Terms: []Term{{"d", "insert.spacing"}, {"n", "insert.mouths"}, {"p", "cabinet.pitch"}}, Source: geometry,
	}

	CouplingInsertChamber = &Def{
		Key: "coupling.insert.chamber_hz", Name: "front chamber corner", Symbol: "f_ch", Kind: quantity.Frequency, Trust: Rule,
		Formula: "(c/2π)·√(k·n·S/(V·l)), k columns of n mouths of area S, V the air between cones and plate, l = slot depth + an end correction of the rectangle on either side",
		Hand: []string{
			columnsByHand,
			"S = b·h; of one mouth",
			"g = √(b² + h²)",
			"Δl = (b²·h·asinh(h/b) + b·h²·asinh(b/h) + (b³ + h³ − g³)/3)/(π·S); air that moves along on one side",
			"l = t + 2·Δl; inside and outside",
			"f_ch = c/(2·π)·√(k·n·S/(V·l))",
		},
		Terms:  append([]Term{{"n", "insert.mouths"}, {"h", "insert.mouth_height"}, {"b", "insert.mouth_width"}, {"t", "insert.slot_depth"}, {"V", "insert.chamber_volume"}}, columnTerms...),
		Source: "Helmholtz resonator; end correction of a rectangular piston: Rayleigh, Theory of Sound, vol. 2, §302; D. S. Burnett and W. W. Soroka, JASA 51 (1972) 1618",
		Note:   "Above it the output falls 12 dB an octave, with a peak near it. It caps the coupling on either basis.",
		Domain: "wavelength long against chamber and mouths",
		Higher: "coupling.insert.chamber_coupled_hz (aperture) counts how the mouths act on each other; gapline wave --of front solves the chamber with the outside",
	}

	CouplingInsertCoupled = &Def{
		Key: "coupling.insert.chamber_coupled_hz", Name: "front chamber corner, mouths coupled", Symbol: "f_ch,m", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "as coupling.insert.chamber_hz with the exact end corrections and the mouths' action on each other in l",
		Terms:   From("coupling.insert.chamber_hz", "insert.spacing"),
		Source:  "L. L. Beranek, Acoustics, 1954, ch. 5; mutual radiation of rectangles in one wall",
		Higher:  "gapline wave --of front solves the chamber with the outside, whatever its shape",
		Note:    "The frequency at which the mouths' summed volume velocity lags the cones' by 90 degrees.",
		Domain:  "wavelength long against the chamber",
	}

	CouplingInsertPart = &Def{
		Key: "coupling.insert.mouths_part_hz", Name: "mouths within 90 degrees of each other up to", Symbol: "f_90", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "lowest f at which the sound of two mouths, each the sum of exp(−jk·way) over all parts of the cones, differs by 90 degrees",
		Terms:   From("woofer.size", "insert.mouths", "insert.spacing", "insert.mouth_height", "insert.mouth_width"), Source: "rays along the plate, without reflections (no source)",
		Higher: "gapline wave --of front solves the air between cones and plate",
		Note:   "A pair about its cones is symmetric and has no such frequency.",
		Domain: "plate close in front of the cone",
	}

	CouplingInsertAreaRatio = &Def{
		Key: "coupling.insert.area_ratio", Name: "cone area over mouth area", Symbol: "S_c/S_m", Kind: quantity.Number, Trust: Geometry,
		Formula: "area of the cones of a column over n·h·w of the mouths in front of it",
		Hand: []string{
			columnsByHand,
			pistonByHand,
			"r = n_w/k·S/(n·h·w)",
		},
		Terms: slices.Concat(pistonTerms, []Term{{"n", "insert.mouths"}, {"h", "insert.mouth_height"}, {"w", "insert.mouth_width"}}, columnTerms), Source: geometry,
		Note: "The air in the mouths moves faster than the cones by this factor; peak speeds above 17 m/s at low frequency chuff (common practice).",
	}

	CouplingInsertPathSpread = &Def{
		Key: "coupling.insert.path_spread_m", Name: "spread of the paths from cone to mouth", Symbol: "Δ", Kind: quantity.Length, Trust: Rule,
		Formula: "longest less shortest path along the plate from a part of the cone to the edge of the nearest mouth",
		Terms:   From("woofer.size", "insert.mouths", "insert.spacing", "insert.mouth_height", "insert.mouth_width"), Source: geometry,
		Note:   "Mouths whose width is not given count as wide as the cones.",
		Domain: "plate close in front of the cone",
	}

	CouplingInsertInPhase = &Def{
		Key: "coupling.insert.in_phase_hz", Name: "mouths radiate in phase up to", Symbol: "f_Δ", Kind: quantity.Frequency, Trust: Rule,
		Formula: "c/(4·Δ): the spread is a quarter wave", Hand: []string{"f_Δ = c/(4·Δ)"},
		Higher: "coupling.insert.mouths_part_hz (aperture) sums the ways to each mouth and asks when two mouths are 90 degrees apart",
		Terms:  []Term{{"Δ", "coupling.insert.path_spread_m"}}, Source: practice,
		Domain: "plate close in front of the cone",
	}
)
