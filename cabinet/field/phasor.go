package field

import "math"

// Phasors come from a table of turnSteps points on the circle and the series
// to second order in the remaining angle δ ≤ π/turnSteps:
//
//	e^{jδ} ≈ 1 − δ²/2 + jδ, error ≤ δ³/6 = 4.8e-9
const turnSteps = 1024

// stepAngle is the angle between two points of the table, rad.
const stepAngle = 2 * math.Pi / turnSteps

// roundMagic added to and taken from x rounds it to a whole number, |x| < 2⁵¹;
// the low bits of the sum are that number in two's complement.
const roundMagic = 0x1.8p52

// circle holds cos and sin of the steps. It is read-only.
var circle = func() *[turnSteps][2]float64 {
	t := new([turnSteps][2]float64)
	for i := range t {
		s, c := math.Sincos(float64(i) * stepAngle)
		t[i] = [2]float64{c, s}
	}
	return t
}()

// unit returns cos and sin of an angle given in steps, |steps| < 2⁵¹.
func unit(steps float64) (c, s float64) {
	t := steps + roundMagic
	d := (steps - (t - roundMagic)) * stepAngle
	p := &circle[math.Float64bits(t)&(turnSteps-1)]
	q := 1 - d*d/2
	return p[0]*q - p[1]*d, p[1]*q + p[0]*d
}
