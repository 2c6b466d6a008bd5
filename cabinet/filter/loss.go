package filter

import (
	"cmp"
	"math"
	"math/cmplx"
	"slices"

	"gapline/cabinet/field"
	"gapline/internal/numeric"
)

// Floor is the deepest notch that is told apart, dB: a built system misses full
// cancellation by its tolerances, a hundredth of the pressure.
const Floor = -40.0

// floorShare is Floor as a part of both paths in phase.
const floorShare = 1e-2

// Notch is where the paths cancel most within the coverage.
type Notch struct {
	Loss      float64 // see Map.Loss, dB; not below Floor
	Level     float64 // against the axis at that frequency, dB
	Frequency float64 // Hz
	Angle     float64 // rad
	Plane     field.Plane
}

// Loss is what a crossover loses.
type Loss struct {
	Deepest Notch
	Axis    float64 // largest loss on the axis, see Map.Loss, dB; not below Floor
	Mean    float64 // 10 log10 of the mean of (|L+H|/(|L|+|H|))² over the coverage, dB
}

// meanWeight is how much the mean loss counts, so that equal notches are told apart.
const meanWeight = 0.01

// Cost is the measure by which crossovers are compared, dB: the deepest notch in the
// coverage and the largest loss on the axis count alike, the mean loss a hundredth.
func (l Loss) Cost() float64 { return -(l.Deepest.Loss + l.Axis + meanWeight*l.Mean) }

// lossOf works out what two paths lose from one frequency to another.
func (l *lattice) lossOf(low, high Path, from, to float64) Loss {
	return l.lossAt(l.tableOf(low, high, from, to, false), 0, 1, valley{lattice: l, low: low, high: high, from: from, to: to}, false)
}

// lossAt works out the loss of the paths of r, of which the table lacks the delay and the
// sign of the high one.
//
// Where all cancels at one place, quick leaves the others out: the cost is the same.
func (l *lattice) lossAt(t *table, delay, sign float64, r valley, quick bool) Loss {
	var found []Notch
	done := func() bool { return quick && len(found) > 0 && found[len(found)-1].Loss <= Floor }
	for p := range l.planes {
		f := &l.planes[p]
		s := t.squares(f.plane, delay, sign)
		for _, n := range s.lowest(0, s.columns-1) {
			if done() {
				break
			}
			found = append(found, r.refine(f, l.hz[n.row], f.angle(n.column), f.step))
		}
		if f.plane == field.Horizontal {
			continue
		}
		for _, n := range s.lowest(s.axis, s.axis) {
			found = append(found, r.refine(f, l.hz[n.row], 0, 0))
		}
	}
	out := Loss{Deepest: deepestOf(found), Mean: t.mean(delay, sign)}
	for _, n := range found {
		if n.Angle == 0 {
			out.Axis = math.Min(out.Axis, n.Loss)
		}
	}
	return out
}

// alike is how near in dB two notches count as equally deep.
const alike = 1e-6

// deepestOf takes the deepest and, of equal ones, the first by plane, then on the left or
// above, then by frequency.
func deepestOf(found []Notch) Notch {
	slices.SortStableFunc(found, func(a, b Notch) int {
		return cmp.Or(cmp.Compare(a.Plane, b.Plane), -cmp.Compare(a.Angle, b.Angle), cmp.Compare(a.Frequency, b.Frequency))
	})
	best := found[0]
	for _, n := range found[1:] {
		if n.Loss < best.Loss-alike {
			best = n
		}
	}
	return best
}

// valley is a crossover between the points of a lattice.
type valley struct {
	*lattice
	low, high Path
	from, to  float64 // Hz
}

// seeds is how many of the lowest points of a plane are refined at most.
const seeds = 4

// seedSlack is how far a refined notch may lie under its lattice point, as a square of
// the share: half a step turns both paths by well under its root.
const seedSlack = 0.01

// How finely a notch is refined, as a part of the lattice's steps, and how often its
// surroundings move on where it lies at their edge.
const (
	finely = 1e-3
	moves  = 4
)

// refine finds the lowest share near a place, within the range and the coverage: over the
// frequencies a step to both sides the lowest over the angles two steps to both sides, so
// that valleys askew to both are followed. wide is the step in angle, rad; 0 keeps the
// angle.
func (r *valley) refine(f *face, hz, angle, wide float64) Notch {
	const octave = 1.0 / perOctave
	first, last := math.Log2(r.from), math.Log2(r.to)
	u := math.Min(math.Max(math.Log2(hz), first), last)
	for range moves {
		across := func(u float64) (float64, float64) { return r.across(f, math.Exp2(u), angle, wide) }
		from, to := math.Max(u-octave, first), math.Min(u+octave, last)
		at := lowest(func(u float64) float64 { _, q := across(u); return q }, from, to, u, finely*octave)
		angle, _ = across(at)
		inside := at == u || at > from+octave/4 && at < to-octave/4
		u = at
		if inside || u == first || u == last {
			break
		}
	}
	return r.notch(f, math.Exp2(u), angle)
}

// across returns the angle of the lowest share at a frequency, and the share.
func (r *valley) across(f *face, hz, angle, wide float64) (at, low float64) {
	l, h := r.low.Response(hz), r.high.Response(hz)
	square := func(x float64) float64 {
		a, b := r.at(f, hz, x)
		return share(l*a, h*b)
	}
	if wide == 0 || f.half == 0 {
		return angle, square(angle)
	}
	at = lowest(square, math.Max(angle-2*wide, -f.edge()), math.Min(angle+2*wide, f.edge()), angle, finely*wide)
	return at, square(at)
}

// lowest returns where f is lowest from a to b: about the lowest of a few even samples,
// or at an end, or at x where none is lower.
func lowest(f func(float64) float64, a, b, x, tolerance float64) float64 {
	const samples = 6
	if !(b > a) {
		return x
	}
	best, low := x, f(x)
	try := func(y float64) {
		if q := f(y); q < low {
			best, low = y, q
		}
	}
	for k := range samples + 1 {
		try(a + (b-a)*float64(k)/samples)
	}
	apart := (b - a) / samples
	try(numeric.Minimum(f, math.Max(a, best-apart), math.Min(b, best+apart), tolerance))
	return best
}

// notch is what there is at a place.
func (r *valley) notch(f *face, hz, angle float64) Notch {
	l, h := r.low.Response(hz), r.high.Response(hz)
	a, b := r.at(f, hz, angle)
	a, b = a*l, b*h
	q := math.Max(share(a, b), floorShare)
	x, y := r.at(f, hz, 0)
	axis := math.Max(cmplx.Abs(x*l+y*h), floorShare*(cmplx.Abs(x*l)+cmplx.Abs(y*h)))
	return Notch{Loss: numeric.DB(q), Level: numeric.DB(q * (cmplx.Abs(a) + cmplx.Abs(b)) / axis), Frequency: hz, Angle: angle, Plane: f.plane}
}

// share returns |a+b|/(|a|+|b|), 1 for silence.
func share(a, b complex128) float64 {
	full := cmplx.Abs(a) + cmplx.Abs(b)
	if full == 0 {
		return 1
	}
	return cmplx.Abs(a+b) / full
}
