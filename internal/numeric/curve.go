package numeric

import (
	"math"
	"slices"
)

// Curve is a quantity Y at ascending frequencies X, both of one length. NaN in Y is no value.
// Between its points Y is linear over log X.
type Curve struct{ X, Y []float64 }

// Rises returns the lowest X at which the curve rises past a level: from under it to it or over.
// It is NaN where it does not, or starts there.
func (c Curve) Rises(level float64) float64 {
	for i := 1; i < len(c.X); i++ {
		if c.Y[i-1] < level && c.Y[i] >= level {
			return c.crossing(i, level)
		}
	}
	return Absent
}

// Settles returns the lowest X from which the curve, having been over a level, is at it or under
// for a number of octaves, or to its last value. It is NaN where it never is, or is from the
// first value on. What stays must have no gap. After +Inf, such as of a width that is wider
// than all round, it is the first X at the level or under.
func (c Curve) Settles(level, octaves float64) float64 {
	for i := 1; i < len(c.X); i++ {
		if c.Y[i-1] > level && c.Y[i] <= level && c.stays(i, level, octaves) {
			return c.crossing(i, level)
		}
	}
	return Absent
}

// crossing is where the curve is at a level just before point i.
func (c Curve) crossing(i int, level float64) float64 {
	a, b := c.Y[i-1], c.Y[i]
	if math.IsInf(a, 0) {
		return c.X[i]
	}
	return c.X[i-1] * math.Pow(c.X[i]/c.X[i-1], (level-a)/(b-a))
}

// stays reports whether the curve is at a level or under from point i on, for long enough.
func (c Curve) stays(i int, level, octaves float64) bool {
	last := len(c.X) - 1
	for last > i && !Given(c.Y[last]) {
		last--
	}
	for j := i; j <= last && math.Log2(c.X[j]/c.X[i]) <= octaves*(1+1e-9); j++ {
		if !(c.Y[j] <= level) {
			return false
		}
	}
	return true
}

// Second leaves every second point, the one at from first, and the last.
func (c Curve) Second(from int) (out Curve) {
	last := len(c.X) - 1
	for i := from; i <= last; i++ {
		if (i-from)%2 == 0 || i == last {
			out.X, out.Y = append(out.X, c.X[i]), append(out.Y, c.Y[i])
		}
	}
	return out
}

// Halved reads a curve through every second of its points, either way.
func (c Curve) Halved(read func(Curve) float64) []float64 {
	return []float64{read(c.Second(0)), read(c.Second(1))}
}

// Between is how far to either side of a frequency that was read off a curve the truth may lie,
// where the curve was read in other ways too: as far as any of those readings is off, as a
// ratio. One that found nothing leaves the step of the curve just below the frequency.
func (c Curve) Between(at float64, readings []float64) (from, to float64) {
	if !Given(at) {
		return Absent, Absent
	}
	off := 1.0
	for _, x := range readings {
		if !Given(x) {
			i, _ := slices.BinarySearch(c.X, at)
			x = c.X[max(0, i-1)]
		}
		off = math.Max(off, math.Max(x/at, at/x))
	}
	return at / off, at * off
}

// Lacking returns values with +Inf in place of those that are not given, for Settles.
func Lacking(y []float64) []float64 {
	out := slices.Clone(y)
	for i, x := range out {
		if !Given(x) {
			out[i] = math.Inf(1)
		}
	}
	return out
}
