package waveguide

import (
	"fmt"
	"math"

	"gapline/internal/numeric"
)

// What follows is the plain way to what LobeLimit and the lobes of a line take
// short cuts to.

// ParabolicFront is the small-angle form of CircularFront, lag = 4 s y²/h².
func ParabolicFront(h, s float64) MouthFront {
	return func(y float64) (float64, float64) { return 4 * s * y * y / (h * h), 1 }
}

// Pattern returns the far-field level in dB of the line against its own level on
// axis, at the frequency f in Hz and the angles in rad above the axis.
func (s StackFront) Pattern(f float64, angles []float64) []float64 {
	e := s.element(2 * math.Pi * f / s.SoundSpeed)
	level := s.pattern(e, f)
	out := make([]float64, len(angles))
	for i, a := range angles {
		out[i] = level(math.Sin(a))
	}
	return out
}

// RibbonLimit is the frequency in Hz up to which the line behaves as one ribbon:
// the lowest at which a lobe of the endless line exceeds target, in dB against
// the axis. It looks up to top in Hz, which must be positive and finite; ok is
// false when no lobe exceeds target there, and f is then top.
func (s StackFront) RibbonLimit(target, top float64) (f float64, ok bool, err error) {
	if err := s.Check(); err != nil {
		return 0, false, err
	}
	if !(top > 0) || math.IsInf(top, 0) {
		return 0, false, fmt.Errorf("top frequency is %g Hz; it must be more than 0 and finite", top)
	}
	limit := top
	for m := 1; ; m++ {
		onset := float64(m) * s.SoundSpeed / s.Pitch
		if onset >= limit {
			break
		}
		if x, found := s.passes(target, m, onset, limit); found {
			limit, ok = x, true
		}
	}
	return limit, ok, nil
}

// passes finds the lowest frequency in [from, to] at which lobe m exceeds target.
func (s StackFront) passes(target float64, m int, from, to float64) (float64, bool) {
	lobe := s.lobe(m, to)
	over := func(f float64) float64 {
		// An exact null is -Inf, which the root finder cannot use.
		return math.Max(lobe.level(f), -400) - target
	}
	if over(from) > 0 {
		return from, true
	}
	bulge := s.bulge()
	if bulge < rounding {
		return 0, false // the level of a plane front does not change with frequency
	}
	// The level changes with the bulge in wavelengths; a step adds 1/50 of one at
	// most, unless that takes more than a thousand steps.
	step := math.Max(math.Min((to-from)/40, s.SoundSpeed/bulge/50), (to-from)/1000)
	return numeric.FirstCrossing(over, from, to, step, 1e-6*to)
}
