package listen

import (
	"math/cmplx"

	"gapline/internal/numeric"
)

// Rematch is a band that plays at another level in B than in A because each state matches
// it to the band beside it.
type Rematch struct {
	Band string
	By   float64 // level in B less that in A, on the axis of one box, dB
}

// Rematched lists the upper bands of A that B has too, at their crossover in A, where
// levels are of one reference.
func (r *Result) Rematched() []Rematch {
	var out []Rematch
	a, b := r.A.Model, r.B.Model
	if a.Absolute != b.Absolute {
		return nil
	}
	for _, x := range a.Crossing {
		i, j := a.Band(x.High), b.Band(x.High)
		if j < 0 {
			continue
		}
		by := numeric.DB(cmplx.Abs(b.Bands[j].OnAxis(x.Frequency)) / cmplx.Abs(a.Bands[i].OnAxis(x.Frequency)))
		out = append(out, Rematch{x.High, by})
	}
	return out
}
