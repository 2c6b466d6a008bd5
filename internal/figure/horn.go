package figure

import "gapline/internal/quantity"

// aperture is where the aperture integral of the mouth holds.
const aperture = "far field, rigid baffle, circular front of uniform amplitude"

// The figures of the horn: pattern, cutoff and front.
var (
	HornPatternRule = &Def{
		Key: "horn.pattern_rule_hz", Name: "holds its coverage from, rule", Symbol: "f_W", Kind: quantity.Frequency, Trust: Rule,
		Formula: "10⁶/(W·θ), W in inches, θ in degrees", Hand: []string{"f_W = 10^6/(W/0.0254·θ·180/π); in inches and degrees"},
		Higher: "horn.pattern_computed_hz (aperture) integrates over the mouth, in the air as it is; gapline wave solves horn and cabinet as they are",
		Terms:  []Term{{"W", "horn.exit_width_m"}, {"θ", "horn.exit_coverage_deg"}}, Source: keele,
		Note:   "The constant, 25 400 in metres, holds one speed of sound fixed: in other air the computed figure moves with c, the rule does not.",
		Domain: "one speed of sound, held fixed; near 20 °C 9 % below the aperture integral at 90°, 18 % at 120°, 30 % at 150°",
	}

	HornPatternComputed = &Def{
		Key: "horn.pattern_computed_hz", Name: "holds its coverage from, computed", Symbol: "f_θ", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "lowest f at which the −6 dB full width of ∫ e^{−jk(√(R²+x²) − R)} e^{jkx sin φ} dx equals θ, R = W/(2·tan(θ/2))",
		Terms:   []Term{{"W", "horn.exit_width_m"}, {"θ", "horn.exit_coverage_deg"}}, Source: "aperture integral with a circular phase front, as for sectoral horns (C. A. Balanis, Antenna Theory, ch. 13, from memory)",
		Note:   "A baffled mouth with uniform amplitude.",
		Higher: "gapline wave solves the walls of the horn and the edges of the cabinet, which the integral takes for an even front in an endless wall",
		Domain: aperture,
	}

	HornNarrowest = &Def{
		Key: "horn.narrowest_deg", Name: "narrowest width above it", Symbol: "θ_min", Kind: quantity.Angle, Trust: Aperture,
		Formula: "first minimum of the −6 dB full width above horn.pattern_computed_hz", Terms: From("horn.exit_width_m", "horn.exit_coverage_deg"),
		Source: "the same integral", Note: "Midrange narrowing. A real mouth, with amplitude falling towards its edges, dips less.",
		Domain: aperture,
	}

	HornNarrowestAt = &Def{
		Key: "horn.narrowest_hz", Name: "frequency of the narrowest width", Symbol: "f_min", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "where horn.narrowest_deg occurs", Terms: From("horn.exit_width_m", "horn.exit_coverage_deg"), Source: "the same integral",
		Domain: aperture,
	}

	HornCutoff = &Def{
		Key: "horn.cutoff_hz", Name: "flare cutoff", Symbol: "f_c", Kind: quantity.Frequency, Trust: Rule,
		Formula: "exponential m·c/(4π), hyperbolic and catenoidal c/(2π·x₀), tractrix c/(2π·a); a conical flare and one by points have none",
		Hand: []string{
			"S_t = π·d_t²/4; throat",
			"S_m = W·h; mouth",
			"r = √(S_m/S_t)",
			"x₀ = 2·l/ln(S_m/S_t) where horn.profile is exponential, else l/ln((r + √(r² − 1 + T²))/(1 + T)) where horn.profile is hyperbolic, " +
				"else l/ln(r + √(r² − 1)) where horn.profile is catenoidal, else √(S_m/π) where horn.profile is tractrix",
			"f_c = c/(2·π·x₀); an exponential flare opens as e^(m·x) with m = 2/x₀, so that this is m·c/(4·π)",
		},
		Terms:  []Term{{"", "horn.profile"}, {"d_t", "horn.throat"}, {"l", "horn.length"}, {"W", "horn.mouth_width"}, {"h", "horn.mouth_height"}, {"T", "horn.family"}},
		Source: "A. G. Webster, Proc. Nat. Acad. Sci. 5 (1919) 275; V. Salmon, JASA 17 (1946) 199-218",
		Domain: "one-parameter waves in a flare without end",
	}

	HornLower = &Def{
		Key: "horn.lower_hz", Name: "lower limit of the horn", Symbol: "f_horn", Kind: quantity.Frequency, Trust: ByBasis,
		Formula: "highest of the pattern figure of the gap's basis, 1.2 times the flare cutoff, and horn.lowest",
		Hand:    []string{"f_p = f_W where targets.coupling is half-wave, else f_θ where targets.coupling is lobe", "f_horn = max(f_p, 1.2·f_c, f_d)"},
		Terms:   []Term{{"f_W", "horn.pattern_rule_hz"}, {"f_θ", "horn.pattern_computed_hz"}, {"f_c", "horn.cutoff_hz"}, {"f_d", "horn.lowest"}, {"", "targets.coupling"}}, Source: practice,
	}

	HornPath = &Def{
		Key: "horn.path_m", Name: "path from the front's apex to the mouth", Symbol: "L", Kind: quantity.Length, Trust: Geometry,
		Formula: "fold.virtual_path, else what the fold's wall gives, else horn.path_length", Terms: From("fold.virtual_path", "fold.throat_to_wall", "horn.path_length"), Source: geometry,
	}

	HornSagitta = &Def{
		Key: "horn.sagitta_m", Name: "bulge of the front", Symbol: "sagitta", Kind: quantity.Length, Trust: Rule,
		Formula: "√(L² + (h/2)²) − L, about h²/(8L); of a fold fold.path_spread_m",
		Hand:    []string{"sagitta = Δ, else √(L² + (h/2)²) − L"},
		Terms:   []Term{{"h", "horn.mouth_height"}, {"L", "horn.path_m"}, {"Δ", "fold.path_spread_m"}}, Source: "plane geometry; " + heil,
		Domain: "front from one apex; of a fold: " + byRays,
		Words:  flat,
	}

	HornFlatTo = &Def{
		Key: "horn.flat_to_hz", Name: "front flat to a quarter wave up to", Symbol: "f_flat", Kind: quantity.Frequency, Trust: Rule,
		Formula: "c/(4·sagitta)", Hand: []string{"f_flat = c/(4·sagitta)"},
		Higher: "horn.flat_lobe_hz (aperture) asks when a line of such bulging fronts has lobes; gapline wave --of fold solves the sound in the fold",
		Terms:  []Term{{"sagitta", "horn.sagitta_m"}}, Source: heil,
		Note:   "A quarter wave of bulge leaves the first lobe of a line of such mouths at −9 dB or so, not −12.",
		Domain: "mouth tall against the wavelength",
	}

	HornFlatLobe = &Def{
		Key: "horn.flat_lobe_hz", Name: "horn line free of lobes up to", Symbol: "f_flat,lobe", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "lowest f at which a lobe of an endless line of mouths with this front exceeds targets.lobe_level",
		Terms:   From("horn.mouth_height", "horn.path_m", "cabinet.pitch", "targets.lobe_level"), Source: heil + "; exact sum",
		Note:   "With a fold the front has the fold's amplitude taper too. Below it the horn line behaves as one ribbon.",
		Domain: "far field of an endless straight line of such mouths",
	}

	HornShare = &Def{
		Key: "horn.share", Name: "radiating share of the horn line", Symbol: "h/p", Kind: quantity.Number, Trust: Geometry,
		Formula: "horn.mouth_height over pitch", Terms: From("horn.mouth_height", "cabinet.pitch"), Source: heil,
	}
)
