package figures

import (
	"gapline/cabinet/sizing"
	"gapline/internal/quantity"
)

// lineFigures are those of the stack that need no field; gapline line computes the
// others.
var lineFigures = []Figure{
	{
		Key: "line.splay_total_deg", Name: "splay from first to last box", Symbol: "Σα", Kind: quantity.Angle, Level: Geometry,
		Formula: "sum of line.splay", Inputs: []string{"line.splay", "line.boxes"}, Source: geometry,
		Value: func(s *sizing.Sizing) float64 { return s.Line.Turn },
	},
	{
		Key: "line.near_field_1khz_m", Name: "near field ends at 1 kHz", Symbol: "L²/(2λ)", Kind: quantity.Length, Level: Rule,
		Formula: "L²·f/(2c) at f = 1 kHz, L = line.boxes times pitch; in proportion to f",
		Inputs:  []string{"line.boxes", "cabinet.pitch"},
		Source:  "D. L. Smith, JAES 45 (1997) 949-964; M. S. Ureda, JAES 52 (2004) 467-495 (attribution from memory)",
		Note: "For a straight line. There its level is already within 1 dB of the spherical law; nearer by, it swings by about ±2.5 dB about 3 dB per doubling. " +
			"gapline line shows where the slope of the stack as hung crosses 4.5 dB per doubling.",
		Value: func(s *sizing.Sizing) float64 { return s.Line.NearField },
	},
}
