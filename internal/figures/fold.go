package figures

import (
	"gapline/cabinet/sizing"
	"gapline/internal/quantity"
)

const rays = "rays by the law of reflection; polar equation of a conic about its focus"

// foldInputs are the keys that shape the fold.
var foldInputs = []string{"fold.throat_to_wall", "fold.virtual_path", "horn.mouth_height", "fold.mouth_distance", "fold.throat_height"}

var foldFigures = []Figure{
	{
		Key: "fold.depth_m", Name: "depth of the fold", Symbol: "d", Kind: quantity.Length, Level: Geometry,
		Formula: "wall's rearmost point to mouth plane", Inputs: foldInputs, Source: geometry,
		Note:  "Of the mirror picture, in which the turn is the wall line. fold.built_depth_m adds what the turn needs behind it.",
		Value: func(s *sizing.Sizing) float64 { return s.Fold.Depth },
	},
	{
		Key: "fold.built_depth_m", Name: "depth of the fold as built", Symbol: "d_b", Kind: quantity.Length, Level: Geometry,
		Formula: "fold.depth_m + (ρ + t − (π/2)(ρ + t/2)) + rear allowance", Inputs: []string{"fold.depth_m", "fold.layer", "fold.bend_radius", "fold.rear_allowance"},
		Source: "mean length of a half turn; common practice",
		Value:  func(s *sizing.Sizing) float64 { return s.Fold.BuiltDepth },
	},
	{
		Key: "fold.depth_saved_m", Name: "depth saved by folding", Symbol: "Δd", Kind: quantity.Length, Level: Geometry,
		Formula: "length of the straight horn of the same flatness − fold.depth_m; for a plane front the straight horn flat to targets.flat_to (16 kHz unless given)",
		Inputs:  []string{"fold.depth_m", "fold.virtual_path", "targets.flat_to"}, Source: geometry,
		Note:  "Negative: the fold is the deeper of the two.",
		Value: func(s *sizing.Sizing) float64 { return s.Fold.DepthSaved },
	},
	{
		Key: "fold.path_spread_m", Name: "path spread over the mouth", Symbol: "Δ", Kind: quantity.Length, Level: Rule,
		Formula: "longest − shortest way from throat to mouth plane over all rays", Inputs: foldInputs, Source: rays,
		Note:  "The bulge of the front by rays: good where the mouth is tall against the wavelength and the layer thin.",
		Value: func(s *sizing.Sizing) float64 { return s.Fold.PathSpread },
	},
	{
		Key: "fold.flat_to_hz", Name: "folded front flat to a quarter wave up to", Symbol: "f_flat", Kind: quantity.Frequency, Level: Rule,
		Formula: "c/(4·Δ)", Inputs: []string{"fold.path_spread_m"}, Source: heil,
		Note:  "No limit: a plane front by design; what remains is how well the wall is built.",
		Value: func(s *sizing.Sizing) float64 { return s.Fold.FlatTo },
	},
	{
		Key: "fold.taper_db", Name: "amplitude taper over the mouth", Symbol: "A", Kind: quantity.Level, Level: Rule,
		Formula: "10·log10 of the least over the greatest ray density, I = (dφ/dy)/cos ψ; for the parabola I ∝ 1 + cos φ",
		Inputs:  foldInputs, Source: "ray density; a throat small against the wavelength sends alike into every angle",
		Value: func(s *sizing.Sizing) float64 { return s.Fold.Taper },
	},
	{
		Key: "fold.cross_mode_hz", Name: "first cross mode of a layer", Symbol: "f_t", Kind: quantity.Frequency, Level: Rule,
		Formula: "c/(2·t)", Inputs: []string{"fold.layer"}, Source: "half wave across a duct with rigid walls",
		Note:  "Above it a layer no longer carries one wave only, and rays drawn in the side view no longer tell all.",
		Value: func(s *sizing.Sizing) float64 { return s.Fold.CrossMode },
	},
	{
		Key: "fold.fan_deg", Name: "fan of rays at the throat", Symbol: "2φ_max", Kind: quantity.Angle, Level: Geometry,
		Formula: "tan(φ/2) = ((D − a)/a)·tan(ψ/2) at both mouth edges; for the parabola tan(φ/2) = h/(4a)", Inputs: foldInputs, Source: rays,
		Value: func(s *sizing.Sizing) float64 { return s.Fold.Fan },
	},
	{
		Key: "fold.clearance_m", Name: "throat's rim to wall", Symbol: "e_t", Kind: quantity.Length, Level: Geometry,
		Formula: "a − throat radius", Inputs: []string{"fold.throat_to_wall", "horn.throat"}, Source: geometry,
		Note:  "Less than one layer throttles the path.",
		Value: func(s *sizing.Sizing) float64 { return s.Fold.Clearance },
	},
	{
		Key: "fold.width_m", Name: "both layers and the plate between", Symbol: "2(t + ρ)", Kind: quantity.Length, Level: Geometry,
		Formula: "2·(t + ρ), inner surfaces", Inputs: []string{"fold.layer", "fold.bend_radius"}, Source: geometry,
		Value: func(s *sizing.Sizing) float64 { return s.Fold.Width },
	},
	{
		Key: "fold.tolerance_axial_m", Name: "wall may stand off, forward or back", Symbol: "e_z", Kind: quantity.Length, Level: Rule,
		Formula: "shift at which the path spread reaches c/(4·targets.flat_to); for a plane front |e|·(1 − cos φ_max) to first order",
		Inputs:  append([]string{"targets.flat_to"}, foldInputs...), Source: rays, Note: toleranceNote,
		Value: func(s *sizing.Sizing) float64 { return s.Fold.ToleranceAxial },
	},
	{
		Key: "fold.tolerance_lateral_m", Name: "wall may stand off, up or down", Symbol: "e_y", Kind: quantity.Length, Level: Rule,
		Formula: "shift at which the path spread, tilt included, reaches c/(4·targets.flat_to)",
		Inputs:  append([]string{"targets.flat_to"}, foldInputs...), Source: rays, Note: toleranceNote,
		Value: func(s *sizing.Sizing) float64 { return s.Fold.ToleranceLateral },
	},
	{
		Key: "fold.tolerance_profile_m", Name: "wall's surface may be off", Symbol: "±e_n", Kind: quantity.Length, Level: Rule,
		Formula: "error ±e along the normal, worst case: a path changes by 2e·cos i, i the angle of incidence",
		Inputs:  append([]string{"targets.flat_to"}, foldInputs...), Source: rays, Note: toleranceNote,
		Value: func(s *sizing.Sizing) float64 { return s.Fold.ToleranceProfile },
	},
}

const toleranceNote = "Worked out by gapline fold. 0 mm: the fold as designed spreads more than the target allows."
