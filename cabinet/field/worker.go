package field

import (
	"math"
	"sort"
)

// receiver is a field point, or a direction in the far field.
type receiver struct {
	point  Vec // position, or unit direction
	far    bool
	centre Vec     // reference for far-field paths
	base   float64 // reference path for absorption, m
	gain   float64 // 1, or the reflection coefficient of the floor
}

// worker sums one field point at a time.
type worker struct {
	*plan
	re, im []float64 // per drive and frequency
	pr, pi []float64 // pattern of one patch
	ty, tz terms
	sight  sight
	whole  []patch // each mouth in one piece, see hear
	from   int     // the first mouth that is summed
	at     receiver

	samplers []func(direction Vec, re, im []float64) // of each drive with a pattern
}

func newWorker(p *plan) *worker {
	n := len(p.hz)
	w := &worker{
		plan: p,
		re:   make([]float64, n*p.all), im: make([]float64, n*p.all),
		pr: make([]float64, n), pi: make([]float64, n),
		ty: newTerms(n), tz: newTerms(n),
		samplers: make([]func(Vec, []float64, []float64), p.drives),
	}
	for d, b := range p.boxes {
		if b != nil {
			w.samplers[d] = b.of.Sampler(p.hz)
		}
	}
	return w
}

// hear makes the worker ready to sum the mouths of e.
func (w *worker) hear(e *Engine) {
	w.whole, w.from = w.whole[:0], 0
	for i := range e.sources {
		w.whole = append(w.whole, e.sources[i].whole(w.curves[e.sources[i].index]))
	}
}

// clear empties the sums.
func (w *worker) clear() {
	clear(w.re)
	clear(w.im)
}

// distance returns vector, distance, 1/r and the path from a place to the
// receiver; in the far field the vector is the direction and 1/r is 0.
func (r *receiver) distance(from Vec) (d Vec, dist, ir, path float64) {
	if r.far {
		return r.point, 1, 0, -from.Sub(r.centre).Dot(r.point)
	}
	d = r.point.Sub(from)
	dist = d.Norm()
	if dist < minDistance {
		dist = minDistance
	}
	return d, dist, 1 / dist, dist
}

// minDistance keeps a field point that lies exactly on a patch finite, m.
const minDistance = 1e-6

// add adds mouth i.
func (w *worker) add(s *source, i int) {
	switch {
	case s.kind == directed:
		w.addDirected(s)
	case s.drive >= w.drives:
		for _, b := range w.boxes {
			if b != nil && b.mouths == s.drive {
				w.addBeside(s, i, b)
			}
		}
	default:
		w.addMouth(s, i, 0, len(w.hz))
	}
}

// addMouth adds mouth i for the frequencies lo to hi.
func (w *worker) addMouth(s *source, i, lo, hi int) {
	if w.baffled {
		d, _, _, _ := w.at.distance(s.middle)
		if d.Dot(s.axes.forward) < 0 {
			return
		}
	}
	if s.kind == Circle {
		w.addDisc(s, lo, hi)
		return
	}
	w.addPatch(&w.whole[i], s.drive, lo, hi, 0)
}

// maxDepth ends the halving of patches: 2⁻⁴⁰ of a mouth.
const maxDepth = 40

// sight is a patch as the field point sees it.
type sight struct {
	y, z  seenSide
	ir    float64
	amp   float64 // weight/r, or the weight in the far field
	path  float64 // mean path over the patch with all delays, m
	reach float64 // distance, for absorption, m
	drive int
}

// addPatch adds a patch for the frequencies lo to hi for which it is fine
// enough and hands the rest to its halves.
func (w *worker) addPatch(p *patch, drive, lo, hi, depth int) {
	d, r, ir, path := w.at.distance(p.centre)
	v := &w.sight // free again before a half is looked at
	p.y.see(&v.y, d.Dot(p.y.axis)/r)
	p.z.see(&v.z, d.Dot(p.z.axis)/r)
	v.ir, v.amp, v.reach, v.drive = ir, p.weight*w.at.gain*amplitude(ir), path, drive
	// The mean of the quadratic path is a third of its value at the ends.
	quadratic := p.y.half*p.y.half*((1-v.y.cosine*v.y.cosine)*ir+v.y.bend) +
		p.z.half*p.z.half*((1-v.z.cosine*v.z.cosine)*ir+v.z.bend)
	v.path = path + p.path + v.y.delay + v.z.delay + quadratic/6

	e := rectangleBound(&v.y, &v.z, ir)
	plain := w.upTo(e.plain(w.tol), lo, hi)
	w.addPlain(v, lo, plain)
	if plain == hi {
		return
	}
	fine := hi
	if depth < maxDepth {
		fine = w.upTo(e.corrected(w.tol), plain, hi)
	}
	w.addCorrected(v, plain, fine)
	if fine < hi {
		across := p.y.half*p.y.half*(ir+math.Abs(v.y.bend)) > p.z.half*p.z.half*(ir+math.Abs(v.z.bend))
		w.addHalves(p, across, drive, fine, hi, depth+1)
	}
}

// addHalves adds both halves of a patch.
func (w *worker) addHalves(p *patch, across bool, drive, lo, hi, depth int) {
	first, second := p.split(across)
	w.addPatch(&first, drive, lo, hi, depth)
	w.addPatch(&second, drive, lo, hi, depth)
}

// amplitude is 1/r, or 1 in the far field.
func amplitude(ir float64) float64 {
	if ir == 0 {
		return 1
	}
	return ir
}

// upTo returns the first index in lo to hi whose k exceeds the limit.
func (w *worker) upTo(limit float64, lo, hi int) int {
	if lo >= hi || w.waves[hi-1] <= limit {
		return hi
	}
	return lo + sort.Search(hi-lo, func(i int) bool { return w.waves[lo+i] > limit })
}

// sums returns the accumulators of a drive for the frequencies lo to hi.
func (w *worker) sums(drive, lo, hi int) (re, im []float64) {
	n := len(w.hz)
	return w.re[drive*n+lo : drive*n+hi], w.im[drive*n+lo : drive*n+hi]
}

// noArgument is an argument x that changes a pattern by less than 1e-9.
const noArgument = 7e-5

// addPlain adds a patch without the first-order correction.
func (w *worker) addPlain(v *sight, lo, hi int) {
	if lo >= hi {
		return
	}
	top := w.hz[hi-1]
	gy, gz := math.Abs(v.y.half*v.y.tilted)*w.waveStep, math.Abs(v.z.half*v.z.tilted)*w.waveStep
	flatY, flatZ := v.y.part == nil && gy*top < noArgument, v.z.part == nil && gz*top < noArgument
	if w.alpha == nil && flatY != flatZ && v.y.part == nil && v.z.part == nil {
		g := max(gy, gz)
		re, im := w.sums(v.drive, lo, hi)
		addLine(re, im, w.hz[lo:hi], w.perHz[lo:hi], v.path*w.pathTurns, g/math.Pi, v.amp/g)
		return
	}
	pr := w.pr[lo:hi]
	fill(pr, v.amp)
	if v.y.part == nil && !flatY {
		timesSinc(pr, w.hz[lo:hi], w.perHz[lo:hi], gy/math.Pi, 1/gy)
	}
	if v.z.part == nil && !flatZ {
		timesSinc(pr, w.hz[lo:hi], w.perHz[lo:hi], gz/math.Pi, 1/gz)
	}
	w.absorbBeyond(pr, v.reach, lo, hi)
	if v.y.part == nil && v.z.part == nil {
		w.addReals(v.path, v.drive, lo, hi)
		return
	}
	clear(w.pi[lo:hi])
	for _, s := range [...]*seenSide{&v.y, &v.z} {
		if s.part != nil {
			s.part.times(w.pr, w.pi, s.tilted, lo, hi)
		}
	}
	w.addComplexes(v.path, v.drive, lo, hi)
}

// addCorrected adds a patch with the first-order correction.
func (w *worker) addCorrected(v *sight, lo, hi int) {
	if lo >= hi {
		return
	}
	half := w.waveStep / 2
	a, b := v.y.half, v.z.half
	c := correction{
		amp: v.amp,
		zy:  a * v.y.cosine * v.ir,
		zz:  b * v.z.cosine * v.ir,
		qy:  half * a * a * ((1-v.y.cosine*v.y.cosine)*v.ir + v.y.bend),
		qz:  half * b * b * ((1-v.z.cosine*v.z.cosine)*v.ir + v.z.bend),
		qc:  w.waveStep * a * b * v.y.cosine * v.z.cosine * v.ir,
	}
	corrected(w.pr, w.pi, w.hz, w.sideTerms(&v.y, &w.ty, lo, hi), w.sideTerms(&v.z, &w.tz, lo, hi), &c, lo, hi)
	w.absorbBeyond(w.pr[lo:hi], v.reach, lo, hi)
	w.absorbBeyond(w.pi[lo:hi], v.reach, lo, hi)
	w.addComplexes(v.path, v.drive, lo, hi)
}

// sideTerms returns the terms of one side, filled into buffer unless they are
// at hand.
func (w *worker) sideTerms(s *seenSide, buffer *terms, lo, hi int) *terms {
	g := s.half * s.tilted * w.waveStep
	switch {
	case s.part != nil:
		s.part.terms(buffer, s.tilted, lo, hi)
	case math.Abs(g)*w.hz[hi-1] < noArgument:
		return &w.ones
	default:
		flatTerms(buffer, w.hz, w.tables, g, lo, hi)
	}
	return buffer
}

// absorbBeyond takes from a pattern what the air absorbs on the way beyond the
// reference path.
func (w *worker) absorbBeyond(p []float64, reach float64, lo, hi int) {
	if w.alpha != nil && !w.at.far && lo < hi {
		attenuate(p, w.alpha[lo:hi], reach-w.at.base)
	}
}

// addReals adds the pattern in pr.
func (w *worker) addReals(path float64, drive, lo, hi int) {
	re, im := w.sums(drive, lo, hi)
	addReal(re, im, w.hz[lo:hi], w.pr[lo:hi], path*w.pathTurns)
}

// addComplexes adds the pattern in pr and pi.
func (w *worker) addComplexes(path float64, drive, lo, hi int) {
	re, im := w.sums(drive, lo, hi)
	addComplex(re, im, w.hz[lo:hi], w.pr[lo:hi], w.pi[lo:hi], path*w.pathTurns)
}
