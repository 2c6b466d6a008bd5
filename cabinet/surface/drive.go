package surface

import (
	"math"
	"math/cmplx"

	"gapline/internal/air"
)

// Drive returns the normal velocity of every triangle at hz, m/s, six for each: at its
// corners and then at the midpoints of the edges opposite to them. velocity is that of
// each group that moves, as its part has it, m/s; Factor and the lag of a horn's front are
// put in here.
func (s *Surface) Drive(hz float64, velocity func(*Group) complex128) []complex128 {
	k := 2 * math.Pi * hz / air.Of(s.air).SoundSpeed
	of := make([]complex128, len(s.About))
	for i := range s.About {
		if g := &s.About[i]; g.Moves() {
			of[i] = velocity(g) * complex(g.Factor, 0)
		}
	}
	out := make([]complex128, points*len(s.Triangles))
	for t, g := range s.Group {
		if of[g] == 0 {
			continue
		}
		for i, lag := range s.Lag[t] {
			out[points*t+i] = of[g]
			if lag != 0 {
				out[points*t+i] *= cmplx.Exp(complex(0, -k*lag))
			}
		}
	}
	return out
}
