package filter

import (
	"context"
	"math"
	"math/cmplx"

	"gapline/cabinet/field"
)

// Steps of the lattice on which both paths are summed for notches.
const (
	perOctave  = 48
	widestStep = math.Pi / 180 // in angle, rad
	mostSteps  = 400           // over half of the coverage of one plane
	// turnPerStep is how far the sound of the outermost mouths may turn against that of
	// the middle from one angle to the next, rad, so that four angles carry a cubic.
	turnPerStep = 0.4
)

// lattice is both paths without the crossover at even steps of log frequency and of
// angle, one step beyond the range and the coverage on each side. Between its points it
// is interpolated by cubics in both directions (J. L. Lagrange), so that a notch has a
// place and a depth that do not hang on the steps.
type lattice struct {
	s        *System
	first    int // number of steps from 1 kHz to the first frequency
	hz       []float64
	from, to float64 // Hz, the range
	planes   [2]face // field.Vertical, field.Horizontal
}

// face is one plane of a lattice. Values stand by frequency, then by angle.
type face struct {
	plane     field.Plane
	step      float64 // rad
	half      int     // steps from the axis to the edge of the coverage
	angles    int     // 2·half + 3
	low, high []complex128
	// What the points are made of: |low|, |high| and low·conj(high).
	lowSize, highSize []float64
	cross             []complex128
}

// newLattice sums both paths from one frequency to another.
func (s *System) newLattice(ctx context.Context, from, to float64) (*lattice, error) {
	l := &lattice{s: s, from: from, to: to}
	l.first = int(math.Floor(steps(from))) - 1
	for k := l.first; k <= int(math.Floor(steps(to)))+2; k++ {
		l.hz = append(l.hz, 1000*math.Exp2(float64(k)/perOctave))
	}
	for p, half := range []float64{s.VerticalCoverage / 2, s.HorizontalCoverage / 2} {
		f := &l.planes[p]
		f.plane = field.Plane(p)
		f.step = math.Min(widestStep, turnPerStep*s.engine.SoundSpeed()/(2*math.Pi*to*math.Max(s.engine.HalfSpan(f.plane), 1e-3)))
		f.half = min(int(math.Ceil(half/f.step-1e-9)), mostSteps)
		if f.half > 0 {
			f.step = half / float64(f.half)
		}
		f.angles = 2*f.half + 3
		angles := make([]float64, f.angles)
		for j := range angles {
			angles[j] = f.angle(j)
		}
		parts, err := s.engine.PolarParts(ctx, field.PolarSpec{Plane: f.plane, Angle: angles, Frequency: l.hz, Distance: s.Distance, Axis: s.Axis})
		if err != nil {
			return nil, err
		}
		f.fill(parts[s.Low], parts[s.High], s.turn(l.hz))
	}
	return l, nil
}

// steps is how many steps of a lattice f lies above 1 kHz.
func steps(f float64) float64 { return perOctave * math.Log2(f/1000) }

// turn is the factor that takes the way to the place of hearing out of a pressure, at
// each frequency, so that neighbours differ little: e^{jkr}.
func (s *System) turn(hz []float64) []complex128 {
	out := make([]complex128, len(hz))
	for i, f := range hz {
		out[i] = 1
		if !math.IsInf(s.Distance, 1) {
			out[i] = cmplx.Rect(1, 2*math.Pi*math.Mod(f*s.Distance/s.engine.SoundSpeed(), 1))
		}
	}
	return out
}

// fill lays the pressures out, [frequency][angle].
func (f *face) fill(low, high [][]complex128, turn []complex128) {
	n := f.angles * len(low)
	f.low, f.high, f.cross = make([]complex128, 0, n), make([]complex128, 0, n), make([]complex128, 0, n)
	f.lowSize, f.highSize = make([]float64, 0, n), make([]float64, 0, n)
	for i := range low {
		for j := range f.angles {
			a, b := low[i][j]*turn[i], high[i][j]*turn[i]
			f.low, f.high, f.cross = append(f.low, a), append(f.high, b), append(f.cross, a*cmplx.Conj(b))
			f.lowSize, f.highSize = append(f.lowSize, cmplx.Abs(a)), append(f.highSize, cmplx.Abs(b))
		}
	}
}

// angle is that of column j, rad.
func (f *face) angle(j int) float64 { return float64(j-f.half-1) * f.step }

// edge is the angle of the edge of the coverage, rad.
func (f *face) edge() float64 { return float64(f.half) * f.step }

// rows are the first and the last row within a range that the lattice holds; the nearest
// one where no row lies within it.
func (l *lattice) rows(from, to float64) (first, last int) {
	first, last = int(math.Ceil(steps(from)-1e-9))-l.first, int(math.Floor(steps(to)+1e-9))-l.first
	if first > last {
		first = int(math.Round(steps(math.Sqrt(from*to)))) - l.first
		last = first
	}
	return max(first, 0), min(last, len(l.hz)-1)
}

// cubic are the first of four points about x, counted in steps, and their weights.
func cubic(x float64, n int) (first int, w [4]float64) {
	first = min(max(int(math.Floor(x))-1, 0), max(n-4, 0))
	t := x - float64(first) // 1 to 2 where the points suffice
	w[0] = -(t - 1) * (t - 2) * (t - 3) / 6
	w[1] = t * (t - 2) * (t - 3) / 2
	w[2] = -t * (t - 1) * (t - 3) / 2
	w[3] = t * (t - 1) * (t - 2) / 6
	return first, w
}

// at interpolates both paths of a face at a frequency and an angle. A face of the axis
// alone has three columns and is taken at the middle one.
func (l *lattice) at(f *face, hz, angle float64) (low, high complex128) {
	i, u := cubic(steps(hz)-float64(l.first), len(l.hz))
	j, v := f.half+1, [4]float64{1}
	columns := 1
	if f.half > 0 {
		j, v = cubic(angle/f.step+float64(f.half+1), f.angles)
		columns = 4
	}
	for a := range 4 {
		row := (i+a)*f.angles + j
		for b := range columns {
			w := complex(u[a]*v[b], 0)
			low += w * f.low[row+b]
			high += w * f.high[row+b]
		}
	}
	return low, high
}
