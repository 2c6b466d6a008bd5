package wave

import (
	"context"
	"math"
	"math/cmplx"

	"gapline/internal/bem"
	"gapline/internal/numeric"
)

// FoldResult is a folded guide against frequency.
type FoldResult struct {
	Frequency []float64      // Hz, ascending
	Unknowns  []int          // size of each solution
	Seconds   []float64      // that each took by the clock
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
	seconds   float64
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
			unknowns: s.Unknowns, seconds: s.Seconds, at: at, pressure: pressure,
			throat:    throat.MeanPressure() / (g.Drive * complex(a.SoundSpeed*a.Density, 0)),
			imbalance: (in + mouth.Power()) / in,
		}, nil
	}
}

func foldResult(frequencies []float64, points []foldPoint) *FoldResult {
	r := &FoldResult{Frequency: frequencies}
	for _, p := range points {
		r.Unknowns = append(r.Unknowns, p.unknowns)
		r.Seconds = append(r.Seconds, p.seconds)
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
