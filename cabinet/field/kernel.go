package field

import "math"

// The kernels add one patch to the sums of its drive, for a range of
// frequencies. pathSteps is the path in steps of the phasor table per Hz,
// scale the pattern's argument in table intervals per Hz.

// addPoint adds amp·e^{-jφ}.
func addPoint(re, im, hz []float64, pathSteps, amp float64) {
	re, im = re[:len(hz)], im[:len(hz)]
	for i, f := range hz {
		c, s := unit(f * pathSteps)
		re[i] += amp * c
		im[i] -= amp * s
	}
}

// addPattern adds amp·pattern·e^{-jφ}. The largest argument must lie within
// the table.
func addPattern(re, im, hz []float64, t *table, pathSteps, scale, amp float64) {
	re, im = re[:len(hz)], im[:len(hz)]
	for i, f := range hz {
		x := f * scale
		n := int(x)
		x -= float64(n)
		p := &t[n&(tableSize-1)]
		a := amp * (p[0] + x*(p[1]+x*(p[2]+x*p[3])))
		c, s := unit(f * pathSteps)
		re[i] += a * c
		im[i] -= a * s
	}
}

// addComplex adds (pr + j·pi)·e^{-jφ}.
func addComplex(re, im, hz, pr, pi []float64, pathSteps float64) {
	re, im = re[:len(hz)], im[:len(hz)]
	pr, pi = pr[:len(hz)], pi[:len(hz)]
	for i, f := range hz {
		c, s := unit(f * pathSteps)
		re[i] += pr[i]*c + pi[i]*s
		im[i] += pi[i]*c - pr[i]*s
	}
}

// view is how a patch is seen from the field point.
type view struct {
	u, v   float64 // direction cosines along height and width, less the front's slope
	du, dv float64 // the same without the front's slope
	ir     float64 // 1/r, 0 in the far field
	amp    float64 // weight·(1/r), or weight in the far field
	path   float64 // m
	bendY  float64 // curvature of the front, 1/m
	bendZ  float64
}

// rectanglePattern fills pr and pi with the pattern of a patch, corrected to
// first order in near field and front curvature, times amp.
func rectanglePattern(pr, pi, hz []float64, t *patternTables, p *patch, w *view, waveStep float64) {
	gy, gz := waveStep*p.a*w.v, waveStep*p.b*w.u // x per Hz
	half := waveStep / 2
	qy := half * p.a * p.a * ((1-w.dv*w.dv)*w.ir + w.bendY)
	qz := half * p.b * p.b * ((1-w.du*w.du)*w.ir + w.bendZ)
	qc := waveStep * p.a * p.b * w.du * w.dv * w.ir
	zy, zz := p.a*w.dv*w.ir, p.b*w.du*w.ir
	for i, f := range hz {
		y0, y1, y2 := lineTerms(t, f*gy)
		z0, z1, z2 := lineTerms(t, f*gz)
		pr[i] = w.amp * y0 * z0
		pi[i] = w.amp * (zy*y1*z0 + zz*y0*z1 - f*(qy*y2*z0+qz*y0*z2+qc*y1*z1))
	}
}

// lineTerms returns the three patterns of a line at x.
func lineTerms(t *patternTables, x float64) (even, odd, bend float64) {
	if x == 0 {
		return 1, 0, 0
	}
	return t.lookup(lineEven, x), t.lookup(lineOdd, x), t.lookup(lineBend, x)
}

// discPattern is rectanglePattern for a disc of radius a seen at sin θ = w.
func discPattern(pr, pi, hz []float64, t *patternTables, a, w, ir, amp, waveStep float64) {
	g := waveStep * a * w
	q := waveStep * a * a * ir / 2
	z := a * w * ir
	for i, f := range hz {
		x := f * g
		pr[i] = amp * t.lookup(discEven, x)
		pi[i] = amp * (z*t.lookup(discOdd, x) - f*q*(t.lookup(discRing, x)-w*w*t.lookup(discBend, x)))
	}
}

// attenuate multiplies pr and pi by e^{-αx}, x the path beyond the reference
// path in m, alpha in Np/m. The series is cut where its error is below 1e-5.
func attenuate(pr, pi, alpha []float64, x float64) {
	pr, pi = pr[:len(alpha)], pi[:len(alpha)]
	for i, a := range alpha {
		t := -a * x
		g := 1 + t*(1+t/2*(1+t/3*(1+t/4)))
		if math.Abs(t) > 0.25 {
			g = math.Exp(t)
		}
		pr[i] *= g
		pi[i] *= g
	}
}
