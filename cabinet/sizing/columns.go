package sizing

import (
	"math"

	"gapline/internal/numeric"
)

// Column is the mouths of one band that stand one above the other, as seen from above.
type Column struct {
	Y     float64 // left of the columns' common middle, m
	X     float64 // in front of it, m; set back is negative
	Turn  float64 // of the mouths' axis to the left, rad
	Width float64 // of a mouth, m; nothing for a Point
	Shape Shape
}

// Columns are the columns of one band, driven alike and in phase.
//
// Their horizontal far field is the product of the pattern of a mouth and that of the
// places where the columns stand, summed where they differ,
//
//	p(θ) = Σ D(kW/2·sin(θ − α))·e^{jk(Y sin θ + X cos θ)}
//
// with D of the mouth's Shape and α its Turn: H. F. Olson, Elements of Acoustical
// Engineering, 1947 (product of patterns); L. L. Beranek, Acoustics, 1954, ch. 4, part XI
// (arrays, circular and rectangular pistons), from memory. Angles are in rad, positive to
// the left; the reference is the level on the box's own axis, θ = 0.
type Columns []Column

// Pressure returns |p(θ)| at the wave number k in rad/m; a column counts as 1.
func (cs Columns) Pressure(k, angle float64) float64 {
	sin, cos := math.Sincos(angle)
	re, im := 0.0, 0.0
	for i := range cs {
		c := &cs[i]
		own := c.Shape.pattern(k * c.Width / 2 * sineFrom(angle-c.Turn))
		s, co := math.Sincos(k * (c.Y*sin + c.X*cos))
		re, im = re+own*co, im+own*s
	}
	return math.Sqrt(re*re + im*im)
}

// sineFrom is the sine of an angle from a mouth's axis. Behind its own plane a mouth
// counts as in it.
func sineFrom(angle float64) float64 {
	if math.Abs(angle) > math.Pi/2 {
		return math.Copysign(1, angle)
	}
	return math.Sin(angle)
}

// minusSixDB is the pressure ratio of −6.000 dB.
var minusSixDB = numeric.FromDB(-6)

const (
	// phaseStep is how far the phase between the outermost parts of the columns may move
	// from one point of a scan to the next, rad: a sixteenth of a turn, within which no
	// fall or dip hides.
	phaseStep = math.Pi / 8

	// mostWaves is how many wavelengths wide the columns are where the scan over
	// frequency ends; neighbours null each other long before.
	mostWaves = 16

	// deepestRatio is the ratio of the deepest dip that is told, −60 dB: cones and rooms
	// that differ by a thousandth fill any deeper one.
	deepestRatio = 1e-3

	// alike is the relative difference up to which two dips or their angles are equal, far
	// over rounding: the two of a symmetric box are.
	alike = 1e-6
)

// extent is the room that the columns take in the horizontal plane, m.
func (cs Columns) extent() float64 {
	if len(cs) == 0 {
		return 0
	}
	first := &cs[0]
	left, right, front, back, width := first.Y, first.Y, first.X, first.X, 0.0
	for i := range cs {
		c := &cs[i]
		left, right, front, back = math.Max(left, c.Y), math.Min(right, c.Y), math.Max(front, c.X), math.Min(back, c.X)
		if c.Shape != Point {
			width = math.Max(width, c.Width)
		}
	}
	return left - right + front - back + width
}

// flat reports whether the columns stand in one plane and look straight ahead: their
// pattern then depends on κ = k·sin θ alone and is the same on both sides.
func (cs Columns) flat() bool {
	for i := range cs {
		if cs[i].X != cs[0].X || cs[i].Turn != 0 {
			return false
		}
	}
	return true
}

// fall returns κ = k·sin θ in rad/m at which the level of flat columns first falls to
// −6 dB; +Inf where it does not, NaN for columns that are not flat.
func (cs Columns) fall() float64 {
	e := cs.extent()
	switch {
	case !cs.flat():
		return numeric.Absent
	case e == 0:
		return math.Inf(1)
	}
	const across = math.Pi / 2 // where k·sin θ is k
	axis := cs.Pressure(0, across)
	kappa, ok := numeric.FirstCrossing(func(kappa float64) float64 { return cs.Pressure(kappa, across)/axis - minusSixDB },
		0, 2*math.Pi*mostWaves/e, phaseStep/e, 1e-14/e)
	if !ok {
		return math.Inf(1)
	}
	return kappa
}

// Width returns the −6 dB full width in rad at the wave number k in rad/m, from the
// first fall on the one side of the axis to that on the other; NaN where the level does
// not fall so far on both sides.
func (cs Columns) Width(k float64) float64 { return cs.width(k, cs.fall()) }

// width is Width with the columns' fall at hand.
func (cs Columns) width(k, fall float64) float64 {
	if numeric.Given(fall) {
		return 2 * math.Asin(fall/k) // NaN past 1
	}
	axis := cs.Pressure(k, 0)
	width := 0.0
	for _, side := range [...]float64{1, -1} {
		edge, ok := firstBelow(func(a float64) float64 { return cs.Pressure(k, side*a)/axis - minusSixDB }, math.Pi/2, math.Pi/2/cs.steps(k, math.Pi/2))
		if !ok {
			return numeric.Absent
		}
		width += edge
	}
	return width
}

// firstBelow returns where f, which is above 0 at 0, first falls to 0 up to an end, in a
// scan that looks into the dips between its points.
func firstBelow(f func(float64) float64, end, step float64) (x float64, ok bool) {
	root := func(from, to float64) (float64, bool) {
		x, err := numeric.Root(f, from, to, 1e-12*end)
		return x, err == nil
	}
	before, here := f(-step), f(0)
	for x := 0.0; x < end; x += step {
		next := math.Min(x+step, end)
		there := f(next)
		if here <= before && here <= there {
			from := math.Max(x-step, 0)
			if low := numeric.Minimum(f, from, next, 1e-9*end); f(low) < 0 {
				return root(from, low)
			}
		}
		if there < 0 {
			return root(x, next)
		}
		before, here = here, there
	}
	return numeric.Absent, false
}

// steps is the number of steps of a scan from the axis to an angle in rad.
func (cs Columns) steps(k, angle float64) float64 {
	return 4 + math.Ceil(k*cs.extent()*angle/phaseStep)
}

// Deepest returns the lowest level within ±half in rad of the axis at the wave number k
// in rad/m, as a pressure ratio to the axis and not below that of −60 dB, and its angle:
// of equal ones the nearest to the axis, and of those the left one. It is 1 at the axis
// where no level lies below it.
func (cs Columns) Deepest(k, half float64) (ratio, at float64) { return cs.deepest(k, half, cs.fall()) }

// deepest is Deepest with the columns' fall at hand.
func (cs Columns) deepest(k, half, fall float64) (ratio, at float64) {
	axis := cs.Pressure(k, 0)
	if len(cs) <= 2 && k*math.Sin(half) <= fall {
		return cs.Pressure(k, half) / axis, half // both factors of the product only fall so far
	}
	ratio = 1
	take := func(a float64) {
		r := math.Max(cs.Pressure(k, a)/axis, deepestRatio)
		nearer := math.Abs(a) < math.Abs(at)*(1-alike)
		if r < ratio*(1-alike) || r < ratio*(1+alike) && nearer {
			ratio, at = r, a
		}
	}
	n := cs.steps(k, half)
	step := half / n
	for _, side := range [...]float64{1, -1} {
		level := func(a float64) float64 { return cs.Pressure(k, side*a) }
		before, here := level(-step), axis
		for i := 0.0; i < n; i++ {
			a := i * step
			next := level(a + step)
			if here <= before && here <= next {
				take(side * numeric.Minimum(level, a-step, a+step, 1e-7*half))
			}
			before, here = here, next
		}
		if before := half * (1 - 1e-6); level(before) < here { // a dip within the last step
			take(side * numeric.Minimum(level, half-step, half, 1e-7*half))
		}
		take(side * half)
		if numeric.Given(fall) {
			break // both sides are alike
		}
	}
	return ratio, at
}

// Reach returns the wave number in rad/m up to which the level stays above −6 dB
// everywhere within ±half in rad of the axis; +Inf where it does so at any. For columns
// that are turned or set back it is a scan, which steps over what lasts less than
// phaseStep: a level that touches −6 dB and rises again, or the axis's own cancelling by
// columns one right behind the other.
func (cs Columns) Reach(half float64) float64 { return cs.reach(half, cs.fall()) }

// reach is Reach with the columns' fall at hand.
func (cs Columns) reach(half, fall float64) float64 {
	if numeric.Given(fall) {
		return fall / math.Sin(half)
	}
	e := cs.extent()
	if e == 0 {
		return math.Inf(1)
	}
	k, ok := firstBelow(func(k float64) float64 {
		ratio, _ := cs.deepest(k, half, fall)
		return ratio - minusSixDB
	}, 2*math.Pi*mostWaves/e, phaseStep/e)
	if !ok {
		return math.Inf(1)
	}
	return k
}
