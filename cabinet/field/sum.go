package field

import (
	"context"
	"math"
	"sort"
	"sync"

	"gapline/internal/parallel"
)

// place is where a sum is taken: a point, or a direction (unit vector from the
// stack's centre) in the far field, where pressures are times distance, Pa·m.
type place struct {
	at  Vec
	far bool
}

func points(at []Vec) []place {
	out := make([]place, len(at))
	for i, p := range at {
		out[i].at = p
	}
	return out
}

func directions(at []Vec) []place {
	out := make([]place, len(at))
	for i, p := range at {
		out[i] = place{p, true}
	}
	return out
}

// sumAt takes the sum at one place for all drives at unit strength. The worker hears e.
func (e *Engine) sumAt(w *worker, p place) {
	w.clear()
	w.at = receiver{point: p.at, far: p.far, centre: e.centre, gain: 1}
	if p.far {
		e.addAll(w)
		return
	}
	direct := p.at.Sub(e.centre).Norm()
	if e.options.Ground > 0 {
		// The image of a mouth, heard at p, is the mouth heard at p's image.
		w.at.point.Z, w.at.gain = -p.at.Z, e.options.Ground
		w.at.base = w.at.point.Sub(e.centre).Norm()
		e.addAll(w)
		w.absorb(w.at.base - direct)
		w.at.point, w.at.gain = p.at, 1
	}
	w.at.base = direct
	e.addAll(w)
	w.absorb(direct)
}

// addAll adds every mouth from the worker's first on.
func (e *Engine) addAll(w *worker) {
	for i := w.from; i < len(e.sources); i++ {
		w.add(&e.sources[i], i)
	}
	w.blend()
}

// absorb multiplies the sums by the absorption over a path, m.
func (w *worker) absorb(path float64) {
	if w.alpha == nil {
		return
	}
	n := len(w.hz)
	for i, a := range w.alpha {
		g := math.Exp(-a * path)
		for d := range w.drives {
			w.re[d*n+i] *= g
			w.im[d*n+i] *= g
		}
	}
}

// blockSize is how many places a worker takes at a time.
const blockSize = 16

// each calls visit once for each place, on several cores. visit gets the sums
// of each drive at unit strength, real and imaginary, [drive·nf + frequency];
// it must copy what it keeps and write only to what belongs to place i.
func (e *Engine) each(ctx context.Context, at []place, p *plan, visit func(i int, re, im []float64)) error {
	e = e.inPlane(at)
	blocks := (len(at) + blockSize - 1) / blockSize
	var report sync.Mutex
	done := 0
	return parallel.Each(ctx, 0, blocks, func(int) func(int) {
		w := newWorker(p)
		w.hear(e)
		return func(b int) {
			lo, hi := b*blockSize, min((b+1)*blockSize, len(at))
			for i := lo; i < hi; i++ {
				e.sumAt(w, at[i])
				visit(i, w.re, w.im)
			}
			if e.options.Progress != nil {
				report.Lock()
				defer report.Unlock()
				done += hi - lo
				e.options.Progress(done, len(at))
			}
		}
	})
}

// ascending returns the frequencies sorted and, for each sorted one, its index
// in hz.
func ascending(hz []float64) (sorted []float64, index []int) {
	index = make([]int, len(hz))
	for i := range index {
		index[i] = i
	}
	sort.SliceStable(index, func(a, b int) bool { return hz[index[a]] < hz[index[b]] })
	sorted = make([]float64, len(hz))
	for i, j := range index {
		sorted[i] = hz[j]
	}
	return sorted, index
}

// parts sums each drive with its strength: [drive][frequency][place].
func (e *Engine) parts(ctx context.Context, at []place, hz []float64) ([][][]complex128, error) {
	if err := checkFrequencies(hz); err != nil {
		return nil, err
	}
	sorted, index := ascending(hz)
	strength := e.strengths(sorted)
	out := make([][][]complex128, len(strength))
	for d := range out {
		out[d] = table2[complex128](len(hz), len(at))
	}
	n := len(sorted)
	err := e.each(ctx, at, e.plan(sorted), func(i int, re, im []float64) {
		for d := range strength {
			for j := range n {
				out[d][index[j]][i] = strength[d][j] * complex(re[d*n+j], im[d*n+j])
			}
		}
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

// table2 returns rows of zeros.
func table2[T any](rows, columns int) [][]T {
	out := make([][]T, rows)
	for i := range out {
		out[i] = make([]T, columns)
	}
	return out
}

// pressures sums all drives with their strengths: [frequency][place].
func (e *Engine) pressures(ctx context.Context, at []place, hz []float64) ([][]complex128, error) {
	if err := checkFrequencies(hz); err != nil {
		return nil, err
	}
	sorted, index := ascending(hz)
	strength := e.strengths(sorted)
	out := table2[complex128](len(hz), len(at))
	n := len(sorted)
	err := e.each(ctx, at, e.plan(sorted), func(i int, re, im []float64) {
		for j := range n {
			var sum complex128
			for d := range strength {
				sum += strength[d][j] * complex(re[d*n+j], im[d*n+j])
			}
			out[index[j]][i] = sum
		}
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

// Pressure returns the complex pressure at points of the world, [frequency][point],
// see Engine.Level. Points inside a box or below a reflecting ground are
// errors.
func (e *Engine) Pressure(ctx context.Context, at []Vec, hz []float64) ([][]complex128, error) {
	for _, p := range at {
		if err := e.checkPoint(p); err != nil {
			return nil, err
		}
	}
	return e.pressures(ctx, points(at), hz)
}
