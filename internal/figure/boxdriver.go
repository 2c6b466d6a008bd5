package figure

import "gapline/internal/quantity"

const (
	asGiven   = "as given; otherwise from the relations of the parameters"
	relations = "relations of R. H. Small, JAES 20 (1972) 383-395"
	leastFit  = "least squares of |Z| and, where measured, its phase, over published models of the coil weighed by AICc; intervals: D. Turek and D. Fletcher, Comput. Stat. Data Anal. 56 (2012) 2809-2815; G. A. F. Seber and C. J. Wild, Nonlinear Regression, 1989, ch. 5"
	secondFit = "second sweep: Small 1972, appendix; " + leastFit
	sweepHold = "errors independent and of equal size; a systematic error of sweep or model is not in the interval"
)

// The parameters of the driver in the box, given or derived.
var (
	DriverFs = &Def{Key: "box.driver.fs_hz", Name: "resonance in free air", Symbol: "f_s", Kind: quantity.Frequency, Trust: Geometry,
		Formula: asGiven + ": 1/(2π·√(M_ms·C_ms))", Terms: []Term{{"", "woofer.fs"}, {"M_ms", "woofer.mms"}, {"C_ms", "woofer.cms"}}, Source: relations}
	DriverQes = &Def{Key: "box.driver.qes", Name: "electrical Q at fs", Symbol: "Q_es", Kind: quantity.Number, Trust: Geometry,
		Formula: asGiven + ": 2π·f_s·M_ms·R_e/Bl²", Source: relations,
		Terms: []Term{{"", "woofer.qes"}, {"f_s", "woofer.fs"}, {"M_ms", "woofer.mms"}, {"R_e", "woofer.re"}, {"Bl", "woofer.bl"}}}
	DriverQms = &Def{Key: "box.driver.qms", Name: "mechanical Q at fs", Symbol: "Q_ms", Kind: quantity.Number, Trust: Geometry,
		Formula: asGiven + ": 2π·f_s·M_ms/R_ms", Terms: []Term{{"", "woofer.qms"}, {"f_s", "woofer.fs"}, {"M_ms", "woofer.mms"}, {"R_ms", "woofer.rms"}}, Source: relations}
	DriverQts = &Def{Key: "box.driver.qts", Name: "total Q at fs", Symbol: "Q_ts", Kind: quantity.Number, Trust: Geometry,
		Formula: asGiven + ": 1/Q_ts = 1/Q_es + 1/Q_ms", Hand: []string{"Q_ts = woofer.qts, else 1/(1/Q_es + 1/Q_ms)"}, Terms: []Term{{"", "woofer.qts"}, {"Q_es", "woofer.qes"}, {"Q_ms", "woofer.qms"}}, Source: relations}
	DriverVas = &Def{Key: "box.driver.vas_m3", Name: "volume as stiff as the suspension", Symbol: "V_as", Kind: quantity.Volume, Trust: Geometry,
		Formula: asGiven + ": ρc²·S_d²·C_ms", Source: relations,
		Terms: []Term{{"", "woofer.vas"}, {"ρ", "air.density_kg_m3"}, {"c", "air.sound_speed_m_s"}, {"S_d", "woofer.sd"}, {"C_ms", "woofer.cms"}}}
	DriverSd = &Def{Key: "box.driver.sd_m2", Name: "piston area", Symbol: "S_d", Kind: quantity.Area, Trust: Geometry,
		Formula: "as given; otherwise π·d²/4 of woofer.effective_diameter or 0.82 of woofer.size, or from the relations", Source: relations,
		Terms: From("woofer.sd", "woofer.effective_diameter", "woofer.size", "woofer.vas", "woofer.cms")}
	DriverDiameter = &Def{Key: "box.driver.effective_diameter_m", Name: "piston diameter", Symbol: "d", Kind: quantity.Length, Trust: Geometry,
		Formula: "as given; otherwise √(4·S_d/π)", Terms: []Term{{"", "woofer.effective_diameter"}, {"S_d", "woofer.sd"}}, Source: relations}
	DriverRe = &Def{Key: "box.driver.re_ohm", Name: "voice-coil resistance", Symbol: "R_e", Kind: quantity.Resistance, Trust: Geometry,
		Formula: asGiven, Terms: From("woofer.re", "woofer.bl", "woofer.qes"), Source: relations}
	DriverLe = &Def{Key: "box.driver.le_h", Name: "voice-coil inductance", Symbol: "L_e", Kind: quantity.Inductance, Trust: Geometry,
		Formula: "woofer.le; with an exponent its value at 1 kHz", Terms: From("woofer.le"), Source: geometry}
	DriverLeExponent = &Def{Key: "box.driver.le_exponent", Name: "exponent of the inductance", Symbol: "n", Kind: quantity.Number, Trust: Geometry,
		Formula: "woofer.le_exponent: coil impedance ∝ (jω)ⁿ", Terms: From("woofer.le_exponent"), Source: geometry}
	DriverBl = &Def{Key: "box.driver.bl_tm", Name: "force factor", Symbol: "Bl", Kind: quantity.ForceFactor, Trust: Geometry,
		Formula: asGiven + ": √(2π·f_s·M_ms·R_e/Q_es)", Source: relations,
		Terms: []Term{{"", "woofer.bl"}, {"f_s", "woofer.fs"}, {"M_ms", "woofer.mms"}, {"R_e", "woofer.re"}, {"Q_es", "woofer.qes"}}}
	DriverMms = &Def{Key: "box.driver.mms_kg", Name: "moving mass with air load", Symbol: "M_ms", Kind: quantity.Mass, Trust: Geometry,
		Formula: asGiven + ": 1/((2π·f_s)²·C_ms)", Terms: []Term{{"", "woofer.mms"}, {"f_s", "woofer.fs"}, {"C_ms", "woofer.cms"}}, Source: relations}
	DriverCms = &Def{Key: "box.driver.cms_m_n", Name: "compliance", Symbol: "C_ms", Kind: quantity.Compliance, Trust: Geometry,
		Formula: asGiven + ": V_as/(ρc²·S_d²)", Terms: []Term{{"", "woofer.cms"}, {"V_as", "woofer.vas"}, {"S_d", "woofer.sd"}}, Source: relations}
	DriverRms = &Def{Key: "box.driver.rms_kg_s", Name: "mechanical resistance", Symbol: "R_ms", Kind: quantity.MechLoss, Trust: Geometry,
		Formula: asGiven + ": 2π·f_s·M_ms/Q_ms", Terms: []Term{{"", "woofer.rms"}, {"f_s", "woofer.fs"}, {"M_ms", "woofer.mms"}, {"Q_ms", "woofer.qms"}}, Source: relations}
	DriverXmax = &Def{Key: "box.driver.xmax_m", Name: "excursion limit, one way", Symbol: "x_max", Kind: quantity.Length, Trust: Geometry,
		Formula: "woofer.xmax", Terms: From("woofer.xmax"), Source: geometry}
	DriverPower = &Def{Key: "box.driver.power_w", Name: "power rating", Symbol: "P_r", Kind: quantity.Power, Trust: Geometry,
		Formula: "woofer.power, into woofer.re", Terms: From("woofer.power", "woofer.re"), Source: geometry}

	DriverEfficiency = &Def{Key: "box.driver.efficiency", Name: "reference efficiency", Symbol: "η₀", Kind: quantity.Fraction, Trust: Geometry,
		Formula: "4π²·f_s³·V_as/(c³·Q_es), half space", Hand: []string{"η₀ = 4·π²·f_s³·V_as/(c³·Q_es)"}, Terms: []Term{{"f_s", "woofer.fs"}, {"V_as", "woofer.vas"}, {"Q_es", "woofer.qes"}, {"c", "air.sound_speed_m_s"}},
		Domain: "where the response is flat", Source: relations}
	DriverSensitivity = &Def{Key: "box.driver.level_1w_1m_db", Name: "level of one driver, 1 W into Re", Symbol: "L_1W", Kind: quantity.Level, Trust: Geometry,
		Formula: "level at 1 m in half space of η₀·1 W", Hand: []string{"p = √(η₀·ρ·c/(2·π)); pressure at 1 m of that power over the half sphere", "L_1W = 20·log10(p/0.00002)"},
		Terms: []Term{{"η₀", "box.driver.efficiency"}, {"ρ", "air.density_kg_m3"}, {"c", "air.sound_speed_m_s"}}, Domain: "where the response is flat", Source: relations}
	DriverEfficiencyBandwidth = &Def{Key: "box.driver.efficiency_bandwidth_hz", Name: "fs/qes", Symbol: "f_s/Q_es", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "f_s/Q_es", Hand: []string{"b = f_s/Q_es"}, Terms: []Term{{"f_s", "woofer.fs"}, {"Q_es", "woofer.qes"}}, Source: practice,
		Note: "Low values suit closed boxes, high values vented ones."}
	DriverContradicted = &Def{Key: "box.driver.contradictions.value", Name: "given value that others contradict", Symbol: "x", Kind: quantity.Number, Trust: Geometry,
		Formula: "as given under key, SI", Terms: From("woofer.fs", "woofer.qes", "woofer.qms", "woofer.qts", "woofer.vas", "woofer.sd", "woofer.bl", "woofer.mms"), Source: geometry}
	DriverPredicted = &Def{Key: "box.driver.contradictions.predicted", Name: "what the others give", Symbol: "x'", Kind: quantity.Number, Trust: Geometry,
		Formula: "from the other values under keys, SI; named where it is off by more than 5 %", Terms: From("box.driver.contradictions.value"), Source: relations}
)

// The parameters that a fit finds, each with its 95 % interval.
var (
	FitFs = &Def{Key: "box.fit.fs_hz", Name: "resonance in free air", Symbol: "f_s", Kind: quantity.Frequency, Trust: Measured,
		Formula: "fitted: Z = R_e + Z_L + R_e·(Q_ms/Q_es)/(1 + jQ_ms·(f/f_s − f_s/f))", Terms: fitTerms, Domain: sweepHold, Source: leastFit, Style: fiveDigits}
	FitQes = &Def{Key: "box.fit.qes", Name: "electrical Q at fs", Symbol: "Q_es", Kind: quantity.Number, Trust: Measured,
		Formula: "fitted, as box.fit.fs_hz", Terms: fitTerms, Domain: sweepHold, Source: leastFit, Style: fiveDigits}
	FitQms = &Def{Key: "box.fit.qms", Name: "mechanical Q at fs", Symbol: "Q_ms", Kind: quantity.Number, Trust: Measured,
		Formula: "fitted, as box.fit.fs_hz", Terms: fitTerms, Domain: sweepHold, Source: leastFit, Style: fiveDigits}
	FitQts = &Def{Key: "box.fit.qts", Name: "total Q at fs", Symbol: "Q_ts", Kind: quantity.Number, Trust: Measured,
		Formula: "Q_es·Q_ms/(Q_es + Q_ms)", Terms: []Term{{"Q_es", "box.fit.qes"}, {"Q_ms", "box.fit.qms"}}, Domain: sweepHold, Source: leastFit, Style: fiveDigits}
	FitRe = &Def{Key: "box.fit.re_ohm", Name: "voice-coil resistance", Symbol: "R_e", Kind: quantity.Resistance, Trust: Measured,
		Formula: "fitted, as box.fit.fs_hz", Terms: fitTerms, Domain: sweepHold, Source: leastFit, Style: fiveDigits}
	FitLe = &Def{Key: "box.fit.le_h", Name: "voice-coil inductance", Symbol: "L_e", Kind: quantity.Inductance, Trust: Measured,
		Formula: "|Z_L|/(2π·1 kHz) of the fitted coil at 1 kHz", Terms: fitTerms, Domain: sweepHold, Source: leastFit, Style: fiveDigits}
	FitLeExponent = &Def{Key: "box.fit.le_exponent", Name: "exponent of the inductance", Symbol: "n", Kind: quantity.Number, Trust: Measured,
		Formula: "phase of Z_L of the fitted coil at 1 kHz over π/2: Z_L ∝ (jω)ⁿ there", Terms: fitTerms, Domain: sweepHold, Source: leastFit, Style: fiveDigits}
	FitVas = &Def{Key: "box.fit.vas_m3", Name: "volume as stiff as the suspension", Symbol: "V_as", Kind: quantity.Volume, Trust: Measured,
		Formula: "ρc²·S_d²·C_ms, or V·(f_c·Q_ec/(f_s·Q_es) − 1) in a known volume V", Domain: sweepHold, Source: secondFit, Style: fiveDigits,
		Terms: []Term{{"S_d", "woofer.sd"}, {"C_ms", "box.fit.cms_m_n"}, {"f_s", "box.fit.fs_hz"}, {"Q_es", "box.fit.qes"}}}
	FitMms = &Def{Key: "box.fit.mms_kg", Name: "moving mass with air load", Symbol: "M_ms", Kind: quantity.Mass, Trust: Measured,
		Formula: "m/((f_s/f_m)² − 1) with a mass m on the cone, or 1/((2π·f_s)²·C_ms)", Terms: []Term{{"f_s", "box.fit.fs_hz"}}, Domain: sweepHold, Source: secondFit, Style: fiveDigits}
	FitCms = &Def{Key: "box.fit.cms_m_n", Name: "compliance", Symbol: "C_ms", Kind: quantity.Compliance, Trust: Measured,
		Formula: "1/((2π·f_s)²·M_ms)", Terms: []Term{{"f_s", "box.fit.fs_hz"}, {"M_ms", "box.fit.mms_kg"}}, Domain: sweepHold, Source: secondFit, Style: fiveDigits}
	FitBl = &Def{Key: "box.fit.bl_tm", Name: "force factor", Symbol: "Bl", Kind: quantity.ForceFactor, Trust: Measured,
		Formula: "√(2π·f_s·M_ms·R_e/Q_es)", Domain: sweepHold, Source: secondFit, Style: fiveDigits,
		Terms: []Term{{"f_s", "box.fit.fs_hz"}, {"M_ms", "box.fit.mms_kg"}, {"R_e", "box.fit.re_ohm"}, {"Q_es", "box.fit.qes"}}}
	FitConfidence = &Def{Key: "box.confidence", Name: "confidence of the intervals", Symbol: "1 − α", Kind: quantity.Fraction, Trust: Geometry,
		Formula: "1 − α = 95 %, Student's t of each model by its weight", Terms: From("box.fit.fs_hz"), Source: leastFit}
)

// fitTerms are what a fit takes; fiveDigits are finer than any measurement.
var (
	fitTerms   = From("box.sweeps.impedance_ohm", "box.sweeps.phase_deg")
	fiveDigits = quantity.Style{Verb: "%.5g"}
)

// The sweeps of a fit.
var (
	SweepResidual = &Def{Key: "box.sweeps.residual", Name: "residual of the magnitude", Symbol: "ε", Kind: quantity.Fraction, Trust: Measured,
		Formula: "rms of |Z_fit|/|Z| − 1", Terms: []Term{{"|Z_fit|", "box.sweeps.fitted_ohm"}, {"|Z|", "box.sweeps.impedance_ohm"}}, Source: leastFit,
		Style: quantity.Style{Verb: "%.2g"}}
	SweepPhaseResidual = &Def{Key: "box.sweeps.phase_residual_deg", Name: "residual of the phase", Symbol: "ε_φ", Kind: quantity.Angle, Trust: Measured,
		Formula: "rms of the difference of both phases", Terms: From("box.sweeps.fitted_phase_deg", "box.sweeps.phase_deg"), Source: leastFit,
		Style: quantity.Style{Verb: "%.2g"}}
	SweepFrequency = &Def{Key: "box.sweeps.frequency_hz", Name: "frequency of a measured point", Symbol: "f", Kind: quantity.Frequency, Trust: Measured,
		Formula: "as measured, of box.sweeps.impedance_ohm", Terms: From("box.sweeps.impedance_ohm"), Source: "the sweep's file"}
	SweepImpedance = &Def{Key: "box.sweeps.impedance_ohm", Name: "measured impedance", Symbol: "|Z|", Kind: quantity.Resistance, Trust: Measured,
		Formula: "as measured, at box.sweeps.frequency_hz", Terms: From("box.sweeps.frequency_hz"), Source: "the sweep's file"}
	SweepFitted = &Def{Key: "box.sweeps.fitted_ohm", Name: "fitted impedance", Symbol: "|Z_fit|", Kind: quantity.Resistance, Trust: Measured,
		Formula: "|Z| of the fitted model, as box.fit.fs_hz", Terms: From("box.fit.fs_hz"), Domain: lumped, Source: leastFit}
	SweepPhase = &Def{Key: "box.sweeps.phase_deg", Name: "measured phase", Symbol: "arg Z", Kind: quantity.Angle, Trust: Measured,
		Formula: "as measured, at box.sweeps.frequency_hz", Terms: From("box.sweeps.frequency_hz"), Source: "the sweep's file"}
	SweepFittedPhase = &Def{Key: "box.sweeps.fitted_phase_deg", Name: "fitted phase", Symbol: "arg Z_fit", Kind: quantity.Angle, Trust: Measured,
		Formula: "arg Z of the fitted model, as box.fit.fs_hz", Terms: From("box.fit.fs_hz"), Domain: lumped, Source: leastFit}
)

// The ranking of drivers; its other columns are figures of size.
var (
	RankPlace = &Def{Key: "box.drivers.rank", Name: "place of the driver", Symbol: "i", Kind: quantity.Number, Trust: Geometry,
		Formula: "by what --by names, ties by level, f3 and gap", Terms: From("box.max_spl_db", "box.f3_hz", "gap.open_oct", "box.cost"), Source: ofRun}
	RankAt = &Def{Key: "box.at_hz", Name: "frequency at which the drivers are judged", Symbol: "f_L", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "targets.level_at, else targets.lowest, else box.f3_hz of the design's own woofer", Terms: From("targets.level_at", "targets.lowest", "box.f3_hz"), Source: ofRun}
)
