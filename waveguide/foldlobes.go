package waveguide

import (
	"math"

	"gapline/internal/numeric"
)

// LobeLimit returns the lowest frequency in Hz at which any lobe of an endless
// line of such mouths at the pitch in m exceeds limit, a pressure ratio to the
// axis; +Inf when none does at any frequency. It is RibbonLimit for a fold's own
// front, some fifty times faster: the front is a circle about the virtual apex,
// sampled once, and lobe m differs from lobe m-1 by a fixed turn at each point.
//
// Lobes of a curved front rise with frequency up to half a wave of bulge, so that
// only lobe 1 is followed over frequency; a higher one is looked at where the
// limit found so far lies, and followed when it is over there.
func (f Fold) LobeLimit(pitch, limit float64) float64 {
	l := f.lobes(pitch)
	best := l.firstOver(1, limit, math.Inf(1))
	for m := 2; m <= maxLobes; m++ {
		onset := float64(m) * l.c / pitch
		if onset >= best || math.IsInf(best, 1) && l.bound(m) < limit {
			break
		}
		best = math.Min(best, l.firstOver(m, limit, best))
	}
	return best
}

// lobePoints is the order of the Gauss rule over the mouth; it integrates phase
// swings of 70 radians on either side, lobe 20 or so, to 1e-10.
const lobePoints = 64

// foldLobes is the front of a fold sampled for the lobes of a line.
type foldLobes struct {
	pitch, c, bulge float64
	y, lag, weight  [lobePoints]float64 // m, m, quadrature weight times amplitude
}

func (f Fold) lobes(pitch float64) *foldLobes {
	l := &foldLobes{pitch: pitch, c: f.Spec.SoundSpeed}
	h := f.Spec.MouthHeight / 2
	near := math.Max(-h, math.Min(h, f.apexY)) - f.apexY
	rule := numeric.Legendre(lobePoints)
	for i, x := range rule.X {
		l.y[i] = h * x
		l.lag[i] = f.bulgeAt(h*x-f.apexY) - f.bulgeAt(near)
		l.weight[i] = rule.W[i] / 2 * math.Sqrt(f.Intensity(h*x))
	}
	l.bulge = math.Max(f.bulgeAt(h-f.apexY), f.bulgeAt(h+f.apexY)) - f.bulgeAt(near)
	return l
}

// bulgeAt is √(L² + d²) - L, for the distance d in m from the apex's height.
func (f Fold) bulgeAt(d float64) float64 {
	return d * d * f.invL / (math.Sqrt(1+d*d*f.invL*f.invL) + 1)
}

// ratio is |E_m|/|E_0| at the frequency f in Hz, the worse of the two sides.
func (l *foldLobes) ratio(m int, f float64) float64 {
	k := 2 * math.Pi * f / l.c
	turn := 2 * math.Pi * float64(m) / l.pitch
	var axis, even, odd complex128
	for i := range l.y {
		sin, cos := math.Sincos(-k * l.lag[i])
		w := complex(l.weight[i]*cos, l.weight[i]*sin)
		sin, cos = math.Sincos(turn * l.y[i])
		axis += w
		even += w * complex(cos, 0)
		odd += w * complex(0, sin)
	}
	worse := math.Max(norm(even+odd), norm(even-odd))
	return math.Sqrt(worse / norm(axis))
}

// firstOver is the lowest frequency, from where lobe m shows and below cap, at
// which it exceeds limit; +Inf if there is none.
func (l *foldLobes) firstOver(m int, limit, ceiling float64) float64 {
	onset := float64(m) * l.c / l.pitch
	over := func(f float64) float64 { return l.ratio(m, f) - limit }
	if over(onset) > 0 {
		return onset
	}
	if l.bulge < rounding {
		return math.Inf(1)
	}
	if !math.IsInf(ceiling, 1) && !(over(ceiling) > 0) {
		return math.Inf(1)
	}
	step := 0.1 * l.c / l.bulge
	end := math.Min(ceiling, onset+10*step)
	f, ok := numeric.FirstCrossing(over, onset, end, step, 1e-9*onset)
	if !ok {
		return math.Inf(1)
	}
	return f
}

// bound is a ratio that lobe m and all higher ones of a plane front stay under:
// by parts, |∫A e^{iκy}| <= (|A| at both edges + the variation of A)/κ, which is
// twice the largest A for an amplitude with one maximum.
func (l *foldLobes) bound(m int) float64 {
	sum, most := 0.0, 0.0
	rule := numeric.Legendre(lobePoints)
	for i, w := range l.weight {
		sum += w
		most = math.Max(most, w/(rule.W[i]/2))
	}
	h := 2 * math.Abs(l.y[0]) // a little less than the mouth, which only loosens the bound
	return 2 * most * l.pitch / (2 * math.Pi * float64(m) * h * sum)
}
