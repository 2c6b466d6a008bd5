package figure

import "gapline/internal/quantity"

const (
	insertCircuit = "acoustic circuit of chamber and mouths in front of the cones; radiation of rectangular mouths: D. S. Burnett and W. W. Soroka, JASA 51 (1972) 1618-1623"
	plateClose    = "plate close in front of the cone"
	mutual        = `R. L. Pritchard, "Mutual acoustic impedance between radiators in an infinite rigid plane", JASA 32 (1960) 730-737; ` + small
	rigidStack    = "pistons in one rigid wall, wavelength long against the inside of the box, small signals"
)

// insertTerms are the dimensions of the insert.
var insertTerms = From("insert.mouths", "insert.mouth_height", "insert.mouth_width", "insert.slot_depth", "insert.chamber_volume", "insert.spacing")

// comparedTerms are what both sides of the comparison with the insert depend on.
var comparedTerms = append(append([]Term{}, insertTerms...), driveTerms...)

// What the insert does to its box, with the exact radiation on both sides.
var (
	InsertChamber = &Def{Key: "box.insert.chamber_hz", Name: "the same with the mouths' action on each other", Symbol: "f_ch", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "1/(2π·√(M·C)): C of the chamber, M of the air in the mouths with their mutual air load", Terms: insertTerms,
		Domain: "wavelength long against chamber and mouths", Source: insertCircuit, Note: "coupling.insert.chamber_hz leaves the mutual load out."}
	InsertChamberQ = &Def{Key: "box.insert.chamber_q", Name: "Q of chamber and mouths", Symbol: "Q_ch", Kind: quantity.Number, Trust: Aperture,
		Formula: "ω·M/R at box.insert.chamber_hz, R the mouths' radiation resistance", Terms: append(From("box.insert.chamber_hz"), insertTerms...),
		Domain: "wavelength long against chamber and mouths", Source: insertCircuit}
	InsertPeakAt = &Def{Key: "box.insert.peak_hz", Name: "frequency of the peak of mouths over cones", Symbol: "f_pk", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "where box.insert.peak_db stands", Terms: From("box.insert.peak_db"), Domain: lumped, Source: insertCircuit}
	InsertPeak = &Def{Key: "box.insert.peak_db", Name: "peak of mouths over cones, volume velocity", Symbol: "L_pk", Kind: quantity.Level, Trust: Aperture,
		Formula: "highest 20·log10(|U_mouths/U_cones|)", Terms: insertTerms, Domain: lumped, Source: insertCircuit,
		Note: "Not the largest change of level: the mouths load the cones."}
	InsertSensitivity = &Def{Key: "box.insert.sensitivity_change_db", Name: "passband level by the added mass alone", Symbol: "ΔL", Kind: quantity.Level, Trust: Aperture,
		Formula: "−20·log10(1 + ΔM/M_ms)", Terms: []Term{{"ΔM", "box.insert.added_mass_kg"}, {"M_ms", "box.driver.mms_kg"}}, Domain: lumped, Source: small}
	InsertAddedMass = &Def{Key: "box.insert.added_mass_kg", Name: "mass added to each cone", Symbol: "ΔM", Kind: quantity.Mass, Trust: Aperture,
		Formula: "n·S_d²·(M_mouths − M_air), net of the free air load that it replaces", Terms: append([]Term{{"n", "woofer.per_box"}, {"S_d", "woofer.sd"}}, insertTerms...),
		Domain: lumped, Source: insertCircuit}
	InsertResonance = &Def{Key: "box.insert.resonance_hz", Name: "fs in free air with it", Symbol: "f_s'", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "f_s' = f_s/√(1 + ΔM/M_ms)", Terms: []Term{{"f_s", "woofer.fs"}, {"ΔM", "box.insert.added_mass_kg"}, {"M_ms", "box.driver.mms_kg"}}, Domain: lumped, Source: small}
	InsertAreaRatio = &Def{Key: "box.insert.area_ratio", Name: "cone area over mouth area", Symbol: "S_c/S_m", Kind: quantity.Number, Trust: Geometry,
		Formula: "woofer.per_box · S_d/(n·h·w)", Source: geometry, Note: "With the piston area; coupling.insert.area_ratio takes woofer.size.",
		Terms: []Term{{"", "woofer.per_box"}, {"S_d", "woofer.sd"}, {"n", "insert.mouths"}, {"h", "insert.mouth_height"}, {"w", "insert.mouth_width"}}}
	InsertLimitSpeed = &Def{Key: "box.insert.limit_mouth_speed_m_s", Name: "air in the mouths at the displacement limit", Symbol: "v_m", Kind: quantity.Speed, Trust: Aperture,
		Formula: "box.max_mouth_speed_m_s at box.insert.limit_mouth_speed_at_hz", Terms: From("box.max_mouth_speed_m_s", "box.insert.limit_mouth_speed_at_hz"),
		Domain: lumped, Source: insertCircuit, Note: "Above 17 m/s it is likely to be heard (common practice)."}
	InsertLimitAt = &Def{Key: "box.insert.limit_mouth_speed_at_hz", Name: "frequency of that speed", Symbol: "f_v", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "highest f up to box.insert.chamber_hz at which excursion limits the level", Terms: append(From("box.insert.chamber_hz"), limitTerms...),
		Domain: lumped, Source: insertCircuit}
	InsertPathSpread = &Def{Key: "box.insert.path_spread_m", Name: "ways from cone to mouth differ by", Symbol: "Δ", Kind: quantity.Length, Trust: Geometry,
		Formula: "longest less shortest way along the plate from a part of the cone to the edge of the nearest mouth",
		Terms:   From("woofer.sd", "insert.mouths", "insert.spacing", "insert.mouth_height", "insert.mouth_width"), Domain: plateClose, Source: geometry}
	InsertPathQuarter = &Def{Key: "box.insert.path_quarter_hz", Name: "which is a quarter wave at", Symbol: "f_Δ", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "c/(4·Δ)", Terms: []Term{{"Δ", "box.insert.path_spread_m"}}, Domain: plateClose, Source: practice}
	InsertMostAt = &Def{Key: "box.insert.largest_change_hz", Name: "frequency of the largest change", Symbol: "f_ΔL", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "where box.insert.largest_change_db stands", Terms: From("box.insert.largest_change_db"), Domain: lumped, Source: insertCircuit}
	InsertMost = &Def{Key: "box.insert.largest_change_db", Name: "largest change of level by the insert", Symbol: "ΔL_max", Kind: quantity.Level, Trust: Aperture,
		Formula: "highest ΔL(f) from an octave and a half below box.insert.chamber_hz to half an octave above it", Domain: lumped, Source: insertCircuit,
		Terms: []Term{{"ΔL(f)", "box.insert.change_db"}, {"", "box.insert.chamber_hz"}}, Style: quantity.Style{Verb: "%+.1f"}}
	InsertWith = &Def{Key: "box.insert.spl_with_db", Name: "level with the insert", Symbol: "L_w", Kind: quantity.Level, Trust: Aperture,
		Formula: "as box.spl_db, with the exact radiation of the mouths", Terms: append(From("box.spl_db"), comparedTerms...), Domain: lumped, Source: insertCircuit}
	InsertWithout = &Def{Key: "box.insert.spl_without_db", Name: "level without the insert", Symbol: "L_wo", Kind: quantity.Level, Trust: Aperture,
		Formula: "as box.spl_db without the insert, with the exact radiation of the cones", Terms: append(From("box.spl_db"), driveTerms...), Domain: lumped, Source: circuit}
	InsertChange = &Def{Key: "box.insert.change_db", Name: "change of level by the insert", Symbol: "ΔL(f)", Kind: quantity.Level, Trust: Aperture,
		Formula: "L_w − L_wo", Terms: []Term{{"L_w", "box.insert.spl_with_db"}, {"L_wo", "box.insert.spl_without_db"}}, Domain: lumped, Source: insertCircuit,
		Style: quantity.Style{Verb: "%+.1f"}}
)

// boxStackTerms are what the levels of a stack depend on.
var boxStackTerms = append(append([]Term{{"N", "box.stack.boxes"}, {"p", "box.stack.pitch_m"}}, driveTerms...), From("enclosure.vent_distance")...)

// Stacks of the box.
var (
	StackBoxes = &Def{Key: "box.stack.boxes", Name: "boxes in the stack", Symbol: "N", Kind: quantity.Number, Trust: Geometry,
		Formula: "1, 2, 4 and 8 unless --boxes says otherwise, whatever line.boxes", Terms: From("line.boxes"), Source: ofRun}
	StackPitch = &Def{Key: "box.stack.pitch_m", Name: "pitch of the boxes", Symbol: "p", Kind: quantity.Length, Trust: Geometry,
		Formula: "cabinet.pitch, or cabinet.height + cabinet.gap", Terms: From("cabinet.pitch", "cabinet.height", "cabinet.gap"), Source: geometry}
	StackLevel = &Def{Key: "box.stack.spl_db", Name: "level of the stack on axis", Symbol: "L_N", Kind: quantity.Level, Trust: Aperture,
		Formula: "far on the axis, referred to 1 m: all net volume velocities of N boxes at pitch p, each solved with the radiation of all the others", Terms: boxStackTerms,
		Domain: rigidStack, Source: mutual, Note: "Of one box not the same as box.spl_db: there the air in front of bare cones counts as mass only.",
		Style: quantity.Style{Verb: "%.1f", Bare: true}}
	StackPowerLevel = &Def{Key: "box.stack.power_level_db", Name: "level of the stack by its radiated power", Symbol: "L_W", Kind: quantity.Level, Trust: Aperture,
		Formula: "level at 1 m of the same power spread evenly over the half space: 10·log10(W·ρc/(2π·(20 µPa)²))", Terms: []Term{{"W", "box.stack.radiated_w"}},
		Domain: rigidStack, Source: mutual}
	StackRadiated = &Def{Key: "box.stack.radiated_w", Name: "radiated power of the stack", Symbol: "W", Kind: quantity.Power, Trust: Aperture,
		Formula: "W = Σ Re(p·U*) over all cones, mouths and vents of N boxes at pitch p", Terms: boxStackTerms, Domain: rigidStack, Source: mutual}
	StackAxisGain = &Def{Key: "box.stack.axis_gain_db", Name: "gain on axis over the size before", Symbol: "G", Kind: quantity.Level, Trust: Aperture,
		Formula: "L_N less that of the size before", Terms: []Term{{"L_N", "box.stack.spl_db"}}, Domain: rigidStack, Source: mutual,
		Style: quantity.Style{Verb: "%+.1f", Bare: true}}
	StackPowerGain = &Def{Key: "box.stack.power_gain_db", Name: "gain in radiated power over the size before", Symbol: "G_W", Kind: quantity.Level, Trust: Aperture,
		Formula: "L_W less that of the size before", Terms: []Term{{"L_W", "box.stack.power_level_db"}}, Domain: rigidStack, Source: mutual,
		Style: quantity.Style{Verb: "%+.1f", Bare: true}}
)
