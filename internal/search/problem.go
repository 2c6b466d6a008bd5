package search

import "math"

// Problem is what is searched.
type Problem struct {
	Levers []Lever
	Goals  int // 1 to 3
	Limits int
	// New returns a function for the use of one goroutine at a time. What it
	// computes must not depend on what it computed before.
	New func() Evaluate
}

// Lever is one variable. Levels counts its settings; 0 is a continuous lever.
// Ordered levels have neighbours that are worth trying; words have not.
type Lever struct {
	Levels  int
	Ordered bool
}

// Evaluate computes a point of the unit box. goals come out smaller for better;
// excess is above 0 by how much a limit is missed, in a unit that makes limits
// comparable. Both must be finite.
type Evaluate func(u, goals, excess []float64) Status

// Status says what became of a point.
type Status int

// The statuses.
const (
	Evaluated  Status = iota
	Impossible        // the point cannot exist
	Misfit            // it can, but cannot be built
	Incomplete        // a goal or limit cannot be computed there
)

// Level returns the setting of a lever with levels that u stands for.
func (l Lever) Level(u float64) int {
	return min(max(int(u*float64(l.Levels)), 0), l.Levels-1)
}

// centre returns the u in the middle of a level.
func (l Lever) centre(level int) float64 { return (float64(level) + 0.5) / float64(l.Levels) }

// snap moves a lever with levels to the middle of its level and keeps a
// continuous one in the box, so that equal settings have equal coordinates.
func (l Lever) snap(u float64) float64 {
	if l.Levels > 0 {
		return l.centre(l.Level(u))
	}
	return min(max(u, 0), 1)
}

// Combinations returns the number of points when every lever has levels, and 0
// when one is continuous or the number is beyond all counting.
func (p *Problem) Combinations() int {
	n := 1
	for _, l := range p.Levers {
		if l.Levels == 0 || n > math.MaxInt32 {
			return 0
		}
		n *= l.Levels
	}
	return n
}

// Point is an evaluated point. ID orders points: a sample's index, and beyond
// the samples the order of refinement.
type Point struct {
	ID     int       `json:"id"`
	U      []float64 `json:"u"`
	Goals  []float64 `json:"goals"`
	Excess []float64 `json:"excess"`
}

// missed returns the sum of what the limits are missed by, and how many are.
func (q *Point) missed() (sum float64, count int) {
	for _, e := range q.Excess {
		if e > 0 {
			sum += e
			count++
		}
	}
	return sum, count
}

// Feasible reports whether the point meets every limit.
func (q *Point) Feasible() bool {
	_, n := q.missed()
	return n == 0
}

// distance is the largest difference of any lever between two points; levels
// count as far apart when they are not neighbours.
func (p *Problem) distance(a, b []float64) float64 {
	d := 0.0
	for i, l := range p.Levers {
		step := math.Abs(a[i] - b[i])
		if l.Levels > 0 && l.Level(a[i]) != l.Level(b[i]) && !l.Ordered {
			step = 1
		}
		d = math.Max(d, step)
	}
	return d
}
