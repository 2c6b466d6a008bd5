package cabinet

import "gapline/internal/quantity"

var exitFigures = []Figure{
	{
		Key: "horn.exit_width_m", Name: "width of the horizontal exit", Symbol: "W", Kind: quantity.Length, Level: Exact,
		Formula: "horn.mouth_width, or with side flares W + 2·l·tan(θ/2) + n·t",
		Inputs:  []string{"horn.mouth_width", "horn.flare_length", "horn.flare_angle", "horn.flare_splitters", "horn.flare_splitter_width"}, Source: geometry,
		Note:  "Flares and splitters widen the horizontal exit only; the vertical front stays.",
		Value: func(s *Sizing) float64 { return s.Horn.ExitWidth },
	},
	{
		Key: "horn.exit_coverage_deg", Name: "coverage of the horizontal exit", Symbol: "θ", Kind: quantity.Angle, Level: Exact,
		Formula: "horn.coverage, or with side flares horn.flare_angle", Inputs: []string{"horn.coverage", "horn.flare_angle"}, Source: geometry,
		Value: func(s *Sizing) float64 { return s.Horn.ExitCoverage },
	},
	{
		Key: "horn.flares_filled_hz", Name: "a flat front fills the flares up to", Symbol: "f_fill", Kind: quantity.Frequency, Level: Rule,
		Formula: "0.60248·c/(w·sin(θ_c/2)) of one channel, w = W/(n+1), θ_c = θ/(n+1): a flat slot is −6.000 dB down at half its angle",
		Inputs:  []string{"horn.mouth_width", "horn.flare_angle", "horn.coverage", "horn.flare_splitters"}, Source: "flat aperture, sin x/x",
		Note:  "Above it the flares need a front that is curved already, or more splitters: each channel more raises it.",
		Value: func(s *Sizing) float64 { return s.Horn.FlaresFilled },
	},
	{
		Key: "horn.rule_deviation", Name: "rule against the aperture integral", Symbol: "δ", Kind: quantity.Fraction, Level: ByAperture,
		Formula: "horn.pattern_rule_hz/horn.pattern_computed_hz − 1", Inputs: []string{"horn.pattern_rule_hz", "horn.pattern_computed_hz"}, Source: keele,
		Note:  "JSON holds it as a ratio. gapline horn FILE --view rule shows it over a range of coverages.",
		Value: func(s *Sizing) float64 { return s.Horn.RuleDeviation },
	},
}

const loadingNote = "Worked out by gapline horn; side flares do not count in the loading."

// loadingInputs are the keys that shape the throat impedance.
var loadingInputs = []string{"horn.profile", "horn.throat", "horn.length", "horn.mouth_width", "horn.mouth_height", "horn.family", "horn.distances", "horn.areas"}

const webster = "A. G. Webster, Proc. Nat. Acad. Sci. 5 (1919) 275; mouth: rectangular piston in a baffle (D. S. Burnett and W. W. Soroka, JASA 51 (1972) 1618)"

var loadingFigures = []Figure{
	{
		Key: "horn.ripple_db", Name: "ripple of the throat resistance", Symbol: "r", Kind: quantity.Level, Level: ByAperture,
		Formula: "10·log10(R_max/R_min) over the two octaves above horn.lower_hz", Inputs: append([]string{"horn.lower_hz"}, loadingInputs...), Source: webster,
		Note:  "Plane fronts, no higher modes. " + loadingNote,
		Value: func(s *Sizing) float64 { return s.Horn.Ripple },
	},
	{
		Key: "horn.half_loaded_hz", Name: "throat takes half of a plane wave's power from", Symbol: "f_½", Kind: quantity.Frequency, Level: ByAperture,
		Formula: "τ = 4·Re z/|z + 1|² stays at ½ or more, z = Z·S_t/(ρc)", Inputs: loadingInputs, Source: webster + "; plane-wave tube",
		Note:  loadingNote,
		Value: func(s *Sizing) float64 { return s.Horn.HalfLoaded },
	},
	{
		Key: "horn.efficiency", Name: "efficiency at the lower limit", Symbol: "η", Kind: quantity.Number, Level: ByAperture,
		Formula: "acoustic power into the throat over electrical power, from the compression driver's circuit; without [compression_driver] the share τ that enters from a plane-wave tube",
		Inputs:  append([]string{"horn.lower_hz", "compression_driver.re", "compression_driver.bl", "compression_driver.mms", "compression_driver.fs", "compression_driver.sd"}, loadingInputs...),
		Source:  webster + "; equivalent circuit with coil, mass, compliance, front and rear chamber", Note: loadingNote,
		Value: func(s *Sizing) float64 { return s.Horn.EfficiencyLow },
	},
}
