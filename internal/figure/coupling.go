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
		Formula: "c/(N·p): the wavelength is the line's length",
		Terms:   []Term{{"N", "line.boxes"}, {"p", "cabinet.pitch"}}, Source: practice,
		Note:   "A gradual start, not an edge: below it the line has no vertical pattern to speak of.",
		Domain: "straight line",
	}

	CouplingPitch = &Def{
		Key: "coupling.pitch_m", Name: "pitch, box to box", Symbol: "p", Kind: quantity.Length, Trust: Geometry,
		Formula: "cabinet.pitch, or cabinet.height + cabinet.gap",
		Terms:   From("cabinet.pitch", "cabinet.height", "cabinet.gap"), Source: geometry,
	}

	CouplingLength = &Def{
		Key: "coupling.length_m", Name: "length of the line", Symbol: "N·p", Kind: quantity.Length, Trust: Geometry,
		Formula: "line.boxes times pitch", Terms: From("line.boxes", "cabinet.pitch"), Source: geometry,
	}
)

// Line is the figures of one line of mouths.
type Line struct{ Spacing, HalfWave, Lobe, FirstLobe, Share, Efficiency *Def }

// The lines of mouths that a design may have: the woofers as bare cones, behind
// their insert, and the mids.
var (
	CouplingOpen = newLine("coupling.open", "first_lobe_db", "woofer line, bare cones",
		Term{"", "woofer.size"}, Term{"n", "woofer.per_box"}, Term{"d", "woofer.spacing"})
	CouplingInsert = newLine("coupling.insert", "residual_lobe_db", "woofer line with the insert",
		Term{"n", "insert.mouths"}, Term{"d", "insert.spacing"}, Term{"", "insert.mouth_height"})
	CouplingMid = newLine("coupling.mid", "first_lobe_db", "mid line",
		Term{"", "mid.size"}, Term{"n", "mid.per_box"}, Term{"d", "mid.spacing"})
)

// all lists the figures of the line in the order in which they are printed.
func (l Line) all() []*Def {
	return []*Def{l.Spacing, l.HalfWave, l.Lobe, l.FirstLobe, l.Share, l.Efficiency}
}

// newLine makes the figures of the line of mouths called what, whose keys start with
// group. The key of its first lobe ends in lobe; mouths are the keys that shape it,
// with the symbols of its count and its spacing.
func newLine(group, lobe, what string, mouths ...Term) Line {
	l := Line{
		HalfWave: &Def{
			Key: group + ".half_wave_hz", Name: "couples up to, half-wave rule", Symbol: "f_½", Kind: quantity.Frequency, Trust: Rule,
			Formula: "c/(2·s); " + what, Terms: []Term{{"s", group + ".spacing_m"}}, Source: practice,
			Note:   "Keeps the whole pattern clean, splayed or steered. The first true lobe of a straight line comes an octave higher.",
			Domain: "lines straight, splayed or steered",
		},
		Efficiency: &Def{
			Key: group + ".efficiency", Name: "share of a continuous line's directivity", Symbol: "Q/Q_line", Kind: quantity.Number, Trust: Aperture,
			Formula: "Q of the line of N boxes over Q of a continuous line of the same length, 1/Q = ∫₀¹ |pattern|² d(sin θ), at horn.lower_hz (at the half-wave limit when that is not known); " + what,
			Terms:   with(mouths, "", Term{Key: "cabinet.pitch"}, Term{"N", "line.boxes"}, Term{Key: "horn.lower_hz"}), Source: kinsler,
			Note:   "1 is as good as a line without gaps; what is missing went into lobes.",
			Domain: "far field of a straight line of like boxes, driven alike",
		},
	}
	l.addSpacing(group, what, mouths)
	l.addLobes(group, lobe, what, mouths)
	return l
}

// addSpacing adds the figures of geometry.
func (l *Line) addSpacing(group, what string, mouths []Term) {
	l.Spacing = &Def{
		Key: group + ".spacing_m", Name: "largest spacing of centres", Symbol: "s", Kind: quantity.Length, Trust: Geometry,
		Formula: "max(d, p − (n−1)·d) for n centres spaced d in each box; p for one centre; " + what,
		Terms:   with(mouths, "nd", Term{"p", "cabinet.pitch"}), Source: geometry,
	}
	l.Share = &Def{
		Key: group + ".share", Name: "radiating share", Symbol: "h/p", Kind: quantity.Number, Trust: Geometry,
		Formula: "height of the mouths (diameter of the cones) over pitch; " + what, Terms: with(mouths, "", Term{Key: "cabinet.pitch"}), Source: heil,
		Note: "For strips about 0.79 keeps every lobe of an endless line under −12 dB; round cones need 0.93.",
	}
}

// addLobes adds the figures of the lobes, which are sums over one box.
func (l *Line) addLobes(group, lobe, what string, mouths []Term) {
	const endless = "far field of an endless straight line of like boxes, driven alike"
	l.Lobe = &Def{
		Key: group + ".lobe_hz", Name: "couples up to, lobe criterion", Symbol: "f_lobe", Kind: quantity.Frequency, Trust: Aperture,
		Formula: "lowest m·c/p whose lobe |E(θ_m)|/|E(0)| exceeds targets.lobe_level; E sums the mouths of one box with their patterns, sin θ_m = m·λ/p; " + what,
		Terms:   with(mouths, "", Term{"p", "cabinet.pitch"}, Term{Key: "targets.lobe_level"}), Source: olson,
		Note:   "A property of the box in an endless straight line. A finite line of N shows the lobe's skirt from about (1 − 1/N) of it on. None: no lobe exceeds the target at any frequency.",
		Domain: endless,
	}
	l.FirstLobe = &Def{
		Key: group + "." + lobe, Name: "first lobe, at c/p", Symbol: "L₁", Kind: quantity.Level, Trust: Aperture,
		Formula: "20·log10 of |E(θ₁)|/|E(0)|; for two mouths |cos(π·d/p)| times the mouth's pattern; " + what,
		Terms:   with(mouths, "d", Term{"p", "cabinet.pitch"}), Source: olson,
		Note:   "Two mouths at half the pitch cancel it; a spacing 10 % off leaves about −16 dB. Held at −200 dB, on the screen \"no lobe\", where it cancels exactly. Not given for a single centre of unknown size.",
		Domain: endless,
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
