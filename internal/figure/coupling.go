package figure

import (
	"slices"
	"strings"

	"gapline/internal/quantity"
)

// The figures of the stack of boxes.
var (
	CouplingLower = &Def{
		Key: "coupling.lower_hz", Name: "line starts to couple", Symbol: "f_low", Kind: quantity.Frequency, Trust: Rule,
		Formula: "c/(N·p): the wavelength is the line's length", Hand: []string{"f_low = c/(N·p)"},
		Terms: []Term{{"N", "line.boxes"}, {"p", "cabinet.pitch"}}, Source: practice,
		Note:   "A gradual start, not an edge: below it the line has no vertical pattern to speak of.",
		Domain: "straight line",
	}

	CouplingPitch = &Def{
		Key: "coupling.pitch_m", Name: "pitch, box to box", Symbol: "p", Kind: quantity.Length, Trust: Geometry,
		Formula: "cabinet.pitch, or cabinet.height + cabinet.gap", Hand: []string{"p = cabinet.pitch, else cabinet.height + cabinet.gap"},
		Terms: From("cabinet.pitch", "cabinet.height", "cabinet.gap"), Source: geometry,
	}

	CouplingLength = &Def{
		Key: "coupling.length_m", Name: "length of the line", Symbol: "N·p", Kind: quantity.Length, Trust: Geometry,
		Formula: "line.boxes times pitch", Hand: []string{"L = N·p"}, Terms: []Term{{"N", "line.boxes"}, {"p", "cabinet.pitch"}}, Source: geometry,
	}
)

// Line is the figures of one line of mouths.
type Line struct{ Spacing, HalfWave, Lobe, FirstLobe, Share, Efficiency *Def }

// centres are the mouths of a line as its formulas have them: the keys that shape it under
// their symbols, and the lines in which formulas in full begin.
type centres struct {
	terms   []Term
	apart   string   // the way to the spacing of the centres, d
	share   []string // the lines to the radiating share
	pattern []string // the mouth's own pattern P at x, π·m/p times its extent
}

const pistonWide = "D = d_e, else 2·√(S_d/π), else 0.82·d_n; of the piston"

// cones are round, and n of them stand one above the other where their spacing is given.
func cones(table string) centres {
	return centres{
		terms: []Term{{"d_e", table + ".effective_diameter"}, {"S_d", table + ".sd"}, {"d_n", table + ".size"}, {"n", table + ".per_box"}, {"d", table + ".spacing"}},
		apart: "d",
		share: []string{pistonWide, "r = n where d is given, else 1; one above the other", "σ = r·D/p"},
		pattern: []string{
			pistonWide,
			"x = π·m·D/p",
			"P = 2·J₁(x)/x; of a round piston, J₁ the Bessel function",
		},
	}
}

// The lines of mouths that a design may have: the woofers as bare cones, behind
// their insert, and the mids.
var (
	CouplingOpen   = newLine("coupling.open", "first_lobe_db", "woofer line, bare cones", cones("woofer"))
	CouplingInsert = newLine("coupling.insert", "residual_lobe_db", "woofer line with the insert", centres{
		terms:   []Term{{"n", "insert.mouths"}, {"d", "insert.spacing"}, {"h", "insert.mouth_height"}},
		apart:   "d, else p/n",
		share:   []string{"σ = n·h/p"},
		pattern: []string{"x = π·m·h/p", "P = sin(x)/x, else 1; of a strip"},
	})
	CouplingMid = newLine("coupling.mid", "first_lobe_db", "mid line", cones("mid"))
)

// all lists the figures of the line in the order in which they are printed.
func (l Line) all() []*Def {
	return []*Def{l.Spacing, l.HalfWave, l.Lobe, l.FirstLobe, l.Share, l.Efficiency}
}

// newLine makes the figures of the line of mouths called what, whose keys start with
// group. The key of its first lobe ends in lobe.
func newLine(group, lobe, what string, mouths centres) Line {
	l := Line{
		HalfWave: &Def{
			Key: group + ".half_wave_hz", Name: "couples up to, half-wave rule", Symbol: "f_½", Kind: quantity.Frequency, Trust: Rule,
			Formula: "c/(2·s); " + what, Hand: []string{"f_½ = c/(2·s)"}, Terms: []Term{{"s", group + ".spacing_m"}}, Source: practice,
			Note:   "Keeps the whole pattern clean, splayed or steered. The first true lobe of a straight line comes an octave higher.",
			Domain: "lines straight, splayed or steered",
			Higher: group + ".lobe_hz (aperture) weighs each lobe by the mouths' own pattern; gapline wave --of front solves the outside of the boxes",
		},
		Efficiency: &Def{
			Key: group + ".efficiency", Name: "share of a continuous line's directivity", Symbol: "Q/Q_line", Kind: quantity.Number, Trust: Aperture,
			Formula: "Q of the line of N boxes over Q of a continuous line of the same length, 1/Q = ∫₀¹ |pattern|² d(sin θ), at horn.lower_hz (at the half-wave limit when that is not known); " + what,
			Terms:   with(mouths.terms, "", Term{Key: "cabinet.pitch"}, Term{"N", "line.boxes"}, Term{Key: "horn.lower_hz"}), Source: kinsler,
			Note:   "1 is as good as a line without gaps; what is missing went into lobes.",
			Domain: "far field of a straight line of like boxes, driven alike",
		},
	}
	l.addSpacing(group, what, mouths)
	l.addLobes(group, lobe, what, mouths)
	return l
}

// addSpacing adds the figures of geometry.
func (l *Line) addSpacing(group, what string, mouths centres) {
	l.Spacing = &Def{
		Key: group + ".spacing_m", Name: "largest spacing of centres", Symbol: "s", Kind: quantity.Length, Trust: Geometry,
		Formula: "max(d, p − (n−1)·d) for n centres spaced d in each box; p for one centre; " + what,
		Hand:    []string{"a = " + mouths.apart + "; between the centres of one box", "s = max(a, p − (n − 1)·a), else p"},
		Terms:   with(mouths.terms, "nd", Term{"p", "cabinet.pitch"}), Source: geometry,
	}
	l.Share = &Def{
		Key: group + ".share", Name: "radiating share", Symbol: "h/p", Kind: quantity.Number, Trust: Geometry,
		Formula: "height of the mouths (diameter of the cones) over pitch; " + what, Hand: mouths.share, Terms: slices.Concat(mouths.terms, []Term{{"p", "cabinet.pitch"}}), Source: heil,
		Note: "For strips about 0.79 keeps every lobe of an endless line under −12 dB; round cones need 0.93.",
	}
}

// lobeByHand are the lines to the level of lobe m, L_m.
func (c *centres) lobeByHand() []string {
	return slices.Concat([]string{"a = " + c.apart + "; between the centres of one box"}, c.pattern, []string{
		"E = sin(n·π·m·a/p)/(n·sin(π·m·a/p)), else 1; of n centres",
		"L_m = 20·log10(|E·P|); of lobe m, at sin θ = m·λ/p",
	})
}

// addLobes adds the figures of the lobes, which are sums over one box.
func (l *Line) addLobes(group, lobe, what string, mouths centres) {
	const endless = "far field of an endless straight line of like boxes, driven alike"
	const solved = "gapline wave --of front solves the outside of the boxes, whose fronts and edges the sum leaves out"
	l.Lobe = &Def{
		Key: group + ".lobe_hz", Name: "couples up to, lobe criterion", Symbol: "f_lobe", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "lowest m·c/p whose lobe |E(θ_m)|/|E(0)| exceeds targets.lobe_level; E sums the mouths of one box with their patterns, sin θ_m = m·λ/p; " + what,
		Hand:    append(mouths.lobeByHand(), "f_lobe = m·c/p, at the least m = 1, 2, 3 … with L_m > L_t"),
		Terms:   slices.Concat(mouths.terms, []Term{{"p", "cabinet.pitch"}, {"L_t", "targets.lobe_level"}}), Source: olson,
		Note:   "A property of the box in an endless straight line. A finite line of N shows the lobe's skirt from about (1 − 1/N) of it on. None: no lobe exceeds the target at any frequency.",
		Domain: endless,
		Higher: solved,
	}
	l.FirstLobe = &Def{
		Key: group + "." + lobe, Name: "first lobe, at c/p", Symbol: "L₁", Kind: quantity.Level, Trust: Aperture,
		Formula: "20·log10 of |E(θ₁)|/|E(0)|; for two mouths |cos(π·d/p)| times the mouth's pattern; " + what,
		Hand:    slices.Concat([]string{"m = 1"}, mouths.lobeByHand(), []string{"L₁ = max(L_m, −200)"}),
		Terms:   slices.Concat(mouths.terms, []Term{{"p", "cabinet.pitch"}}), Source: olson,
		Note:   "Two mouths at half the pitch cancel it; a spacing 10 % off leaves about −16 dB. Held at −200 dB, on the screen \"no lobe\", where it cancels exactly. Not given for a single centre of unknown size.",
		Domain: endless,
		Higher: solved,
		Words:  noLobe,
	}
}

// with adds terms to those of the mouths, which keep the symbols that the formula has.
func with(mouths []Term, symbols string, more ...Term) []Term {
	terms := slices.Concat(mouths, more)
	for i := range mouths {
		if !strings.Contains(symbols, terms[i].Symbol) {
			terms[i].Symbol = ""
		}
	}
	return terms
}
