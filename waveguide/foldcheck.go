package waveguide

import (
	"errors"
	"fmt"
	"math"

	"gapline/internal/numeric"
	"gapline/internal/quantity"
)

// problems collects everything that is wrong, so that one run names it all.
type problems []error

func (p *problems) addf(bad bool, format string, args ...any) {
	if bad {
		*p = append(*p, fmt.Errorf(format, args...))
	}
}

// mm is a length in m that prints in millimetres. It is formatted only when a
// message is, which checks that pass never need.
type mm float64

func (x mm) String() string { return fmt.Sprintf("%.4g mm", 1000*float64(x)) }

// positive complains about a value that is given and is not a positive finite
// number, and when needed about one that is not given.
func (p *problems) positive(what string, x float64, needed bool) {
	if !numeric.Given(x) {
		p.addf(needed, "%s is needed", what)
		return
	}
	p.addf(!(x > 0) || math.IsInf(x, 0), "%s is %s; it must be more than 0 and finite", what, mm(x))
}

// notNegative complains about a given value below 0.
func (p *problems) notNegative(what string, x float64) {
	p.addf(x < 0 || math.IsInf(x, 0), "%s is %s; it must be 0 or more and finite", what, mm(x))
}

// check looks at the values one by one; shape comes after. Nothing of a given fold depends
// on the cabinet.
func (s FoldSpec) check() error {
	var p problems
	p.positive("throat to wall", s.ThroatToWall, true)
	s.checkCommon(&p)
	return errors.Join(p...)
}

// checkCommon is what NewFold and DesignFold check alike.
func (s FoldSpec) checkCommon(p *problems) {
	p.positive("layer thickness", s.Layer, true)
	p.positive("mouth height", s.MouthHeight, true)
	p.positive("cabinet depth", s.CabinetDepth, false)
	p.positive("cabinet height", s.CabinetHeight, false)
	p.positive("cabinet width", s.CabinetWidth, false)
	p.positive("throat diameter", s.ThroatDiameter, false)
	p.notNegative("bend radius", s.BendRadius)
	p.notNegative("rear allowance", s.RearAllowance)
	p.addf(s.VirtualPath <= 0, "virtual path is %s; it must be more than 0, or infinite for a plane front", mm(s.VirtualPath))
	p.addf(s.Wall == StraightWall && numeric.Given(s.VirtualPath),
		"a straight wall fixes the virtual path itself (twice the throat to wall distance plus the mouth distance); leave virtual path out")
	p.addf(numeric.Given(s.TopFrequency) && !(s.TopFrequency > 0 && !math.IsInf(s.TopFrequency, 0)),
		"top frequency is %g Hz; it must be more than 0", s.TopFrequency)
	p.addf(numeric.Given(s.SoundSpeed) && !(s.SoundSpeed > 0 && !math.IsInf(s.SoundSpeed, 0)),
		"sound speed is %g m/s; it must be more than 0", s.SoundSpeed)
	p.addf(s.MaxFan <= 0 || s.MaxFan > math.Pi,
		"the widest fan is %.4g°; it must be more than 0° and at most 180°", s.MaxFan/quantity.Degree)
	s.checkThroat(p)
}

// checkCabinet looks whether the cabinet holds mouth and throat, without which no wall
// can be found that fits.
func (s FoldSpec) checkCabinet(p *problems) {
	p.addf(s.tooTall(), "the mouth, %s tall, is taller than the cabinet, %s", mm(s.MouthHeight), mm(s.CabinetHeight))
	p.addf(s.MouthDistance > s.CabinetDepth,
		"the throat lies outside: %s behind the mouth plane, in a cabinet %s deep", mm(s.MouthDistance), mm(s.CabinetDepth))
	off := s.throatReach()
	p.addf(off > s.CabinetHeight/2,
		"the throat lies outside: its rim is %s from the mouth's middle, half the cabinet's height is %s", mm(off), mm(s.CabinetHeight/2))
}

// checkThroat looks whether the throat has room in front of it.
func (s FoldSpec) checkThroat(p *problems) {
	r := s.throatRadius()
	p.addf(s.MouthDistance < r || math.IsInf(s.MouthDistance, 0),
		"the throat lies outside: the mouth plane is %s in front of its centre and must be at least the throat's radius, %s",
		mm(s.MouthDistance), mm(r))
	p.addf(math.IsInf(s.throatReach(), 0), "the throat's height must be finite")
}

// throatReach is how far in m the throat's rim lies from the mouth's middle.
func (s FoldSpec) throatReach() float64 {
	return math.Abs(numeric.Or(s.ThroatHeight, 0)) + s.throatRadius()
}

// check looks whether the shape that came out is possible.
func (f Fold) check() error {
	var p problems
	s := f.Spec
	forward, up := f.apexOffset()
	front := s.MouthDistance + s.ThroatToWall
	if f.invL > 0 && !(forward > 0 && s.ThroatToWall*f.invL < math.Hypot(forward, up)) {
		return fmt.Errorf("virtual path %s puts the apex in front of the wall, which is %s behind the mouth; "+
			"it must be longer than that", mm(s.VirtualPath), mm(front))
	}
	p.addf(!(f.fan.Width() < math.Pi),
		"the fan from the throat would be %.4g°; it must be less than 180°: move the wall back or make the mouth lower",
		f.fan.Width()/quantity.Degree)
	edge := math.Max(f.Wall.Point(f.fan.Low).Z, f.Wall.Point(f.fan.High).Z)
	p.addf(!(edge < s.MouthDistance), "the wall's end, %s in front of the throat, reaches the mouth plane at %s",
		mm(edge), mm(s.MouthDistance))
	p.addf(s.ThroatToWall <= s.throatRadius(), "the throat lies outside: its radius, %s, reaches the wall %s away",
		mm(s.throatRadius()), mm(s.ThroatToWall))
	return errors.Join(p...)
}

// Note is one check of a fold that a design review would ask about.
type Note struct {
	Of FoldLimit
	OK bool
}

// Notes runs the checks: flatness against the quarter wave, cross mode of the
// layer, throat clearance, room for the turn, and fit in the cabinet where its
// size is known.
func (f Fold) Notes() []Note {
	s := f.Spec
	notes := []Note{
		{FoldFlatness, f.PathSpread() <= f.SpreadBudget()+rounding},
		{FoldCrossMode, f.CrossMode() >= s.TopFrequency},
		{FoldClearance, f.ThroatClearance() >= s.Layer},
		{FoldTurn, f.Wall.VertexCurvature() > f.TurnInset() || f.Wall.Q <= 0},
	}
	if numeric.Given(s.CabinetDepth) {
		notes = append(notes, Note{FoldDepth, f.BuiltDepth() <= s.CabinetDepth+rounding})
	}
	if numeric.Given(s.CabinetWidth) {
		notes = append(notes, Note{FoldWidth, f.StackWidth() <= s.CabinetWidth})
	}
	if numeric.Given(s.CabinetHeight) {
		lo, hi := f.Heights()
		notes = append(notes, Note{FoldHeight, math.Max(-lo, hi) <= s.CabinetHeight/2})
	}
	return notes
}

// Heights are the lowest and highest point of wall, throat and mouth in m.
func (f Fold) Heights() (low, high float64) {
	h, t := f.Spec.MouthHeight/2, f.Spec.ThroatHeight
	a, b := f.Wall.Point(f.fan.Low).Y, f.Wall.Point(f.fan.High).Y
	r := f.Spec.throatRadius()
	return math.Min(math.Min(-h, a), math.Min(b, t-r)), math.Max(math.Max(h, b), math.Max(a, t+r))
}

// CrossMode is the frequency in Hz of the first mode across a layer, c/(2t).
func (f Fold) CrossMode() float64 { return f.Spec.SoundSpeed / (2 * f.Spec.Layer) }

// ThroatClearance is the least distance in m from the throat's rim to the wall.
// The wall's nearest point is its vertex, or the end of the used part when the
// vertex is not in it.
func (f Fold) ThroatClearance() float64 {
	phi := math.Max(f.fan.Low, math.Min(f.fan.High, 0))
	return f.Wall.Radius(phi) - f.Spec.throatRadius()
}

// TurnInset is how far in m the centre of the turn lies inside the wall. The
// wall stands for the middle of the turn's developed length: half the mean
// half-circle, (π/2)(ρ + t/2) with ρ the inner radius, so that the path round
// the turn is as long as the path in the mirror picture. It is the mean-line
// rule, good while the layer is thin against the wavelength.
func (f Fold) TurnInset() float64 {
	return math.Pi / 2 * (f.Spec.BendRadius + f.Spec.Layer/2)
}

// TurnOverhang is how far in m the turn's outer surface lies outside the wall,
// ρ + t - TurnInset; negative when it lies inside.
func (f Fold) TurnOverhang() float64 {
	return f.Spec.BendRadius + f.Spec.Layer - f.TurnInset()
}

// BuiltDepth is the depth in m that the cabinet must offer: Depth, the turn's
// overhang, and the rear allowance.
func (f Fold) BuiltDepth() float64 {
	return f.Depth() + f.TurnOverhang() + f.Spec.RearAllowance
}

// StackWidth is the width in m of both layers and the plate between them, inner
// surfaces.
func (f Fold) StackWidth() float64 { return 2 * (f.Spec.Layer + f.Spec.BendRadius) }

// Unsolved is the spec with the wall left open, as DesignFold takes it.
func (s FoldSpec) Unsolved() FoldSpec {
	s.ThroatToWall = numeric.Absent
	if s.Wall == StraightWall {
		s.VirtualPath = numeric.Absent
	}
	return s
}
