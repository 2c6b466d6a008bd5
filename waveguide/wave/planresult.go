package wave

import (
	"context"
	"math"
	"math/cmplx"
	"slices"

	"gapline/internal/bem"
	"gapline/internal/numeric"
)

// PlanResult is a plan section against frequency.
type PlanResult struct {
	Frequency []float64    // Hz, as asked for
	Unknowns  []int        // size of each solution
	Seconds   []float64    // that each took by the clock
	Angle     []float64    // rad to the left of the box's axis, ascending: 0 to π when the section is symmetric, −π to π otherwise
	Pattern   [][]float64  // dB against the axis, [frequency][angle]
	Left      []float64    // nearest direction left of the axis at -6 dB against it, rad; NaN where the level does not fall so far
	Right     []float64    // as Left on the right, negative
	Beamwidth []float64    // from Right to Left, rad
	PeakWidth []float64    // full width about the greatest level within 6 dB of it, rad; NaN where it is the whole circle
	Axis      []complex128 // far pressure on axis times √r e^{jkr}, Pa·√m
	Throat    []complex128 // normalised throat impedance; NaN without drive
	Coarse    []float64    // after SolvePlanChecked: Beamwidth by the larger elements
	Change    []float64    // after SolvePlanChecked: greatest change of pressure on halving the elements, as a share of the pattern's greatest
}

// planAngles is the number of steps of the pattern over half a circle.
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
	return p.result(frequencies, points), nil
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
	r := p.result(frequencies, c.Values)
	r.Change = c.Change
	r.Coarse = p.result(frequencies, c.Coarse).Beamwidth
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
	angles := p.angles()
	directions := slices.Clone(angles)
	if !p.Symmetric() { // the solver counts towards x, which is the right
		for i := range directions {
			directions[i] = -directions[i]
		}
	}
	return func(s *bem.Solution) (planPoint, error) {
		far, err := s.Pattern("air", directions)
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

// angles are those of the pattern.
func (p Plan) angles() []float64 {
	first := -planAngles
	if p.Symmetric() {
		first = 0
	}
	angles := make([]float64, planAngles+1-first)
	for i := range angles {
		angles[i] = math.Pi * float64(first+i) / planAngles
	}
	return angles
}

func (p Plan) result(frequencies []float64, points []planPoint) *PlanResult {
	r := &PlanResult{Frequency: frequencies, Angle: p.angles()}
	axis := len(r.Angle) - 1 - planAngles
	for _, pt := range points {
		r.Unknowns = append(r.Unknowns, pt.unknowns)
		r.Seconds = append(r.Seconds, pt.seconds)
		r.Throat = append(r.Throat, pt.throat)
		r.Axis = append(r.Axis, pt.pattern[axis])
		right, left := bem.Edges(r.Angle, pt.pattern, axis)
		if axis == 0 {
			right = -left
		}
		r.Left, r.Right = append(r.Left, left), append(r.Right, right)
		r.Beamwidth = append(r.Beamwidth, left-right)
		r.PeakWidth = append(r.PeakWidth, peakWidth(r.Angle, pt.pattern))
		level := make([]float64, len(pt.pattern))
		for i, f := range pt.pattern {
			level[i] = numeric.DB(cmplx.Abs(f) / cmplx.Abs(pt.pattern[axis]))
		}
		r.Pattern = append(r.Pattern, level)
	}
	return r
}

// Aim returns the direction in the middle between the edges at each frequency, rad
// to the left; NaN where an edge lacks.
func (r *PlanResult) Aim() []float64 {
	out := make([]float64, len(r.Left))
	for i := range out {
		out[i] = (r.Left[i] + r.Right[i]) / 2
	}
	return out
}

// Symmetric reports whether the pattern is given for one side alone.
func (r *PlanResult) Symmetric() bool { return r.Angle[0] == 0 }

// peakWidth returns the full width about the greatest level of a pattern within
// 6 dB of it, all round; a pattern from 0 on is the same on both sides.
func peakWidth(angles []float64, pattern []complex128) float64 {
	if angles[0] == 0 {
		var all []float64
		var both []complex128
		for i := len(angles) - 1; i > 0; i-- {
			all, both = append(all, -angles[i]), append(both, pattern[i])
		}
		angles, pattern = append(all, angles...), append(both, pattern...)
	}
	n := len(angles) - 1 // both ends are one direction
	peak := 0
	for i := range n {
		if cmplx.Abs(pattern[i]) > cmplx.Abs(pattern[peak]) {
			peak = i
		}
	}
	round, turned := make([]float64, n+1), make([]complex128, n+1)
	for i := range round {
		round[i], turned[i] = 2*math.Pi*float64(i)/float64(n), pattern[(peak+n/2+i)%n]
	}
	low, high := bem.Edges(round, turned, n/2)
	return high - low
}

// Held is for how many octaves a width must stay within the coverage to count as held. A resonance of a pocket or of the cabinet that narrows
// the pattern for less is no control (a choice, no source; the pattern of a mouth alone
// stays narrower for an octave and more).
const Held = 0.5

// ControlFrequency returns the lowest frequency, Hz, at which the beamwidth falls to
// coverage, rad, and stays within it for half an octave or to the end of the run, by
// interpolation on a logarithmic frequency scale; the frequencies of the result must
// ascend. A width that is NaN (no -6 dB point) counts as wider than anything; after one,
// the first frequency below coverage is returned as it is. The result is NaN when no step
// of the sweep crosses coverage from above.
func (r *PlanResult) ControlFrequency(coverage float64) float64 {
	return numeric.Curve{X: r.Frequency, Y: numeric.Lacking(r.Beamwidth)}.Settles(coverage, Held)
}

// ControlRange returns between which frequencies, Hz, ControlFrequency lies by what the run
// can tell. The run is read again through every second frequency, whose straight lines are
// twice as long, and by its larger elements where it was solved with both: as far as any of
// these readings lies off the frequency, the frequency may lie off the truth, to either
// side. A reading that finds no control leaves the steps about the frequency.
func (r *PlanResult) ControlRange(coverage float64) (from, to float64) {
	read := func(c numeric.Curve) float64 { return c.Settles(coverage, Held) }
	all := numeric.Curve{X: r.Frequency, Y: numeric.Lacking(r.Beamwidth)}
	readings := all.Halved(read)
	if r.Coarse != nil {
		readings = append(readings, read(numeric.Curve{X: r.Frequency, Y: numeric.Lacking(r.Coarse)}))
	}
	return all.Between(read(all), readings)
}

// Narrowest returns the least beamwidth, rad, at and above the frequency from, Hz,
// and where it lies. Both are NaN when the run has no width there. falling says
// that it lies at the run's last frequency: higher up the width may be less.
func (r *PlanResult) Narrowest(from float64) (width, at float64, falling bool) {
	width, at = numeric.Absent, numeric.Absent
	for i, f := range r.Frequency {
		if w := r.Beamwidth[i]; f >= from && numeric.Given(w) && !(w >= width) {
			width, at = w, f
		}
	}
	return width, at, at == r.Frequency[len(r.Frequency)-1]
}
