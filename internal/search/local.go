package search

import (
	"encoding/binary"
	"math"
	"sync"

	"gonum.org/v1/gonum/optimize"
)

// local is one local search. It keeps every point that it has evaluated.
type local struct {
	problem  *Problem
	evaluate Evaluate
	value    objective
	size     float64 // edge of the first simplex, a share of the box
	strict   float64
	points   []Point
	known    *memory // what others of the same problem have evaluated; nil: only this one
	key      []byte
}

// memory holds what points came to, by their levers. Searches at work at once share one:
// what they find does not depend on who was first, as a point comes to the same each time.
type memory struct {
	mutex    sync.RWMutex
	outcomes map[string]outcome
}

// outcome is what a point came to, without its value, which changes from pass to pass.
type outcome struct {
	point Point
	ok    bool
}

func newMemory() *memory { return &memory{outcomes: map[string]outcome{}} }

func (m *memory) get(key []byte) (o outcome, ok bool) {
	m.mutex.RLock()
	defer m.mutex.RUnlock()
	o, ok = m.outcomes[string(key)]
	return o, ok
}

func (m *memory) put(key []byte, o outcome) {
	m.mutex.Lock()
	defer m.mutex.Unlock()
	m.outcomes[string(key)] = o
}

// usualSize is the size of a search that may end far from where it starts.
const usualSize = 0.06

// strictness is the weight of missed limits from pass to pass: small at first,
// so that the search may cut through what is not allowed, then so large that
// the minimum meets the limits (an exact penalty: R. Fletcher, Practical Methods
// of Optimization, 2nd ed., §12.3).
var strictness = [...]float64{3, 30, 300}

// search runs the passes from a start.
func (l *local) search(start []float64) {
	at := start
	for _, l.strict = range strictness {
		if best := l.best(); best != nil {
			at = best
		}
		at = l.steps(at)
		l.simplex(at)
	}
}

// best returns the levers of the best point so far.
func (l *local) best() []float64 {
	var u []float64
	least := math.Inf(1)
	for i := range l.points {
		if v := l.value(&l.points[i], l.strict); v < least {
			least, u = v, l.points[i].U
		}
	}
	return u
}

// nowhere is the value of a point without outcome: worse than any other.
const nowhere = 1e6

// at evaluates a point of the box, unless it is known: levers with levels come back to
// the same points from pass to pass and from search to search.
func (l *local) at(u []float64) float64 {
	q := l.problem.newPoint()
	l.key = l.key[:0]
	for i, lever := range l.problem.Levers {
		q.U[i] = lever.snap(u[i])
		l.key = binary.LittleEndian.AppendUint64(l.key, math.Float64bits(q.U[i]))
	}
	if l.known == nil {
		l.known = newMemory()
	}
	o, known := l.known.get(l.key)
	if !known {
		o = outcome{q, l.evaluate(q.U, q.Goals, q.Excess) == Evaluated}
		l.known.put(l.key, o)
	}
	if !o.ok {
		return nowhere
	}
	l.points = append(l.points, o.point)
	return l.value(&o.point, l.strict)
}

// maxSteps bounds the moves of one call of steps.
const maxSteps = 100

// steps moves the levers that have levels, one or two at a time, as long as that
// helps, and returns where it ends.
func (l *local) steps(start []float64) []float64 {
	moves := l.moves(start)
	if len(moves) == 0 {
		return start
	}
	at, now := start, l.at(start)
	for range maxSteps {
		next, value := at, now
		for _, u := range moves {
			if v := l.at(u); v < value {
				next, value = u, v
			}
		}
		if value >= now {
			break
		}
		at, now = next, value
		moves = l.moves(at)
	}
	return at
}

// maxWords bounds how many other settings of an unordered lever are tried.
const maxWords = 12

// moves lists the neighbours of a point: one step of each ordered lever, each
// other setting of an unordered one, and one step of two ordered levers at once,
// which follows limits that tie two levers together.
func (l *local) moves(u []float64) [][]float64 {
	var out [][]float64
	move := func(shifts ...[2]int) {
		v := append([]float64(nil), u...)
		for _, s := range shifts {
			lever := l.problem.Levers[s[0]]
			level := lever.Level(u[s[0]]) + s[1]
			if level < 0 || level >= lever.Levels {
				return
			}
			v[s[0]] = lever.centre(level)
		}
		out = append(out, v)
	}
	for i, a := range l.problem.Levers {
		if a.Levels > 0 && !a.Ordered {
			for level := range min(a.Levels, maxWords) {
				if now := a.Level(u[i]); level != now {
					move([2]int{i, level - now})
				}
			}
			continue
		}
		for _, d := range [...]int{-1, 1} {
			if a.Levels > 0 {
				move([2]int{i, d})
			}
			for j := range i {
				if b := l.problem.Levers[j]; a.Levels > 0 && b.Levels > 0 && b.Ordered {
					move([2]int{i, d}, [2]int{j, -1})
					move([2]int{i, d}, [2]int{j, 1})
				}
			}
		}
	}
	return out
}

// simplex moves the continuous levers by the method of Nelder and Mead (The
// Computer Journal 7 (1965) 308-313). Beyond the box's walls the value rises, so
// that minima on a wall are found.
func (l *local) simplex(start []float64) {
	var free []int
	for i, lever := range l.problem.Levers {
		if lever.Levels == 0 {
			free = append(free, i)
		}
	}
	if len(free) == 0 {
		return
	}
	// The first simplex reaches from the start into the box.
	inward := make([]float64, len(free))
	for k, i := range free {
		inward[k] = 1
		if start[i] > 0.5 {
			inward[k] = -1
		}
	}
	u := append([]float64(nil), start...)
	f := func(t []float64) float64 {
		outside := 0.0
		for k, i := range free {
			x := start[i] + inward[k]*t[k]
			u[i] = min(max(x, 0), 1)
			outside += math.Abs(x - u[i])
		}
		return l.at(u) + outside
	}
	settings := &optimize.Settings{
		FuncEvaluations: 60 + 40*len(free),
		Converger:       &optimize.FunctionConverge{Absolute: 1e-9, Iterations: 10 + 5*len(free)},
	}
	// Every point is kept as it is evaluated; how the method ended does not
	// matter, and neither does running out of evaluations.
	_, _ = optimize.Minimize(optimize.Problem{Func: f}, make([]float64, len(free)), settings, &optimize.NelderMead{SimplexSize: l.size})
}
