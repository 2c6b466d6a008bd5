package figure

import "gapline/internal/quantity"

// waveOutside is a number of the solved outside in space.
func waveOutside(key, name, symbol string, k quantity.Kind, formula string) *Def {
	return &Def{Key: "wave." + key, Name: name, Symbol: symbol, Kind: k, Trust: Wave, Formula: formula,
		Terms: append(From("wave.frequency_hz"), frontTerms...), Source: elements, Domain: "rigid walls, free air, vents standing still"}
}

// waveTold is a number of a limit by one model after the other.
func waveTold(key, name, symbol string, k quantity.Kind, formula string) *Def {
	return &Def{Key: "wave.causes." + key, Name: name, Symbol: symbol, Kind: k, Trust: Wave, Formula: formula,
		Terms: append(From("coupling.pitch_m", "targets.lobe_level"), frontTerms...), Source: elements, Domain: "rigid walls, free air, vents standing still"}
}

// The outside in space, gapline wave --of front.
var (
	WaveFrontAngle = &Def{Key: "wave.angle_deg", Name: "angle of the patterns in space", Symbol: "φ", Kind: quantity.Angle, Trust: Geometry,
		Formula: "in steps of 1° from −180° to 180°, 0° ahead, positive up or to the left", Terms: From("wave.frequency_hz"), Source: solverRun}
	WaveFrontLevel = waveOutside("front.level_db", "level re axis in the upright plane", "L_v(φ)", quantity.Level,
		"L_v(φ) = 20·log10(|P(φ)|/|P(0)|) of the far field; in JSON wave.level_db of --of front")
	WaveFrontLevelWithout = waveOutside("level_without_insert_db", "level re axis in the upright plane, without insert", "L_v,0(φ)", quantity.Level,
		"as wave.front.level_db, of the box without plate and chamber; null without an insert")
	WaveFrontHorizontal = waveOutside("horizontal_level_db", "level re axis in the level plane", "L_h(φ)", quantity.Level, "L_h(φ) = 20·log10(|P(φ)|/|P(0)|), positive to the left")
	WaveFrontAxis       = waveOutside("on_axis_db", "level ahead", "L_0", quantity.Level,
		"L_0 = 20·log10(|p·r|/(20 µPa·1 m)) of the far field, with 2.83 V at each box where its circuit is known, else with 1 m/s² rms of each cone")
	WaveFrontAxisWithout = waveOutside("on_axis_without_insert_db", "level ahead, without insert", "L_0,0", quantity.Level, "as wave.on_axis_db, of the box without plate and chamber; null without an insert")
	WaveFrontWidth       = waveOutside("horizontal_width_deg", "horizontal −6 dB width in space", "θ_h", quantity.Angle, "full width about the axis within which L_h is no more than 6.000 dB down; null where it does not fall so far")
	WaveFrontHeight      = waveOutside("vertical_width_deg", "vertical −6 dB width in space", "θ_v", quantity.Angle, "as wave.horizontal_width_deg of L_v")
	WaveFrontBehind      = waveOutside("behind_db", "level behind the box", "L_180", quantity.Level, "L_180 = L_v(180°)")
	WaveFrontGain        = waveOutside("insert_gain_db", "what the insert adds ahead", "ΔL", quantity.Level, "ΔL = L_0 − L_0,0; null without an insert")
	WaveFrontLag         = waveOutside("mouths_lag_deg", "lag of the mouths' flow behind the cones'", "φ_m", quantity.Angle,
		"φ_m = −arg(ΣU_mouths/ΣU_cones), ΣU_mouths = ΣU_cones − jω/(ρc²)·∫p dV over the chambers; null without an insert")
	WaveFrontPassed = waveOutside("mouths_flow_db", "flow of the mouths re the cones'", "L_u", quantity.Level, "L_u = 20·log10|ΣU_mouths/ΣU_cones|, ΣU_mouths as of wave.mouths_lag_deg; null without an insert")
	WaveFrontMouth  = waveOutside("mouth_flow", "flow of one mouth over the cones'", "u_i", quantity.Number,
		"u_i = |U_i/ΣU_cones|, U_i of each mouth of the middle box by the slope of the pressure in it, all by one factor so that they add up to ΣU_mouths; in JSON by frequency and mouth; null without an insert")
	WaveFrontMouthLag   = waveOutside("mouth_lag_deg", "lag of one mouth's flow behind the cones'", "φ_i", quantity.Angle, "φ_i = −arg(U_i/ΣU_cones) within half a turn of wave.mouths_lag_deg, U_i as of wave.mouth_flow; null without an insert")
	WaveFrontApart      = waveOutside("mouths_apart_deg", "greatest difference of phase between mouths", "φ_a", quantity.Angle, "between the flows of two mouths of one column, by the slope of the pressure in them; null without an insert")
	WaveFrontResistance = waveOutside("load.resistance", "radiation resistance between the cones", "R_ij", quantity.Number,
		"R_ij = Re p_i/(ρc·v_j), p_i the mean pressure on a cone of set i (or on the horn's exit) when those of set j alone move, with v_j each; cones that are each other's mirror images are one set, and sets stand in the order of the mesh; in JSON by frequency, i and j")
	WaveFrontReactance = waveOutside("load.reactance", "radiation reactance between the cones", "X_ij", quantity.Number, "X_ij = Im p_i/(ρc·v_j), as the resistance")
	WaveFrontControl   = waveOutside("control_hz", "holds the horn's coverage from, in space", "f_θ,s", quantity.Frequency,
		"lowest f from which wave.horizontal_width_deg stays within horn.coverage for half an octave; of a run driven by the horn")
	WaveFrontSteps            = waveRun("steps", "steps of the iteration", "n_i", quantity.Number, "0 where the equations were solved by factors")
	WaveFrontBoxes            = waveRun("boxes", "boxes solved in space", "N_s", quantity.Number, "N_s = --boxes, about the middle of the stack")
	WaveFrontMiddleResistance = waveOutside("middle.resistance", "radiation resistance on the middle box", "R_m", quantity.Number,
		"R_m = Re p/(ρc·v), p the mean pressure on a cone of the middle box (or on its horn's exit) that moves with v, all boxes playing, the mean over its cones; null of an even number of boxes")
	WaveFrontMiddleReactance = waveOutside("middle.reactance", "radiation reactance on the middle box", "X_m", quantity.Number, "X_m = Im p/(ρc·v), as the resistance")
	WaveFrontAloneResistance = waveOutside("alone.resistance", "radiation resistance on one box alone", "R_1", quantity.Number, "as wave.middle.resistance, of one box; null where no more than one was solved")
	WaveFrontAloneReactance  = waveOutside("alone.reactance", "radiation reactance on one box alone", "X_1", quantity.Number, "as wave.middle.reactance, of one box; null where no more than one was solved")
	WaveFrontCause           = waveTold("hz", "limit by one model of the outside", "f_i", quantity.Frequency,
		"the limit named in wave.causes.limit of: the flow over the mouths as solved, in a wide flat baffle; the air outside as solved, behind it a chamber of one pressure; the middle one of the boxes; one box alone. Null: none up to the end of the run")
	WaveFrontCauseFrom   = waveTold("from_hz", "least it may be", "f_i,1", quantity.Frequency, "by every second frequency of the run")
	WaveFrontCauseTo     = waveTold("to_hz", "most it may be", "f_i,2", quantity.Frequency, "as wave.causes.from_hz")
	WaveFrontCauseChange = waveTold("change_oct", "what the cause moves it by", "Δ_i", quantity.Octaves, "Δ_i = log2(f_i/f_(i−1)), the first against the next lower level of trust; wave.causes.cause names what the one model has and the other has not")

	WaveFrontOff = &Def{Key: "wave.off_oct", Name: "lower level of trust off the wave level", Symbol: "Δ", Kind: quantity.Octaves, Trust: Wave,
		Formula: "Δ = log2 of the lower level's limit over the wave level's", Terms: From("coupling.insert.chamber_wave_hz", "coupling.lobe_wave_hz", "coupling.insert.mouths_part_wave_hz"), Source: elements}
)

// waveFrontStudy lists them.
var waveFrontStudy = []*Def{WaveFrontAngle, WaveFrontLevel, WaveFrontLevelWithout, WaveFrontHorizontal, WaveFrontAxis, WaveFrontAxisWithout, WaveFrontWidth, WaveFrontHeight,
	WaveFrontBehind, WaveFrontGain, WaveFrontLag, WaveFrontPassed, WaveFrontMouth, WaveFrontMouthLag, WaveFrontApart, WaveFrontResistance, WaveFrontReactance, WaveFrontControl, WaveFrontSteps, WaveFrontBoxes, WaveFrontOff,
	WaveFrontMiddleResistance, WaveFrontMiddleReactance, WaveFrontAloneResistance, WaveFrontAloneReactance, WaveFrontCause, WaveFrontCauseFrom, WaveFrontCauseTo, WaveFrontCauseChange}
