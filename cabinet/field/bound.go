package field

import "math"

// The pressure of a patch is its far field with the phase of the mean path,
// plus a first-order correction for what near field and curved front bend. The
// bounds below are what is left out, as a part of the pressure that the patch
// would give if all its sound arrived in phase.
//
// With Q the phase over the patch less its mean and less what is linear in
// position, and ζ = (yv + zu)/r the linear change of amplitude:
//
//	left out by the corrected sum:  Q²/2, ζQ, the cubic phase S·ζ·k/2 and
//	the quartic kS²/(8r³) with S = y² + z², the front's cubic, and the quadratic
//	amplitude (3ζ² + S/r²)/2
//	left out by the plain sum:      also Q and ζ themselves
//
// Means over the patch follow by Cauchy and Schwarz. The bound is a quadratic in
// k, so that one patch serves all frequencies up to a limit. Products of what is
// left out and the drop of 1/r over the patch are not in the bound; boundMargin
// covers them.
type errorBound struct {
	square, linear, constant float64 // of k: rad²·m², m, 1
	rmsPhase                 float64 // rms of Q/k, m
	rmsAmplitude             float64 // rms of ζ
}

// rectangleBound is the bound of a patch with sides y and z seen from 1/ir away
// (0: the far field).
func rectangleBound(y, z *seenSide, ir float64) errorBound {
	a2, b2 := y.half*y.half, z.half*z.half
	v2, u2 := y.cosine*y.cosine, z.cosine*z.cosine
	qy := a2 * ((1-v2)*ir + y.bend) / 2
	qz := b2 * ((1-u2)*ir + z.bend) / 2
	// mean (t²−1/3)² = 4/45, mean s²t² = 1/9.
	ms := (qy*qy+qz*qz)*4/45 + a2*b2*u2*v2*ir*ir/9
	zeta2 := (a2*v2 + b2*u2) * ir * ir / 3
	s2 := a2*a2/5 + b2*b2/5 + 2*a2*b2/9 // mean S²
	// mean |t³|/6 = 1/24
	third := (y.third*a2*y.half + z.third*b2*z.half) / 24
	return boundOf(ms, zeta2, s2, (a2+b2)/3, ir, third)
}

// discBound is the bound of a disc of radius a seen at sin θ = w. The means over
// the disc are mean ρ⁴ = 1/3, mean t²ρ² = 1/6, mean t⁴ = 1/8.
func discBound(a, w, ir float64) errorBound {
	q := a * a * ir / 2
	w2 := w * w
	ms := q * q * (1.0/12 - w2/12 + w2*w2/16)
	return boundOf(ms, a*a*w2*ir*ir/4, a*a*a*a/3, a*a/2, ir, 0)
}

// boundOf puts the parts together: mean squares of Q/k, ζ and S, the mean of S,
// 1/r and the front's cubic.
func boundOf(ms, zeta2, s2, s1, ir, third float64) errorBound {
	rmsQ, rmsZ, rmsS := math.Sqrt(ms), math.Sqrt(zeta2), math.Sqrt(s2)
	return errorBound{
		square:       ms / 2,
		linear:       rmsZ*rmsQ + rmsS*rmsZ*ir/2 + s2*ir*ir*ir/8 + third,
		constant:     (3*zeta2 + s1*ir*ir) / 2,
		rmsPhase:     rmsQ,
		rmsAmplitude: rmsZ,
	}
}

// boundMargin is the part of the tolerance that the bound may use. A random
// search over mouths and places found errors up to just above the bare bound.
const boundMargin = 0.85

// corrected returns the largest k, rad/m, for which the corrected sum keeps
// within tol, or −1 when none does.
func (e errorBound) corrected(tol float64) float64 {
	return largest(e.square, e.linear, e.constant-boundMargin*tol)
}

// plain is corrected for the sum without the first-order correction.
func (e errorBound) plain(tol float64) float64 {
	return largest(e.square, e.linear+e.rmsPhase, e.constant+e.rmsAmplitude-boundMargin*tol)
}

// largest returns the largest k ≥ 0 with ak² + bk + c ≤ 0 for a, b ≥ 0; −1 when
// there is none, +Inf when every k will do.
func largest(a, b, c float64) float64 {
	if c > 0 {
		return -1
	}
	d := b + math.Sqrt(b*b-4*a*c)
	if d == 0 {
		return math.Inf(1)
	}
	return -2 * c / d
}
