package figure

import (
	"math"

	"gapline/internal/quantity"
)

const (
	endlessSum = "exact sum over an endless line of mouths with this front; " + heil
	foldSolver = "how gapline fold solved for the wall"
	outline    = "geometry of the wall's conic"
)

// onPaper is how the ray table writes lengths: the unit stands in the head.
var onPaper = quantity.Style{Verb: "%.2f", Inch: "%.3f", Unit: "mm", Bare: true}

// endless names the path of a plane front.
func endless(si float64) string {
	if math.IsInf(si, 1) {
		return "endless"
	}
	return ""
}

// lobe names lobes that are not there, or too low to be told from rounding.
func lobe(si float64) string {
	switch {
	case math.IsInf(si, -1):
		return "none"
	case si < -60:
		return "under -60 dB"
	}
	return ""
}

func foldLength(key, name, symbol, formula string, terms []Term) *Def {
	return &Def{Key: "fold." + key, Name: name, Symbol: symbol, Kind: quantity.Length, Trust: Geometry, Formula: formula, Terms: terms, Source: outline}
}

func foldRayWall(key, name, symbol, formula string) *Def {
	d := foldLength(key, name, symbol, formula, foldTerms)
	d.Style = onPaper
	return d
}

func foldRay(key, name, symbol string, k quantity.Kind, st quantity.Style, formula string) *Def {
	return &Def{Key: "fold." + key, Name: name, Symbol: symbol, Kind: k, Trust: Rule, Formula: formula, Terms: foldTerms, Source: rays, Domain: byRays, Style: st}
}

func foldStack(key, name, symbol string, k quantity.Kind, words func(float64) string, formula string) *Def {
	return &Def{Key: "fold.stack." + key, Name: name, Symbol: symbol, Kind: k, Trust: Aperture, Formula: formula,
		Terms: append(From("cabinet.pitch", "horn.mouth_height"), foldTerms...), Source: endlessSum, Domain: "endless straight line, far field", Words: words}
}

func foldSolved(key, name, symbol string, k quantity.Kind, formula string) *Def {
	return &Def{Key: "fold.solver." + key, Name: name, Symbol: symbol, Kind: k, Trust: Geometry, Formula: formula,
		Terms: From("fold.available_depth", "cabinet.depth", "targets.flat_to", "horn.mouth_height", "fold.layer"), Source: foldSolver}
}

// What gapline fold works out beside the figures of size.
var (
	FoldWallZ     = foldRayWall("wall.z_m", "wall, forward of the throat", "z", "z = r·cos φ of the conic at each ray")
	FoldWallY     = foldRayWall("wall.y_m", "wall, above the mouth's middle", "y", "y = r·sin φ of the conic at each ray")
	FoldRayAngle  = foldRay("ray.angle_deg", "angle of the ray from the wall's axis", "φ", quantity.Angle, quantity.Style{Verb: "%.1f", Bare: true}, "even steps of φ over the fan")
	FoldRayPath   = foldRay("ray.path_m", "path of the ray, throat to mouth plane", "l", quantity.Length, onPaper, "l = |throat to wall| + |wall to mouth plane|")
	FoldArrival   = foldRay("ray.arrival_s", "time on the path", "τ", quantity.Time, quantity.Style{Verb: "%.2f", Unit: "µs", Bare: true}, "τ = l/c")
	FoldRayMouth  = foldRay("ray.mouth_y_m", "where the ray leaves, above the mouth's middle", "y_m", quantity.Length, onPaper, "reflection at the wall, on to the mouth plane; y_m there")
	FoldRayLevel  = foldRay("ray.level_db", "level there re the mouth's middle", "L", quantity.Level, quantity.Style{Verb: "%.2f", Bare: true}, "L = 10·log10 of the ray density over that at the middle")
	FoldIncidence = foldRay("ray.incidence_deg", "angle at which the ray meets the wall", "ψ", quantity.Angle, quantity.Style{}, "angle ψ to the wall's normal")

	FoldThroatZ     = foldLength("throat.z_m", "throat, forward", "z_F", "z_F is the origin", foldTerms)
	FoldThroatY     = foldLength("throat.y_m", "throat, above the mouth's middle", "y_F", "y_F is fold.throat_height", From("fold.throat_height"))
	FoldMouthZ      = foldLength("mouth.z_m", "mouth plane, forward of the throat", "z_m", "z_m is fold.mouth_distance", From("fold.mouth_distance"))
	FoldMouthTop    = foldLength("mouth.y_top_m", "mouth, upper edge", "y_t", "half of horn.mouth_height", From("horn.mouth_height"))
	FoldMouthBottom = foldLength("mouth.y_bottom_m", "mouth, lower edge", "y_b", "half of horn.mouth_height, down", From("horn.mouth_height"))
	FoldApexZ       = foldLength("apex.z_m", "virtual apex, forward of the throat", "z_V", "z_V = mouth plane − virtual path", foldTerms)
	FoldApexY       = foldLength("apex.y_m", "virtual apex, above the mouth's middle", "y_V", "y_V on the wall's axis", foldTerms)

	FoldThroatToWall = foldLength("throat_to_wall_m", "throat to wall", "a", "fold.throat_to_wall, or what the solver found", From("fold.throat_to_wall"))
	FoldVirtualPath  = func() *Def {
		d := foldLength("virtual_path_m", "virtual path", "L", "fold.virtual_path, or what the wall gives; endless for a plane front", From("fold.virtual_path"))
		d.Words = endless
		return d
	}()
	FoldLayer          = foldLength("layer_m", "thickness of a layer", "t", "fold.layer", From("fold.layer"))
	FoldMouthHeight    = foldLength("mouth_height_m", "height of the mouth", "h", "horn.mouth_height", From("horn.mouth_height"))
	FoldStraightLength = foldLength("straight_length_m", "straight horn of the same flatness", "L_s", "virtual path; of a plane front the path flat to fold.target_flat_to_hz", From("fold.virtual_path_m", "fold.target_flat_to_hz"))
	FoldSpreadBudget   = &Def{Key: "fold.path_spread_budget_m", Name: "path spread allowed", Symbol: "λ/4", Kind: quantity.Length, Trust: Rule,
		Formula: "c/(4·f_t)", Terms: []Term{{"f_t", "fold.target_flat_to_hz"}}, Source: heil}
	FoldTargetFlatTo = &Def{Key: "fold.target_flat_to_hz", Name: "frequency to be flat to", Symbol: "f_t", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "targets.flat_to, 16 kHz unless given", Terms: From("targets.flat_to"), Source: "the design file's target"}
	FoldTurnRadius   = foldLength("turn.inner_radius_m", "inner radius of the turn", "ρ", "fold.bend_radius", From("fold.bend_radius"))
	FoldTurnInset    = foldLength("turn.inset_m", "edge of the plate, inside the wall line", "i", "so that the mean length of the turn is the mirror's", From("fold.layer", "fold.bend_radius"))
	FoldTurnOverhang = foldLength("turn.overhang_m", "turn, behind the wall line", "o", "fold.turn.inner_radius_m + fold.layer − fold.turn.inset_m", From("fold.turn.inner_radius_m", "fold.layer", "fold.turn.inset_m"))

	FoldStackMouths = &Def{Key: "fold.stack.mouths", Name: "mouths in the line", Symbol: "N", Kind: quantity.Number, Trust: Geometry, Formula: "line.boxes", Terms: From("line.boxes"), Source: geometry}
	FoldStackPitch  = &Def{Key: "fold.stack.pitch_m", Name: "pitch of the mouths", Symbol: "p", Kind: quantity.Length, Trust: Geometry, Formula: "cabinet.pitch", Terms: From("cabinet.pitch"), Source: geometry}
	FoldStackShare  = &Def{Key: "fold.stack.share", Name: "radiating share", Symbol: "h/p", Kind: quantity.Number, Trust: Geometry, Formula: "h/p",
		Terms: []Term{{"h", "horn.mouth_height"}, {"p", "cabinet.pitch"}}, Source: heil}
	FoldStackTarget    = &Def{Key: "fold.stack.lobe_target_db", Name: "highest lobe allowed", Symbol: "L_t", Kind: quantity.Level, Trust: Geometry, Formula: "targets.lobe_level", Terms: From("targets.lobe_level"), Source: "the design file's target"}
	FoldStackRibbon    = foldStack("ribbon_to_hz", "one ribbon up to", "f_r", quantity.Frequency, nil, "lowest f at which a lobe of the endless line passes targets.lobe_level")
	FoldStackFrequency = &Def{Key: "fold.stack.frequency_hz", Name: "frequency", Symbol: "f", Kind: quantity.Frequency, Trust: Geometry, Formula: "octaves from 1 kHz to 16 kHz", Terms: From("fold.stack.pitch_m"), Source: ofRun}
	FoldStackLobe      = foldStack("lobe_db", "strongest lobe, this front", "L_max", quantity.Level, lobe, "largest |E(θ_m)|/|E(0)| of the visible lobes, sin θ_m = m·λ/p")
	FoldStackPerfect   = foldStack("perfect_lobe_db", "strongest lobe, plane front", "L_0", quantity.Level, lobe, "the same with a plane front of even amplitude")
	FoldStackAxis      = foldStack("axis_change_db", "loss on axis from the bulge", "ΔL", quantity.Level, nil, "|E(0)| of this front over that of a plane one")

	FoldSolverShortest = foldSolved("options.shortest_m", "least throat to wall distance that fits", "a_min", quantity.Length, "bound of a by clearance, fan, height and flatness")
	FoldSolverLongest  = foldSolved("options.longest_m", "largest throat to wall distance that fits", "a_max", quantity.Length, "bound of a by depth, height and flatness")
	FoldNearestDepth   = foldSolved("nearest.depth_m", "depth with which a wall would fit", "d", quantity.Length, "least change of the depth alone")
	FoldNearestHeight  = foldSolved("nearest.height_m", "cabinet height with which a wall would fit", "H", quantity.Length, "least change of the height alone")
	FoldNearestWidth   = foldSolved("nearest.width_m", "cabinet width with which a wall would fit", "B", quantity.Length, "least change of the width alone")
	FoldNearestMouth   = foldSolved("nearest.mouth_height_m", "mouth height with which a wall would fit", "h", quantity.Length, "least change of the mouth alone")
	FoldNearestFan     = foldSolved("nearest.fan_deg", "fan with which a wall would fit", "2φ", quantity.Angle, "least change of the fan alone")
	FoldNearestPath    = foldSolved("nearest.virtual_path_m", "virtual path with which a wall would fit", "L", quantity.Length, "least change of the path alone")
	FoldNearestFlat    = foldSolved("nearest.flat_to_hz", "flatness with which a wall would fit", "f", quantity.Frequency, "least change of targets.flat_to alone")

	PlateWidth       = &Def{Key: "fold.plate.width_m", Name: "width of the insert's plate", Symbol: "B", Kind: quantity.Length, Trust: Geometry, Formula: "insert.plate_width, or the woofer's size", Terms: From("insert.plate_width", "woofer.size"), Source: geometry}
	PlateHeight      = &Def{Key: "fold.plate.height_m", Name: "height of the insert's plate", Symbol: "H", Kind: quantity.Length, Trust: Geometry, Formula: "insert.plate_height, or the cabinet's height", Terms: From("insert.plate_height", "cabinet.height"), Source: geometry}
	PlateMouthWidth  = &Def{Key: "fold.mouth.width_m", Name: "width of a mouth of the insert", Symbol: "w", Kind: quantity.Length, Trust: Geometry, Formula: "insert.mouth_width", Terms: From("insert.mouth_width"), Source: geometry}
	PlateMouthHeight = &Def{Key: "fold.mouth.height_m", Name: "height of a mouth of the insert", Symbol: "h", Kind: quantity.Length, Trust: Geometry, Formula: "insert.mouth_height", Terms: From("insert.mouth_height"), Source: geometry}
	PlateMouthY      = &Def{Key: "fold.mouth.y_m", Name: "middle of a mouth above the plate's", Symbol: "y_i", Kind: quantity.Length, Trust: Geometry, Formula: "y_i = insert.spacing·(i − (n − 1)/2)", Terms: []Term{{"", "insert.spacing"}, {"n", "insert.mouths"}}, Source: geometry}
)

// The depth of the box that the horn takes, part behind part.
var (
	FoldBudgetFlares  = foldLength("budget.flares_m", "side flares", "d_f", "horn.flare_length", From("horn.flare_length"))
	FoldBudgetWalls   = foldLength("budget.walls_m", "side walls, slot to mouth", "d_w", "horn.length less the path through the fold (2·fold.throat_to_wall + fold.mouth_distance on a plane front); without a length as deep as horn.coverage asks for", From("horn.length", "fold.throat_to_wall", "fold.mouth_distance", "horn.coverage", "horn.mouth_width"))
	FoldBudgetFold    = foldLength("budget.fold_m", "fold with its turn", "d_b", "fold.built_depth_m", From("fold.built_depth_m"))
	FoldBudgetAll     = foldLength("budget.all_m", "all together", "d", "d = d_f + d_w + d_b", From("fold.budget.flares_m", "fold.budget.walls_m", "fold.budget.fold_m"))
	FoldBudgetCabinet = foldLength("budget.cabinet_m", "inside of the rear panel behind the front", "D_i", "cabinet.depth less cabinet.wall", From("cabinet.depth", "cabinet.wall"))
)

// foldStudy lists them.
var foldStudy = []*Def{
	FoldWallZ, FoldWallY, FoldRayAngle, FoldIncidence, FoldRayPath, FoldArrival, FoldRayMouth, FoldRayLevel,
	FoldThroatZ, FoldThroatY, FoldMouthZ, FoldMouthTop, FoldMouthBottom, FoldApexZ, FoldApexY,
	FoldThroatToWall, FoldVirtualPath, FoldLayer, FoldMouthHeight, FoldSpreadBudget, FoldTargetFlatTo, FoldStraightLength,
	FoldTurnRadius, FoldTurnInset, FoldTurnOverhang,
	FoldBudgetFlares, FoldBudgetWalls, FoldBudgetFold, FoldBudgetAll, FoldBudgetCabinet,
	FoldStackMouths, FoldStackPitch, FoldStackShare, FoldStackTarget, FoldStackRibbon, FoldStackFrequency, FoldStackLobe, FoldStackPerfect, FoldStackAxis,
	FoldSolverShortest, FoldSolverLongest, FoldNearestDepth, FoldNearestHeight, FoldNearestWidth, FoldNearestMouth, FoldNearestFan, FoldNearestPath, FoldNearestFlat,
	PlateWidth, PlateHeight, PlateMouthWidth, PlateMouthHeight, PlateMouthY,
}
