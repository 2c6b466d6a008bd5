package waveguide

import (
	"math"
	"math/cmplx"

	"gapline/internal/numeric"
)

// endlessLobe is lobe m of the endless line at any frequency. Its direction is
// u = mλ/p, so that k·y·u = 2πm·y/p whatever the frequency: only the lag's phase
// changes, and the phase towards the lobe is worked out once.
type endlessLobe struct {
	front    frontSamples
	cos, sin []float64 // of 2πm·y/p
	c        float64
}

// lobe prepares lobe m for frequencies up to top in Hz.
func (s StackFront) lobe(m int, top float64) endlessLobe {
	turn := 2 * math.Pi * float64(m) / s.Pitch
	q := s.samples(turn*s.Height + 4*math.Pi*top/s.SoundSpeed*s.bulge())
	l := endlessLobe{front: q, cos: make([]float64, len(q.y)), sin: make([]float64, len(q.y)), c: s.SoundSpeed}
	for i, y := range q.y {
		l.sin[i], l.cos[i] = math.Sincos(turn * y)
	}
	return l
}

// level is |E(mλ/p)|/|E(0)| in dB at the frequency f in Hz, the worse of the two
// sides.
func (l endlessLobe) level(f float64) float64 {
	k := 2 * math.Pi * f / l.c
	var axis, even, odd complex128
	for i, lag := range l.front.lag {
		w := cmplx.Rect(l.front.weight[i], -k*lag)
		axis += w
		even += w * complex(l.cos[i], 0)
		odd += w * complex(0, l.sin[i])
	}
	return numeric.DB(math.Max(cmplx.Abs(even+odd), cmplx.Abs(even-odd)) / cmplx.Abs(axis))
}

// EndlessLobe is the level in dB of lobe m of an endless line at the frequency f
// in Hz against its level on axis, |E(mλ/p)|/|E(0)|, the worse of the two sides;
// NaN where it is not visible (mλ > p).
func (s StackFront) EndlessLobe(f float64, m int) float64 {
	if u := float64(m) * s.SoundSpeed / (f * s.Pitch); u > 1+1e-12 {
		return math.NaN()
	}
	return s.lobe(m, f).level(f)
}
