package figures

import (
	"slices"

	"gapline/cabinet/sizing"
	"gapline/internal/quantity"
)

const (
	practice = "common practice, no source"
	keele    = `D. B. Keele Jr., "What's so sacred about exponential horns?", AES 51st Convention, 1975, preprint 1038`
	heil     = "C. Heil and M. Urban, AES 92nd Convention, 1992, preprint 3269; M. Urban, C. Heil and P. Bauman, JAES 51 (2003) 912-932"
	kinsler  = "L. E. Kinsler et al., Fundamentals of Acoustics, chapter on arrays"
	olson    = "H. F. Olson, Elements of Acoustical Engineering, 1947: product of array and element patterns"
	geometry = "geometry of the design file"
)

// Figures is the table of figures, in the order of the screen and of the JSON.
var Figures = slices.Concat(airFigures, couplingFigures,
	ceilingFigures("coupling.open", "woofer line, bare cones", func(s *sizing.Sizing) *sizing.Ceiling { return &s.Coupling.Open },
		[]string{"woofer.size", "woofer.per_box", "woofer.spacing"}),
	ceilingFigures("coupling.insert", "woofer line with the insert", func(s *sizing.Sizing) *sizing.Ceiling { return &s.Coupling.Insert.Ceiling },
		[]string{"insert.mouths", "insert.spacing", "insert.mouth_height"}),
	insertFigures,
	ceilingFigures("coupling.mid", "mid line", func(s *sizing.Sizing) *sizing.Ceiling { return &s.Coupling.Mid },
		[]string{"mid.size", "mid.per_box", "mid.spacing"}),
	hornFigures, exitFigures, loadingFigures, foldFigures, waveFigures, gapFigures, boxFigures, lineFigures)

var airFigures = []Figure{
	{
		Key: "air.sound_speed_m_s", Name: "speed of sound", Symbol: "c", Kind: quantity.Speed, Level: Aperture,
		Formula: "16-term polynomial in temperature, pressure, humidity and CO2 (400 ppm); moist ideal gas outside 0 to 30 °C",
		Inputs:  []string{"air.temperature", "air.humidity", "air.pressure"},
		Source:  "O. Cramer, JASA 93 (1993) 2510-2516, eq. 15",
		Value:   func(s *sizing.Sizing) float64 { return s.Air.SoundSpeed },
	},
	{
		Key: "air.density_kg_m3", Name: "density of air", Symbol: "ρ", Kind: quantity.Density, Level: Aperture,
		Formula: "p·M/(R·T), M the molar mass of moist air",
		Inputs:  []string{"air.temperature", "air.humidity", "air.pressure"},
		Source:  "ideal gas; vapour pressure of CIPM-2007 (A. Picard et al., Metrologia 45 (2008) 149-155)",
		Value:   func(s *sizing.Sizing) float64 { return s.Air.Density },
	},
}

var couplingFigures = []Figure{
	{
		Key: "coupling.lower_hz", Name: "line starts to couple", Symbol: "f_low", Kind: quantity.Frequency, Level: Rule,
		Formula: "c/(N·p): the wavelength is the line's length",
		Inputs:  []string{"line.boxes", "cabinet.pitch"}, Source: practice,
		Note:  "A gradual start, not an edge: below it the line has no vertical pattern to speak of.",
		Value: func(s *sizing.Sizing) float64 { return s.Coupling.Lower },
	},
	{
		Key: "coupling.pitch_m", Name: "pitch, box to box", Symbol: "p", Kind: quantity.Length, Level: Geometry,
		Formula: "cabinet.pitch, or cabinet.height + cabinet.gap",
		Inputs:  []string{"cabinet.pitch", "cabinet.height", "cabinet.gap"}, Source: geometry,
		Value: func(s *sizing.Sizing) float64 { return s.Coupling.Pitch },
	},
	{
		Key: "coupling.length_m", Name: "length of the line", Symbol: "N·p", Kind: quantity.Length, Level: Geometry,
		Formula: "line.boxes times pitch", Inputs: []string{"line.boxes", "cabinet.pitch"}, Source: geometry,
		Value: func(s *sizing.Sizing) float64 { return s.Coupling.Length },
	},
}

// ceilingFigures are the figures of one line of mouths.
func ceilingFigures(group, what string, of func(*sizing.Sizing) *sizing.Ceiling, inputs []string) []Figure {
	with := func(more ...string) []string { return slices.Concat(inputs, more) }
	return []Figure{
		{
			Key: group + ".spacing_m", Name: "largest spacing of centres", Symbol: "s", Kind: quantity.Length, Level: Geometry,
			Formula: "max(d, p − (n−1)·d) for n centres spaced d in each box; p for one centre; " + what,
			Inputs:  with("cabinet.pitch"), Source: geometry,
			Value: func(s *sizing.Sizing) float64 { return of(s).Spacing },
		},
		{
			Key: group + ".half_wave_hz", Name: "couples up to, half-wave rule", Symbol: "f_½", Kind: quantity.Frequency, Level: Rule,
			Formula: "c/(2·s); " + what, Inputs: []string{group + ".spacing_m"}, Source: practice,
			Note:  "Keeps the whole pattern clean, splayed or steered. The first true lobe of a straight line comes an octave higher.",
			Value: func(s *sizing.Sizing) float64 { return of(s).HalfWave },
		},
		{
			Key: group + ".lobe_hz", Name: "couples up to, lobe criterion", Symbol: "f_lobe", Kind: quantity.Frequency, Level: Aperture,
			Formula: "lowest m·c/p whose lobe |E(θ_m)|/|E(0)| exceeds targets.lobe_level; E sums the mouths of one box with their patterns, sin θ_m = m·λ/p; " + what,
			Inputs:  with("cabinet.pitch", "targets.lobe_level"), Source: olson,
			Note:  "A property of the box in an endless straight line. A finite line of N shows the lobe's skirt from about (1 − 1/N) of it on. None: no lobe exceeds the target at any frequency.",
			Value: func(s *sizing.Sizing) float64 { return of(s).Lobe },
		},
		{
			Key: group + lobeKey(group), Name: "first lobe, at c/p", Symbol: "L₁", Kind: quantity.Level, Level: Aperture,
			Formula: "20·log10 of |E(θ₁)|/|E(0)|; for two mouths |cos(π·d/p)| times the mouth's pattern; " + what,
			Inputs:  with("cabinet.pitch"), Source: olson,
			Note:  "Two mouths at half the pitch cancel it; a spacing 10 % off leaves about −16 dB. Held at −200 dB, on the screen \"no lobe\", where it cancels exactly. Not given for a single centre of unknown size.",
			Value: func(s *sizing.Sizing) float64 { return of(s).FirstLobe },
		},
		{
			Key: group + ".share", Name: "radiating share", Symbol: "h/p", Kind: quantity.Number, Level: Geometry,
			Formula: "height of the mouths (diameter of the cones) over pitch; " + what, Inputs: with("cabinet.pitch"), Source: heil,
			Note:  "For strips about 0.79 keeps every lobe of an endless line under −12 dB; round cones need 0.93.",
			Value: func(s *sizing.Sizing) float64 { return of(s).Share },
		},
		{
			Key: group + ".efficiency", Name: "share of a continuous line's directivity", Symbol: "Q/Q_line", Kind: quantity.Number, Level: Aperture,
			Formula: "Q of the line of N boxes over Q of a continuous line of the same length, 1/Q = ∫₀¹ |pattern|² d(sin θ), at horn.lower_hz (at the half-wave limit when that is not known); " + what,
			Inputs:  with("cabinet.pitch", "line.boxes", "horn.lower_hz"), Source: kinsler,
			Note:  "1 is as good as a line without gaps; what is missing went into lobes.",
			Value: func(s *sizing.Sizing) float64 { return of(s).Efficiency },
		},
	}
}

// lobeKey keeps the fixed name of the insert's residual lobe.
func lobeKey(group string) string {
	if group == "coupling.insert" {
		return ".residual_lobe_db"
	}
	return ".first_lobe_db"
}

var insertFigures = []Figure{
	{
		Key: "coupling.insert.spacing_error", Name: "spacing error of the mouths", Symbol: "e", Kind: quantity.Number, Level: Geometry,
		Formula: "d/(p/n) − 1", Inputs: []string{"insert.spacing", "insert.mouths", "cabinet.pitch"}, Source: geometry,
		Value: func(s *sizing.Sizing) float64 { return s.Coupling.Insert.SpacingError },
	},
	{
		Key: "coupling.insert.chamber_hz", Name: "front chamber corner", Symbol: "f_ch", Kind: quantity.Frequency, Level: Rule,
		Formula: "(c/2π)·√(n·S/(V·l)), l = slot depth + two end corrections of a rectangle",
		Inputs:  []string{"insert.mouths", "insert.mouth_height", "insert.mouth_width", "insert.slot_depth", "insert.chamber_volume"},
		Source:  "Helmholtz resonator; end correction of a rectangular piston: Rayleigh, Theory of Sound, vol. 2, §302; D. S. Burnett and W. W. Soroka, JASA 51 (1972) 1618",
		Note:    "Above it the output falls 12 dB an octave, with a peak near it. It caps the coupling on either basis.",
		Value:   func(s *sizing.Sizing) float64 { return s.Coupling.Insert.Chamber },
	},
	{
		Key: "coupling.insert.area_ratio", Name: "cone area over mouth area", Symbol: "S_c/S_m", Kind: quantity.Number, Level: Geometry,
		Formula: "woofer.per_box · π·D²/4 over n·h·w", Inputs: []string{"woofer.size", "insert.mouths", "insert.mouth_height", "insert.mouth_width"}, Source: geometry,
		Note:  "The air in the mouths moves faster than the cones by this factor; peak speeds above 17 m/s at low frequency chuff (common practice).",
		Value: func(s *sizing.Sizing) float64 { return s.Coupling.Insert.AreaRatio },
	},
	{
		Key: "coupling.insert.path_spread_m", Name: "spread of the ways from cone to mouth", Symbol: "Δ", Kind: quantity.Length, Level: Rule,
		Formula: "longest less shortest way along the plate from a part of the cone to the edge of the nearest mouth",
		Inputs:  []string{"woofer.size", "insert.mouths", "insert.spacing", "insert.mouth_height", "insert.mouth_width"}, Source: geometry,
		Note:  "Mouths whose width is not given count as wide as the cones.",
		Value: func(s *sizing.Sizing) float64 { return s.Coupling.Insert.PathSpread },
	},
	{
		Key: "coupling.insert.in_phase_hz", Name: "mouths radiate in phase up to", Symbol: "f_Δ", Kind: quantity.Frequency, Level: Rule,
		Formula: "c/(4·Δ): the spread is a quarter wave", Inputs: []string{"coupling.insert.path_spread_m"}, Source: practice,
		Value: func(s *sizing.Sizing) float64 { return s.Coupling.Insert.InPhase },
	},
}

var hornFigures = []Figure{
	{
		Key: "horn.pattern_rule_hz", Name: "holds its coverage from, rule", Symbol: "f_W", Kind: quantity.Frequency, Level: Rule,
		Formula: "10⁶/(W·θ), W in inches, θ in degrees", Inputs: []string{"horn.exit_width_m", "horn.exit_coverage_deg"}, Source: keele,
		Note:  "The constant, 25 400 in metres, holds one speed of sound fixed: in other air the computed figure moves with c, the rule does not.",
		Value: func(s *sizing.Sizing) float64 { return s.Horn.PatternRule },
	},
	{
		Key: "horn.pattern_computed_hz", Name: "holds its coverage from, computed", Symbol: "f_θ", Kind: quantity.Frequency, Level: Aperture,
		Formula: "lowest f at which the −6 dB full width of ∫ e^{−jk(√(R²+x²) − R)} e^{jkx sin φ} dx equals θ, R = W/(2·tan(θ/2))",
		Inputs:  []string{"horn.exit_width_m", "horn.exit_coverage_deg"}, Source: "aperture integral with a circular phase front, as for sectoral horns (C. A. Balanis, Antenna Theory, ch. 13, from memory)",
		Note:  "A baffled mouth with uniform amplitude.",
		Value: func(s *sizing.Sizing) float64 { return s.Horn.PatternComputed },
	},
	{
		Key: "horn.narrowest_deg", Name: "narrowest width above it", Symbol: "θ_min", Kind: quantity.Angle, Level: Aperture,
		Formula: "first minimum of the −6 dB full width above horn.pattern_computed_hz", Inputs: []string{"horn.exit_width_m", "horn.exit_coverage_deg"},
		Source: "the same integral", Note: "Midrange narrowing. A real mouth, with amplitude falling towards its edges, dips less.",
		Value: func(s *sizing.Sizing) float64 { return s.Horn.Narrowest },
	},
	{
		Key: "horn.narrowest_hz", Name: "frequency of the narrowest width", Symbol: "f_min", Kind: quantity.Frequency, Level: Aperture,
		Formula: "where horn.narrowest_deg occurs", Inputs: []string{"horn.exit_width_m", "horn.exit_coverage_deg"}, Source: "the same integral",
		Value: func(s *sizing.Sizing) float64 { return s.Horn.NarrowestAt },
	},
	{
		Key: "horn.cutoff_hz", Name: "flare cutoff", Symbol: "f_c", Kind: quantity.Frequency, Level: Rule,
		Formula: "exponential m·c/(4π), hyperbolic c/(2π·x₀), tractrix c/(2π·a); a conical flare and one by points have none",
		Inputs:  []string{"horn.profile", "horn.throat", "horn.length", "horn.mouth_width", "horn.mouth_height", "horn.family"},
		Source:  "A. G. Webster, Proc. Nat. Acad. Sci. 5 (1919) 275; V. Salmon, JASA 17 (1946) 199-218",
		Value:   func(s *sizing.Sizing) float64 { return s.Horn.Cutoff },
	},
	{
		Key: "horn.lower_hz", Name: "lower limit of the horn", Symbol: "f_horn", Kind: quantity.Frequency, Level: ByBasis,
		Formula: "highest of the pattern figure of the gap's basis, 1.2 times the flare cutoff, and horn.lowest",
		Inputs:  []string{"horn.pattern_rule_hz", "horn.pattern_computed_hz", "horn.cutoff_hz", "horn.lowest", "targets.coupling"}, Source: practice,
		Value: func(s *sizing.Sizing) float64 { return s.Horn.Lower },
	},
	{
		Key: "horn.path_m", Name: "path from the front's apex to the mouth", Symbol: "L", Kind: quantity.Length, Level: Geometry,
		Formula: "fold.virtual_path, else what the fold's wall gives, else horn.path_length", Inputs: []string{"fold.virtual_path", "fold.throat_to_wall", "horn.path_length"}, Source: geometry,
		Value: func(s *sizing.Sizing) float64 { return s.Horn.Path },
	},
	{
		Key: "horn.sagitta_m", Name: "bulge of the front", Symbol: "sagitta", Kind: quantity.Length, Level: Rule,
		Formula: "√(L² + (h/2)²) − L, about h²/(8L); of a fold fold.path_spread_m", Inputs: []string{"horn.mouth_height", "horn.path_m", "fold.path_spread_m"}, Source: "plane geometry; " + heil,
		Value: func(s *sizing.Sizing) float64 { return s.Horn.Sagitta },
	},
	{
		Key: "horn.flat_to_hz", Name: "front flat to a quarter wave up to", Symbol: "f_flat", Kind: quantity.Frequency, Level: Rule,
		Formula: "c/(4·sagitta)", Inputs: []string{"horn.sagitta_m"}, Source: heil,
		Note:  "A quarter wave of bulge leaves the first lobe of a line of such mouths at −9 dB or so, not −12.",
		Value: func(s *sizing.Sizing) float64 { return s.Horn.FlatTo },
	},
	{
		Key: "horn.flat_lobe_hz", Name: "horn line free of lobes up to", Symbol: "f_flat,lobe", Kind: quantity.Frequency, Level: Aperture,
		Formula: "lowest f at which a lobe of an endless line of mouths with this front exceeds targets.lobe_level",
		Inputs:  []string{"horn.mouth_height", "horn.path_m", "cabinet.pitch", "targets.lobe_level"}, Source: heil + "; exact sum",
		Note:  "With a fold the front has the fold's amplitude taper too. Below it the horn line behaves as one ribbon.",
		Value: func(s *sizing.Sizing) float64 { return s.Horn.FlatLobe },
	},
	{
		Key: "horn.share", Name: "radiating share of the horn line", Symbol: "h/p", Kind: quantity.Number, Level: Geometry,
		Formula: "horn.mouth_height over pitch", Inputs: []string{"horn.mouth_height", "cabinet.pitch"}, Source: heil,
		Value: func(s *sizing.Sizing) float64 { return s.Horn.Share },
	},
}

var gapFigures = []Figure{
	{
		Key: "gap.open_oct", Name: "gap to the horn, without insert", Symbol: "g", Kind: quantity.Octaves, Level: ByBasis,
		Formula: "log2(f_horn/f_couple), f_couple the bare cones' limit on the basis (the mids' when there is a mid band)",
		Inputs:  []string{"horn.lower_hz", "coupling.open.half_wave_hz", "coupling.open.lobe_hz", "targets.coupling"}, Source: "difference of the two limits in octaves",
		Note:  "Positive: open, no frequency is served by both. Negative: overlap.",
		Value: func(s *sizing.Sizing) float64 { return s.Gap.Open },
	},
	{
		Key: "gap.insert_oct", Name: "gap to the horn, with insert", Symbol: "g_n", Kind: quantity.Octaves, Level: ByBasis,
		Formula: "log2(f_horn/f_couple), f_couple the lower of the insert's coupling limit and its chamber corner",
		Inputs:  []string{"horn.lower_hz", "coupling.insert.half_wave_hz", "coupling.insert.lobe_hz", "coupling.insert.chamber_hz", "targets.coupling"},
		Source:  "difference of the two limits in octaves",
		Value:   func(s *sizing.Sizing) float64 { return s.Gap.Insert },
	},
	{
		Key: "gap.low_hz", Name: "coupling side of the design as given", Symbol: "f_couple", Kind: quantity.Frequency, Level: ByBasis,
		Formula: "coupling limit of what meets the horn: mids, insert or bare cones", Inputs: []string{"targets.coupling"}, Source: practice,
		Value: func(s *sizing.Sizing) float64 { return s.Gap.Low },
	},
	{
		Key: "gap.high_hz", Name: "horn side of the design as given", Symbol: "f_horn", Kind: quantity.Frequency, Level: ByBasis,
		Formula: "horn.lower_hz", Inputs: []string{"horn.lower_hz"}, Source: practice,
		Value: func(s *sizing.Sizing) float64 { return s.Gap.High },
	},
	{
		Key: "gap.crossover_hz", Name: "crossover inside the overlap", Symbol: "f_x", Kind: quantity.Frequency, Level: ByBasis,
		Formula: "√(f_couple·f_horn), when they overlap", Inputs: []string{"gap.low_hz", "gap.high_hz"}, Source: practice,
		Value: func(s *sizing.Sizing) float64 { return s.Gap.Crossover },
	},
	{
		Key: "gap.woofer_mid_oct", Name: "gap between woofers and mids", Symbol: "g_m", Kind: quantity.Octaves, Level: ByBasis,
		Formula: "log2(mid.lowest/f_couple of the woofers)", Inputs: []string{"mid.lowest", "coupling.open.half_wave_hz"}, Source: practice,
		Value: func(s *sizing.Sizing) float64 { return s.Gap.WooferMid },
	},
}
