package figure

import (
	"slices"

	"gapline/internal/quantity"
)

// Sources, domains and styles that the figures of a stack share.
const (
	ofPattern   = "complex pattern of one box, solved in space or measured, hung at the place of each box"
	sumOfMouths = "sum of the mouths of all boxes, each with its pattern, delay and attenuation; Kirchhoff integral over each mouth as a piston"
	noShadow    = "boxes do not shade each other; mouths in the open, or each in its own wall"
	smith       = "D. L. Smith, JAES 45 (1997) 949-964; M. S. Ureda, JAES 52 (2004) 467-495 (attribution from memory)"
	straight    = "straight line, driven evenly"
	asHung      = "the stack as hung"
	seats       = "ears along the axis of the hall, one seat a step; air absorption unless it is switched off"
	niosh       = "NIOSH, Criteria for a recommended standard: occupational noise exposure, publication 98-126, 1998"
	who         = "WHO, Global standard for safe listening venues and events, 2022"
	weighting   = "A-weighting of IEC 61672-1"
)

var (
	// InHall is how distances in a hall are read.
	InHall = quantity.Style{Unit: "m", InchUnit: "ft", Digits: 3}
	// bareLevel is a level under a head that says dB.
	signedLevel = quantity.Style{Verb: "%+.1f", Bare: true}
	bareLevel   = quantity.Style{Verb: "%.1f", Bare: true}

	stackTerms = From("line.boxes", "line.splay", "line.tilt", "cabinet.pitch", "woofer.size", "horn.mouth_width", "horn.mouth_height")
	seatTerms  = slices.Concat(stackTerms, From("audience.start", "audience.end", "audience.ear_height"))
)

// lineStudy lists what gapline line prints.
var lineStudy = slices.Concat(
	LineHung.all(),
	[]*Def{LineFrequency},
	LinePolar.all(), LineHorizontal.all(), LineAngleMap.all(), LineHorizontalMap.all(),
	LineSeatsSeen.all(), LineMapSeatsSeen.all(),
	[]*Def{
		DistanceFrequency, DistanceAt, DistanceLevel, DistanceSlope, DistanceCrossing,
		DistanceHalfRule, DistanceHeilUrban, DistanceQuarter, DistanceLawsCross,
		DistanceWindow, DistanceSmooth, DistancePasses, DistanceSeatsAt, DistanceSeatsX, DistanceSeatsLevel, DistanceSeatsSmooth, DistanceSeatsPasses,
		AudienceFrequency, AudienceTones, AudienceX, AudienceZ, AudienceLevel, AudienceWeighted, AudienceSpread, AudienceDeviation,
		AudienceFront, AudienceBack, AudienceMouthLevel, AudienceMouthWeighted, AudienceMoved, AudienceMovedWeighted, AudienceNearest, ExposureLevel, ExposureTime, ExposureMargin,
		SideFrequency, SideX, SideZ, SideLevel,
		VariantFrequency, VariantTarget, VariantPitch, VariantSpacing, VariantHalfWave, VariantLimit, VariantLobe, VariantIndex,
		SpotFrequency, SpotX, SpotY, SpotZ, SpotLevel,
	},
	AimBefore.all(), AimBest.all(), AimArc.all(), AimStraight.all(),
	[]*Def{AimCost, AimTried, AimSteps, AimTilts, AimOctaves},
)

// LineFrequency is what the summary's columns stand for.
var LineFrequency = &Def{Key: "line.frequency_hz", Name: "frequencies of the summary", Symbol: "f", Kind: quantity.Frequency, Trust: Geometry,
	Formula: "as asked for by --frequencies; octave middles of IEC 61260-1 otherwise", Terms: From("line.boxes"), Source: ofRun}

// Level along the axis.
var (
	DistanceFrequency = &Def{Key: "line.distance.frequency_hz", Name: "frequency", Symbol: "f", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "as line.frequency_hz", Terms: From("line.frequency_hz"), Source: ofRun}
	DistanceAt = &Def{Key: "line.distance.m", Name: "distance from the middle of the stack", Symbol: "r", Kind: quantity.Length, Trust: Geometry,
		Formula: "equal steps of log r over --range", Terms: From("line.boxes"), Source: ofRun, Style: InHall}
	DistanceLevel = &Def{Key: "line.distance.spl_db", Name: "level on the axis", Symbol: "L(r)", Kind: quantity.Level, Trust: Aperture,
		Formula: "L(r) = 20·log10 |p(r)|, the sum over all mouths at r along the stack's axis", Terms: with(stackTerms, "", Term{"r", "line.distance.m"}),
		Source: sumOfMouths, Domain: noShadow + "; no floor", Style: bareLevel}
	DistanceSlope = &Def{Key: "line.distance.slope_db_per_doubling", Name: "drop for each doubling of the distance", Symbol: "s", Kind: quantity.Level, Trust: Aperture,
		Formula: "s = −log10(2)·dL/d(log10 r)", Terms: []Term{{"L", "line.distance.spl_db"}, {"r", "line.distance.m"}}, Source: sumOfMouths, Domain: noShadow,
		Note: "3 dB is a cylinder's law, 6 dB a sphere's. In its near field a uniform line swings by about ±2.5 dB."}
	DistanceCrossing = &Def{Key: "line.distance.crossing_m", Name: "4.5 dB per doubling at", Symbol: "r_4.5", Kind: quantity.Length, Trust: Aperture,
		Formula: "outermost r at which s passes 4.5 dB", Terms: []Term{{"r", "line.distance.m"}, {"s", "line.distance.slope_db_per_doubling"}},
		Source: sumOfMouths, Domain: noShadow, Note: "Null where the slope passes 4.5 dB nowhere in the range.", Style: InHall}
	DistanceHalfRule = &Def{Key: "line.distance.half_rule_m", Name: "L²/(2λ), straight line", Symbol: "L²/(2λ)", Kind: quantity.Length, Trust: Rule,
		Formula: "L²·f/(2c)", Terms: lineOfLength, Source: smith, Domain: straight + ", long against the wavelength", Style: InHall,
		Note: "There a uniform line is already within 1 dB of the spherical law."}
	DistanceHeilUrban = &Def{Key: "line.distance.heil_urban_m", Name: "1.5·F·L²·√…, F in kHz", Symbol: "d_B", Kind: quantity.Length, Trust: Rule,
		Formula: "border of the near field, 1.5·F·L²·√(1 − 1/(3·F·L)²), F = f/kHz, L in m; takes λ as 1/(3F)", Terms: lineOfLength[:2], Source: heil, Domain: straight,
		Note: "Null where the root has no value: there is no near field.", Style: InHall}
	DistanceQuarter = &Def{Key: "line.distance.quarter_wave_m", Name: "the ends are λ/4 farther than the middle", Symbol: "r_λ/4", Kind: quantity.Length, Trust: Rule,
		Formula: "L²/(2λ) − λ/8, λ = c/f", Terms: lineOfLength, Source: geometry, Domain: straight, Style: InHall}
	DistanceLawsCross = &Def{Key: "line.distance.laws_cross_m", Name: "laws cross, L²/λ", Symbol: "L²/λ", Kind: quantity.Length, Trust: Aperture,
		Formula: "L²·f/c, where the laws of cylinder and sphere cross", Terms: lineOfLength, Source: "asymptotes of the integral over a uniform line, r → 0 and r → ∞", Domain: straight, Style: InHall}

	DistanceWindow = &Def{Key: "line.distance.window_oct", Name: "window over which slopes are smoothed", Symbol: "w", Kind: quantity.Octaves, Trust: Geometry,
		Formula: "one doubling of the distance", Terms: From("line.distance.m"), Source: ofRun}
	DistanceSmooth = &Def{Key: "line.distance.smooth_db_per_doubling", Name: "drop per doubling, smoothed", Symbol: "s_w", Kind: quantity.Level, Trust: Aperture,
		Formula: "slope of the line that fits L best over log2 r within w/2 doublings of r", Terms: []Term{{"L", "line.distance.spl_db"}, {"r", "line.distance.m"}, {"w", "line.distance.window_oct"}},
		Source: sumOfMouths, Domain: noShadow, Note: "Null where the window would run into a box."}
	DistancePasses = &Def{Key: "line.distance.passes_m", Name: "smoothed slope passes 4.5 dB at", Symbol: "r_w", Kind: quantity.Length, Trust: Aperture,
		Formula: "every r at which s_w passes 4.5 dB either way", Terms: []Term{{"r", "line.distance.m"}, {"s_w", "line.distance.smooth_db_per_doubling"}},
		Source: sumOfMouths, Domain: noShadow, Style: InHall}
	DistanceSeatsAt = &Def{Key: "line.distance.seats.m", Name: "distance of the seat from the middle of the stack", Symbol: "r", Kind: quantity.Length, Trust: Geometry,
		Formula: "from the mean place of the mouths to the ears, row by row", Terms: seatTerms, Source: geometry, Style: InHall}
	DistanceSeatsX = &Def{Key: "line.distance.seats.x_m", Name: "distance of the seat, forward", Symbol: "x", Kind: quantity.Length, Trust: Geometry,
		Formula: "from audience.start to audience.end", Terms: From("audience.start", "audience.end"), Source: geometry, Style: InHall}
	DistanceSeatsLevel = &Def{Key: "line.distance.seats.spl_db", Name: "level along the seats", Symbol: "L", Kind: quantity.Level, Trust: Aperture,
		Formula: "L = 20·log10 |p| at the ears, without floor", Terms: seatTerms, Source: sumOfMouths, Domain: noShadow, Style: bareLevel}
	DistanceSeatsSmooth = &Def{Key: "line.distance.seats.smooth_db_per_doubling", Name: "drop per doubling along the seats, smoothed", Symbol: "s_w", Kind: quantity.Level, Trust: Aperture,
		Formula: "slope of the line that fits L best over log2 r within w/2 doublings of r", Terms: []Term{{"L", "line.distance.seats.spl_db"}, {"r", "line.distance.seats.m"}, {"w", "line.distance.window_oct"}},
		Source: sumOfMouths, Domain: noShadow, Note: "Null where the window reaches beyond a stretch of seats."}
	DistanceSeatsPasses = &Def{Key: "line.distance.seats.passes_m", Name: "along the seats 4.5 dB per doubling at", Symbol: "r_w", Kind: quantity.Length, Trust: Aperture,
		Formula: "every r at which s_w passes 4.5 dB either way", Terms: []Term{{"r", "line.distance.seats.m"}, {"s_w", "line.distance.seats.smooth_db_per_doubling"}},
		Source: sumOfMouths, Domain: noShadow, Style: InHall}

	lineOfLength = []Term{{"L", "coupling.length_m"}, {"f", "line.distance.frequency_hz"}, {"c", "air.sound_speed_m_s"}}
)

// Levels at the seats.
var (
	AudienceFrequency = &Def{Key: "line.audience.frequency_hz", Name: "middles of the octave bands", Symbol: "f_m", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "1 kHz·10^(0.3k)", Terms: From("audience.start"), Source: "IEC 61260-1"}
	AudienceTones = &Def{Key: "line.audience.tones", Name: "tones that stand for each band", Symbol: "n_t", Kind: quantity.Number, Trust: Geometry,
		Formula: "doubled until no seat's level moves by more than 0.2 dB", Terms: seatTerms, Source: ofRun}
	AudienceX = &Def{Key: "line.audience.x_m", Name: "distance of the seat from the stack", Symbol: "x", Kind: quantity.Length, Trust: Geometry,
		Formula: "from audience.start to audience.end in steps of audience.step", Terms: From("audience.start", "audience.end", "audience.step"), Source: geometry, Style: InHall}
	AudienceZ = &Def{Key: "line.audience.z_m", Name: "height of the ears", Symbol: "z", Kind: quantity.Length, Trust: Geometry,
		Formula: "floor + audience.ear_height", Terms: From("audience.ear_height", "audience.start_floor", "audience.end_floor"), Source: geometry, Style: InHall}
	AudienceLevel = &Def{Key: "line.audience.level_db", Name: "octave-band level at the seat", Symbol: "L_o", Kind: quantity.Level, Trust: Aperture,
		Formula: "L_o = 10·log10 of the mean of |p|² over the tones of the band, full drive in each band", Terms: seatTerms, Source: sumOfMouths, Domain: noShadow + "; " + seats, Style: bareLevel}
	AudienceWeighted = &Def{Key: "line.audience.level_dba", Name: "A-weighted level at the seat", Symbol: "L_A", Kind: quantity.Level, Trust: Aperture,
		Formula: "L_A = 10·log10 Σ 10^((L_o + A)/10)/n over the n bands: pink noise of the drive in all", Terms: []Term{{"L_o", "line.audience.level_db"}}, Source: weighting, Domain: noShadow + "; " + seats, Style: bareLevel}
	AudienceSpread = &Def{Key: "line.audience.spread_db", Name: "largest less smallest level", Symbol: "ΔL_A", Kind: quantity.Level, Trust: Aperture,
		Formula: "max L_A − min L_A over the seats", Terms: weightedTerms, Source: sumOfMouths, Domain: seats, Style: bareLevel}
	AudienceDeviation = &Def{Key: "line.audience.deviation_db", Name: "standard deviation over the seats", Symbol: "σ", Kind: quantity.Level, Trust: Aperture,
		Formula: "root of the mean square of L_A less its mean", Terms: weightedTerms, Source: sumOfMouths, Domain: seats}
	AudienceFront = &Def{Key: "line.audience.front_dba", Name: "level at the front seat", Symbol: "L_A,1", Kind: quantity.Level, Trust: Aperture,
		Formula: "L_A at the first seat", Terms: weightedTerms, Source: sumOfMouths, Domain: seats, Style: bareLevel}
	AudienceBack = &Def{Key: "line.audience.back_dba", Name: "level at the back seat", Symbol: "L_A,n", Kind: quantity.Level, Trust: Aperture,
		Formula: "L_A at the last seat", Terms: weightedTerms, Source: sumOfMouths, Domain: seats, Style: bareLevel}
	AudienceMouthLevel = &Def{Key: "line.audience.by_mouths.level_db", Name: "octave-band level at the seat by ideal mouths", Symbol: "L_o,m", Kind: quantity.Level, Trust: Aperture,
		Formula: "as L_o, every band by its ideal mouths", Terms: []Term{{"L_o", "line.audience.level_db"}}, Source: sumOfMouths, Domain: noShadow + "; " + seats, Style: bareLevel}
	AudienceMouthWeighted = &Def{Key: "line.audience.by_mouths.level_dba", Name: "A-weighted level at the seat by ideal mouths", Symbol: "L_A,m", Kind: quantity.Level, Trust: Aperture,
		Formula: "as L_A, of L_o,m", Terms: []Term{{"L_A", "line.audience.level_dba"}, {"L_o,m", "line.audience.by_mouths.level_db"}}, Source: weighting, Domain: noShadow + "; " + seats, Style: bareLevel}
	AudienceMoved = &Def{Key: "line.audience.by_mouths.moved_db", Name: "what the pattern adds to the octave band at the seat", Symbol: "ΔL_o", Kind: quantity.Level, Trust: Wave,
		Formula: "ΔL_o = L_o − L_o,m", Terms: []Term{{"L_o", "line.audience.level_db"}, {"L_o,m", "line.audience.by_mouths.level_db"}}, Source: ofPattern, Domain: seats, Style: signedLevel}
	AudienceMovedWeighted = &Def{Key: "line.audience.by_mouths.moved_dba", Name: "what the pattern adds to the A-weighted level at the seat", Symbol: "ΔL_A,m", Kind: quantity.Level, Trust: Wave,
		Formula: "ΔL_A,m = L_A − L_A,m", Terms: []Term{{"L_A", "line.audience.level_dba"}, {"L_A,m", "line.audience.by_mouths.level_dba"}}, Source: ofPattern, Domain: seats, Style: signedLevel}
	AudienceNearest = &Def{Key: "line.audience.nearest_seat", Name: "number of the seat nearest to a mouth, from 0", Symbol: "i", Kind: quantity.Number, Trust: Geometry,
		Formula: "seat of the shortest way to any mouth", Terms: seatTerms, Source: geometry}

	ExposureLevel = &Def{Key: "line.audience.exposure.level_dba", Name: "level at the nearest seat", Symbol: "L_A", Kind: quantity.Level, Trust: Aperture,
		Formula: "L_A at the nearest seat", Terms: From("line.audience.level_dba", "line.audience.nearest_seat"), Source: sumOfMouths, Domain: seats}
	ExposureTime = &Def{Key: "line.audience.exposure.occupational_time_s", Name: "time until the occupational dose is reached", Symbol: "T", Kind: quantity.Time, Trust: Rule,
		Formula: "T = 8 h/2^((L_A − 85)/3)", Terms: []Term{{"L_A", "line.audience.exposure.level_dba"}}, Source: niosh, Domain: "80 dBA and above", Note: "Guidance for work; local rules decide."}
	ExposureMargin = &Def{Key: "line.audience.exposure.venue_margin_db", Name: "room to the venue limit", Symbol: "M", Kind: quantity.Level, Trust: Rule,
		Formula: "M = 100 dB − L_A", Terms: []Term{{"L_A", "line.audience.exposure.level_dba"}}, Source: who, Domain: "LAeq over 15 min at the drive given", Note: "Local rules decide."}

	weightedTerms = []Term{{"L_A", "line.audience.level_dba"}}
)

// The hall from the side, and single points.
var (
	SideFrequency = &Def{Key: "line.side.frequency_hz", Name: "frequency", Symbol: "f", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "as asked for by --frequencies, 1 kHz otherwise", Terms: From("line.boxes"), Source: ofRun}
	SideX = &Def{Key: "line.side.x_m", Name: "distance from the stack", Symbol: "x", Kind: quantity.Length, Trust: Geometry,
		Formula: "equal steps over --frame, or stack and seats", Terms: From("audience.start", "audience.end"), Source: ofRun, Style: InHall}
	SideZ = &Def{Key: "line.side.z_m", Name: "height above the ground", Symbol: "z", Kind: quantity.Length, Trust: Geometry,
		Formula: "equal steps over --frame, or stack and seats", Terms: From("line.top_height"), Source: ofRun, Style: InHall}
	SideLevel = &Def{Key: "line.side.level_db", Name: "level in the plane of the axis", Symbol: "L(x, z)", Kind: quantity.Level, Trust: Aperture,
		Formula: "L(x, z) = 20·log10 |p|", Terms: with(stackTerms, "", Term{"x", "line.side.x_m"}, Term{"z", "line.side.z_m"}), Source: sumOfMouths, Domain: noShadow,
		Note: "Null inside boxes and under the floor.", Style: bareLevel}

	SpotFrequency = &Def{Key: "line.points.frequency_hz", Name: "frequency", Symbol: "f", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "as line.frequency_hz", Terms: From("line.frequency_hz"), Source: ofRun}
	SpotX = &Def{Key: "line.points.spots.x_m", Name: "forward from the stack", Symbol: "x", Kind: quantity.Length, Trust: Geometry,
		Formula: "x as given by --point", Terms: From("line.top_height"), Source: ofRun, Style: InHall}
	SpotY = &Def{Key: "line.points.spots.y_m", Name: "to the left of the axis", Symbol: "y", Kind: quantity.Length, Trust: Geometry,
		Formula: "y as given by --point", Terms: From("line.top_height"), Source: ofRun, Style: InHall}
	SpotZ = &Def{Key: "line.points.spots.z_m", Name: "above the ground", Symbol: "z", Kind: quantity.Length, Trust: Geometry,
		Formula: "z as given by --point", Terms: From("line.top_height"), Source: ofRun, Style: InHall}
	SpotLevel = &Def{Key: "line.points.spots.level_db", Name: "level at the point", Symbol: "L", Kind: quantity.Level, Trust: Aperture,
		Formula: "L = 20·log10 |p(x, y, z)|", Terms: with(stackTerms, "", Term{"x", "line.points.spots.x_m"}, Term{"y", "line.points.spots.y_m"}, Term{"z", "line.points.spots.z_m"}),
		Source: sumOfMouths, Domain: noShadow, Style: bareLevel}
)

// One band of the line hung straight, built otherwise.
var (
	VariantFrequency = &Def{Key: "line.coupling.frequency_hz", Name: "frequency", Symbol: "f", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "1 kHz·2^(k/24)", Terms: From("line.boxes"), Source: ofRun}
	VariantTarget = &Def{Key: "line.coupling.lobe_target_db", Name: "highest lobe allowed", Symbol: "L_t", Kind: quantity.Level, Trust: Geometry,
		Formula: "targets.lobe_level, re axis", Terms: From("targets.lobe_level"), Source: geometry, Style: bareLevel}
	VariantPitch = &Def{Key: "line.coupling.variants.pitch_m", Name: "pitch of the variant", Symbol: "p", Kind: quantity.Length, Trust: Geometry,
		Formula: "cabinet.pitch; packed: cones frame to frame; spread: 1.5 times the pitch", Terms: From("cabinet.pitch", "woofer.size"), Source: geometry}
	VariantSpacing = &Def{Key: "line.coupling.variants.spacing_m", Name: "largest spacing of centres", Symbol: "s", Kind: quantity.Length, Trust: Geometry,
		Formula: "as coupling.open.spacing_m, of the variant", Terms: From("coupling.open.spacing_m"), Source: geometry}
	VariantHalfWave = &Def{Key: "line.coupling.variants.half_wave_hz", Name: "half-wave rule", Symbol: "f_½", Kind: quantity.Frequency, Trust: Rule,
		Formula: "c/(2·s)", Terms: []Term{{"s", "line.coupling.variants.spacing_m"}}, Source: practice, Domain: "lines straight, splayed or steered"}
	VariantLimit = &Def{Key: "line.coupling.variants.lobe_limit_hz", Name: "a lobe exceeds the target from", Symbol: "f_l", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "lowest f at which L_s passes L_t", Terms: []Term{{"L_s", "line.coupling.variants.highest_lobe_db"}, {"L_t", "line.coupling.lobe_target_db"}},
		Source: sumOfMouths, Domain: inWall, Note: "Null where no lobe exceeds the target in the range."}
	VariantLobe = &Def{Key: "line.coupling.variants.highest_lobe_db", Name: "highest lobe re axis", Symbol: "L_s", Kind: quantity.Level, Trust: Aperture,
		Formula: "highest level beyond the first dip of 3 dB on either side, re axis", Terms: with(stackTerms, ""), Source: sumOfMouths, Domain: inWall,
		Note: "Null where there is only the main beam.", Style: bareLevel}
	VariantIndex = &Def{Key: "line.coupling.variants.directivity_index_db", Name: "directivity index", Symbol: "DI", Kind: quantity.Level, Trust: Aperture,
		Formula: "DI = 10·log10 of 4π·r²·|p|²/(ρc) on the axis over the power into the half space", Terms: with(stackTerms, ""), Source: kinsler, Domain: inWall, Style: bareLevel}
)

const inWall = "line hung straight, each mouth in a wall, far field"
