package cabinet

import (
	"gapline/internal/numeric"
	"gapline/internal/quantity"
)

// LineSizing is what arithmetic says of the whole line, SI.
type LineSizing struct {
	Turn      float64 // from the first to the last box, rad
	NearField float64 // L²/(2λ) at 1 kHz, m
}

// nearFieldAt is the frequency at which the end of the near field is quoted, Hz:
// it grows in proportion.
const nearFieldAt = 1000

func sizeLine(d *Design, c float64) LineSizing {
	s := LineSizing{Turn: numeric.Absent, NearField: d.Length() * d.Length() * nearFieldAt / (2 * c)}
	if d.Line.Boxes > 0 {
		s.Turn = 0
		for _, a := range d.Line.Splay {
			s.Turn += a
		}
	}
	return s
}

// lineFigures are those of the stack that need no field; gapline line computes the
// others.
var lineFigures = []Figure{
	{
		Key: "line.splay_total_deg", Name: "splay from first to last box", Symbol: "Σα", Kind: quantity.Angle, Level: Exact,
		Formula: "sum of line.splay", Inputs: []string{"line.splay", "line.boxes"}, Source: geometry,
		Value: func(s *Sizing) float64 { return s.Line.Turn },
	},
	{
		Key: "line.near_field_1khz_m", Name: "near field ends at 1 kHz", Symbol: "L²/(2λ)", Kind: quantity.Length, Level: Rule,
		Formula: "L²·f/(2c) at f = 1 kHz, L = line.boxes times pitch; in proportion to f",
		Inputs:  []string{"line.boxes", "cabinet.pitch"},
		Source: "D. L. Smith, JAES 45 (1997) 949-964; M. S. Ureda, JAES 52 (2004) 467-495 (attribution from memory); " +
			"1.5·F·L²·√…: C. Heil and M. Urban, AES 92nd Convention, 1992, preprint 3269",
		Note: "For a straight line. There its level is already within 1 dB of the spherical law; nearer by, it swings by about ±2.5 dB about 3 dB per doubling. " +
			"gapline line shows where the slope of the stack as hung crosses 4.5 dB per doubling, and beside L²/(2λ) its near relation with λ taken as 1/(3F), " +
			"1.5·F·L²·√(1 − 1/(3·F·L)²) with F in kHz and L in m, and L²/λ, where the cylinder's and the sphere's law cross.",
		Value: func(s *Sizing) float64 { return s.Line.NearField },
	},
}
