package field

import "math"

// addDisc adds a circular piston: as a whole while its corrected far field is
// good enough, else as chords.
func (w *worker) addDisc(s *source, lo, hi int) {
	d, r, ir, path := w.at.distance(s.middle)
	along := d.Sub(s.axes.forward.Scale(d.Dot(s.axes.forward)))
	across := along.Norm()
	sin := across / r
	e := discBound(s.a, sin, ir)
	amp := s.weight * w.at.gain * amplitude(ir)
	meanPath := path + s.path + s.a*s.a*ir/2*(0.5-sin*sin/4)
	plain := w.upTo(e.plain(w.tol), lo, hi)
	w.addDiscPlain(s, sin, amp, meanPath, path, lo, plain)
	fine := w.upTo(e.corrected(w.tol), plain, hi)
	if plain < fine {
		discPattern(w.pr[plain:fine], w.pi[plain:fine], w.hz[plain:fine], w.tables, s.a, sin, ir, amp, w.waveStep)
		w.absorbBeyond(w.pr[plain:fine], path, plain, fine)
		w.absorbBeyond(w.pi[plain:fine], path, plain, fine)
		w.addComplexes(meanPath, s.drive, plain, fine)
	}
	axis := s.axes.left
	if across > 1e-9*r {
		axis = along.Scale(1 / across)
	}
	near := math.Hypot(d.Dot(s.axes.forward), max(0, across-s.a))
	w.addChords(s, axis, near, r, fine, hi)
}

// addDiscPlain adds the piston's far-field pattern.
func (w *worker) addDiscPlain(s *source, sin, amp, path, reach float64, lo, hi int) {
	if lo >= hi {
		return
	}
	mid := w.upTo(smallDisc/(s.a*sin), lo, hi)
	g := s.a * sin * w.waveStep
	if lo < mid {
		smallDiscs(w.pr[lo:mid], w.hz[lo:mid], g, amp)
	}
	if mid < hi {
		largeDiscs(w.pr[mid:hi], w.hz[mid:hi], w.perHz[mid:hi], w.perHz32[mid:hi], g/math.Pi, 1/g,
			amp*math.Sqrt(8/math.Pi/(g*g*g)))
	}
	w.absorbBeyond(w.pr[lo:hi], reach, lo, hi)
	w.addReals(path, s.drive, lo, hi)
}

// addChords cuts the disc into chords parallel to the direction in which the
// field point lies (axis), so that chords on both sides of the middle see it
// alike. The rule across them is Gauss-Chebyshev of the second kind, whose
// weight √(1−t²) is the chord's length: mean over the disc = Σ 2/(n+1) sin²θ_i ·
// mean over chord i, t_i = cos θ_i, θ_i = iπ/(n+1).
func (w *worker) addChords(s *source, axis Vec, near, r float64, lo, hi int) {
	normal := s.axes.forward.Cross(axis)
	for lo < hi {
		// One octave at a time, as the top needs the most chords.
		from := w.upTo(w.waves[hi-1]/2, lo, hi)
		n := chordCount(w.waves[hi-1], s.a, near, r, w.tol)
		for i := 1; i <= (n+1)/2; i++ {
			sin, cos := math.Sincos(float64(i) * math.Pi / float64(n+1))
			share := 2 / float64(n+1) * sin * sin
			if 2*i != n+1 {
				share *= 2 // the chord on the other side
			}
			w.addPatch(&patch{
				centre: s.middle.Add(normal.Scale(cos * s.a)),
				z:      side{axis: axis, half: s.a * sin},
				weight: share * s.weight,
				path:   s.path,
			}, s.drive, from, hi, 0)
		}
		hi = from
	}
}

// maxChords bounds the work for points that touch a mouth. The error bound
// holds for points farther than a fiftieth of the radius from the piston.
const maxChords = 512

// chordCount returns how many chords a piston of radius a needs at wave number
// k when its nearest part is near m away and its middle r. The chord integral is
// analytic in t up to t = ±j·near/a, so that the rule converges as
// e^{-2n·asinh(near/a)} once it resolves the phase between the nearest part and
// the rim at the side; the factors are fitted to counts found by search for ka
// of 1 to 100, 0.05 to 5 radii away, and tested.
func chordCount(k, a, near, r, tol float64) int {
	phase := k * (math.Hypot(r, a) - near)
	digits := math.Log(8/tol) / (2 * math.Asinh(max(near/a, 1e-9)))
	return min(int(math.Ceil(phase/2+2*math.Cbrt(phase)+0.55*digits))+2, maxChords)
}
