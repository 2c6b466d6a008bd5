package figure

import (
	"slices"

	"gapline/internal/quantity"
)

const (
	lumped   = "wavelength long against the box, small signals"
	thiele   = `A. N. Thiele, "Loudspeakers in vented boxes", JAES 19 (1971) 382-392, 471-483`
	circuit  = small + "; " + thiele
	listed   = "10 Hz to 2 kHz, 48 to the octave, unless --from, --to and --per-octave say otherwise"
	anyLimit = lumped + "; linear up to the limits, no power compression"
)

// ventByHand are the lines to the area of one vent and to what its ends add to its length;
// ventTerms name their keys.
var (
	ventByHand = []string{
		"S_v = a_v, else π·d_v²/4, else b_v·h_v; of one vent",
		"r = √(S_v/π); of the circle of that area",
		"g = √(b_v² + h_v²)",
		"Δ = (b_v²·h_v·asinh(h_v/b_v) + b_v·h_v²·asinh(b_v/h_v) + (b_v³ + h_v³ − g³)/3)/(π·b_v·h_v), else 8·r/(3·π); what an end in a wall adds",
		"Δ_f = 0.6133·3·π/8·Δ; what a free end adds",
		"Δ_i = Δ where enclosure.vent_inner is flanged, else Δ_f",
		"Δ_o = Δ_f where enclosure.vent_outer is free, else Δ",
		"e = Δ_i + Δ_o unless enclosure.kind is closed",
	}
	ventTerms = []Term{{"a_v", "enclosure.vent_area"}, {"d_v", "enclosure.vent_diameter"}, {"b_v", "enclosure.vent_width"}, {"h_v", "enclosure.vent_height"},
		{"l", "enclosure.vent_length"}, {"n_v", "enclosure.vents"}, {"", "enclosure.vent_inner"}, {"", "enclosure.vent_outer"}, {"", "enclosure.kind"}, {"V_b", "enclosure.volume"}, {"c", "air.sound_speed_m_s"}}
)

// driveTerms are what the curves at the study's own drive depend on.
var driveTerms = append(append(From("drive.voltage", "drive.power"), boxTerms...), From("woofer.le", "woofer.per_box", "woofer.wiring")...)

// limitTerms are what the maximum level depends on.
var limitTerms = append(From("woofer.xmax", "woofer.power", "enclosure.radiator_xmax"), boxTerms...)

// The drive of one box and its curves over frequency.
var (
	BoxDriveVoltage = &Def{Key: "box.drive.voltage_v", Name: "voltage at the terminals of one box", Symbol: "U", Kind: quantity.Voltage, Trust: Geometry,
		Formula: "drive.voltage, or √(drive.power · R); r.m.s., 2.83 V unless given", Terms: []Term{{"", "drive.voltage"}, {"", "drive.power"}, {"R", "box.drive.nominal_ohm"}},
		Source: geometry}
	BoxDrivePower = &Def{Key: "box.drive.power_w", Name: "power into the nominal resistance", Symbol: "P", Kind: quantity.Power, Trust: Geometry,
		Formula: "U²/R", Terms: []Term{{"U", "box.drive.voltage_v"}, {"R", "box.drive.nominal_ohm"}}, Source: geometry}
	BoxDriveNominal = &Def{Key: "box.drive.nominal_ohm", Name: "nominal resistance of one box", Symbol: "R", Kind: quantity.Resistance, Trust: Geometry,
		Formula: "woofer.re divided by woofer.per_box in parallel, times it in series", Terms: From("woofer.re", "woofer.per_box", "woofer.wiring"), Source: geometry}

	BoxFrequency = &Def{Key: "box.frequency_hz", Name: "frequency", Symbol: "f", Kind: quantity.Frequency, Trust: Geometry,
		Formula: listed + "; the same whatever box.f3_hz", Terms: From("box.f3_hz"), Source: ofRun}
	BoxLevel = &Def{Key: "box.spl_db", Name: "level of one box", Symbol: "L", Kind: quantity.Level, Trust: Aperture,
		Formula: "20·log10(|p|/20 µPa), p = jωρ·U_net/(2π·1 m) of the acoustic circuit at U", Terms: append([]Term{{"U", "box.drive.voltage_v"}}, driveTerms...),
		Domain: lumped + "; on axis at 1 m in half space", Source: circuit, Note: "With the insert where the design has one. The air in front of bare cones counts as mass only."}
	BoxPhase = &Def{Key: "box.phase_deg", Name: "phase of the pressure", Symbol: "φ", Kind: quantity.Angle, Trust: Aperture,
		Formula: "φ = arg p, without the phase of the distance", Terms: driveTerms, Domain: lumped, Source: circuit}
	BoxGroupDelay = &Def{Key: "box.group_delay_s", Name: "group delay", Symbol: "τ", Kind: quantity.Time, Trust: Aperture,
		Formula: "τ = −dφ/dω by a four-point difference", Terms: []Term{{"φ", "box.phase_deg"}}, Domain: lumped, Source: circuit}
	BoxExcursion = &Def{Key: "box.excursion_m", Name: "peak excursion of each cone", Symbol: "x", Kind: quantity.Length, Trust: Aperture,
		Formula: "√2·|U_d|/(ω·S_d) of one driver", Terms: append([]Term{{"S_d", "woofer.sd"}}, driveTerms...), Domain: lumped, Source: circuit}
	BoxImpedance = &Def{Key: "box.impedance_ohm", Name: "impedance at the terminals", Symbol: "|Z|", Kind: quantity.Resistance, Trust: Aperture,
		Formula: "|Z| of voice coil and motional impedance, drivers wired as woofer.wiring", Terms: driveTerms, Domain: lumped, Source: circuit}
	BoxImpedancePhase = &Def{Key: "box.impedance_phase_deg", Name: "phase of the impedance", Symbol: "arg Z", Kind: quantity.Angle, Trust: Aperture,
		Formula: "arg Z, as box.impedance_ohm", Terms: From("box.impedance_ohm"), Domain: lumped, Source: circuit}
	BoxVentSpeed = &Def{Key: "box.vent_speed_m_s", Name: "air speed in the vent", Symbol: "v", Kind: quantity.Speed, Trust: Aperture,
		Formula: "√2·|U_v|/S_v, mean over the vent, peak; at the largest level box.max_vent_speed_m_s", Terms: append([]Term{{"S_v", "enclosure.vent_area"}}, driveTerms...), Domain: lumped, Source: circuit}
	BoxRadiatorExcursion = &Def{Key: "box.radiator_excursion_m", Name: "peak excursion of the passive radiator", Symbol: "x_r", Kind: quantity.Length, Trust: Aperture,
		Formula: "√2·|U_r|/(ω·S_r)", Terms: append([]Term{{"S_r", "enclosure.radiator_sd"}}, driveTerms...), Domain: lumped, Source: small}
	BoxMouthSpeed = &Def{Key: "box.mouth_speed_m_s", Name: "air speed in the insert's mouths", Symbol: "v_m", Kind: quantity.Speed, Trust: Aperture,
		Formula: "√2·|U_m|/(n·h·w), peak", Terms: []Term{{"n", "insert.mouths"}, {"h", "insert.mouth_height"}, {"w", "insert.mouth_width"}, {"U_m", "box.drive.voltage_v"}},
		Domain: lumped, Source: insertCircuit}
)

// The maximum level over frequency.
var (
	BoxMaxCurve = &Def{Key: "box.max_spl_curve_db", Name: "maximum level", Symbol: "L_max(f)", Kind: quantity.Level, Trust: Aperture,
		Formula: "the lower of box.max_spl_excursion_db and box.max_spl_power_db", Terms: From("box.max_spl_excursion_db", "box.max_spl_power_db"),
		Domain: anyLimit, Source: circuit, Note: "With the insert where the design has one; box.max_spl_db, by which designs are compared, is without. In JSON and CSV max_spl_db."}
	BoxMaxExcursion = &Def{Key: "box.max_spl_excursion_db", Name: "level at the excursion limit", Symbol: "L_x", Kind: quantity.Level, Trust: Aperture,
		Formula: "level at the voltage at which a cone reaches woofer.xmax, or a passive radiator its own", Terms: limitTerms, Domain: anyLimit, Source: circuit}
	BoxMaxRadiator = &Def{Key: "box.max_spl_radiator_db", Name: "level at the passive radiator's excursion limit", Symbol: "L_r", Kind: quantity.Level, Trust: Aperture,
		Formula: "level at the voltage at which a passive radiator reaches enclosure.radiator_xmax", Terms: limitTerms, Domain: anyLimit, Source: circuit,
		Note: "Null without a passive radiator."}
	BoxMaxPower = &Def{Key: "box.max_spl_power_db", Name: "level at the power limit", Symbol: "L_P", Kind: quantity.Level, Trust: Aperture,
		Formula: "level with woofer.power into woofer.re of each driver", Terms: append(From("woofer.re"), limitTerms...), Domain: anyLimit, Source: circuit}
	BoxMaxVoltage = &Def{Key: "box.max_voltage_v", Name: "voltage for the maximum level", Symbol: "U_max", Kind: quantity.Voltage, Trust: Aperture,
		Formula: "the lower of the voltages of both limits", Terms: limitTerms, Domain: anyLimit, Source: circuit}
	BoxMaxVentSpeed = &Def{Key: "box.max_vent_speed_m_s", Name: "air speed in the vent at the maximum level", Symbol: "v_max", Kind: quantity.Speed, Trust: Aperture,
		Formula: "box.vent_speed_m_s at box.max_voltage_v; in full at box.max_spl_at_hz",
		Hand: slices.Concat(inBox, fullDrive, ventByHand[:1], []string{
			"v_max = √(2)·n·S·v·U·|t/B|/(n_v·S_v); what of the cones' flow leaves by the vent, peak",
			otherBoxes}),
		Terms: slices.Concat(inBoxTerms, pistonTerms, fullDriveTerms, []Term{{"a_v", "enclosure.vent_area"}, {"d_v", "enclosure.vent_diameter"}, {"b_v", "enclosure.vent_width"}, {"h_v", "enclosure.vent_height"},
			{"n_v", "enclosure.vents"}, {"", "box.vent_speed_m_s"}, {"", "box.max_voltage_v"}}), Domain: anyLimit, Source: circuit,
		Note: "Above 17 m/s it is likely to be heard (common practice)."}
	BoxMaxMouthSpeed = &Def{Key: "box.max_mouth_speed_m_s", Name: "air speed in the insert's mouths at the maximum level", Symbol: "v_m,max", Kind: quantity.Speed, Trust: Aperture,
		Formula: "box.mouth_speed_m_s at box.max_voltage_v", Terms: From("box.mouth_speed_m_s", "box.max_voltage_v"), Domain: anyLimit, Source: insertCircuit}
	BoxMaxThere = &Def{Key: "box.max_spl_there_db", Name: "maximum level at box.max_spl_at_hz", Symbol: "L_max,there", Kind: quantity.Level, Trust: Aperture,
		Formula: "L_max(f) at f_L", Terms: []Term{{"L_max(f)", "box.max_spl_curve_db"}, {"f_L", "box.max_spl_at_hz"}}, Domain: anyLimit, Source: circuit,
		Note: "With the insert where the design has one."}
	BoxCrossing = &Def{Key: "box.limit_crossings.frequency_hz", Name: "frequency at which the limits cross", Symbol: "f_x", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "where L_x = L_P", Terms: []Term{{"L_x", "box.max_spl_excursion_db"}, {"L_P", "box.max_spl_power_db"}}, Domain: anyLimit, Source: circuit}
)

// The single figures of the response.
var (
	BoxF6 = &Def{Key: "box.f6_hz", Name: "f6, −6 dB", Symbol: "f₆", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "highest f at which the level of the acoustic circuit is 6 dB below its passband; as box.f3_hz", Terms: boxTerms, Domain: lumped, Source: small}
	BoxF10 = &Def{Key: "box.f10_hz", Name: "f10, −10 dB", Symbol: "f₁₀", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "highest f at which the level of the acoustic circuit is 10 dB below its passband; as box.f3_hz", Terms: boxTerms, Domain: lumped, Source: small}
	BoxQtc = &Def{Key: "box.qtc", Name: "total Q in the box, Qtc", Symbol: "Q_tc", Kind: quantity.Number, Trust: Aperture,
		Formula: "Q_ts·√(1 + α) of a closed box without losses", Hand: []string{"Q_tc = Q_ts·√(1 + α) where enclosure.kind is closed"}, Terms: []Term{{"Q_ts", "box.driver.qts"}, {"α", "box.enclosure.compliance_ratio"}, {"", "enclosure.kind"}}, Domain: lumped, Source: small}
	BoxFc = &Def{Key: "box.fc_hz", Name: "resonance in the box, fc", Symbol: "f_c", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "f_s·√(1 + α) of a closed box", Hand: []string{"f_c = f_s·√(1 + α) where enclosure.kind is closed"},
		Terms: []Term{{"f_s", "woofer.fs"}, {"α", "box.enclosure.compliance_ratio"}, {"", "enclosure.kind"}}, Domain: lumped, Source: small}
	BoxPassband = &Def{Key: "box.passband_db", Name: "level of the passband", Symbol: "L_p", Kind: quantity.Level, Trust: Aperture,
		Formula: "level of the acoustic circuit far above the low end at U", Terms: append([]Term{{"U", "box.drive.voltage_v"}}, boxTerms...), Domain: lumped, Source: small}
	BoxPeak = &Def{Key: "box.peak_db", Name: "highest peak over it", Symbol: "L_pk", Kind: quantity.Level, Trust: Aperture,
		Formula: "highest level of the acoustic circuit less that of its passband; 0 without a peak", Terms: boxTerms, Domain: lumped, Source: small}
	BoxPeakAt = &Def{Key: "box.peak_hz", Name: "frequency of the highest peak", Symbol: "f_pk", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "where box.peak_db stands", Terms: From("box.peak_db"), Domain: lumped, Source: small}
)

// The enclosure and the classical alignments.
var (
	EnclosureVolume = &Def{Key: "box.enclosure.volume_m3", Name: "volume of the box", Symbol: "V_b", Kind: quantity.Volume, Trust: Geometry,
		Formula: "enclosure.volume", Terms: From("enclosure.volume"), Source: geometry}
	EnclosureTuning = &Def{Key: "box.enclosure.tuning_hz", Name: "tuning", Symbol: "f_b", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "enclosure.tuning, or that of vent or passive radiator and enclosure.volume", Source: small,
		Hand:  append(slices.Clone(ventByHand), "f_b = c/(2·π)·√(n_v·S_v/(V_b·(l + e))), else enclosure.tuning unless enclosure.kind is closed"),
		Terms: append(From("enclosure.tuning", "enclosure.radiator_mms"), ventTerms...)}
	EnclosureCompliance = &Def{Key: "box.enclosure.compliance_ratio", Name: "compliance ratio, vas/volume", Symbol: "α", Kind: quantity.Number, Trust: Geometry,
		Formula: "α = n·V_as/V_b", Hand: []string{"α = n·V_as/V_b"}, Terms: []Term{{"n", "woofer.per_box"}, {"V_as", "woofer.vas"}, {"V_b", "enclosure.volume"}}, Source: small}
	EnclosureTuningRatio = &Def{Key: "box.enclosure.tuning_ratio", Name: "tuning ratio, tuning/fs", Symbol: "h", Kind: quantity.Number, Trust: Geometry,
		Formula: "h = f_b/f_s", Hand: []string{"h = f_b/f_s"}, Terms: []Term{{"f_b", "box.enclosure.tuning_hz"}, {"f_s", "woofer.fs"}}, Source: thiele}
	EnclosureVents = &Def{Key: "box.enclosure.vents", Name: "vents", Symbol: "n_v", Kind: quantity.Number, Trust: Geometry,
		Formula: "enclosure.vents", Terms: From("enclosure.vents"), Source: geometry}
	EnclosureVentArea = &Def{Key: "box.enclosure.vent_area_m2", Name: "area of one vent", Symbol: "S_v", Kind: quantity.Area, Trust: Geometry,
		Formula: "enclosure.vent_area, or that of enclosure.vent_diameter or of vent_width and vent_height", Source: geometry,
		Terms: From("enclosure.vent_area", "enclosure.vent_diameter", "enclosure.vent_width", "enclosure.vent_height")}
	EnclosureVentTotal = &Def{Key: "box.enclosure.vent_total_area_m2", Name: "vent, in all", Symbol: "n_v·S_v", Kind: quantity.Area, Trust: Geometry,
		Formula: "n_v·S_v", Terms: []Term{{"n_v", "box.enclosure.vents"}, {"S_v", "box.enclosure.vent_area_m2"}}, Source: geometry}
	EnclosureVentLength = &Def{Key: "box.enclosure.vent_length_m", Name: "vent length, without end corrections", Symbol: "l_v", Kind: quantity.Length, Trust: Aperture,
		Formula: "enclosure.vent_length, or (c/(2·π·f_b))²·n_v·S_v/V_b less both end corrections", Domain: lumped, Source: circuit,
		Hand:  append(slices.Clone(ventByHand), "l_v = l unless enclosure.kind is closed, else (c/(2·π·f_b))²·n_v·S_v/V_b − e"),
		Terms: append([]Term{{"f_b", "box.enclosure.tuning_hz"}}, ventTerms...)}
	EnclosureRadiators = &Def{Key: "box.enclosure.radiators", Name: "passive radiators", Symbol: "n_r", Kind: quantity.Number, Trust: Geometry,
		Formula: "enclosure.radiators", Terms: From("enclosure.radiators"), Source: geometry}
	EnclosureRadiatorMass = &Def{Key: "box.enclosure.radiator_mms_kg", Name: "mass of one passive radiator", Symbol: "M_r", Kind: quantity.Mass, Trust: Aperture,
		Formula: "enclosure.radiator_mms, or the mass that gives box.enclosure.tuning_hz", Terms: From("enclosure.radiator_mms", "box.enclosure.tuning_hz", "enclosure.radiator_sd", "enclosure.volume"),
		Domain: lumped, Source: small}

	SuggestedVolume = &Def{Key: "box.suggestions.volume_m3", Name: "volume of a classical alignment", Symbol: "V_b", Kind: quantity.Volume, Trust: Aperture,
		Formula: "V_b = n·V_as/α of the alignment for Q_ts", Terms: []Term{{"n", "woofer.per_box"}, {"V_as", "woofer.vas"}, {"Q_ts", "box.driver.qts"}}, Domain: lumped, Source: circuit}
	SuggestedTuning = &Def{Key: "box.suggestions.tuning_hz", Name: "tuning of a classical alignment", Symbol: "f_b", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "f_b = h·f_s of the alignment for Q_ts", Terms: []Term{{"f_s", "woofer.fs"}, {"Q_ts", "box.driver.qts"}}, Domain: lumped, Source: circuit}
	SuggestedF3 = &Def{Key: "box.suggestions.f3_hz", Name: "half-power frequency of a classical alignment", Symbol: "f₃", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "f₃/f_s of the alignment for Q_ts, times f_s", Terms: []Term{{"f_s", "woofer.fs"}, {"Q_ts", "box.driver.qts"}}, Domain: lumped, Source: circuit}
	SuggestedLeak = &Def{Key: "box.suggestions.leak_q", Name: "leak taken for a vented alignment", Symbol: "Q_L", Kind: quantity.Number, Trust: Geometry,
		Formula: "enclosure.leak_q, or 7", Terms: From("enclosure.leak_q"), Source: small}
)

// boxStudy are the figures of the box command, in the order of its JSON.
var boxStudy = []*Def{
	BoxDriveVoltage, BoxDrivePower, BoxDriveNominal,
	BoxFrequency, BoxLevel, BoxPhase, BoxGroupDelay, BoxExcursion, BoxImpedance, BoxImpedancePhase, BoxVentSpeed, BoxRadiatorExcursion, BoxMouthSpeed,
	BoxMaxCurve, BoxMaxExcursion, BoxMaxRadiator, BoxMaxPower, BoxMaxVoltage, BoxMaxVentSpeed, BoxMaxMouthSpeed,
	BoxF6, BoxF10, BoxQtc, BoxFc, BoxPassband, BoxPeak, BoxPeakAt, BoxMaxThere, BoxCrossing,
	DriverFs, DriverQes, DriverQms, DriverQts, DriverVas, DriverSd, DriverDiameter, DriverRe, DriverLe, DriverLeExponent,
	DriverBl, DriverMms, DriverCms, DriverRms, DriverXmax, DriverPower,
	DriverEfficiency, DriverSensitivity, DriverEfficiencyBandwidth, DriverContradicted, DriverPredicted,
	EnclosureVolume, EnclosureTuning, EnclosureCompliance, EnclosureTuningRatio, EnclosureVents, EnclosureVentArea, EnclosureVentTotal, EnclosureVentLength,
	EnclosureRadiators, EnclosureRadiatorMass,
	SuggestedVolume, SuggestedTuning, SuggestedF3, SuggestedLeak,
	InsertChamber, InsertChamberQ, InsertPeakAt, InsertPeak, InsertSensitivity, InsertAddedMass, InsertResonance, InsertAreaRatio,
	InsertLimitSpeed, InsertLimitAt, InsertPathSpread, InsertPathQuarter, InsertMostAt, InsertMost, InsertWith, InsertWithout, InsertChange,
	StackBoxes, StackPitch, StackLevel, StackPowerLevel, StackRadiated, StackAxisGain, StackPowerGain,
	FitFs, FitQes, FitQms, FitQts, FitRe, FitLe, FitLeExponent, FitVas, FitMms, FitCms, FitBl, FitConfidence,
	SweepResidual, SweepPhaseResidual, SweepFrequency, SweepImpedance, SweepFitted, SweepPhase, SweepFittedPhase,
	RankPlace, RankAt,
}
