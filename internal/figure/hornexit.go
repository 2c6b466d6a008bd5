package figure

import "gapline/internal/quantity"

// The figures of the horizontal exit: the mouth, or the side flares in front of it.
var (
	HornExitWidth = &Def{
		Key: "horn.exit_width_m", Name: "width of the horizontal exit", Symbol: "W", Kind: quantity.Length, Trust: Geometry,
		Formula: "horn.mouth_width, or with side flares W + 2·l·tan(θ/2) + n·t",
		Hand:    []string{"θ = θ_f, else θ_c", "b = n·t, else 0; of the splitters", "W_e = W + 2·l·tan(θ/2) + b, else W"},
		Terms: []Term{{"W", "horn.mouth_width"}, {"l", "horn.flare_length"}, {"θ_f", "horn.flare_angle"}, {"θ_c", "horn.coverage"},
			{"n", "horn.flare_splitters"}, {"t", "horn.flare_splitter_width"}}, Source: geometry,
		Note: "Flares and splitters widen the horizontal exit only; the vertical front stays.",
	}

	HornExitCoverage = &Def{
		Key: "horn.exit_coverage_deg", Name: "coverage of the horizontal exit", Symbol: "θ", Kind: quantity.Angle, Trust: Geometry,
		Formula: "horn.coverage, or with side flares horn.flare_angle", Hand: []string{"θ = horn.flare_angle, else horn.coverage"}, Terms: From("horn.coverage", "horn.flare_angle"), Source: geometry,
	}

	HornFlaresFilled = &Def{
		Key: "horn.flares_filled_hz", Name: "a flat front fills the flares up to", Symbol: "f_fill", Kind: quantity.Frequency, Trust: Rule,
		Formula: "0.60248·c/(w·sin(θ_c/2)) of one channel, w = W/(n+1), θ_c = θ/(n+1): a flat slot is −6.000 dB down at half its angle",
		Hand: []string{
			"N = n + 1, else 1; channels",
			"θ = θ_f, else θ_h",
			"f_fill = 0.602480377·c/(W/N·sin(θ/(2·N)))",
		},
		Terms: []Term{{"W", "horn.mouth_width"}, {"θ_f", "horn.flare_angle"}, {"θ_h", "horn.coverage"}, {"n", "horn.flare_splitters"}}, Source: "flat aperture, sin x/x",
		Note:   "Above it the flares need a front that is curved already, or more splitters: each channel more raises it.",
		Domain: "far field, plane front in each channel",
	}

	HornRuleDeviation = &Def{
		Key: "horn.rule_deviation", Name: "rule against the aperture integral", Symbol: "δ", Kind: quantity.Fraction, Trust: Aperture,
		Formula: "horn.pattern_rule_hz/horn.pattern_computed_hz − 1", Hand: []string{"δ = f_W/f_θ − 1"},
		Terms: []Term{{"f_W", "horn.pattern_rule_hz"}, {"f_θ", "horn.pattern_computed_hz"}}, Source: keele,
		Note:   "JSON holds it as a ratio. gapline horn FILE --view rule shows it over a range of coverages.",
		Domain: aperture,
	}
)

const (
	loadingNote = "Worked out by gapline horn; side flares do not count in the loading."
	webster     = "A. G. Webster, Proc. Nat. Acad. Sci. 5 (1919) 275; mouth: rectangular piston in a baffle (D. S. Burnett and W. W. Soroka, JASA 51 (1972) 1618)"

	// planeFronts is where the loading holds.
	planeFronts = "plane fronts below the first cross mode, mouth in a rigid baffle"
)

// loadingTerms are the keys that shape the throat impedance.
var loadingTerms = From("horn.profile", "horn.throat", "horn.length", "horn.mouth_width", "horn.mouth_height", "horn.family", "horn.distances", "horn.areas")

// The figures of the load that the horn is to its driver.
var (
	HornRipple = &Def{
		Key: "horn.ripple_db", Name: "ripple of the throat resistance", Symbol: "r", Kind: quantity.Level, Trust: Aperture,
		Formula: "10·log10(R_max/R_min) over the two octaves above horn.lower_hz", Terms: append(From("horn.lower_hz"), loadingTerms...), Source: webster,
		Note:   "Plane fronts, no higher modes. " + loadingNote,
		Domain: planeFronts,
	}

	HornHalfLoaded = &Def{
		Key: "horn.half_loaded_hz", Name: "throat takes half of a plane wave's power from", Symbol: "f_½", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "τ = 4·Re z/|z + 1|² stays at ½ or more, z = Z·S_t/(ρc)", Terms: loadingTerms, Source: webster + "; plane-wave tube",
		Note:   loadingNote,
		Domain: planeFronts,
	}

	HornEfficiency = &Def{
		Key: "horn.efficiency", Name: "efficiency at the lower limit", Symbol: "η", Kind: quantity.Number, Trust: Aperture,
		Formula: "acoustic power into the throat over electrical power, from the compression driver's circuit; without [compression_driver] the share τ that enters from a plane-wave tube",
		Terms:   append(From("horn.lower_hz", "compression_driver.re", "compression_driver.bl", "compression_driver.mms", "compression_driver.fs", "compression_driver.sd"), loadingTerms...),
		Source:  webster + "; equivalent circuit with coil, mass, compliance, front and rear chamber", Note: loadingNote,
		Domain: planeFronts + "; small signals",
	}
)
