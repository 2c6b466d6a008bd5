package wave

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/cmplx"

	"gapline/internal/bem"
)

// Bend is a section through the turn between two layers: a channel of
// thickness Thickness runs to the end of a plate of thickness Plate, round it,
// and back on the other side. Lengths in m.
type Bend struct {
	Thickness float64 // of either layer
	Plate     float64 // of the plate between them
	// Gap is the clear distance between the plate's end and the end wall; 0
	// means Thickness.
	Gap float64
	// OuterRadius fillets the two outer corners of the turn; 0 leaves them
	// square.
	OuterRadius float64
	// RoundPlate rounds the plate's end to a half circle.
	RoundPlate bool
}

// legThicknesses is the length of either leg in layer thicknesses: below the
// cross mode, f = c/(2t), the first even mode, cut off at twice that, falls by
// e^{-√3π} per thickness, the odd one more slowly near its cut-off.
const legThicknesses = 4

// BendResult is a bend against frequency.
type BendResult struct {
	Frequency    []float64    // Hz
	Unknowns     []int        // size of each solution
	Seconds      []float64    // that each took by the clock
	Reflection   []complex128 // of pressure, referred to the end of the plate in the first layer
	Transmission []complex128 // of pressure, between the ends of the plate in both layers
	Imbalance    []float64    // 1 − |R|² − |T|²
	Change       []float64    // after SolveBendChecked: change of R or T, whichever is greater, on halving the elements
}

// check reports impossible lengths.
func (b Bend) check() error {
	var errs []error
	if !(b.Thickness > 0) || !(b.Plate > 0) {
		errs = append(errs, fmt.Errorf("layer thickness %g m and plate thickness %g m must be positive", b.Thickness, b.Plate))
	}
	if b.Gap < 0 {
		errs = append(errs, fmt.Errorf("gap %g m must be positive", b.Gap))
	}
	if limit := math.Min(b.gap()+b.Thickness, b.Thickness+b.Plate/2); b.OuterRadius < 0 || b.OuterRadius > limit {
		errs = append(errs, fmt.Errorf("outer radius %g m must lie between 0 and %g m", b.OuterRadius, limit))
	}
	return errors.Join(errs...)
}

func (b Bend) gap() float64 {
	if b.Gap == 0 {
		return b.Thickness
	}
	return b.Gap
}

// Problem returns the section as one domain called "air": the legs run along x
// to the left of the plate's end at x = 0, the first below, the second above.
func (b Bend) Problem(a Air) (*bem.Problem, error) {
	if err := b.check(); err != nil {
		return nil, err
	}
	t, s, g, r := b.Thickness, b.Plate, b.gap(), b.OuterRadius
	leg, height := -legThicknesses*t, 2*t+s
	at := func(x, y float64) bem.Point { return bem.Point{X: x, Y: y} }
	in := line(Throat, at(leg, t), at(leg, 0))
	in.Wall = bem.Matched()
	in.Wall.Velocity = func(float64, bem.Point, bem.Point) complex128 { return 1 }
	out := line(Mouth, at(leg, height), at(leg, height-t))
	out.Wall = bem.Matched()
	edges := []bem.Edge{in, line(Side, at(leg, 0), at(g-r, 0))}
	if r > 0 {
		edges = append(edges, bem.Edge{Name: Side, Curve: bem.Arc{Centre: at(g-r, r), Radius: r, Start: -math.Pi / 2, Sweep: math.Pi / 2}})
	}
	if height > 2*r {
		edges = append(edges, line(Side, at(g, r), at(g, height-r)))
	}
	if r > 0 {
		edges = append(edges, bem.Edge{Name: Side, Curve: bem.Arc{Centre: at(g-r, height-r), Radius: r, Sweep: math.Pi / 2}})
	}
	edges = append(edges, line(Side, at(g-r, height), at(leg, height)), out)
	edges = append(edges, b.plate(leg)...)
	return &bem.Problem{
		SoundSpeed: a.SoundSpeed, Density: a.Density,
		Domains: []bem.Domain{{Name: "air", Outlines: [][]bem.Edge{edges}}},
	}, nil
}

// plate returns the plate's upper face, end and lower face.
func (b Bend) plate(leg float64) []bem.Edge {
	t, s := b.Thickness, b.Plate
	end := 0.0
	if b.RoundPlate {
		end = -s / 2
	}
	upper, lower := bem.Point{X: end, Y: t + s}, bem.Point{X: end, Y: t}
	tip := line(Side, upper, lower)
	if b.RoundPlate {
		tip.Curve = bem.Arc{Centre: bem.Point{X: end, Y: t + s/2}, Radius: s / 2, Start: math.Pi / 2, Sweep: -math.Pi}
	}
	return []bem.Edge{
		line(Side, bem.Point{X: leg, Y: t + s}, upper), tip,
		line(Side, lower, bem.Point{X: leg, Y: t}),
	}
}

// SolveBend solves the bend at the given frequencies, Hz, which must lie below
// the layers' first cross mode c/(2·Thickness): beyond it reflection and
// transmission of the plane wave alone do not describe the bend.
func SolveBend(ctx context.Context, b Bend, a Air, frequencies []float64, run bem.Run) (*BendResult, error) {
	problem, err := b.problemBelow(a, frequencies)
	if err != nil {
		return nil, err
	}
	points, err := bem.Sweep(ctx, problem, frequencies, run, b.measure(a))
	if err != nil {
		return nil, err
	}
	return bendResult(frequencies, points), nil
}

// SolveBendChecked solves twice, the second time with elements of half the
// size, and returns the second result with the change.
func SolveBendChecked(ctx context.Context, b Bend, a Air, frequencies []float64, run bem.Run) (*BendResult, error) {
	problem, err := b.problemBelow(a, frequencies)
	if err != nil {
		return nil, err
	}
	c, err := bem.Check(ctx, problem, frequencies, run, b.measure(a), func(coarse, fine bendPoint) float64 {
		return math.Max(cmplx.Abs(coarse.reflection-fine.reflection), cmplx.Abs(coarse.transmission-fine.transmission))
	})
	if err != nil {
		return nil, err
	}
	r := bendResult(frequencies, c.Values)
	r.Change = c.Change
	return r, nil
}

// CrossMode returns the frequency, Hz, of the first mode across a layer of the
// bend, c/(2·Thickness).
func (b Bend) CrossMode(a Air) float64 { return a.SoundSpeed / (2 * b.Thickness) }

// problemBelow returns the problem after a look at the frequencies.
func (b Bend) problemBelow(a Air, frequencies []float64) (*bem.Problem, error) {
	problem, err := b.Problem(a)
	if err != nil {
		return nil, err
	}
	for _, f := range frequencies {
		if limit := b.CrossMode(a); f >= limit {
			return nil, fmt.Errorf("%g Hz is not below the cross mode of the layer at %.4g Hz", f, limit)
		}
	}
	return problem, nil
}

func bendResult(frequencies []float64, points []bendPoint) *BendResult {
	r := &BendResult{Frequency: frequencies}
	for _, p := range points {
		r.Unknowns = append(r.Unknowns, p.unknowns)
		r.Seconds = append(r.Seconds, p.seconds)
		r.Reflection = append(r.Reflection, p.reflection)
		r.Transmission = append(r.Transmission, p.transmission)
		r.Imbalance = append(r.Imbalance, 1-power(p.reflection)-power(p.transmission))
	}
	return r
}

func power(z complex128) float64 { return real(z)*real(z) + imag(z)*imag(z) }

// bendPoint is one frequency's share of a BendResult.
type bendPoint struct {
	unknowns                 int
	seconds                  float64
	reflection, transmission complex128
}

// measure returns R and T. The drive, 1 m/s behind a matched wall, sends out a
// wave of pressure ρc/2; what comes back is swallowed.
func (b Bend) measure(a Air) func(*bem.Solution) (bendPoint, error) {
	incident := complex(a.Density*a.SoundSpeed/2, 0)
	return func(s *bem.Solution) (bendPoint, error) {
		in, err := s.Trace("air", Throat)
		if err != nil {
			return bendPoint{}, err
		}
		out, err := s.Trace("air", Mouth)
		if err != nil {
			return bendPoint{}, err
		}
		k := 2 * math.Pi * s.Frequency / a.SoundSpeed
		turn := cmplx.Rect(1, 2*k*legThicknesses*b.Thickness)
		return bendPoint{
			unknowns: s.Unknowns, seconds: s.Seconds,
			reflection:   (in.MeanPressure()/incident - 1) * turn,
			transmission: out.MeanPressure() / incident * turn,
		}, nil
	}
}
