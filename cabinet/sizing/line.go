package sizing

import "gapline/internal/numeric"

// LineSizing is what arithmetic says of the whole line, SI.
type LineSizing struct {
	Turn      float64 // from the first to the last box, rad
	NearField float64 // L²/(2λ) at 1 kHz, m
}

// nearFieldAt is the frequency at which the end of the near field is quoted, Hz:
// it grows in proportion.
const nearFieldAt = 1000

// sizeLine takes the number of boxes, the length of the line in m, the angles
// between neighbours in rad and the speed of sound in m/s.
func sizeLine(boxes int, length float64, splay []float64, c float64) LineSizing {
	s := LineSizing{Turn: numeric.Absent, NearField: length * length * nearFieldAt / (2 * c)}
	if boxes > 0 {
		s.Turn = 0
		for _, a := range splay {
			s.Turn += a
		}
	}
	return s
}
