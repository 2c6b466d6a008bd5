package figure

import (
	"slices"

	"gapline/internal/quantity"
)

const (
	small    = `R. H. Small, "Direct-radiator loudspeaker system analysis", JAES 20 (1972) 383-395, and following papers on closed, vented and passive-radiator boxes`
	prices   = "sum of the design file's prices"
	counting = "count of the design file's parts"
)

// boxTerms are the keys that the circuit of the box needs.
var boxTerms = From("woofer.fs", "woofer.qes", "woofer.qms", "woofer.vas", "woofer.sd", "woofer.re",
	"enclosure.kind", "enclosure.volume", "enclosure.tuning", "enclosure.leak_q")

// inBox are the lines of the circuit in front of all formulas in full, with frequencies
// against the driver's own resonance, s = jω/ω_s; inBoxTerms name their keys.
var (
	inBox = []string{
		"α = n·V_as/V_b; the box's air is so many times as stiff as the suspension",
		"η = √(1 + α) where enclosure.kind is closed, else f_b/f_s; tuning of the box",
		"s = j·f/f_s",
		"b = η/(Q_L·s), else 0; of the leak",
		"a = 1/(1 + s/(η·Q_A)), else 1; of the air in the box, with what damps it",
		"t = 0 where enclosure.kind is closed, else 1/(s²/η² + s/(η·Q_P)), else η²/s²; of the vent",
		"B = a + b + t; the box against its air alone",
	}
	inBoxTerms = []Term{{"f_s", "woofer.fs"}, {"Q_es", "woofer.qes"}, {"Q_ms", "woofer.qms"}, {"V_as", "woofer.vas"}, {"n", "woofer.per_box"},
		{"", "enclosure.kind"}, {"V_b", "enclosure.volume"}, {"f_b", "box.enclosure.tuning_hz"}, {"Q_L", "enclosure.leak_q"}, {"Q_A", "enclosure.absorption_q"}, {"Q_P", "enclosure.vent_q"}}
)

// fullDrive are the lines to the voltage U that a driver bears at the frequency f, and to the
// speed v of its cone for 1 V; fullDriveTerms name their keys beside inBoxTerms and
// pistonTerms.
var (
	fullDrive = []string{
		pistonByHand,
		"ω_s = 2·π·f_s",
		"M = ρ·c²·S²/(ω_s²·V_as); moving mass",
		"Bl = √(ω_s·M·R_e/Q_es)",
		"z = L_e·2·π·1000·(j·f/1000)^x, else L_e·j·2·π·f; of the coil's inductance",
		"C = 1/(1 + z/R_e), else 1; what it leaves of the current",
		"v = |Bl·C/(R_e·ω_s·M·(s + 1/s + 1/Q_ms + C/Q_es + α/(s·B)))|; speed of a cone for 1 V",
		"U_x = 2·π·f·x_max/(√(2)·v); voltage at which its peak reaches x_max",
		"U_P = √(P·R_e); voltage of the rated power",
		"U = min(U_x, U_P); of one driver, r.m.s.",
	}
	fullDriveTerms = []Term{{"R_e", "woofer.re"}, {"L_e", "woofer.le"}, {"x", "woofer.le_exponent"}, {"x_max", "woofer.xmax"}, {"P", "woofer.power"},
		{"f", "box.max_spl_at_hz"}, {"c", "air.sound_speed_m_s"}, {"ρ", "air.density_kg_m3"}}
)

// pistonByHand tells the area of a cone, from pistonTerms.
const pistonByHand = "S = S_d, else π·d_e²/4, else π·(0.82·d_n)²/4; of one cone"

var pistonTerms = []Term{{"S_d", "woofer.sd"}, {"d_e", "woofer.effective_diameter"}, {"d_n", "woofer.size"}}

const (
	otherBoxes = "(of a passive radiator t has its compliance and losses beside its mass)"
	wholeBox   = "gapline box (aperture) adds the exact radiation of cones, vent and insert, and the stack; gapline wave --of front the cabinet round them"
)

// The figures of one box and of the prices.
var (
	BoxF3 = &Def{
		Key: "box.f3_hz", Name: "low end of one box, half power", Symbol: "f₃", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "highest f at which the level of the acoustic circuit is 10·log10(2) below its passband; without voice-coil inductance and insert",
		Hand: append(slices.Clone(inBox),
			"G = a·s/(B·(s + 1/s + 1/Q_ms + 1/Q_es) + α/s); 1 far above all resonances",
			"f₃ = f, at the highest f with |G|² = 1/2",
			otherBoxes),
		Terms: inBoxTerms, Source: small,
		Note:   "A lumped circuit with small-signal parameters: it holds while the wavelength is long against the box. Parameters that are not given follow from the others: gapline box prints them.",
		Domain: "wavelength long against the box, small signals",
		Higher: wholeBox,
	}

	BoxMaxSPL = &Def{
		Key: "box.max_spl_db", Name: "maximum level of one box", Symbol: "L_max", Kind: quantity.Level, Trust: Aperture,
		Formula: "level at 1 m in half space at the voltage at which peak excursion reaches woofer.xmax or woofer.power goes into woofer.re, whichever is lower, at box.max_spl_at_hz",
		Hand: slices.Concat(inBox, fullDrive, []string{
			"p = ρ·f·n·S·v·U·|a/B|; pressure at 1 m in half space",
			"L_max = 20·log10(p/0.00002)",
			otherBoxes}),
		Terms: slices.Concat(inBoxTerms, pistonTerms, fullDriveTerms), Source: small,
		Note:   "Without the insert. Power compression is not modelled.",
		Domain: "wavelength long against the box; linear up to woofer.xmax, no power compression",
		Higher: wholeBox,
	}

	BoxMaxSPLAt = &Def{
		Key: "box.max_spl_at_hz", Name: "frequency of that level", Symbol: "f_L", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "targets.level_at, else targets.lowest, else box.f3_hz", Hand: []string{"f_L = targets.level_at, else targets.lowest, else box.f3_hz"}, Terms: From("targets.level_at", "targets.lowest", "box.f3_hz"),
		Source: "the design file's target",
		Note:   "Give targets.level_at when designs are compared: each box's own f3 is another yardstick.",
	}

	BoxSweptVolume = &Def{
		Key: "box.swept_volume_m3", Name: "swept volume of one box, one way", Symbol: "V_d", Kind: quantity.Volume, Trust: Geometry,
		Formula: "woofer.per_box · S_d · woofer.xmax", Hand: []string{pistonByHand, "V_d = n·S·x_max"},
		Terms: append([]Term{{"n", "woofer.per_box"}, {"x_max", "woofer.xmax"}}, pistonTerms...), Source: geometry,
		Note: "The most that the cones can move; what sets the level where excursion limits it.",
	}

	BoxDrivers = &Def{
		Key: "box.drivers", Name: "drivers in one box", Symbol: "n", Kind: quantity.Number, Trust: Geometry,
		Formula: "woofers + mids + one compression driver with a horn", Terms: From("woofer.per_box", "mid.per_box", "horn.coverage"), Source: counting,
	}

	BoxLineDrivers = &Def{
		Key: "box.line_drivers", Name: "drivers in the line", Symbol: "N·n", Kind: quantity.Number, Trust: Geometry,
		Formula: "line.boxes · box.drivers", Hand: []string{"n = line.boxes·box.drivers"}, Terms: From("line.boxes", "box.drivers"), Source: counting,
	}

	BoxCrossovers = &Def{
		Key: "box.crossovers", Name: "crossover points of one box", Symbol: "n_x", Kind: quantity.Number, Trust: Geometry,
		Formula: "bands − 1: woofers, mids if there are any, horn", Terms: From("mid.size", "horn.coverage"), Source: counting,
	}

	BoxCost = &Def{
		Key: "box.cost", Name: "cost of one box", Symbol: "K", Kind: quantity.Number, Trust: Geometry,
		Formula: "per_box·cost.woofer + per_box·cost.mid + cost.horn + crossovers·cost.crossover + cost.cabinet + cost.insert, for the parts that the box has",
		Terms:   From("cost.woofer", "cost.mid", "cost.horn", "cost.crossover", "cost.cabinet", "cost.insert"), Source: prices,
		Note: "Any currency, the same throughout. Missing when the price of a driver or crossover that the box has is missing.",
	}

	BoxLineCost = &Def{
		Key: "box.line_cost", Name: "cost of the line", Symbol: "N·K", Kind: quantity.Number, Trust: Geometry,
		Formula: "line.boxes · box.cost", Hand: []string{"K = line.boxes·box.cost"}, Terms: From("line.boxes", "box.cost"), Source: prices,
	}
)
