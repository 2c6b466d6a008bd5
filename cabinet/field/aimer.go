package field

import (
	"context"
	"fmt"
	"math"
	"math/bits"
	"slices"

	"gapline/internal/parallel"
	"gapline/internal/quantity"
)

// choice is one candidate as indices: the joints, the tilt, then the gains.
type choice []uint8

// score is what a candidate gives.
type score struct {
	cost, spread, back, over, octaves, zone float64
	// Where it is not whole, the seats heard have shown that the cost is no lower than the
	// one stated; nothing else is known.
	whole            bool
	loudest, softest int // of the seats, against the slope wanted
}

// aimer evaluates candidates and remembers them.
type aimer struct {
	ctx     context.Context
	stack   Stack
	options Options
	spec    AimSpec
	seats   []Vec
	tones   []float64
	sizes   []int // number of values of each index
	joints  int
	known   map[string]score
	plan    *plan
	power   [][]complex128 // strength of each drive and tone
	weight  []float64      // A-weighting of each tone, as power
	workers []*worker      // one for each goroutine
	above   above
	heard   int   // candidates whose sound was summed
	order   []int // of the seats: those heard first lie far apart
}

func newAimer(ctx context.Context, s Stack, o Options, a AimSpec) (*aimer, error) {
	e, err := New(s, o)
	if err != nil {
		return nil, err
	}
	if err := a.fill(s); err != nil {
		return nil, err
	}
	// Also finds seats in a box, and a stack without height.
	if _, err := e.Audience(ctx, AudienceSpec{Seating: a.Audience.Seating, Step: a.Audience.Step, Tones: 1}); err != nil {
		return nil, err
	}
	h := &aimer{ctx: ctx, stack: s, options: o, spec: a, joints: len(s.Boxes) - 1, known: map[string]score{}}
	for _, g := range a.Audience.Seating {
		h.seats = append(h.seats, g.Seats(a.Audience.Step)...)
	}
	h.order = apart(len(h.seats))
	h.tones, _ = ascending(bandTones(a.Audience.Bands, a.Audience.Tones))
	h.plan, h.power = e.plan(h.tones), e.strengths(h.tones)
	for _, f := range h.tones {
		h.weight = append(h.weight, math.Pow(10, AWeighting(f)/10)/float64(len(h.tones)))
	}
	for range parallel.Workers(0) {
		h.workers = append(h.workers, newWorker(h.plan))
	}
	for range h.joints {
		h.sizes = append(h.sizes, len(a.Steps))
	}
	h.sizes = append(h.sizes, len(a.Tilts))
	if len(a.Gains) > 0 {
		for range s.Boxes {
			h.sizes = append(h.sizes, len(a.Gains))
		}
	}
	if len(a.Delays) > 0 {
		for range s.Boxes {
			h.sizes = append(h.sizes, len(a.Delays))
		}
	}
	return h, nil
}

// candidate turns indices into angles and gains.
func (h *aimer) candidate(c choice) Candidate {
	out := Candidate{Tilt: h.spec.Tilts[c[h.joints]], Shading: h.stack.Shading}
	for _, i := range c[:h.joints] {
		out.Splay = append(out.Splay, h.spec.Steps[i])
	}
	if len(h.spec.Gains) > 0 {
		out.Shading = nil
		for _, i := range c[h.joints+1 : h.joints+1+len(h.stack.Boxes)] {
			out.Shading = append(out.Shading, h.spec.Gains[i])
		}
	}
	out.Delays = h.stack.Delays
	if len(h.spec.Delays) > 0 {
		out.Delays = nil
		for _, i := range c[len(c)-len(h.stack.Boxes):] {
			out.Delays = append(out.Delays, h.spec.Delays[i])
		}
	}
	return out
}

// hang returns the stack hung as a candidate says.
func (h *aimer) hang(c Candidate) Stack {
	s := h.stack
	s.Splay, s.Tilt, s.Shading, s.Delays = c.Splay, c.Tilt, c.Shading, c.Delays
	return s
}

// describe returns a candidate with its score.
func (h *aimer) describe(c choice) Candidate {
	return h.scored(h.candidate(c), h.known[string(c)])
}

func (h *aimer) scored(c Candidate, s score) Candidate {
	c.Cost, c.Spread, c.Back, c.OverRow, c.Octaves, c.Zone = s.cost, s.spread, s.back, s.over, s.octaves, s.zone
	return c
}

// impossible is the score of a stack that cannot hang so.
var impossible = score{cost: math.Inf(1), spread: math.NaN(), back: math.NaN(), over: math.NaN(), octaves: math.NaN(), zone: math.NaN(), whole: true}

// trial is a candidate to be heard.
type trial struct {
	Candidate
	from int // boxes before this one hang as in the stack that the aimer's above holds
	// limit is the cost from which on it does not matter what the candidate costs;
	// +Inf: it does.
	limit float64
	first [2]int // the seats that are heard first
}

// evaluate scores one candidate on the calling goroutine. heard is false where it cannot
// hang so, and nothing is summed.
func (h *aimer) evaluate(c trial, w *worker) (s score, heard bool) {
	if h.spec.Rising && !slices.IsSorted(c.Splay) {
		return impossible, false
	}
	e, err := New(h.hang(c.Candidate), h.options)
	if err != nil {
		return impossible, false
	}
	for _, p := range h.seats {
		if e.Inside(p) > 0 {
			return impossible, false
		}
	}
	e = h.planar(e)
	w.hear(e)
	w.from = e.firstSource(c.from)
	slope := SlopeOver(h.seats, e.centre, h.spec.Even.Fall)
	got := atSeats{weighted: make([]float64, len(h.seats)), bands: table2[float64](len(h.spec.Audience.Bands), len(h.seats))}
	squares := make([]float64, len(got.bands))
	known := make([]bool, len(h.seats))
	low, high := math.Inf(1), math.Inf(-1)
	hear := func(i int) (enough bool) {
		if known[i] {
			return false
		}
		known[i] = true
		e.sumAt(w, place{at: h.seats[i]})
		h.above.add(w, c.from, i)
		got.weighted[i] = e.levelOfSquare(h.loudnessOf(w, squares))
		for b, s := range squares {
			got.bands[b][i] = e.levelOfSquare(s)
		}
		d := got.weighted[i] - slope[i]
		if d < low {
			low, s.softest = d, i
		}
		if d > high {
			high, s.loudest = d, i
		}
		return high-low >= c.limit
	}
	for _, list := range [][]int{c.first[:], h.order} {
		for _, i := range list {
			if hear(i) {
				return score{cost: high - low}, true
			}
		}
	}
	return h.finish(s, e, w, got, slope), true
}

// finish scores a candidate whose seats have all been heard. What it adds to the spread is
// not below zero, so that the spread of some of the seats bounds the cost.
func (h *aimer) finish(s score, e *Engine, w *worker, got atSeats, slope []float64) score {
	s.whole = true
	s.spread = spreadAbout(got.weighted, slope)
	s.back = got.weighted[len(got.weighted)-1]
	s.over = e.levelOfSquare(h.overRow(e, w)) - s.back
	s.cost = s.spread
	if h.spec.Floor > s.back { // false for NaN
		s.cost += h.spec.FloorWeight * (h.spec.Floor - s.back)
	}
	if s.over > h.spec.Over {
		s.cost += h.spec.OverWeight * (s.over - h.spec.Over)
	}
	h.evenness(e, w, &s, got, slope)
	if math.IsNaN(s.cost) {
		return impossible
	}
	return s
}

// apart orders 0 to n−1 so that the first of them lie far apart: by the digits of two
// from the last to the first.
func apart(n int) []int {
	var out []int
	digits := bits.Len(uint(n - 1))
	for i := range 1 << digits {
		if j := int(bits.Reverse64(uint64(i)) >> (64 - digits)); j < n {
			out = append(out, j)
		}
	}
	return out
}

// loudness returns the A-weighted mean square of what the worker has summed.
func (h *aimer) loudness(w *worker) float64 {
	n, total := len(h.tones), 0.0
	for j := range n {
		var p complex128
		for d := range h.power {
			p += h.power[d][j] * complex(w.re[d*n+j], w.im[d*n+j])
		}
		total += square(p) * h.weight[j]
	}
	return total
}

// overRow returns the mean square at the distance of the last seat, 4° to 24°
// above it as seen from the stack.
func (h *aimer) overRow(e *Engine, w *worker) float64 {
	last := h.seats[len(h.seats)-1].Sub(e.centre)
	const places = 6
	sum := 0.0
	w.from = 0 // its places move with the stack
	for i := 1; i <= places; i++ {
		s, c := math.Sincos(4 * quantity.Degree * float64(i))
		e.sumAt(w, place{at: e.centre.Add(Vec{X: c*last.X - s*last.Z, Z: s*last.X + c*last.Z})})
		sum += h.loudness(w)
	}
	return sum / places
}

// best evaluates the candidates that are not known yet, on all cores, and
// returns the index of the cheapest; the first of equals. They are changes of base, and
// how much dearer than it one is does not matter; with nil they come from nowhere.
func (h *aimer) best(base choice, all []choice) (int, error) {
	limit, first := math.Inf(1), [2]int{}
	if base != nil {
		was := h.known[string(base)]
		limit, first = was.cost, [2]int{was.loudest, was.softest}
	}
	var fresh []choice
	seen := map[string]bool{}
	for _, c := range all {
		if s, ok := h.known[string(c)]; (!ok || !s.whole && s.cost < limit) && !seen[string(c)] {
			seen[string(c)] = true
			fresh = append(fresh, c)
		}
	}
	if base != nil && len(fresh) > 1 {
		if err := h.hold(base); err != nil {
			return 0, err
		}
	}
	scores, heard := make([]score, len(fresh)), make([]bool, len(fresh))
	err := parallel.Each(h.ctx, len(h.workers), len(fresh), func(worker int) func(int) {
		return func(i int) {
			c := trial{h.candidate(fresh[i]), h.firstMoved(fresh[i]), limit, first}
			scores[i], heard[i] = h.evaluate(c, h.workers[worker])
		}
	})
	if err != nil {
		return 0, err
	}
	for i, c := range fresh {
		if _, again := h.known[string(c)]; heard[i] && !again {
			h.heard++
		}
		h.known[string(c)] = scores[i]
	}
	if h.options.Progress != nil {
		h.options.Progress(h.heard, 0)
	}
	cheapest := 0
	for i, c := range all {
		if h.cost(c) < h.cost(all[cheapest]) {
			cheapest = i
		}
	}
	return cheapest, nil
}

func (h *aimer) cost(c choice) float64 { return h.known[string(c)].cost }

// straight returns the straight stack with the most level at the last seat.
func (h *aimer) straight() Candidate {
	last := h.seats[len(h.seats)-1]
	middle := Vec{Z: h.stack.TopHeight - h.stack.straightLength()/2}
	d := last.Sub(middle)
	tilts := append([]float64{math.Atan2(-d.Z, d.X)}, h.spec.Tilts...)
	best := h.scored(Candidate{}, impossible)
	w := h.workers[0]
	for _, tilt := range tilts {
		c := Candidate{Splay: make([]float64, h.joints), Tilt: tilt, Shading: h.stack.Shading, Delays: h.stack.Delays}
		s, _ := h.evaluate(trial{Candidate: c, limit: math.Inf(1)}, w)
		if !(s.back <= best.Back) && !math.IsNaN(s.back) {
			best = h.scored(c, s)
		}
	}
	return best
}

// errNothingHangs says that no allowed stack is possible.
var errNothingHangs = fmt.Errorf("no allowed splay and tilt keeps the stack above the ground and clear of the seats")
