package field

import "math"

// The functions of this file work on a range of frequencies; those of vector.go do
// what is the same for every mouth.

// fill sets a to amp.
func fill(a []float64, amp float64) {
	for i := range a {
		a[i] = amp
	}
}

// flatTerms fills in the terms of a flat side for the frequencies lo to hi, the argument x
// per Hz of either sign.
func flatTerms(out *terms, hz []float64, t *patternTables, scale float64, lo, hi int) {
	clear(out.e0i[lo:hi])
	clear(out.e1r[lo:hi])
	clear(out.e2i[lo:hi])
	e0, e1, e2 := out.e0r[lo:hi], out.e1i[lo:hi], out.e2r[lo:hi]
	sign := math.Copysign(1, scale)
	scale = math.Abs(scale) * tableDensity
	for i, f := range hz[lo:hi] {
		x := f * scale
		if !(x < tableSize) {
			x /= tableDensity
			e0[i], e1[i], e2[i] = exactPattern(lineEven, x), sign*exactPattern(lineOdd, x), exactPattern(lineBend, x)
			continue
		}
		n := int(x)
		s := x - float64(n)
		n &= tableSize - 1
		e0[i], e1[i], e2[i] = t[lineEven][n].at(s), sign*t[lineOdd][n].at(s), t[lineBend][n].at(s)
	}
}

// correction holds the factors of the first-order correction.
type correction struct {
	amp    float64
	zy, zz float64 // half·cosine/r of each side: change of amplitude
	qy, qz float64 // k/2·half²·((1−cosine²)/r + bend) per Hz
	qc     float64 // k·product of halves and cosines/r per Hz
}

// corrected sets pr + j·pi for the frequencies lo to hi to
//
//	amp·{y0·z0 + zy·y1·z0 + zz·y0·z1 − jf[qy·y2·z0 + qz·y0·z2 − qc·y1·z1]}
func corrected(pr, pi, hz []float64, y, z *terms, c *correction, lo, hi int) {
	pr, pi, hz = pr[lo:hi], pi[lo:hi], hz[lo:hi]
	y0r, y0i, y1r, y1i, y2r, y2i := y.e0r[lo:hi], y.e0i[lo:hi], y.e1r[lo:hi], y.e1i[lo:hi], y.e2r[lo:hi], y.e2i[lo:hi]
	z0r, z0i, z1r, z1i, z2r, z2i := z.e0r[lo:hi], z.e0i[lo:hi], z.e1r[lo:hi], z.e1i[lo:hi], z.e2r[lo:hi], z.e2i[lo:hi]
	for i, f := range hz {
		ar, ai, br, bi := y0r[i], y0i[i], z0r[i], z0i[i]
		qy, qz, qc := f*c.qy, f*c.qz, f*c.qc
		// first and second: what is left of y and of z, all but their e0
		fr, fi := c.zy*y1r[i]+qy*y2i[i], c.zy*y1i[i]-qy*y2r[i]
		sr, si := br+c.zz*z1r[i]+qz*z2i[i], bi+c.zz*z1i[i]-qz*z2r[i]
		cr, ci := y1r[i]*z1r[i]-y1i[i]*z1i[i], y1r[i]*z1i[i]+y1i[i]*z1r[i]
		pr[i] = c.amp * (ar*sr - ai*si + fr*br - fi*bi - qc*ci)
		pi[i] = c.amp * (ar*si + ai*sr + fr*bi + fi*br + qc*cr)
	}
}

// discPattern is the corrected pattern of a disc of radius a seen at sin θ = w.
func discPattern(pr, pi, hz []float64, t *patternTables, a, w, ir, amp, waveStep float64) {
	g := waveStep * a * w * tableDensity
	q := amp * waveStep * a * a * ir / 2
	z := amp * a * w * ir
	for i, f := range hz {
		x := f * g
		if !(x < tableSize) {
			x /= tableDensity
			pr[i] = amp * exactPattern(discEven, x)
			pi[i] = z*exactPattern(discOdd, x) - f*q*(exactPattern(discRing, x)-w*w*exactPattern(discBend, x))
			continue
		}
		n := int(x)
		s := x - float64(n)
		n &= tableSize - 1
		pr[i] = amp * t[discEven][n].at(s)
		pi[i] = z*t[discOdd][n].at(s) - f*q*(t[discRing][n].at(s)-w*w*t[discBend][n].at(s))
	}
}

// attenuate multiplies p by e^{-αx}, x the path beyond the reference path in m, alpha
// in Np/m. It grows with frequency, so that its last value decides whether a series to
// x⁴ will do (error below 1e-5).
func attenuate(p, alpha []float64, x float64) {
	if math.Abs(alpha[len(alpha)-1]*x) <= 0.25 {
		timesDecay(p, alpha, x)
		return
	}
	for i, a := range alpha {
		p[i] *= math.Exp(-a * x)
	}
}
