package search

import "math"

// Improvement asks for a point that serves the goals better than a known one does.
type Improvement struct {
	Start []float64 // where the local search begins
	From  []float64 // the goals to improve on; none may get worse
	Scale []float64 // what counts as one in each goal
	Size  float64   // edge of the first simplex, a share of the box
}

// Gain is by how much a point is better than From, all goals taken together in units
// of Scale.
func (m *Improvement) Gain(q *Point) float64 {
	sum := 0.0
	for i, g := range q.Goals {
		sum += (m.From[i] - g) / m.Scale[i]
	}
	return sum
}

// worse is by how much goals of the point are worse than From, in units of Scale.
func (m *Improvement) worse(q *Point) float64 {
	sum := 0.0
	for i, g := range q.Goals {
		sum += math.Max((g-m.From[i])/m.Scale[i], 0)
	}
	return sum
}

// forgiven is by how much a goal may get worse, in units of its scale: rounding.
const forgiven = 1e-9

// Improve runs local searches from Start, each from where the one before has ended,
// and returns the point that gains most among those that meet every limit and are
// worse in no goal; ok is false where there is none.
func (p *Problem) Improve(m Improvement) (best Point, ok bool) {
	l := local{problem: p, evaluate: p.New(), size: m.Size, value: func(q *Point, strict float64) float64 {
		missed, _ := q.missed()
		return strict*(missed+m.worse(q)) - m.Gain(q)
	}}
	l.search(m.Start)
	for i := range l.points {
		q := &l.points[i]
		if !q.Feasible() || m.worse(q) > forgiven*float64(len(m.From)) {
			continue
		}
		if !ok || m.Gain(q) > m.Gain(&best) {
			best, ok = *q, true
		}
	}
	return best, ok
}
