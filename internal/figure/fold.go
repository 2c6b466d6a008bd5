package figure

import (
	"slices"

	"gapline/internal/quantity"
)

const (
	rays          = "rays by the law of reflection; polar equation of a conic about its focus"
	toleranceNote = "Worked out by gapline fold. 0 mm: the fold as designed spreads more than the target allows."

	// byRays is where rays hold.
	byRays = "mouth tall against the wavelength, layer thin"
)

// pathByHand are the lines to what the virtual apex is to the fold: its distance L from the
// mouth plane, and how far the throat z_m stands behind that. pathTerms name their keys, and
// rayTerms those that the rays need beside.
var pathByHand = []string{
	"z_m = z, else d_t/2 + t; throat behind the mouth plane",
	"q = c/(4·f_t), else c/(4·16000); bulge that targets.flat_to allows",
	"L = L_v, else 2·a + z_m where fold.wall is straight, else max((h²/4 − q²)/(2·q), 2·a + z_m); apex behind the mouth plane",
}

var pathTerms = []Term{{"a", "fold.throat_to_wall"}, {"L_v", "fold.virtual_path"}, {"h", "horn.mouth_height"}, {"z", "fold.mouth_distance"},
	{"", "fold.wall"}, {"d_t", "horn.throat"}, {"t", "fold.layer"}, {"f_t", "targets.flat_to"}, {"c", "air.sound_speed_m_s"}}

var rayTerms = append(slices.Clone(pathTerms), Term{"y_F", "fold.throat_height"})

// foldTerms are the keys that shape the fold.
var foldTerms = From("fold.throat_to_wall", "fold.virtual_path", "horn.mouth_height", "fold.mouth_distance", "fold.throat_height")

// workshop is the form of lengths that a workshop keeps to, in hundredths.
var workshop = quantity.Style{Verb: "%.2f", Inch: "%.4f", Unit: "mm"}

// The figures of the fold.
var (
	FoldDepth = &Def{
		Key: "fold.depth_m", Name: "depth of the fold", Symbol: "d", Kind: quantity.Length, Trust: Geometry,
		Formula: "wall's rearmost point to mouth plane",
		Hand:    []string{"z_m = z, else d_t/2 + t; throat behind the mouth plane", "d = a + z_m; with the throat at the mouth's middle"},
		Terms:   []Term{{"a", "fold.throat_to_wall"}, {"z", "fold.mouth_distance"}, {"d_t", "horn.throat"}, {"t", "fold.layer"}}, Source: geometry,
		Note: "Of the mirror picture, in which the turn is the wall line. fold.built_depth_m adds what the turn needs behind it.",
	}

	FoldBuiltDepth = &Def{
		Key: "fold.built_depth_m", Name: "depth of the fold as built", Symbol: "d_b", Kind: quantity.Length, Trust: Geometry,
		Formula: "fold.depth_m + (ρ + t − (π/2)(ρ + t/2)) + rear allowance",
		Hand:    []string{"d_b = d + (ρ + t − π/2·(ρ + t/2)) + e_r; ρ the inner radius of the turn, t of one layer"},
		Terms:   []Term{{"d", "fold.depth_m"}, {"t", "fold.layer"}, {"ρ", "fold.bend_radius"}, {"e_r", "fold.rear_allowance"}},
		Source:  "mean length of a half turn; common practice",
	}

	FoldDepthSaved = &Def{
		Key: "fold.depth_saved_m", Name: "depth saved by folding", Symbol: "Δd", Kind: quantity.Length, Trust: Geometry,
		Formula: "length of the straight horn of the same flatness − fold.built_depth_m; for a plane front the straight horn flat to targets.flat_to (16 kHz unless given)",
		Hand:    append(slices.Clone(pathByHand), "L_s = (h²/4 − q²)/(2·q) where fold.virtual_path is flat, else L; of the straight horn", "Δd = L_s − d_b"),
		Terms:   append(slices.Clone(pathTerms), Term{"d_b", "fold.built_depth_m"}), Source: geometry,
		Note: "Negative: the fold is the deeper of the two.",
	}

	FoldPathSpread = &Def{
		Key: "fold.path_spread_m", Name: "path spread over the mouth", Symbol: "Δ", Kind: quantity.Length, Trust: Rule,
		Formula: "longest − shortest path from throat to mouth plane over all rays",
		Hand: append(slices.Clone(pathByHand),
			"y_V = y_F where fold.wall is straight, else 0; apex above the mouth's middle",
			"Δ = √(L² + (h/2 + |y_V|)²) − √(L² + max(0, |y_V| − h/2)²); all rays are as long as from the apex, but for one length",
			"(a plane front has its apex endlessly far away: Δ is 0)"),
		Terms: rayTerms, Source: rays,
		Higher: "gapline wave --of fold solves the sound in both layers",
		Note:   "The bulge of the front by rays: good where the mouth is tall against the wavelength and the layer thin.",
		Domain: byRays,
		Words:  flat,
	}

	FoldFlatTo = &Def{
		Key: "fold.flat_to_hz", Name: "folded front flat to a quarter wave up to", Symbol: "f_flat", Kind: quantity.Frequency, Trust: Rule,
		Formula: "c/(4·Δ)", Hand: []string{"f_flat = c/(4·Δ)"}, Higher: "gapline wave --of fold solves the sound in both layers",
		Terms: []Term{{"Δ", "fold.path_spread_m"}}, Source: heil,
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
		Formula: "c/(2·t)", Hand: []string{"f_t = c/(2·t)"},
		Terms: []Term{{"t", "fold.layer"}}, Source: "half wave across a duct with rigid walls",
		Note:   "Above it a layer no longer carries one wave only, and rays drawn in the side view no longer tell all.",
		Domain: "layer of even thickness, rigid walls",
	}

	FoldFan = &Def{
		Key: "fold.fan_deg", Name: "fan of rays at the throat", Symbol: "2φ_max", Kind: quantity.Angle, Trust: Geometry,
		Formula: "tan(φ/2) = ((D − a)/a)·tan(ψ/2) for each edge of the mouth: φ and ψ the angles at throat and virtual apex between the line through both and the ray to the edge, D from throat to apex, a from throat to wall; for a plane front tan(φ/2) = h/(4a)",
		Hand: append(slices.Clone(pathByHand),
			"D = √((L − z_m)² + y_F²); throat to apex",
			"ε = atan(y_F/(L − z_m)); how far that line is tilted",
			"ψ₁ = atan(h/(2·L)) − ε; at the apex, to the upper edge",
			"ψ₂ = atan(h/(2·L)) + ε; to the lower edge",
			"φ₁ = 2·atan((D − a)/a·tan(ψ₁/2)); at the throat",
			"φ₂ = 2·atan((D − a)/a·tan(ψ₂/2))",
			"φ = 2·atan((h/2 − y_F)/(2·a)) + 2·atan((h/2 + y_F)/(2·a)) where fold.virtual_path is flat, else φ₁ + φ₂"),
		Terms: rayTerms, Source: rays,
		Domain: "curved wall, or a straight one with the throat at the mouth's middle",
	}

	FoldClearance = &Def{
		Key: "fold.clearance_m", Name: "throat's rim to wall", Symbol: "e_t", Kind: quantity.Length, Trust: Geometry,
		Formula: "a − throat radius", Hand: []string{"e_t = a − d_t/2"},
		Terms: []Term{{"a", "fold.throat_to_wall"}, {"d_t", "horn.throat"}}, Source: geometry,
		Note: "Less than one layer throttles the path.",
	}

	FoldWidth = &Def{
		Key: "fold.width_m", Name: "both layers and the plate between", Symbol: "2(t + ρ)", Kind: quantity.Length, Trust: Geometry,
		Formula: "2·(t + ρ), inner surfaces", Hand: []string{"B = 2·(t + ρ)"},
		Terms: []Term{{"t", "fold.layer"}, {"ρ", "fold.bend_radius"}}, Source: geometry,
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
