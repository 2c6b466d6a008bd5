package figure

import "gapline/internal/quantity"

const (
	rays          = "rays by the law of reflection; polar equation of a conic about its focus"
	toleranceNote = "Worked out by gapline fold. 0 mm: the fold as designed spreads more than the target allows."

	// byRays is where rays hold.
	byRays = "mouth tall against the wavelength, layer thin"
)

// foldTerms are the keys that shape the fold.
var foldTerms = From("fold.throat_to_wall", "fold.virtual_path", "horn.mouth_height", "fold.mouth_distance", "fold.throat_height")

// workshop is the form of lengths that a workshop keeps to, in hundredths.
var workshop = quantity.Style{Verb: "%.2f", Inch: "%.4f", Unit: "mm"}

// The figures of the fold.
var (
	FoldDepth = &Def{
		Key: "fold.depth_m", Name: "depth of the fold", Symbol: "d", Kind: quantity.Length, Trust: Geometry,
		Formula: "wall's rearmost point to mouth plane", Terms: foldTerms, Source: geometry,
		Note: "Of the mirror picture, in which the turn is the wall line. fold.built_depth_m adds what the turn needs behind it.",
	}

	FoldBuiltDepth = &Def{
		Key: "fold.built_depth_m", Name: "depth of the fold as built", Symbol: "d_b", Kind: quantity.Length, Trust: Geometry,
		Formula: "fold.depth_m + (ρ + t − (π/2)(ρ + t/2)) + rear allowance",
		Terms:   []Term{{"", "fold.depth_m"}, {"t", "fold.layer"}, {"ρ", "fold.bend_radius"}, {"", "fold.rear_allowance"}},
		Source:  "mean length of a half turn; common practice",
	}

	FoldDepthSaved = &Def{
		Key: "fold.depth_saved_m", Name: "depth saved by folding", Symbol: "Δd", Kind: quantity.Length, Trust: Geometry,
		Formula: "length of the straight horn of the same flatness − fold.built_depth_m; for a plane front the straight horn flat to targets.flat_to (16 kHz unless given)",
		Terms:   From("fold.built_depth_m", "fold.virtual_path", "targets.flat_to"), Source: geometry,
		Note: "Negative: the fold is the deeper of the two.",
	}

	FoldPathSpread = &Def{
		Key: "fold.path_spread_m", Name: "path spread over the mouth", Symbol: "Δ", Kind: quantity.Length, Trust: Rule,
		Formula: "longest − shortest path from throat to mouth plane over all rays", Terms: foldTerms, Source: rays,
		Note:   "The bulge of the front by rays: good where the mouth is tall against the wavelength and the layer thin.",
		Domain: byRays,
		Words:  flat,
	}

	FoldFlatTo = &Def{
		Key: "fold.flat_to_hz", Name: "folded front flat to a quarter wave up to", Symbol: "f_flat", Kind: quantity.Frequency, Trust: Rule,
		Formula: "c/(4·Δ)",
		Terms:   []Term{{"Δ", "fold.path_spread_m"}}, Source: heil,
		Note:   "No limit: a plane front by design; what remains is how well the wall is built.",
		Domain: byRays,
	}

	FoldTaper = &Def{
		Key: "fold.taper_db", Name: "amplitude taper over the mouth", Symbol: "A", Kind: quantity.Level, Trust: Rule,
		Formula: "10·log10 of the least over the greatest ray density, I = (dφ/dy)/cos ψ; for the parabola I ∝ 1 + cos φ",
		Terms:   foldTerms, Source: "ray density; a throat small against the wavelength sends alike into every angle",
		Domain: byRays + "; throat small against the wavelength",
	}

	FoldCrossMode = &Def{
		Key: "fold.cross_mode_hz", Name: "first cross mode of a layer", Symbol: "f_t", Kind: quantity.Frequency, Trust: Rule,
		Formula: "c/(2·t)",
		Terms:   []Term{{"t", "fold.layer"}}, Source: "half wave across a duct with rigid walls",
		Note:   "Above it a layer no longer carries one wave only, and rays drawn in the side view no longer tell all.",
		Domain: "layer of even thickness, rigid walls",
	}

	FoldFan = &Def{
		Key: "fold.fan_deg", Name: "fan of rays at the throat", Symbol: "2φ_max", Kind: quantity.Angle, Trust: Geometry,
		Formula: "tan(φ/2) = ((D − a)/a)·tan(ψ/2) at both mouth edges; for the parabola tan(φ/2) = h/(4a)",
		Terms:   []Term{{"a", "fold.throat_to_wall"}, {"", "fold.virtual_path"}, {"h", "horn.mouth_height"}, {"", "fold.mouth_distance"}, {"", "fold.throat_height"}}, Source: rays,
	}

	FoldClearance = &Def{
		Key: "fold.clearance_m", Name: "throat's rim to wall", Symbol: "e_t", Kind: quantity.Length, Trust: Geometry,
		Formula: "a − throat radius",
		Terms:   []Term{{"a", "fold.throat_to_wall"}, {"", "horn.throat"}}, Source: geometry,
		Note: "Less than one layer throttles the path.",
	}

	FoldWidth = &Def{
		Key: "fold.width_m", Name: "both layers and the plate between", Symbol: "2(t + ρ)", Kind: quantity.Length, Trust: Geometry,
		Formula: "2·(t + ρ), inner surfaces",
		Terms:   []Term{{"t", "fold.layer"}, {"ρ", "fold.bend_radius"}}, Source: geometry,
	}

	FoldToleranceAxial = &Def{
		Key: "fold.tolerance_axial_m", Name: "wall may stand off, forward or back", Symbol: "e_z", Kind: quantity.Length, Trust: Rule,
		Formula: "shift at which the path spread reaches c/(4·targets.flat_to); for a plane front |e|·(1 − cos φ_max) to first order",
		Terms:   append(From("targets.flat_to"), foldTerms...), Source: rays, Note: toleranceNote,
		Domain: byRays,
		Style:  workshop,
	}

	FoldToleranceLateral = &Def{
		Key: "fold.tolerance_lateral_m", Name: "wall may stand off, up or down", Symbol: "e_y", Kind: quantity.Length, Trust: Rule,
		Formula: "shift at which the path spread, tilt included, reaches c/(4·targets.flat_to)",
		Terms:   append(From("targets.flat_to"), foldTerms...), Source: rays, Note: toleranceNote,
		Domain: byRays,
		Style:  workshop,
	}

	FoldToleranceProfile = &Def{
		Key: "fold.tolerance_profile_m", Name: "wall's surface may be off", Symbol: "±e_n", Kind: quantity.Length, Trust: Rule,
		Formula: "error ±e along the normal, worst case: a path changes by 2e·cos i, i the angle of incidence",
		Terms:   append(From("targets.flat_to"), foldTerms...), Source: rays, Note: toleranceNote,
		Domain: byRays,
		Style:  workshop,
	}
)
