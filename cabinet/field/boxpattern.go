package field

import (
	"fmt"
	"math"
)

// BoxPattern is what a whole box radiates in each direction for a drive, in place of the
// drive's mouths: with a back, and with the edges of its cabinet.
type BoxPattern interface {
	// Share is how much of the sound at a frequency in Hz comes so, 0 to 1; the mouths of the
	// drive give the rest.
	Share(hz float64) float64
	// Sampler returns what sets re and im, one for each of the frequencies hz in Hz, ascending,
	// to p·r over the drive's strength in a direction, which is a unit vector in the frame
	// of the box. Phases count from Drive.From. What is returned serves one goroutine.
	Sampler(hz []float64) func(direction Vec, re, im []float64)
}

// directed is the kind of a source that stands for all mouths of a drive in a box.
const directed Kind = -1

// directedSource is box i as it radiates for drive d: its far field, hung where the box hangs. Its
// sound comes from all over the cabinet, down to its rear.
func (s *Stack) directedSource(i, d int, p pose, shade, late, soundSpeed float64) source {
	b := &s.Boxes[i]
	return source{
		kind: directed, middle: p.origin.Add(p.frame.at(s.Drives[d].From)), axes: p.frame,
		a: b.Width / 2, b: math.Hypot(b.Height/2, b.Depth), weight: shade, path: late * soundSpeed, drive: d, box: i,
	}
}

// besides gives each drive with a pattern a sum of its own for its mouths, after the drives':
// its index for each drive, −1 for those without, and how many there are in all.
func besides(drives []Drive) (index []int, sums int) {
	sums = len(drives)
	for _, d := range drives {
		if d.Box == nil {
			index = append(index, -1)
			continue
		}
		index = append(index, sums)
		sums++
	}
	return index, sums
}

// boxPlan is what all places share of a drive's pattern.
type boxPlan struct {
	of     BoxPattern
	mouths int       // the sum of the drive's mouths
	share  []float64 // of each frequency
	// The mouths have a share below frequency low and from high on.
	low, high int
}

// boxPlans are those of each drive; nil where it has none.
func boxPlans(drives []Drive, hz []float64) []*boxPlan {
	index, _ := besides(drives)
	out := make([]*boxPlan, len(drives))
	for i, d := range drives {
		if d.Box == nil {
			continue
		}
		b := &boxPlan{of: d.Box, mouths: index[i], high: len(hz)}
		for _, f := range hz {
			b.share = append(b.share, d.Box.Share(f))
		}
		for b.low < len(hz) && b.share[b.low] < 1 {
			b.low++
		}
		for b.high > b.low && b.share[b.high-1] < 1 {
			b.high--
		}
		out[i] = b
	}
	return out
}

// blend adds what the mouths of drives with a pattern give to their drives, as far as the
// pattern leaves them a share.
func (w *worker) blend() {
	n := len(w.hz)
	for d, b := range w.boxes {
		if b == nil {
			continue
		}
		re, im := w.sums(d, 0, n)
		mouthRe, mouthIm := w.sums(b.mouths, 0, n)
		for i, share := range b.share {
			if share < 1 {
				re[i] += (1 - share) * mouthRe[i]
				im[i] += (1 - share) * mouthIm[i]
			}
		}
		clear(mouthRe)
		clear(mouthIm)
	}
}

// addDirected adds a box as it radiates for a drive.
func (w *worker) addDirected(s *source) {
	n := len(w.hz)
	d, r, ir, path := w.at.distance(s.middle)
	w.samplers[s.drive](s.axes.local(d.Scale(1/r)), w.pr, w.pi)
	amp := s.weight * w.at.gain * amplitude(ir)
	for i, share := range w.boxes[s.drive].share {
		w.pr[i] *= amp * share
		w.pi[i] *= amp * share
	}
	w.absorbBeyond(w.pr, path, 0, n)
	w.absorbBeyond(w.pi, path, 0, n)
	w.addComplexes(path+s.path, s.drive, 0, n)
}

// addBeside adds mouth i of a drive with a pattern, where the pattern leaves it a share.
func (w *worker) addBeside(s *source, i int, b *boxPlan) {
	for _, r := range [2][2]int{{0, b.low}, {b.high, len(w.hz)}} {
		if r[0] < r[1] {
			w.addMouth(s, i, r[0], r[1])
		}
	}
}

// validateBox checks a drive's pattern.
func (d *Drive) validateBox() error {
	if d.Box != nil && !d.From.finite() {
		return fmt.Errorf("the phases of its pattern count from %v, which is no place", d.From)
	}
	return nil
}
