package figure

import "gapline/internal/quantity"

const (
	exitIntegral = "aperture integral with a circular phase front, as for sectoral horns (C. A. Balanis, Antenna Theory, ch. 13, from memory)"
	driverLoop   = webster + "; equivalent circuit with coil, mass, compliance, front and rear chamber"
	ofRun        = "how the result was worked out"
)

// driverTerms are the keys of the compression driver's circuit.
var driverTerms = append(From("compression_driver.re", "compression_driver.bl", "compression_driver.mms", "compression_driver.fs",
	"compression_driver.sd", "compression_driver.voltage"), loadingTerms...)

// exitTerms shape the horizontal pattern.
var exitTerms = []Term{{"W", "horn.exit_width_m"}, {"θ", "horn.exit_coverage_deg"}}

// width is the reading of a -6 dB width.
const width = "−6 dB full width of the far field, cut where the level first falls by 6.000 dB on each side"

// What gapline horn works out beside the figures of size.
var (
	HornCurveFrequency = &Def{Key: "horn.frequency_hz", Name: "frequency", Symbol: "f", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "1 kHz·2^(k/24), 24 to the octave", Source: ofRun, Terms: From("horn.pattern_rule_hz")}
	HornHorizontal = &Def{Key: "horn.horizontal_deg", Name: "horizontal beamwidth", Symbol: "θ_h", Kind: quantity.Angle, Trust: Aperture,
		Formula: width + "; exit of width W with a front for θ", Terms: exitTerms, Domain: aperture, Source: exitIntegral,
		Note: "Null where the level falls nowhere by 6 dB within ±90°."}
	HornHorizontalBare = &Def{Key: "horn.horizontal_without_flares_deg", Name: "horizontal beamwidth, mouth alone", Symbol: "θ_h0", Kind: quantity.Angle, Trust: Aperture,
		Formula: width + "; mouth without its side flares", Terms: From("horn.mouth_width", "horn.coverage"), Domain: aperture, Source: exitIntegral}
	HornVertical = &Def{Key: "horn.vertical_deg", Name: "vertical beamwidth", Symbol: "θ_v", Kind: quantity.Angle, Trust: Aperture,
		Formula: width + "; mouth of height h with a front about an apex L behind it", Terms: []Term{{"h", "horn.mouth_height"}, {"L", "horn.path_m"}},
		Domain: aperture, Source: exitIntegral}
	HornThroatResistance = &Def{Key: "horn.throat_resistance", Name: "throat resistance", Symbol: "R", Kind: quantity.Number, Trust: Aperture,
		Formula: "R = Re Z·S_t/(ρc), transmission matrices of short cones ended by the mouth's radiation impedance", Terms: loadingTerms,
		Domain: planeFronts, Source: webster, Style: quantity.Style{Verb: "%.3f"}}
	HornThroatReactance = &Def{Key: "horn.throat_reactance", Name: "throat reactance", Symbol: "X", Kind: quantity.Number, Trust: Aperture,
		Formula: "X = Im Z·S_t/(ρc), as the resistance", Terms: loadingTerms, Domain: planeFronts, Source: webster, Style: quantity.Style{Verb: "%.3f"}}
	HornTubeTransmission = &Def{Key: "horn.tube_transmission", Name: "share of a plane wave's power taken", Symbol: "τ", Kind: quantity.Fraction, Trust: Aperture,
		Formula: "τ = 4R/|z + 1|², z = R + jX", Terms: []Term{{"R", "horn.throat_resistance"}, {"X", "horn.throat_reactance"}}, Domain: planeFronts,
		Source: webster + "; plane-wave tube"}
	HornDriverEfficiency = &Def{Key: "horn.driver_efficiency", Name: "efficiency of the compression driver", Symbol: "η", Kind: quantity.Fraction, Trust: Aperture,
		Formula: "η = acoustic power into the throat over electrical power", Terms: driverTerms, Domain: planeFronts + "; small signals", Source: driverLoop}
	HornDriverPower = &Def{Key: "horn.acoustic_power_w", Name: "acoustic power into the throat", Symbol: "P_a", Kind: quantity.Power, Trust: Aperture,
		Formula: "P_a = |U|²·Re Z at compression_driver.voltage", Terms: driverTerms, Domain: planeFronts + "; small signals", Source: driverLoop}
	HornDriverImpedance = &Def{Key: "horn.impedance_ohm", Name: "electrical impedance of the compression driver", Symbol: "|Z_e|", Kind: quantity.Resistance, Trust: Aperture,
		Formula: "|Z_e| of coil and motional impedance on the horn", Terms: driverTerms, Domain: planeFronts + "; small signals", Source: driverLoop}
	HornDriverExcursion = &Def{Key: "horn.excursion_m", Name: "peak excursion of the diaphragm", Symbol: "x", Kind: quantity.Length, Trust: Aperture,
		Formula: "x = √2·|u|/ω at compression_driver.voltage", Terms: driverTerms, Domain: planeFronts + "; small signals", Source: driverLoop,
		Style: quantity.Style{Verb: "%.2g", Unit: "mm"}}
	HornExitArea = &Def{Key: "horn.exit_area_m2", Name: "area of the exit", Symbol: "W·h", Kind: quantity.Area, Trust: Geometry,
		Formula: "W·h", Terms: []Term{{"W", "horn.exit_width_m"}, {"h", "horn.mouth_height"}}, Source: geometry}
	HornFlareLimit = &Def{Key: "horn.flare_limit_hz", Name: "1.2 × flare cutoff", Symbol: "1.2·f_c", Kind: quantity.Frequency, Trust: Rule,
		Formula: "1.2·horn.cutoff_hz", Terms: From("horn.cutoff_hz"), Source: practice}
	HornLowest = &Def{Key: "horn.driver_lowest_hz", Name: "lowest crossover of the compression driver", Symbol: "f_d", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "horn.lowest", Terms: From("horn.lowest"), Source: "the compression driver's data sheet"}
	HornLoadingSegments = &Def{Key: "horn.loading.segments", Name: "segments of the profile", Symbol: "n", Kind: quantity.Number, Trust: Geometry,
		Formula: "doubled until the throat impedance holds still", Terms: loadingTerms, Source: ofRun}
	HornLoadingError = &Def{Key: "horn.loading.relative_error", Name: "estimated error of the throat impedance", Symbol: "ε", Kind: quantity.Number, Trust: Aperture,
		Formula: "largest change by the last doubling of horn.loading.segments, relative", Terms: From("horn.loading.segments"), Source: "Richardson"}
	HornListError = &Def{Key: "horn.loading.list_error", Name: "change when every second point is left out", Symbol: "ε_l", Kind: quantity.Fraction, Trust: Aperture,
		Formula: "largest relative change of the throat impedance", Terms: From("horn.distances", "horn.areas"), Source: "comparison of the list with its half"}
	HornDriveVoltage = &Def{Key: "horn.loading.drive_v", Name: "drive of the compression driver", Symbol: "U", Kind: quantity.Voltage, Trust: Geometry,
		Formula: "compression_driver.voltage, r.m.s.; 2.83 V unless given", Terms: From("compression_driver.voltage"), Source: geometry}
	HornMapAngle = &Def{Key: "horn.map.angle_deg", Name: "angle from the axis", Symbol: "φ", Kind: quantity.Angle, Trust: Geometry,
		Formula: "±90° in steps of 2°", Terms: From("horn.exit_width_m"), Source: ofRun}
	HornMapLevel = &Def{Key: "horn.map.level_db", Name: "level re axis", Symbol: "L(φ)", Kind: quantity.Level, Trust: Aperture,
		Formula: "20·log10(|P(φ)|/|P(0)|) of an exit of width W with a front for θ, held at −60 dB", Terms: exitTerms, Domain: aperture, Source: exitIntegral}

	RuleCoverage = &Def{Key: "horn.rule.coverage_deg", Name: "coverage", Symbol: "θ", Kind: quantity.Angle, Trust: Geometry,
		Formula: "20° to 150° in steps of 10°", Terms: From("horn.exit_width_m"), Source: ofRun}
	RuleFrequency = &Def{Key: "horn.rule.rule_hz", Name: "holds that coverage from, rule", Symbol: "f_W", Kind: quantity.Frequency, Trust: Rule,
		Formula: "10⁶/(W·θ), W in inches, θ in degrees", Terms: []Term{{"W", "horn.exit_width_m"}, {"θ", "horn.rule.coverage_deg"}}, Source: keele}
	RuleComputed = &Def{Key: "horn.rule.computed_hz", Name: "holds that coverage from, computed", Symbol: "f_θ", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "as horn.pattern_computed_hz at this coverage", Terms: []Term{{"", "horn.exit_width_m"}, {"", "horn.rule.coverage_deg"}}, Domain: aperture, Source: exitIntegral}
	RuleDeviation = &Def{Key: "horn.rule.deviation", Name: "rule against the integral", Symbol: "δ", Kind: quantity.Fraction, Trust: Aperture,
		Formula: "horn.rule.rule_hz/horn.rule.computed_hz − 1", Terms: From("horn.rule.rule_hz", "horn.rule.computed_hz"), Source: keele}
	RuleWidth = &Def{Key: "horn.rule.width_in_wavelengths", Name: "width of the exit in wavelengths", Symbol: "W/λ", Kind: quantity.Number, Trust: Aperture,
		Formula: "W/λ at horn.rule.computed_hz", Terms: []Term{{"W", "horn.exit_width_m"}, {"", "horn.rule.computed_hz"}}, Source: exitIntegral, Style: quantity.Style{Verb: "%.3f"}}
	RuleNarrowest = &Def{Key: "horn.rule.narrowest_deg", Name: "narrowest width above it", Symbol: "θ_min", Kind: quantity.Angle, Trust: Aperture,
		Formula: "as horn.narrowest_deg at this coverage", Terms: From("horn.rule.coverage_deg"), Domain: aperture, Source: exitIntegral}
	RuleNarrowestAt = &Def{Key: "horn.rule.narrowest_hz", Name: "frequency of the narrowest width", Symbol: "f_min", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "where horn.rule.narrowest_deg occurs", Terms: From("horn.rule.narrowest_deg"), Domain: aperture, Source: exitIntegral}
)

// hornStudy lists them.
var hornStudy = []*Def{
	HornCurveFrequency, HornHorizontal, HornHorizontalBare, HornVertical, HornThroatResistance, HornThroatReactance, HornTubeTransmission,
	HornDriverEfficiency, HornDriverPower, HornDriverImpedance, HornDriverExcursion, HornExitArea, HornFlareLimit, HornLowest,
	HornLoadingSegments, HornLoadingError, HornListError, HornDriveVoltage, HornMapAngle, HornMapLevel,
	RuleCoverage, RuleFrequency, RuleComputed, RuleDeviation, RuleWidth, RuleNarrowest, RuleNarrowestAt,
}
