package waveguide

import (
	"math"

	"gapline/internal/numeric"
)

// Sagitta returns how far a circular front, whose apex lies a path length L
// behind the mouth plane, bulges over a mouth of height h: √(L² + (h/2)²) − L.
// All in m; 0 for L = +Inf.
func Sagitta(height, path float64) float64 {
	return height * bulge(path/height, 0.5)
}

// FlatTo returns the frequency in Hz up to which a front of sagitta s in m is
// flat to a quarter wave, c/(4s) (C. Heil and M. Urban, AES 92nd Convention,
// 1992, preprint 3269); +Inf for s = 0.
func FlatTo(sagitta, c float64) float64 { return c / (4 * sagitta) }

// PathForSagitta returns the path length in m that keeps the sagitta of a mouth
// of height h at s: ((h/2)² − s²)/(2s). It is NaN when s exceeds h/2, since no
// front with its apex behind the mouth bulges that much.
func PathForSagitta(height, sagitta float64) float64 {
	if sagitta >= height/2 {
		return numeric.Absent
	}
	return (height*height/4 - sagitta*sagitta) / (2 * sagitta)
}

// FrontLobe returns the level, as a pressure ratio to the axis, of lobe m of an
// endless line of mouths with the given height, path length and pitch in m, at
// wavelength lambda in m:
//
//	|E_m|/|E_0|,  E_m = ∫ e^{-jk(√(L²+y²) − L)} e^{j2πmy/p} dy,  y = -h/2 … h/2.
//
// The lobe is visible when mλ ≤ p; the value is defined below that too.
func FrontLobe(height, path, pitch, lambda float64, m int) float64 {
	sine := float64(m) * lambda / pitch
	var s strip
	s.set(height/lambda, path/height, sine)
	return math.Sqrt(norm(s.at(sine)) / s.axial())
}

// FrontLobeLimit returns the lowest frequency in Hz at which any lobe of an
// endless line of such mouths exceeds limit, a pressure ratio to the axis. It
// is +Inf when none does at any frequency, which only a flat front can reach.
func FrontLobeLimit(height, path, pitch, limit, c float64) float64 {
	best := math.Inf(1)
	for m := 1; m <= maxLobes; m++ {
		onset := float64(m) * c / pitch
		if onset >= best {
			break
		}
		over := func(f float64) float64 { return FrontLobe(height, path, pitch, c/f, m) - limit }
		if over(onset) > 0 {
			best = onset
			break
		}
		if f, ok := firstExcess(over, onset, best, Sagitta(height, path), c); ok {
			best = f
		}
	}
	return best
}

// maxLobes is how many lobes are looked at; higher ones are visible only far
// above the first.
const maxLobes = 64

// firstExcess finds the lowest f above onset, and below cap, at which over
// turns positive. The lobe depends on frequency through sagitta/λ alone and
// rises steadily up to half a wave of sagitta, so a scan in steps of a tenth of
// a wave to one whole wave cannot miss it.
func firstExcess(over func(float64) float64, onset, limit, sagitta, c float64) (f float64, ok bool) {
	if sagitta == 0 {
		return 0, false
	}
	step := 0.1 * c / sagitta
	end := math.Min(limit, onset+10*step)
	if !(end > onset) {
		return 0, false
	}
	return numeric.FirstCrossing(over, onset, end, step, 1e-9*onset)
}
