package waveguide

import (
	"errors"
	"math"

	"gapline/internal/numeric"
)

// WallOption is what the design solver found for one kind of wall: the range of
// throat to wall distances a that keeps every limit, or why there is none.
type WallOption struct {
	Kind        WallKind
	VirtualPath float64 // L in m, +Inf for the parabola; NaN for the straight wall, whose L follows a

	Shortest float64   // a in m below which ShortBy binds (that limit itself may be excluded)
	Longest  float64   // a in m above which LongBy binds; +Inf without a limit
	ShortBy  FoldLimit // angle, throat, mouth or flatness
	LongBy   FoldLimit // depth or path; none without a limit
	Fits     bool      // Shortest < Longest
}

// FoldDesign is the answer of DesignFold.
type FoldDesign struct {
	Options []WallOption // every kind of wall that meets the wanted flatness
	Fits    bool
	Best    Fold // when Fits: of the least curved wall that fits, the gentlest fan

	Binding []FoldLimit // when it does not fit: which bind
	Nearest Nearest     // when it does not fit: what would
}

// Nearest lists, one by one, the smallest changes that would make a design fit,
// everything else staying. A change that cannot help is NaN.
type Nearest struct {
	CabinetDepth  float64 // least depth, m
	CabinetHeight float64 // least height, m
	CabinetWidth  float64 // least width, m
	MouthHeight   float64 // tallest mouth, m
	Fan           float64 // least widest fan that would have to be allowed, rad
	VirtualPath   float64 // longest virtual path, m
	FlatTo        float64 // frequency in Hz to which that path is flat
}

// DesignFold finds the walls that fit: ThroatToWall is not read but solved for.
// VirtualPath asks for one front (+Inf for plane); when it is not given, the
// front must be flat to TopFrequency and every kind of wall that manages it is
// tried, the straight wall first. The limits are the cabinet's depth, height and
// width, the widest fan, one layer's clearance at the throat, and a wall that
// ends behind the mouth plane.
//
// Bad input is an error; a design that does not fit is not: it comes back with
// Fits false, the limits that bind, and the nearest that fits.
func DesignFold(spec FoldSpec) (FoldDesign, error) {
	var p problems
	spec.checkCommon(&p)
	inside := spec
	if spec.tooTall() { // an answer here, not a mistake
		inside.CabinetHeight = numeric.Absent
	}
	inside.checkCabinet(&p)
	if err := errors.Join(p...); err != nil {
		return FoldDesign{}, err
	}
	var d FoldDesign
	for _, s := range spec.candidates() {
		d.Options = append(d.Options, s.option())
	}
	if err := d.choose(spec); err != nil {
		return FoldDesign{}, err
	}
	if !d.Fits {
		d.explain(spec)
	}
	return d, nil
}

// candidates are the specs to solve, defaults filled in, the simplest wall
// first.
func (s FoldSpec) candidates() []FoldSpec {
	wanted := s.VirtualPath
	s.VirtualPath = 1 // any length: withDefaults must not choose one
	if s.Wall == StraightWall {
		s.VirtualPath = numeric.Absent
	}
	d := s.withDefaults()
	if s.Wall == StraightWall {
		return []FoldSpec{d}
	}
	if numeric.Given(wanted) {
		d.VirtualPath = wanted
		return []FoldSpec{d}
	}
	straight, round, flat := d, d, d
	straight.Wall = StraightWall
	straight.VirtualPath = numeric.Absent
	flat.VirtualPath = math.Inf(1)
	round.VirtualPath = flatPath(d.MouthHeight, d.SoundSpeed/(4*d.TopFrequency))
	if round.VirtualPath <= d.MouthDistance {
		return []FoldSpec{straight, flat}
	}
	return []FoldSpec{straight, round, flat}
}

// with returns the shape at the throat to wall distance a, unchecked.
func (s FoldSpec) with(a float64) Fold {
	s.ThroatToWall = a
	return shape(s)
}

// Search interval for a, in m: from a hair to far beyond any cabinet.
const minWall, maxWall = 1e-5, 100.0

// option solves the feasible range of a. Every limit is monotonic in a: a longer
// a narrows the fan, moves the wall's end back, clears the throat and deepens
// the fold.
func (s FoldSpec) option() WallOption {
	o := WallOption{VirtualPath: s.VirtualPath, Shortest: minWall, Longest: math.Inf(1)}
	if s.Wall == StraightWall {
		o.VirtualPath = numeric.Absent
	}
	o.atLeast(FoldThroat, s.throatRadius()+s.Layer)
	o.atLeast(FoldAngle, s.bound(func(f Fold) float64 { return s.MaxFan - f.fan.Width() }))
	o.atLeast(FoldMouth, s.bound(func(f Fold) float64 {
		return s.MouthDistance - math.Max(f.Wall.Point(f.fan.Low).Z, f.Wall.Point(f.fan.High).Z)
	}))
	if s.Wall == StraightWall {
		budget := s.SoundSpeed / (4 * s.TopFrequency)
		o.atLeast(FoldFlatness, s.bound(func(f Fold) float64 { return budget - f.PathSpread() }))
	} else {
		o.atMost(FoldPath, s.pathBound())
	}
	if numeric.Given(s.CabinetDepth) {
		o.atMost(FoldDepth, s.bound(func(f Fold) float64 { return f.BuiltDepth() - s.CabinetDepth }))
	}
	o.Fits = o.Shortest < o.Longest
	a := o.Shortest
	if !math.IsInf(o.Longest, 1) {
		a = math.Min(a, o.Longest)
	}
	o.Kind = s.with(a).Wall.Kind()
	return o
}

func (o *WallOption) atLeast(by FoldLimit, a float64) {
	if a > o.Shortest {
		o.Shortest, o.ShortBy = a, by
	}
}

func (o *WallOption) atMost(by FoldLimit, a float64) {
	if a < o.Longest {
		o.Longest, o.LongBy = a, by
	}
}

// pathBound is the a at which the apex would lie on the wall, D = a.
func (s FoldSpec) pathBound() float64 {
	if math.IsInf(s.VirtualPath, 1) {
		return math.Inf(1)
	}
	return math.Hypot(s.VirtualPath-s.MouthDistance, s.ThroatHeight)
}

// bound solves for the a at which margin, which rises with a, passes 0. A margin
// that is positive everywhere gives minWall, one that is never positive the end
// of the search interval.
func (s FoldSpec) bound(margin func(Fold) float64) float64 {
	top := maxWall
	if s.Wall != StraightWall {
		top = math.Min(top, s.pathBound()*(1-1e-9))
	}
	g := func(a float64) float64 {
		m := margin(s.with(a))
		if math.IsNaN(m) {
			return -1 // the wall does not reach: the fan is far too wide
		}
		return m
	}
	if top <= minWall || g(top) < 0 {
		return maxWall
	}
	if g(minWall) >= 0 {
		return minWall
	}
	a, err := numeric.Root(g, minWall, top, 1e-13)
	if err != nil {
		return maxWall
	}
	return a
}

// gentleFan is the fan in rad that choose aims at, 120°: the edge of a plane front
// is then 10 log10((1 + cos 60°)/2) = -1.25 dB below its middle.
const gentleFan = 2 * math.Pi / 3

// choose takes the simplest wall that fits, at the a that gives a fan of 120°,
// or the nearest to it inside the feasible range.
func (d *FoldDesign) choose(spec FoldSpec) error {
	if spec.tooTall() || spec.tooWide() {
		return nil
	}
	for i, s := range spec.candidates() {
		o := d.Options[i]
		if !o.Fits {
			continue
		}
		s.ThroatToWall = s.pick(o)
		best, err := NewFold(s)
		if err != nil {
			return err
		}
		d.Fits, d.Best = true, best
		return nil
	}
	return nil
}

// pick chooses a inside the range of o, which is not empty.
func (s FoldSpec) pick(o WallOption) float64 {
	gentle := s.bound(func(f Fold) float64 { return gentleFan - f.fan.Width() })
	// Open ends of the range (an angle of just 180°, an apex on the wall) are
	// kept off by a hair.
	low := o.Shortest + math.Min(1e-9, (o.Longest-o.Shortest)/2)
	high := o.Longest
	if o.LongBy == FoldPath {
		high = (low + high) / 2
	}
	return math.Min(math.Max(gentle, low), high)
}

func (s FoldSpec) tooTall() bool { return s.MouthHeight > s.CabinetHeight }

func (s FoldSpec) tooWide() bool {
	return 2*(s.Layer+numeric.Or(s.BendRadius, 0)) > s.CabinetWidth
}
