package wave

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/cmplx"

	"gapline/internal/bem"
	"gapline/internal/numeric"
)

// Fold is a guide of two layers. Sound leaves the throat in the first layer,
// meets the wall curve, turns round its edge into the second layer and leaves at
// the mouth. Points have X forward and Y up, m. The first layer is bounded by
// straight sides from the throat to the ends of the wall, the second by straight
// sides from there to the mouth.
type Fold struct {
	Throat       bem.Point    // centre of the throat
	ThroatRadius float64      // the source is an arc of this radius round it, m
	Wall         []bem.Point  // from the lower end to the upper
	Mouth        [2]bem.Point // lower and upper end
	Thickness    float64      // of either layer, m; used by the exit Slot
	Exit         Exit
	Drive        complex128 // normal velocity on the throat arc, m/s
}

// Exit is the condition at the mouth.
type Exit int

const (
	// Matched ends the guide in ρc: nothing is thrown back at right angles.
	Matched Exit = iota
	// Slot ends it in the local impedance of a long slot in a wide wall.
	Slot
)

// Names of the parts of the guide's outlines and of its layers.
const (
	First  = "first layer"
	Second = "second layer"
	Side   = "side"
	Mouth  = "mouth"
	Seam   = "seam"
)

// Problem returns the guide as two domains joined along the wall.
func (g Fold) Problem(a Air) (*bem.Problem, error) {
	if err := g.check(); err != nil {
		return nil, err
	}
	wall, err := through(Seam, g.Wall)
	if err != nil {
		return nil, err
	}
	for i := range wall {
		wall[i].Join = fmt.Sprintf("%s %d", Seam, i+1)
	}
	low, high := g.Wall[0], g.Wall[len(g.Wall)-1]
	arc := g.arc()
	top, _ := arc.At(0)
	bottom, _ := arc.At(1)
	first := append(append([]bem.Edge{}, wall...), line(Side, high, top),
		bem.Edge{Name: Throat, Curve: arc, Wall: bem.Uniform(g.Drive)}, line(Side, bottom, low))
	exit := line(Mouth, g.Mouth[0], g.Mouth[1])
	exit.Flip = true // the outline runs down, results run up
	exit.Wall = g.exitWall(a)
	second := append(append([]bem.Edge{}, wall...), line(Side, high, g.Mouth[1]), exit, line(Side, g.Mouth[0], low))
	return &bem.Problem{
		SoundSpeed: a.SoundSpeed, Density: a.Density,
		Domains: []bem.Domain{
			{Name: First, Outlines: [][]bem.Edge{first}},
			{Name: Second, Outlines: [][]bem.Edge{second}},
		},
	}, nil
}

// check reports impossible lengths.
func (g Fold) check() error {
	if len(g.Wall) < 2 {
		return errors.New("wall curve: needs at least two points")
	}
	nearest := math.Inf(1)
	for _, p := range g.Wall {
		nearest = math.Min(nearest, p.Sub(g.Throat).Norm())
	}
	var errs []error
	if !(g.ThroatRadius > 0) || g.ThroatRadius >= nearest {
		errs = append(errs, fmt.Errorf("throat radius %g m must lie between 0 and the distance to the wall, %g m", g.ThroatRadius, nearest))
	}
	if !(g.Mouth[0].Sub(g.Mouth[1]).Norm() > 0) {
		errs = append(errs, errors.New("mouth has no height"))
	}
	if g.Exit == Slot && !(g.Thickness > 0) {
		errs = append(errs, fmt.Errorf("layer thickness %g m: a slot exit needs a positive one", g.Thickness))
	}
	return errors.Join(errs...)
}

// arc returns the throat, from the side to the upper end of the wall to the side
// to the lower end.
func (g Fold) arc() bem.Arc {
	angle := func(p bem.Point) float64 {
		d := p.Sub(g.Throat)
		return math.Atan2(d.Y, d.X)
	}
	sweep := 0.0
	for i := 1; i < len(g.Wall); i++ {
		sweep += math.Remainder(angle(g.Wall[i])-angle(g.Wall[i-1]), 2*math.Pi)
	}
	return bem.Arc{Centre: g.Throat, Radius: g.ThroatRadius, Start: angle(g.Wall[0]) + sweep, Sweep: -sweep}
}

func (g Fold) exitWall(a Air) bem.Wall {
	if g.Exit == Matched {
		return bem.Matched()
	}
	return bem.Wall{Admittance: func(f float64) complex128 {
		return 1 / SlotImpedance(2*math.Pi*f/a.SoundSpeed*g.Thickness)
	}}
}

// FoldResult is a folded guide against frequency.
type FoldResult struct {
	Frequency []float64      // Hz, ascending
	Unknowns  []int          // size of each solution
	Mouth     []bem.Point    // points along the mouth, from below
	Pressure  [][]complex128 // at those points, Pa, [frequency][point]
	Throat    []complex128   // normalised throat impedance
	Imbalance []float64      // power in less power out, as a share of power in
	Change    []float64      // after SolveFoldChecked: greatest change along the mouth on halving the elements, as a share of the greatest pressure there
}

// mouthPoints is the number of points along the mouth.
const mouthPoints = 101

// foldPoint is one frequency's share of a FoldResult.
type foldPoint struct {
	unknowns  int
	at        []bem.Point
	pressure  []complex128
	throat    complex128
	imbalance float64
}

// SolveFold solves the guide at the given frequencies, Hz.
func SolveFold(ctx context.Context, g Fold, a Air, frequencies []float64, run bem.Run) (*FoldResult, error) {
	problem, err := g.Problem(a)
	if err != nil {
		return nil, err
	}
	points, err := bem.Sweep(ctx, problem, frequencies, run, g.measure(a))
	if err != nil {
		return nil, err
	}
	return foldResult(frequencies, points), nil
}

// SolveFoldChecked solves twice, the second time with elements of half the
// size, and returns the second result with the change.
func SolveFoldChecked(ctx context.Context, g Fold, a Air, frequencies []float64, run bem.Run) (*FoldResult, error) {
	problem, err := g.Problem(a)
	if err != nil {
		return nil, err
	}
	c, err := bem.Check(ctx, problem, frequencies, run, g.measure(a), func(coarse, fine foldPoint) float64 {
		return greatestChange(coarse.pressure, fine.pressure)
	})
	if err != nil {
		return nil, err
	}
	r := foldResult(frequencies, c.Values)
	r.Change = c.Change
	return r, nil
}

func (g Fold) measure(a Air) func(*bem.Solution) (foldPoint, error) {
	return func(s *bem.Solution) (foldPoint, error) {
		throat, err := s.Trace(First, Throat)
		if err != nil {
			return foldPoint{}, err
		}
		mouth, err := s.Trace(Second, Mouth)
		if err != nil {
			return foldPoint{}, err
		}
		at, pressure, err := s.Along(Second, Mouth, mouthPoints)
		if err != nil {
			return foldPoint{}, err
		}
		in := throat.Power()
		return foldPoint{
			unknowns: s.Unknowns, at: at, pressure: pressure,
			throat:    throat.MeanPressure() / (g.Drive * complex(a.SoundSpeed*a.Density, 0)),
			imbalance: (in + mouth.Power()) / in,
		}, nil
	}
}

func foldResult(frequencies []float64, points []foldPoint) *FoldResult {
	r := &FoldResult{Frequency: frequencies}
	for _, p := range points {
		r.Unknowns = append(r.Unknowns, p.unknowns)
		r.Mouth = p.at
		r.Pressure = append(r.Pressure, p.pressure)
		r.Throat = append(r.Throat, p.throat)
		r.Imbalance = append(r.Imbalance, p.imbalance)
	}
	return r
}

// Level returns the level along the mouth at frequency i in dB against the
// root-mean-square pressure there.
func (r *FoldResult) Level(i int) []float64 {
	sum := 0.0
	for _, p := range r.Pressure[i] {
		sum += real(p * cmplx.Conj(p))
	}
	mean := math.Sqrt(sum / float64(len(r.Pressure[i])))
	out := make([]float64, len(r.Pressure[i]))
	for j, p := range r.Pressure[i] {
		out[j] = numeric.DB(cmplx.Abs(p) / mean)
	}
	return out
}

// Phase returns the phase along the mouth at frequency i, rad, unwrapped from
// point to point and 0 at the middle point.
func (r *FoldResult) Phase(i int) []float64 {
	p := r.Pressure[i]
	out := make([]float64, len(p))
	for j := 1; j < len(p); j++ {
		out[j] = out[j-1] + cmplx.Phase(p[j]*cmplx.Conj(p[j-1]))
	}
	middle := out[len(out)/2]
	for j := range out {
		out[j] -= middle
	}
	return out
}

// PhaseSpread returns the largest less the smallest phase along the mouth at
// frequency i, rad. A spread of φ is a bulge of φ/2π wavelengths.
func (r *FoldResult) PhaseSpread(i int) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range r.Phase(i) {
		low, high = math.Min(low, v), math.Max(high, v)
	}
	return high - low
}

// FlatTo returns the lowest frequency, Hz, at which the phase spread along the
// mouth reaches that of a quarter wave, π/2, with straight-line interpolation
// between the solved frequencies. It is NaN when none reaches it.
func (r *FoldResult) FlatTo() float64 {
	last := 0.0
	for i, f := range r.Frequency {
		s := r.PhaseSpread(i)
		if s >= math.Pi/2 {
			if i == 0 {
				return f
			}
			from := r.Frequency[i-1]
			return from + (f-from)*(math.Pi/2-last)/(s-last)
		}
		last = s
	}
	return numeric.Absent
}
