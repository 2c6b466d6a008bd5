package waveguide

import (
	"math"

	"gapline/internal/numeric"
)

// LobeLimit returns the lowest frequency in Hz at which any lobe of an endless
// line of such mouths at the pitch in m exceeds limit, a pressure ratio to the
// axis; +Inf when none does at any frequency. It needs no search lobe
// by lobe over sampled fronts: the front is a circle about the virtual apex,
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
		l.next()
		best = math.Min(best, l.firstOver(m, limit, best))
	}
	return best
}

// lobePoints is the order of the Gauss rule over the mouth; it integrates phase
// swings of 70 radians on either side, lobe 20 or so, to 1e-10.
const lobePoints = 64

// lobePairs are the points in pairs, one above the mouth's middle, one below.
const lobePairs = lobePoints / 2

// foldLobes is the front of a fold sampled for the lobes of a line.
type foldLobes struct {
	pitch, c, bulge float64
	mirrored        bool                  // the lower half is like the upper
	y               [lobePairs]float64    // height of the upper point of a pair, m
	lag, weight     [2][lobePairs]float64 // of the upper and the lower points: m, quadrature weight times amplitude
	turn, order     [lobePairs]complex128 // e^{j2πy/p}, and its power for the lobe looked at
	scratch, atBest mouthPhasors
}

func (f Fold) lobes(pitch float64) *foldLobes {
	l := &foldLobes{pitch: pitch, c: f.Spec.SoundSpeed, mirrored: f.apexY == 0 && f.Spec.ThroatHeight == 0}
	h := f.Spec.MouthHeight / 2
	near := f.bulgeAt(math.Max(-h, math.Min(h, f.apexY)) - f.apexY)
	rule := numeric.Legendre(lobePoints)
	for i := range lobePairs {
		x, w := rule.X[lobePairs+i], rule.W[lobePairs+i]/2
		l.y[i] = h * x
		for side, y := range [2]float64{h * x, -h * x} {
			if side == 1 && l.mirrored {
				l.lag[1][i], l.weight[1][i] = l.lag[0][i], l.weight[0][i]
				break
			}
			l.lag[side][i] = f.bulgeAt(y-f.apexY) - near
			l.weight[side][i] = w * math.Sqrt(f.Intensity(y))
		}
		sin, cos := math.Sincos(2 * math.Pi * l.y[i] / pitch)
		l.turn[i] = complex(cos, sin)
	}
	l.order = l.turn
	l.bulge = math.Max(f.bulgeAt(h-f.apexY), f.bulgeAt(h+f.apexY)) - near
	return l
}

// next goes on to the next lobe.
func (l *foldLobes) next() {
	for i, t := range &l.turn {
		l.order[i] *= t
	}
}

// bulgeAt is √(L² + d²) - L, for the distance d in m from the apex's height.
func (f Fold) bulgeAt(d float64) float64 {
	return d * d * f.invL / (math.Sqrt(1+d*d*f.invL*f.invL) + 1)
}

// mouthPhasors is the sound over the mouth at one frequency: of each pair of
// points the sum and the difference, and the sum of all, which is the axis.
type mouthPhasors struct {
	f               float64 // Hz; 0: nothing there yet
	sum, difference [lobePairs]complex128
	axis            complex128
}

// at works out the sound over the mouth at f in Hz.
func (l *foldLobes) at(p *mouthPhasors, f float64) {
	k := 2 * math.Pi * f / l.c
	p.f, p.axis = f, 0
	for i := range p.sum {
		upper := phasor(l.weight[0][i], -k*l.lag[0][i])
		lower := upper
		if !l.mirrored {
			lower = phasor(l.weight[1][i], -k*l.lag[1][i])
		}
		p.sum[i], p.difference[i] = upper+lower, upper-lower
		p.axis += p.sum[i]
	}
}

func phasor(amplitude, phase float64) complex128 {
	sin, cos := math.Sincos(phase)
	return complex(amplitude*cos, amplitude*sin)
}

// ratio is |E_m|/|E_0| of the lobe looked at, the worse of the two sides.
func (l *foldLobes) ratio(p *mouthPhasors) float64 {
	var even, odd complex128
	for i := range p.sum {
		even += p.sum[i] * complex(real(l.order[i]), 0)
	}
	if !l.mirrored {
		for i := range p.difference {
			odd += p.difference[i] * complex(0, imag(l.order[i]))
		}
	}
	worse := math.Max(norm(even+odd), norm(even-odd))
	return math.Sqrt(worse / norm(p.axis))
}

// firstOver is the lowest frequency, from where lobe m shows and below top, at
// which it exceeds limit; +Inf if there is none.
func (l *foldLobes) firstOver(m int, limit, top float64) float64 {
	onset := float64(m) * l.c / l.pitch
	over := func(f float64) float64 {
		l.at(&l.scratch, f)
		return l.ratio(&l.scratch) - limit
	}
	if over(onset) > 0 {
		return onset
	}
	if l.bulge < rounding {
		return math.Inf(1)
	}
	if !math.IsInf(top, 1) {
		if l.atBest.f != top {
			l.at(&l.atBest, top)
		}
		if !(l.ratio(&l.atBest) > limit) {
			return math.Inf(1)
		}
	}
	step := 0.1 * l.c / l.bulge
	end := math.Min(top, onset+10*step)
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
	for i := range lobePairs {
		for _, side := range &l.weight {
			sum += side[i]
			most = math.Max(most, side[i]/(rule.W[lobePairs+i]/2))
		}
	}
	h := 2 * l.y[lobePairs-1] // a little less than the mouth, which only loosens the bound
	return 2 * most * l.pitch / (2 * math.Pi * float64(m) * h * sum)
}
