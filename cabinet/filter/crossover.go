package filter

import (
	"context"
	"fmt"
	"math"
	"math/cmplx"
	"slices"

	"gapline/cabinet/field"
	"gapline/internal/numeric"
)

// Spec says where a crossover is looked at.
type Spec struct {
	Low, High int       // drives of the stack: woofers and horns
	Frequency []float64 // Hz
	// Angles of the maps from the stack's axis, rad, see field.PolarSpec.
	Vertical, Horizontal []float64
	// Full coverage angles, rad, within which notches count.
	VerticalCoverage, HorizontalCoverage float64
	Distance                             float64 // m; +Inf: far field
	Axis                                 float64 // rad down; NaN: mean of the boxes
	// Notches count from From to To, Hz; both 0: from the lowest to the highest Frequency.
	From, To float64
	// Reach, if not 0, is how far from a crossover's frequency they count, octaves.
	Reach float64
	// Match, if set, is by how much the low and the high path are turned up in dB for a
	// crossover at f, Hz, when one is looked for.
	Match func(f float64) (low, high float64)
}

// System is a stack seen through its two paths: the sound of each at every angle
// without the crossover, summed once, so that crossovers can be tried cheaply.
type System struct {
	Spec
	engine  *field.Engine
	planes  [2]plane // field.Vertical, field.Horizontal
	lattice *lattice // what lies within the coverage
}

// plane holds both paths over one plane, [frequency][angle], the axis last.
type plane struct {
	angle     []float64
	low, high [][]complex128
}

// NewSystem sums both paths over both planes. The maps must hold at least one
// angle each; the axis is always looked at.
func NewSystem(ctx context.Context, e *field.Engine, s Spec) (*System, error) {
	n := len(e.Stack().Drives)
	if s.Low < 0 || s.Low >= n || s.High < 0 || s.High >= n || s.Low == s.High {
		return nil, fmt.Errorf("paths on drives %d and %d: need two different ones of %d, counted from 0", s.Low, s.High, n)
	}
	if !(s.VerticalCoverage >= 0) || !(s.HorizontalCoverage >= 0) {
		return nil, fmt.Errorf("coverage of %v by %v rad: need 0 or more", s.HorizontalCoverage, s.VerticalCoverage)
	}
	out := &System{Spec: s, engine: e}
	for p, angles := range [][]float64{s.Vertical, s.Horizontal} {
		parts, err := e.PolarParts(ctx, field.PolarSpec{
			Plane: field.Plane(p), Angle: angles, Frequency: s.Frequency, Distance: s.Distance, Axis: s.Axis,
		})
		if err != nil {
			return nil, err
		}
		out.planes[p] = plane{angle: angles, low: parts[s.Low], high: parts[s.High]}
	}
	if out.From == 0 && out.To == 0 {
		out.From, out.To = slices.Min(s.Frequency), slices.Max(s.Frequency)
	}
	if !(out.From > 0 && out.To >= out.From && !math.IsInf(out.To, 1)) {
		return nil, fmt.Errorf("notches from %v to %v Hz: need 0 < from ≤ to", out.From, out.To)
	}
	var err error
	out.lattice, err = out.newLattice(ctx, out.From, out.To)
	return out, err
}

// span is the range in which the notches of a crossover at f count, Hz.
func (s *System) span(f float64) (from, to float64) {
	if s.Reach == 0 || !(f > 0) {
		return s.From, s.To
	}
	from, to = math.Max(s.From, f/math.Exp2(s.Reach)), math.Min(s.To, f*math.Exp2(s.Reach))
	if from > to {
		return s.From, s.To
	}
	return from, to
}

// Map is one plane of a summed crossover, [frequency][angle].
type Map struct {
	Angle      []float64
	Level      [][]float64 // see field.Engine.Reference
	Normalised [][]float64 // 0 dB on the axis
	// Loss is the sum against both paths in phase, 20 log10(|L+H|/(|L|+|H|)): 0 dB
	// where they help each other fully, −∞ where they cancel.
	Loss [][]float64
}

// Sum is a crossover summed.
type Sum struct {
	Low, High            Path
	Frequency            []float64
	OnAxis               []float64 // level of the sum, see field.Engine.Reference
	LowAxis, HighAxis    []float64 // level of each path
	OnAxisPhase          []float64 // rad
	Vertical, Horizontal Map
	Loss
}

// Sum sums the system through two paths.
func (s *System) Sum(low, high Path) (*Sum, error) {
	loss, err := s.Lost(low, high)
	if err != nil {
		return nil, err
	}
	l, h := s.responses(low), s.responses(high)
	out := &Sum{Low: low, High: high, Frequency: s.Frequency, Loss: loss}
	v := &s.planes[field.Vertical]
	axis := len(v.angle)
	for i := range s.Frequency {
		a, b := l[i]*v.low[i][axis], h[i]*v.high[i][axis]
		out.OnAxis = append(out.OnAxis, s.engine.Level(a+b))
		out.LowAxis = append(out.LowAxis, s.engine.Level(a))
		out.HighAxis = append(out.HighAxis, s.engine.Level(b))
		out.OnAxisPhase = append(out.OnAxisPhase, cmplx.Phase(a+b))
	}
	out.Vertical = s.mapOf(field.Vertical, l, h, out.OnAxis)
	out.Horizontal = s.mapOf(field.Horizontal, l, h, out.OnAxis)
	return out, nil
}

// Lost works out what the system loses through two paths.
func (s *System) Lost(low, high Path) (Loss, error) {
	for _, w := range []Path{low, high} {
		if err := w.Validate(); err != nil {
			return Loss{}, err
		}
	}
	from, to := s.span(cornerOf(low))
	return s.lattice.lossOf(low, high, from, to), nil
}

// cornerOf is the frequency of a path's crossover, Hz: that of its last section; 0
// without one.
func cornerOf(w Path) float64 {
	if len(w.Sections) == 0 {
		return 0
	}
	return w.Sections[len(w.Sections)-1].Corner
}

// responses returns a path at every frequency.
func (s *System) responses(w Path) []complex128 {
	out := make([]complex128, len(s.Frequency))
	for i, f := range s.Frequency {
		out[i] = w.Response(f)
	}
	return out
}

func (s *System) mapOf(which field.Plane, l, h []complex128, axis []float64) Map {
	p := &s.planes[which]
	out := Map{Angle: p.angle}
	for i := range s.Frequency {
		n := len(p.angle)
		level, relative, loss := make([]float64, n), make([]float64, n), make([]float64, n)
		for j := range n {
			a, b := l[i]*p.low[i][j], h[i]*p.high[i][j]
			level[j] = s.engine.Level(a + b)
			relative[j] = level[j] - axis[i]
			loss[j] = numeric.DB(share(a, b))
		}
		out.Level = append(out.Level, level)
		out.Normalised = append(out.Normalised, relative)
		out.Loss = append(out.Loss, loss)
	}
	return out
}
