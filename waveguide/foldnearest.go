package waveguide

import (
	"math"

	"gapline/internal/numeric"
)

// fits reports whether any kind of wall fits, by the same limits as DesignFold.
func (s FoldSpec) fits() bool {
	if s.tooTall() || s.tooWide() {
		return false
	}
	_, ok := s.closest()
	return ok
}

// closest is the option that fits, or else the one that needs the least depth.
func (s FoldSpec) closest() (o WallOption, fits bool) {
	least := math.Inf(1)
	for _, c := range s.candidates() {
		x := c.option()
		if x.Fits {
			return x, true
		}
		if depth := c.with(x.Shortest).BuiltDepth(); depth < least || o.Kind == "" {
			least, o = depth, x
		}
	}
	return o, false
}

// explain fills in what binds and what the nearest fits are.
func (d *FoldDesign) explain(s FoldSpec) {
	n := numeric.Absent
	d.Nearest = Nearest{n, n, n, n, n, n, n}
	if s.tooTall() {
		d.Binding = append(d.Binding, FoldHeight)
		d.Nearest.CabinetHeight = s.MouthHeight
	}
	if s.tooWide() {
		d.Binding = append(d.Binding, FoldWidth)
		d.Nearest.CabinetWidth = 2 * (s.Layer + numeric.Or(s.BendRadius, 0))
	}
	roomy := s
	roomy.CabinetHeight, roomy.CabinetWidth = n, n
	if o, ok := roomy.closest(); !ok {
		d.Binding = append(d.Binding, o.LongBy, o.ShortBy)
		d.Nearest.CabinetDepth = roomy.leastDepth()
		d.Nearest.Fan = roomy.leastFan()
		d.Nearest.VirtualPath = roomy.longestPath()
		d.Nearest.FlatTo = s.flatOf(d.Nearest.VirtualPath)
	}
	d.Nearest.MouthHeight = s.tallestMouth()
}

// bisect narrows [good, bad] until the two agree to tol and returns the good
// end. ok must hold at good and not at bad.
func bisect(ok func(float64) bool, good, bad, tol float64) float64 {
	for math.Abs(good-bad) > tol {
		if mid := (good + bad) / 2; ok(mid) {
			good = mid
		} else {
			bad = mid
		}
	}
	return good
}

// Resolution of the nearest fits: far below any workshop's.
const (
	lengthStep = 1e-6 // m
	angleStep  = 1e-6 // rad
)

// leastDepth is the least cabinet depth that fits; NaN if no depth does.
func (s FoldSpec) leastDepth() float64 {
	if !numeric.Given(s.CabinetDepth) {
		return numeric.Absent
	}
	ok := func(depth float64) bool { t := s; t.CabinetDepth = depth; return t.fits() }
	const deep = 10.0 // m, deeper than any cabinet
	if !ok(deep) {
		return numeric.Absent
	}
	return bisect(ok, deep, s.CabinetDepth, lengthStep)
}

// leastFan is the narrowest limit on the fan that fits, when the given one is
// what stands in the way.
func (s FoldSpec) leastFan() float64 {
	ok := func(fan float64) bool { t := s; t.MaxFan = fan; return t.fits() }
	limit := numeric.Or(s.MaxFan, math.Pi)
	if limit == math.Pi || !ok(math.Pi) {
		return numeric.Absent
	}
	return bisect(ok, math.Pi, limit, angleStep)
}

// tallestMouth is the tallest mouth that fits, below the given one.
func (s FoldSpec) tallestMouth() float64 {
	ok := func(h float64) bool { t := s; t.MouthHeight = h; return t.fits() }
	const low = 1e-3 // m
	if s.MouthHeight <= low || !ok(low) {
		return numeric.Absent
	}
	return bisect(ok, low, s.MouthHeight, lengthStep)
}

// longestPath is the longest virtual path that fits, below the wanted one: a
// rounder front. NaN when none does or the wall is straight by request.
func (s FoldSpec) longestPath() float64 {
	if s.Wall == StraightWall {
		return numeric.Absent
	}
	ok := func(l float64) bool { t := s; t.VirtualPath = l; return t.fits() }
	const longest, steps = 100.0, 120
	top := math.Min(longest, numeric.Or(s.VirtualPath, longest))
	bottom := s.Layer
	for i := range steps {
		// Lengths in equal ratios from the top down to one layer.
		l := top * math.Pow(bottom/top, float64(i)/(steps-1))
		if ok(l) {
			above := top * math.Pow(bottom/top, float64(i-1)/(steps-1))
			if i == 0 {
				return l
			}
			return bisect(ok, l, above, lengthStep)
		}
	}
	return numeric.Absent
}

// flatOf is the frequency in Hz to which the front of a virtual path l is flat.
func (s FoldSpec) flatOf(l float64) float64 {
	s.VirtualPath = 1
	d := s.withDefaults()
	return quarterWave(d.SoundSpeed, math.Hypot(l, s.MouthHeight/2)-l)
}
