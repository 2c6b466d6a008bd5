package field

import (
	"context"
	"fmt"
	"math"
	"slices"

	"gapline/internal/parallel"
	"gapline/internal/quantity"
)

// choice is one candidate as indices: the joints, the tilt, then the gains.
type choice []uint8

// score is what a candidate gives.
type score struct{ cost, spread, back, over, octaves, zone float64 }

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
var impossible = score{cost: math.Inf(1), spread: math.NaN(), back: math.NaN(), over: math.NaN(), octaves: math.NaN(), zone: math.NaN()}

// evaluate scores one candidate on the calling goroutine.
func (h *aimer) evaluate(c Candidate, w *worker) score {
	if h.spec.Rising && !slices.IsSorted(c.Splay) {
		return impossible
	}
	e, err := New(h.hang(c), h.options)
	if err != nil {
		return impossible
	}
	got, clear := h.hear(e, w)
	if !clear {
		return impossible
	}
	slope := SlopeOver(h.seats, e.centre, h.spec.Even.Fall)
	var s score
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

// listen returns the A-weighted mean square at a point.
func (h *aimer) listen(e *Engine, w *worker, at Vec) float64 {
	e.sumAt(w, place{at: at})
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
	for i := 1; i <= places; i++ {
		s, c := math.Sincos(4 * quantity.Degree * float64(i))
		sum += h.listen(e, w, e.centre.Add(Vec{X: c*last.X - s*last.Z, Z: s*last.X + c*last.Z}))
	}
	return sum / places
}

// best evaluates the candidates that are not known yet, on all cores, and
// returns the index of the cheapest; the first of equals.
func (h *aimer) best(all []choice) (int, error) {
	var fresh []choice
	seen := map[string]bool{}
	for _, c := range all {
		if _, ok := h.known[string(c)]; !ok && !seen[string(c)] {
			seen[string(c)] = true
			fresh = append(fresh, c)
		}
	}
	scores := make([]score, len(fresh))
	err := parallel.Each(h.ctx, len(h.workers), len(fresh), func(worker int) func(int) {
		return func(i int) { scores[i] = h.evaluate(h.candidate(fresh[i]), h.workers[worker]) }
	})
	if err != nil {
		return 0, err
	}
	for i, c := range fresh {
		h.known[string(c)] = scores[i]
	}
	if h.options.Progress != nil {
		h.options.Progress(len(h.known), 0)
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
		s := h.evaluate(c, w)
		if !(s.back <= best.Back) && !math.IsNaN(s.back) {
			best = h.scored(c, s)
		}
	}
	return best
}

// errNothingHangs says that no allowed stack is possible.
var errNothingHangs = fmt.Errorf("no allowed splay and tilt keeps the stack above the ground and clear of the seats")
