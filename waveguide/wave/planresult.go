package wave

import (
	"context"
	"math"
	"math/cmplx"

	"gapline/internal/bem"
	"gapline/internal/numeric"
)

// PlanResult is a plan section against frequency.
type PlanResult struct {
	Frequency []float64    // Hz, as asked for
	Unknowns  []int        // size of each solution
	Seconds   []float64    // that each took by the clock
	Angle     []float64    // rad from the axis, 0 to π, the pattern being symmetric
	Pattern   [][]float64  // dB against the axis, [frequency][angle]
	Beamwidth []float64    // full -6 dB width, rad; NaN where the level does not fall so far
	Axis      []complex128 // far pressure on axis times √r e^{jkr}, Pa·√m
	Throat    []complex128 // normalised throat impedance; NaN without drive
	Change    []float64    // after SolvePlanChecked: greatest change of pressure on halving the elements, as a share of the pattern's greatest
}

// planAngles is the number of steps of the pattern from 0 to π.
const planAngles = 720

// planPoint is one frequency's share of a PlanResult.
type planPoint struct {
	unknowns int
	seconds  float64
	pattern  []complex128
	throat   complex128
}

// SolvePlan solves the section at the given frequencies, Hz.
func SolvePlan(ctx context.Context, p Plan, a Air, frequencies []float64, run bem.Run) (*PlanResult, error) {
	problem, err := p.Problem(a)
	if err != nil {
		return nil, err
	}
	points, err := bem.Sweep(ctx, problem, frequencies, run, p.measure(a))
	if err != nil {
		return nil, err
	}
	return planResult(frequencies, points), nil
}

// SolvePlanChecked solves twice, the second time with elements of half the
// size, and returns the second result with the change.
func SolvePlanChecked(ctx context.Context, p Plan, a Air, frequencies []float64, run bem.Run) (*PlanResult, error) {
	problem, err := p.Problem(a)
	if err != nil {
		return nil, err
	}
	c, err := bem.Check(ctx, problem, frequencies, run, p.measure(a), func(coarse, fine planPoint) float64 {
		return greatestChange(coarse.pattern, fine.pattern)
	})
	if err != nil {
		return nil, err
	}
	r := planResult(frequencies, c.Values)
	r.Change = c.Change
	return r, nil
}

// greatestChange returns max |a − b| / max |b|.
func greatestChange(a, b []complex128) float64 {
	change, level := 0.0, 0.0
	for i := range b {
		change = math.Max(change, cmplx.Abs(a[i]-b[i]))
		level = math.Max(level, cmplx.Abs(b[i]))
	}
	return change / level
}

func (p Plan) measure(a Air) func(*bem.Solution) (planPoint, error) {
	angles := planAngleList()
	return func(s *bem.Solution) (planPoint, error) {
		far, err := s.Pattern("air", angles)
		if err != nil {
			return planPoint{}, err
		}
		throat, err := s.Trace("air", Throat)
		if err != nil {
			return planPoint{}, err
		}
		zeta := cmplx.NaN() // without drive there is no throat impedance
		if p.Drive != 0 {
			zeta = throat.MeanPressure() / (p.Drive * complex(a.SoundSpeed*a.Density, 0))
		}
		return planPoint{s.Unknowns, s.Seconds, far, zeta}, nil
	}
}

func planAngleList() []float64 {
	angles := make([]float64, planAngles+1)
	for i := range angles {
		angles[i] = math.Pi * float64(i) / planAngles
	}
	return angles
}

func planResult(frequencies []float64, points []planPoint) *PlanResult {
	r := &PlanResult{Frequency: frequencies, Angle: planAngleList()}
	for _, pt := range points {
		r.Unknowns = append(r.Unknowns, pt.unknowns)
		r.Seconds = append(r.Seconds, pt.seconds)
		r.Throat = append(r.Throat, pt.throat)
		r.Axis = append(r.Axis, pt.pattern[0])
		r.Beamwidth = append(r.Beamwidth, bem.Beamwidth(r.Angle, pt.pattern, 0, true))
		level := make([]float64, len(pt.pattern))
		for i, f := range pt.pattern {
			level[i] = numeric.DB(cmplx.Abs(f) / cmplx.Abs(pt.pattern[0]))
		}
		r.Pattern = append(r.Pattern, level)
	}
	return r
}

// ControlFrequency returns the lowest frequency, Hz, at which the beamwidth
// first falls to coverage, rad, by interpolation on a logarithmic frequency
// scale; the frequencies of the result must ascend. A width that is NaN (no -6 dB
// point) counts as wider than anything; after one, the first frequency below
// coverage is returned as it is. The result is NaN when no step of the sweep
// crosses coverage from above.
func (r *PlanResult) ControlFrequency(coverage float64) float64 {
	for i := 1; i < len(r.Frequency); i++ {
		wide, narrow := r.Beamwidth[i-1], r.Beamwidth[i]
		if !numeric.Given(narrow) || narrow > coverage || wide <= coverage {
			continue
		}
		if !numeric.Given(wide) {
			return r.Frequency[i]
		}
		share := (wide - coverage) / (wide - narrow)
		return r.Frequency[i-1] * math.Pow(r.Frequency[i]/r.Frequency[i-1], share)
	}
	return numeric.Absent
}

// Narrowest returns the least beamwidth, rad, from the frequency from up to to,
// Hz, and where it lies. Both are NaN when the run has no width there, or ends
// while the width still falls.
func (r *PlanResult) Narrowest(from, to float64) (width, at float64) {
	width, at = math.Inf(1), numeric.Absent
	for i, f := range r.Frequency {
		if w := r.Beamwidth[i]; f >= from && f <= to && w < width {
			width, at = w, f
		}
	}
	if !numeric.Given(at) || at == r.Frequency[len(r.Frequency)-1] {
		return numeric.Absent, numeric.Absent
	}
	return width, at
}
