package figure

import "gapline/internal/quantity"

const (
	// joinedLayers is where the solution of the fold holds.
	joinedLayers = "below the layers' cross mode, rigid walls"
	joined       = elements + "; two layers joined along the wall curve"
	solverRun    = "how gapline wave solved"
)

var (
	waveTerms = append(From("wave.frequency_hz"), planTerms...)
	waveFold  = append(From("wave.frequency_hz"), FoldFlatToWave.Terms...)
	waveTurn  = From("wave.frequency_hz", "wave.turns.thickness_m", "wave.plate_m", "air.temperature")
)

// waveRun is a number of the run itself.
func waveRun(key, name, symbol string, k quantity.Kind, formula string) *Def {
	return &Def{Key: "wave." + key, Name: name, Symbol: symbol, Kind: k, Trust: Geometry, Formula: formula, Terms: From("wave.frequency_hz"), Source: solverRun}
}

// waveFront is a number of the folded front.
func waveFront(key, name, symbol string, k quantity.Kind, formula string) *Def {
	return &Def{Key: "wave." + key, Name: name, Symbol: symbol, Kind: k, Trust: Wave, Formula: formula, Terms: waveFold, Source: joined, Domain: joinedLayers}
}

// waveRay is a number of the front by rays.
func waveRay(key, name, symbol string, k quantity.Kind, formula string) *Def {
	return &Def{Key: "wave.ray." + key, Name: name, Symbol: symbol, Kind: k, Trust: Rule, Formula: formula, Terms: append(From("wave.frequency_hz"), foldTerms...),
		Source: rays, Domain: byRays}
}

// waveBend is a number of the turn between the layers.
func waveBend(key, name, symbol string, k quantity.Kind, trust Trust, formula string) *Def {
	return &Def{Key: "wave.turns." + key, Name: name, Symbol: symbol, Kind: k, Trust: trust, Formula: formula, Terms: waveTurn, Source: elements,
		Domain: "below the layers' cross mode, rigid walls; a plane section, layers wide against their thickness"}
}

// wavePattern is a direction or width of the section's pattern.
func wavePattern(key, name, symbol, formula string) *Def {
	return &Def{Key: "wave." + key, Name: name, Symbol: symbol, Kind: quantity.Angle, Trust: Wave, Formula: formula, Terms: append(From("wave.polar.level_db"), waveTerms...),
		Source: elements, Domain: endlessLine, Note: "Null where the level does not fall so far."}
}

// What gapline wave solves, over frequency.
var (
	WaveFrequency = &Def{Key: "wave.frequency_hz", Name: "frequency solved at", Symbol: "f", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "preferred numbers of ISO 3, series R40, twelve an octave; with --count evenly spaced in pitch", Terms: From("horn.pattern_wave_hz", "fold.flat_to_wave_hz"), Source: solverRun}
	WaveUnknowns   = waveRun("unknowns", "unknowns of the largest solution", "N", quantity.Number, "N = max wave.unknowns_at")
	WaveUnknownsAt = waveRun("unknowns_at", "unknowns of the solution", "n", quantity.Number, "nodes of the elements, as many to the wavelength as the solver asks for")
	WaveSeconds    = waveRun("seconds", "time in s that the solution took", "t", quantity.Number, "by the clock, in s; not the same from run to run")
	WaveChange     = waveRun("change", "error estimate", "ε", quantity.Fraction,
		"greatest change by elements of half the size: of the far field or of the pressure along the mouth against its greatest value, of reflection or transmission as they are")

	WaveBeamwidth = &Def{Key: "wave.beamwidth_deg", Name: "horizontal beamwidth, wave", Symbol: "θ_w", Kind: quantity.Angle, Trust: Wave,
		Formula: width + "; horizontal section through cabinet and horn", Terms: waveTerms, Source: elements, Domain: endlessLine,
		Note: "Null where the level does not fall by 6 dB on both sides. Refers to the level on the box's own axis (0°), as pattern control and the narrowest width do at levels aperture and wave."}
	WaveLeftEdge  = wavePattern("left_edge_deg", "left −6 dB edge", "φ_l", "nearest direction left of the axis where L(φ) = −6.000 dB, positive to the left")
	WaveRightEdge = wavePattern("right_edge_deg", "right −6 dB edge", "φ_r", "as the left edge on the right, negative")
	WaveAim       = wavePattern("aim_deg", "aim of the pattern", "φ_m", "φ_m = (φ_l + φ_r)/2, positive to the left")
	WavePeakWidth = wavePattern("beamwidth_from_peak_deg", "horizontal beamwidth re the greatest level", "θ_p", "full width about the direction of greatest level within which L is no more than 6.000 dB below it")

	WaveBeamwidthAperture = &Def{Key: "wave.beamwidth_aperture_deg", Name: "horizontal beamwidth, aperture", Symbol: "θ_a", Kind: quantity.Angle, Trust: Aperture,
		Formula: "as horn.horizontal_deg; exit of width W with a front for θ", Terms: append(From("wave.frequency_hz"), exitTerms...), Source: exitIntegral, Domain: aperture}
	WaveBeamwidthRule = &Def{Key: "wave.beamwidth_rule_deg", Name: "horizontal beamwidth, rule", Symbol: "θ_r", Kind: quantity.Angle, Trust: Rule,
		Formula: "θ_r = θ·max(1, f_W/f), 360° at most", Terms: []Term{{"θ", "horn.exit_coverage_deg"}, {"f_W", "horn.pattern_rule_hz"}, {"f", "wave.frequency_hz"}}, Source: keele}
	WavePolarAngle = &Def{Key: "wave.polar.angle_deg", Name: "angle from the axis", Symbol: "φ", Kind: quantity.Angle, Trust: Geometry,
		Formula: "in steps of 2° from the box's axis, positive to the left: 0° to 180° where the section is symmetric, else −180° to 180°", Terms: From("wave.frequency_hz"), Source: solverRun}
	WavePolarLevel = &Def{Key: "wave.polar.level_db", Name: "level re axis", Symbol: "L(φ)", Kind: quantity.Level, Trust: Wave,
		Formula: "L(φ) = 20·log10(|P(φ)|/|P(0)|) of the far field of the section", Terms: append(From("wave.polar.angle_deg"), waveTerms...), Source: elements, Domain: endlessLine}
	WaveThroatResistance = &Def{Key: "wave.throat.resistance", Name: "throat resistance", Symbol: "R", Kind: quantity.Number, Trust: Wave,
		Formula: "R = Re p/(ρc·v), p the mean pressure on the throat that moves at v", Terms: append(waveTerms, FoldFlatToWave.Terms...),
		Source: elements, Domain: "rigid walls, plane section", Style: quantity.Style{Verb: "%.2f"}}
	WaveThroatReactance = &Def{Key: "wave.throat.reactance", Name: "throat reactance", Symbol: "X", Kind: quantity.Number, Trust: Wave,
		Formula: "X = Im p/(ρc·v), as the resistance", Terms: WaveThroatResistance.Terms,
		Source: elements, Domain: "rigid walls, plane section", Style: quantity.Style{Verb: "%.2f"}}
	WaveImbalance = &Def{Key: "wave.power_imbalance", Name: "power that is not accounted for", Symbol: "δ", Kind: quantity.Fraction, Trust: Wave,
		Formula: "1 − power out/power in; 0 in an exact solution without losses", Terms: waveFold, Source: "conservation of energy between rigid walls"}
)

// The folded front at the mouth, and the same by rays.
var (
	WaveMouthY = &Def{Key: "wave.mouth.y_m", Name: "height on the mouth", Symbol: "y", Kind: quantity.Length, Trust: Geometry,
		Formula: "middles of the mouth's elements, up from its middle", Terms: From("horn.mouth_height"), Source: geometry}
	WavePhase       = waveFront("phase_deg", "phase on the mouth", "φ(y)", quantity.Angle, "φ(y) = arg p(y) − arg p(0)")
	WaveLevel       = waveFront("level_db", "level on the mouth", "L(y)", quantity.Level, "L(y) = 20·log10(|p(y)|/p_rms), p_rms over the mouth")
	WavePhaseSpread = waveFront("phase_spread_deg", "spread of phase over the mouth", "Δφ", quantity.Angle, "Δφ = max φ(y) − min φ(y)")
	WaveLevelSpread = waveFront("level_spread_db", "spread of level over the mouth", "ΔL", quantity.Level, "ΔL = max L(y) − min L(y)")

	WaveRayPhase       = waveRay("phase_deg", "phase on the mouth, rays", "φ_r(y)", quantity.Angle, "φ_r(y) = −2πf·Δ(y)/c, Δ the lag of the front behind that at the middle")
	WaveRayLevel       = waveRay("level_db", "level on the mouth, rays", "L_r(y)", quantity.Level, "L_r(y) from the density of the rays, re mean square over the mouth")
	WaveRayFlatTo      = waveRay("flat_to_hz", "flat to a quarter wave up to, by rays", "f_flat", quantity.Frequency, "as fold.flat_to_hz")
	WaveRayPhaseSpread = waveRay("phase_spread_deg", "spread of phase over the mouth, rays", "Δφ_r", quantity.Angle, "Δφ_r = max φ_r(y) − min φ_r(y)")
	WaveRayLevelSpread = waveRay("level_spread_db", "spread of level over the mouth, rays", "ΔL_r", quantity.Level, "ΔL_r = max L_r(y) − min L_r(y)")
)

// The turn between the layers.
var (
	WavePlate = &Def{Key: "wave.plate_m", Name: "thickness of the plate between the layers", Symbol: "s", Kind: quantity.Length, Trust: Geometry,
		Formula: "2·fold.bend_radius, or fold.layer/4", Terms: From("fold.bend_radius", "fold.layer"), Source: geometry, Note: "--plate sets another."}
	WaveLayer = &Def{Key: "wave.layer_m", Name: "thickness of the layers", Symbol: "t", Kind: quantity.Length, Trust: Geometry,
		Formula: "fold.layer", Terms: From("fold.layer"), Source: geometry}
	WaveTurnLayer = &Def{Key: "wave.turns.thickness_m", Name: "thickness of the layers that turn", Symbol: "t", Kind: quantity.Length, Trust: Geometry,
		Formula: "0.5, 1 and 1.5 times fold.layer", Terms: From("fold.layer"), Source: solverRun}
	WaveTurnQuiet = waveBend("quiet_to_hz", "reflects under a tenth of the power up to", "f_q", quantity.Frequency, Wave,
		"lowest f with |r|² = 0.1")
	WaveTurnMode      = waveBend("cross_mode_hz", "cross mode of the layers", "f_c", quantity.Frequency, Wave, "f_c = c/(2t)")
	WaveTurnReflected = waveBend("reflection_db", "level reflected", "20·log10|r|", quantity.Level, Wave,
		"r: pressure of the wave that comes back over that of the plane wave sent in")
	WaveTurnPassed = waveBend("transmission_db", "level passed on", "20·log10|τ|", quantity.Level, Wave,
		"τ: pressure of the plane wave in the other layer over that of the one sent in")
)

// waveStudy lists them.
var waveStudy = []*Def{
	WaveFrequency, WaveUnknowns, WaveUnknownsAt, WaveSeconds, WaveChange,
	WaveBeamwidth, WaveLeftEdge, WaveRightEdge, WaveAim, WavePeakWidth, WaveBeamwidthAperture, WaveBeamwidthRule, WavePolarAngle, WavePolarLevel, WaveThroatResistance, WaveThroatReactance, WaveImbalance,
	WaveMouthY, WavePhase, WaveLevel, WavePhaseSpread, WaveLevelSpread,
	WaveRayPhase, WaveRayLevel, WaveRayFlatTo, WaveRayPhaseSpread, WaveRayLevelSpread,
	WavePlate, WaveLayer, WaveTurnLayer, WaveTurnQuiet, WaveTurnMode, WaveTurnReflected, WaveTurnPassed,
}
