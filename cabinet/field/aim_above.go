package field

import (
	"math"
	"slices"

	"gapline/internal/parallel"
)

// above holds, of one stack, what the boxes above each box give at each seat: candidates
// that differ from it below are summed from there on.
type above struct {
	of     choice
	size   int       // sums of one box and seat
	seats  int       //
	re, im []float64 // [box][seat][drive·tones + tone]; nil: too many to hold
}

// mostHeld bounds the sums that are held, 64 MB of them.
const mostHeld = 1 << 22

// add adds what the boxes before the given one give at a seat; nothing for the first.
func (a *above) add(w *worker, from, seat int) {
	if from == 0 {
		return
	}
	at := (from*a.seats + seat) * a.size
	for i, x := range a.re[at : at+a.size] {
		w.re[i] += x
	}
	for i, x := range a.im[at : at+a.size] {
		w.im[i] += x
	}
}

// firstSource is the first mouth of a box; their number for the box after the last.
func (e *Engine) firstSource(box int) int {
	i, _ := slices.BinarySearchFunc(e.sources, box, func(s source, box int) int { return s.box - box })
	return i
}

// firstMoved is the first box that hangs otherwise than in the stack that is held; 0 where
// none is, or its sums are not.
func (h *aimer) firstMoved(c choice) int {
	of := h.above.of
	if of == nil || h.above.re == nil || c[h.joints] != of[h.joints] {
		return 0
	}
	first := len(h.stack.Boxes) - 1
	for i := range h.joints {
		if c[i] != of[i] {
			first = min(first, i+1)
			break
		}
	}
	for i := h.joints + 1; i < len(c); i++ { // gains, then delays, one for each box
		if c[i] != of[i] {
			first = min(first, (i-h.joints-1)%len(h.stack.Boxes))
		}
	}
	return first
}

// hold works out the sums above each box of a stack, on all cores; those that the stack
// held before has too stay.
func (h *aimer) hold(c choice) error {
	if slices.Equal(h.above.of, c) {
		return nil
	}
	a := &h.above
	boxes, first := len(h.stack.Boxes), h.firstMoved(c)
	a.of, a.size, a.seats = nil, len(h.tones)*len(h.power), len(h.seats)
	if boxes*a.seats*a.size > mostHeld {
		return nil
	}
	e, err := New(h.hang(h.candidate(c)), h.options)
	if err != nil {
		return nil // it cannot hang so: its neighbours are summed whole
	}
	if a.re == nil {
		a.re, a.im = make([]float64, boxes*a.seats*a.size), make([]float64, boxes*a.seats*a.size)
	}
	e = h.planar(e)
	err = parallel.Each(h.ctx, len(h.workers), a.seats, func(worker int) func(int) {
		w := h.workers[worker]
		w.hear(e)
		one := *e
		return func(seat int) {
			for b := first + 1; b < boxes; b++ {
				w.from = e.firstSource(b - 1)
				one.sources = e.sources[:e.firstSource(b)]
				one.sumAt(w, place{at: h.seats[seat]})
				a.add(w, b-1, seat)
				at := (b*a.seats + seat) * a.size
				copy(a.re[at:at+a.size], w.re)
				copy(a.im[at:at+a.size], w.im)
			}
		}
	})
	if err == nil {
		a.of = slices.Clone(c)
	}
	return err
}

// planar merges mirror images where all that is heard lies in the plane Y = 0: the places
// over the last row do when the mouths' mean place does.
func (h *aimer) planar(e *Engine) *Engine {
	if math.Abs(e.centre.Y) > mirrorTouch {
		return e
	}
	return e.mirrored(0, false)
}
