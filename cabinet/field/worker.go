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
	ty, tz []terms
	at     receiver
}

func newWorker(p *plan) *worker {
	n := len(p.hz)
	return &worker{
		plan: p,
		re:   make([]float64, n*p.drives), im: make([]float64, n*p.drives),
		pr: make([]float64, n), pi: make([]float64, n),
		ty: make([]terms, n), tz: make([]terms, n),
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

// add adds one mouth; curves are the tables of its sides.
func (w *worker) add(s *source, curves [2]*curve) {
	if w.baffled {
		d, _, _, _ := w.at.distance(s.middle)
		if d.Dot(s.axes.forward) < 0 {
			return
		}
	}
	if s.kind == Circle {
		w.addDisc(s, 0, len(w.hz))
		return
	}
	p := patch{
		centre: s.middle,
		y:      side{axis: s.axes.left, half: s.a, apex: s.apexY, curve: curves[0]},
		z:      side{axis: s.axes.up, half: s.b, apex: s.apexZ, curve: curves[1]},
		weight: s.weight * w.at.gain,
		path:   s.path,
	}
	w.addPatch(&p, s.drive, 0, len(w.hz), 0)
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
	v := sight{
		y: p.y.seen(d.Dot(p.y.axis) / r), z: p.z.seen(d.Dot(p.z.axis) / r),
		ir: ir, amp: p.weight * amplitude(ir), reach: path, drive: drive,
	}
	// The mean of the quadratic path is a third of its value at the ends.
	quadratic := p.y.half*p.y.half*((1-v.y.cosine*v.y.cosine)*ir+v.y.bend) +
		p.z.half*p.z.half*((1-v.z.cosine*v.z.cosine)*ir+v.z.bend)
	v.path = path + p.path + v.y.delay + v.z.delay + quadratic/6

	e := rectangleBound(&v.y, &v.z, ir)
	plain := w.upTo(e.plain(w.tol), lo, hi)
	w.addPlain(&v, lo, plain)
	if plain == hi {
		return
	}
	fine := hi
	if depth < maxDepth {
		fine = w.upTo(e.corrected(w.tol), plain, hi)
	}
	w.addCorrected(&v, plain, fine)
	if fine < hi {
		width := p.y.half*p.y.half*(ir+math.Abs(v.y.bend)) > p.z.half*p.z.half*(ir+math.Abs(v.z.bend))
		first, second := p.split(width)
		w.addPatch(&first, drive, fine, hi, depth+1)
		w.addPatch(&second, drive, fine, hi, depth+1)
	}
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
	hz := w.hz[lo:hi]
	top := hz[len(hz)-1]
	gy, gz := math.Abs(v.y.half*v.y.tilted)*w.waveStep, math.Abs(v.z.half*v.z.tilted)*w.waveStep
	flatY, flatZ := v.y.part == nil && gy*top < noArgument, v.z.part == nil && gz*top < noArgument
	re, im := w.sums(v.drive, lo, hi)
	steps := v.path / w.c * turnSteps
	g := max(gy, gz) * tableDensity
	switch {
	case w.alpha == nil && flatY && flatZ:
		addPoint(re, im, hz, steps, v.amp)
	case w.alpha == nil && (flatY && v.z.part == nil || flatZ && v.y.part == nil) && g*top < tableSize:
		addPattern(re, im, hz, &w.tables[lineEven], steps, g, v.amp)
	default:
		fill(w.pr[lo:hi], w.pi[lo:hi], v.amp)
		w.timesSide(&v.y, lo, hi)
		w.timesSide(&v.z, lo, hi)
		w.addFilled(v.path, v.reach, v.drive, lo, hi)
	}
}

// timesSide multiplies the pattern in pr and pi by that of one side.
func (w *worker) timesSide(s *seenSide, lo, hi int) {
	hz := w.hz[lo:hi]
	g := s.half * s.tilted * w.waveStep
	small := math.Abs(g)*hz[len(hz)-1] < noArgument
	switch {
	case s.part == nil && small:
	case s.part == nil:
		timesFlat(w.pr[lo:hi], w.pi[lo:hi], hz, &w.tables[lineEven], lineEven, math.Abs(g)*tableDensity)
	case small:
		timesTerms(w.pr[lo:hi], w.pi[lo:hi], s.part.axis[lo:hi])
	default:
		timesCurved(w.pr[lo:hi], w.pi[lo:hi], hz, s.part.tables[lo:hi], g)
	}
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
	y, z := w.sideTerms(&v.y, w.ty, lo, hi), w.sideTerms(&v.z, w.tz, lo, hi)
	corrected(w.pr[lo:hi], w.pi[lo:hi], w.hz[lo:hi], y, z, &c)
	w.addFilled(v.path, v.reach, v.drive, lo, hi)
}

// sideTerms returns the terms of one side, filled into buffer unless they are
// at hand.
func (w *worker) sideTerms(s *seenSide, buffer []terms, lo, hi int) []terms {
	hz := w.hz[lo:hi]
	g := s.half * s.tilted * w.waveStep
	small := math.Abs(g)*hz[len(hz)-1] < noArgument
	switch {
	case s.part == nil && small:
		return w.ones[lo:hi]
	case s.part == nil:
		flatTerms(buffer[lo:hi], hz, w.tables, g)
	case small:
		return s.part.axis[lo:hi]
	default:
		curvedTerms(buffer[lo:hi], hz, s.part.tables[lo:hi], g)
	}
	return buffer[lo:hi]
}

// addFilled adds the pattern in pr and pi.
func (w *worker) addFilled(path, reach float64, drive, lo, hi int) {
	pr, pi := w.pr[lo:hi], w.pi[lo:hi]
	if w.alpha != nil && !w.at.far {
		attenuate(pr, pi, w.alpha[lo:hi], reach-w.at.base)
	}
	re, im := w.sums(drive, lo, hi)
	addComplex(re, im, w.hz[lo:hi], pr, pi, path/w.c*turnSteps)
}
