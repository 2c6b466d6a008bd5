package filter

import (
	"context"
	"fmt"
	"math"
	"math/cmplx"

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
}

// System is a stack seen through its two paths: the sound of each at every angle
// without the crossover, summed once, so that crossovers can be tried cheaply.
type System struct {
	Spec
	engine *field.Engine
	planes [2]plane // field.Vertical, field.Horizontal
}

// plane holds both paths over one plane, [frequency][angle], the axis last.
type plane struct {
	angle     []float64
	half      float64 // half the coverage, rad
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
		half := s.VerticalCoverage / 2
		if field.Plane(p) == field.Horizontal {
			half = s.HorizontalCoverage / 2
		}
		out.planes[p] = plane{angle: angles, half: half, low: parts[s.Low], high: parts[s.High]}
	}
	return out, nil
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

// Notch is where the paths cancel most within the coverage.
type Notch struct {
	Loss      float64 // see Map.Loss, dB
	Level     float64 // against the axis at that frequency, dB
	Frequency float64 // Hz
	Angle     float64 // rad
	Plane     field.Plane
}

// Sum is a crossover summed.
type Sum struct {
	Low, High            Path
	Frequency            []float64
	OnAxis               []float64 // level of the sum, see field.Engine.Reference
	LowAxis, HighAxis    []float64 // level of each path
	OnAxisPhase          []float64 // rad
	Vertical, Horizontal Map
	Deepest              Notch
}

// Sum sums the system through two paths.
func (s *System) Sum(low, high Path) (*Sum, error) {
	for _, w := range []Path{low, high} {
		if err := w.Validate(); err != nil {
			return nil, err
		}
	}
	l, h := s.responses(low), s.responses(high)
	out := &Sum{Low: low, High: high, Frequency: s.Frequency}
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
	out.Deepest = s.deepest(l, h)
	return out, nil
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

// share returns |a+b|/(|a|+|b|), 1 for silence.
func share(a, b complex128) float64 {
	full := cmplx.Abs(a) + cmplx.Abs(b)
	if full == 0 {
		return 1
	}
	return cmplx.Abs(a+b) / full
}

// covered calls visit for the axis (angle index −1) and every angle within the
// coverage of each plane.
func (s *System) covered(visit func(which field.Plane, p *plane, i, j int)) {
	const slack = 1e-9
	for which := range s.planes {
		p := &s.planes[which]
		for i := range s.Frequency {
			visit(field.Plane(which), p, i, len(p.angle))
			for j, a := range p.angle {
				if math.Abs(a) <= p.half+slack {
					visit(field.Plane(which), p, i, j)
				}
			}
		}
	}
}

// deepest returns the worst place within the coverage.
func (s *System) deepest(l, h []complex128) Notch {
	worst := 2.0
	var out Notch
	s.covered(func(which field.Plane, p *plane, i, j int) {
		a, b := l[i]*p.low[i][j], h[i]*p.high[i][j]
		if q := share(a, b); q < worst {
			worst = q
			axis := len(p.angle)
			angle := 0.0
			if j < axis {
				angle = p.angle[j]
			}
			onAxis := l[i]*p.low[i][axis] + h[i]*p.high[i][axis]
			out = Notch{Loss: numeric.DB(q), Level: numeric.DB(cmplx.Abs(a+b) / cmplx.Abs(onAxis)),
				Frequency: s.Frequency[i], Angle: angle, Plane: which}
		}
	})
	return out
}
