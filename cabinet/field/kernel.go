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

// timesTerms multiplies pr and pi by e0 of each of the terms.
func timesTerms(pr, pi []float64, t []terms) {
	pr, pi = pr[:len(t)], pi[:len(t)]
	for i := range t {
		q := complex(pr[i], pi[i]) * t[i].e0
		pr[i], pi[i] = real(q), imag(q)
	}
}

// timesCurved multiplies pr and pi by e0 of a curved side, the argument x per Hz.
func timesCurved(pr, pi, hz []float64, t []curveTable, scale float64) {
	pr, pi, t = pr[:len(hz)], pi[:len(hz)], t[:len(hz)]
	for i, f := range hz {
		q := complex(pr[i], pi[i]) * t[i].e0At(f*scale)
		pr[i], pi[i] = real(q), imag(q)
	}
}

// flatTerms fills in the terms of a flat side, the argument x per Hz of either
// sign.
func flatTerms(out []terms, hz []float64, t *patternTables, scale float64) {
	out = out[:len(hz)]
	sign := math.Copysign(1, scale)
	scale = math.Abs(scale) * tableDensity
	for i, f := range hz {
		x := f * scale
		if !(x < tableSize) {
			x /= tableDensity
			out[i] = terms{complex(exactPattern(lineEven, x), 0),
				complex(0, sign*exactPattern(lineOdd, x)), complex(exactPattern(lineBend, x), 0)}
			continue
		}
		n := int(x)
		s := x - float64(n)
		n &= tableSize - 1
		e, o, b := &t[lineEven][n], &t[lineOdd][n], &t[lineBend][n]
		out[i] = terms{
			complex(e.at(s), 0),
			complex(0, sign*o.at(s)),
			complex(b.at(s), 0),
		}
	}
}

// curvedTerms fills in the terms of a curved side.
func curvedTerms(out []terms, hz []float64, t []curveTable, scale float64) {
	out, t = out[:len(hz)], t[:len(hz)]
	for i, f := range hz {
		out[i] = t[i].at(f * scale)
	}
}

// correction holds the factors of the first-order correction.
type correction struct {
	amp    float64
	zy, zz float64 // half·cosine/r of each side: change of amplitude
	qy, qz float64 // k/2·half²·((1−cosine²)/r + bend) per Hz
	qc     float64 // k·product of halves and cosines/r per Hz
}

// corrected sets pr + j·pi to
//
//	amp·{y0·z0 + zy·y1·z0 + zz·y0·z1 − jf[qy·y2·z0 + qz·y0·z2 − qc·y1·z1]}
func corrected(pr, pi, hz []float64, y, z []terms, c *correction) {
	pr, pi, y, z = pr[:len(hz)], pi[:len(hz)], y[:len(hz)], z[:len(hz)]
	for i, f := range hz {
		a, b := &y[i], &z[i]
		first := times(c.zy, a.e1) + times(-f*c.qy, j(a.e2))
		second := times(c.zz, b.e1) + times(-f*c.qz, j(b.e2))
		p := a.e0*(b.e0+second) + first*b.e0 + times(f*c.qc, j(a.e1*b.e1))
		pr[i], pi[i] = c.amp*real(p), c.amp*imag(p)
	}
}

// times returns s·p without the complex product.
func times(s float64, p complex128) complex128 { return complex(s*real(p), s*imag(p)) }

// j returns j·p.
func j(p complex128) complex128 { return complex(-imag(p), real(p)) }

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
