package field

import (
	"math"
	"sort"
)

// plan is what all field points share: frequencies ascending and what depends
// on them alone.
type plan struct {
	hz       []float64
	waves    []float64 // k, rad/m
	alpha    []float64 // absorption, Np/m; nil: none
	c        float64   // m/s
	tol      float64
	baffled  bool
	drives   int
	waveStep float64 // 2π/c: k per Hz
	tables   *patternTables
}

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
	at     receiver
	chord  []patch
}

func newWorker(p *plan) *worker {
	n := len(p.hz)
	return &worker{
		plan: p,
		re:   make([]float64, n*p.drives), im: make([]float64, n*p.drives),
		pr: make([]float64, n), pi: make([]float64, n),
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

// add adds one mouth.
func (w *worker) add(s *source) {
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
	f := face{y: s.axes.left, z: s.axes.up, apexY: s.apexY, apexZ: s.apexZ}
	p := patch{centre: s.middle, a: s.a, b: s.b, weight: s.weight * w.at.gain, path: s.path}
	w.addPatch(&f, p, s.drive, 0, len(w.hz), 0)
}

// maxDepth ends the halving of patches: 2⁻⁴⁰ of a mouth.
const maxDepth = 40

// addPatch adds a patch for the frequencies lo to hi for which it is fine
// enough and hands the rest to its halves.
func (w *worker) addPatch(f *face, p patch, drive, lo, hi, depth int) {
	d, r, ir, path := w.at.distance(p.centre)
	delayY, slopeY, bendY := front(f.apexY, p.y)
	delayZ, slopeZ, bendZ := front(f.apexZ, p.z)
	v := view{du: d.Dot(f.z) / r, dv: d.Dot(f.y) / r, ir: ir, bendY: bendY, bendZ: bendZ}
	v.u, v.v = v.du-slopeZ, v.dv-slopeY
	v.amp = p.weight * amplitude(ir)
	// Mean of the quadratic path over the patch.
	qy := p.a * p.a * ((1-v.dv*v.dv)*ir + bendY)
	qz := p.b * p.b * ((1-v.du*v.du)*ir + bendZ)
	v.path = path + delayY + delayZ + p.path + (qy+qz)/6

	if p.a == 0 && p.b == 0 {
		w.addPlain(&p, &v, path, drive, lo, hi)
		return
	}
	e := rectangleBound(p.a, p.b, v.du, v.dv, ir, bendY, bendZ,
		frontThird(f.apexY, p.y, p.a), frontThird(f.apexZ, p.z, p.b))
	plain := w.upTo(e.plain(w.tol), lo, hi)
	w.addPlain(&p, &v, path, drive, lo, plain)
	fine := hi
	if depth < maxDepth {
		fine = w.upTo(e.corrected(w.tol), plain, hi)
	}
	w.addCorrected(&p, &v, path, drive, plain, fine)
	if fine < hi {
		width := p.a*p.a*(ir+math.Abs(bendY)) > p.b*p.b*(ir+math.Abs(bendZ))
		first, second := p.split(f, width)
		w.addPatch(f, first, drive, fine, hi, depth+1)
		w.addPatch(f, second, drive, fine, hi, depth+1)
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

// addPlain adds a patch without the first-order correction; reach is its
// distance for absorption.
func (w *worker) addPlain(p *patch, v *view, reach float64, drive, lo, hi int) {
	if lo >= hi {
		return
	}
	const intervals = tableDensity
	gy := math.Abs(p.a*v.v) * w.waveStep * intervals
	gz := math.Abs(p.b*v.u) * w.waveStep * intervals
	top := w.hz[hi-1]
	// An argument this small changes the pattern by less than 1e-9.
	const nothing = intervals * 7e-5
	thinY, thinZ := gy*top < nothing, gz*top < nothing
	simple := w.alpha == nil && (thinY || thinZ) && max(gy, gz)*top < tableSize
	if !simple {
		w.addPlainGeneral(p, v, reach, drive, lo, hi)
		return
	}
	re, im := w.sums(drive, lo, hi)
	steps := v.path / w.c * turnSteps
	if thinY && thinZ {
		addPoint(re, im, w.hz[lo:hi], steps, v.amp)
		return
	}
	addPattern(re, im, w.hz[lo:hi], &w.tables[lineEven], steps, max(gy, gz), v.amp)
}

// addPlainGeneral is addPlain with both patterns and absorption.
func (w *worker) addPlainGeneral(p *patch, v *view, reach float64, drive, lo, hi int) {
	pr, pi := w.pr[lo:hi], w.pi[lo:hi]
	gy, gz := p.a*v.v*w.waveStep, p.b*v.u*w.waveStep
	for i, f := range w.hz[lo:hi] {
		pr[i] = v.amp * w.tables.lookup(lineEven, f*gy) * w.tables.lookup(lineEven, f*gz)
		pi[i] = 0
	}
	w.addFilled(v.path, reach, drive, lo, hi)
}

// addCorrected adds a patch with the first-order correction.
func (w *worker) addCorrected(p *patch, v *view, reach float64, drive, lo, hi int) {
	if lo >= hi {
		return
	}
	rectanglePattern(w.pr[lo:hi], w.pi[lo:hi], w.hz[lo:hi], w.tables, p, v, w.waveStep)
	w.addFilled(v.path, reach, drive, lo, hi)
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
