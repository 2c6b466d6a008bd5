package sizing

import (
	"gapline/cabinet/design"
	"gapline/internal/numeric"
)

// LineSizing is what arithmetic says of the whole line, SI.
type LineSizing struct {
	Turn      float64 // from the first to the last box, rad
	NearField float64 // L²/(2λ) at 1 kHz, m
}

// nearFieldAt is the frequency at which the end of the near field is quoted, Hz:
// it grows in proportion.
const nearFieldAt = 1000

func sizeLine(d *design.Design, c float64) LineSizing {
	s := LineSizing{Turn: numeric.Absent, NearField: d.Length() * d.Length() * nearFieldAt / (2 * c)}
	if d.Line.Boxes > 0 {
		s.Turn = 0
		for _, a := range d.Line.Splay {
			s.Turn += a
		}
	}
	return s
}
