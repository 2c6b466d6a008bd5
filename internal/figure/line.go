package figure

import "gapline/internal/quantity"

// The figures of the whole line that need no field.
var (
	LineSplayTotal = &Def{
		Key: "line.splay_total_deg", Name: "splay from first to last box", Symbol: "Σα", Kind: quantity.Angle, Trust: Geometry,
		Formula: "sum of line.splay", Terms: From("line.splay", "line.boxes"), Source: geometry,
	}

	LineNearField1kHz = &Def{
		Key: "line.near_field_1khz_m", Name: "near field ends at 1 kHz", Symbol: "L²/(2λ)", Kind: quantity.Length, Trust: Rule,
		Formula: "L²·f/(2·c) at f = 1 kHz, L = line.boxes times pitch; in proportion to f",
		Hand:    []string{"L = N·p", "d = L²·1000/(2·c)"},
		Higher:  "gapline line (aperture) sums all mouths at their places and shows where the slope turns",
		Terms:   []Term{{"N", "line.boxes"}, {"p", "cabinet.pitch"}},
		Source: "D. L. Smith, JAES 45 (1997) 949-964; M. S. Ureda, JAES 52 (2004) 467-495 (attribution from memory); " +
			"1.5·F·L²·√…: C. Heil and M. Urban, AES 92nd Convention, 1992, preprint 3269",
		Note: "For a straight line. There its level is already within 1 dB of the spherical law; nearer by, it swings by about ±2.5 dB about 3 dB per doubling. " +
			"gapline line shows where the slope of the stack as hung crosses 4.5 dB per doubling, and beside L²/(2λ) its near relation with λ taken as 1/(3F), " +
			"1.5·F·L²·√(1 − 1/(3·F·L)²) with F in kHz and L in m, and L²/λ, where the cylinder's and the sphere's law cross.",
		Domain: "straight line, driven evenly, long against the wavelength",
		Style:  InHall,
	}
)
