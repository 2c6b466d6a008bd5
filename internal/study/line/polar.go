package line

import (
	"context"
	"math"

	"gapline/cabinet/field"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
)

// Polar is level against angle in one plane.
type Polar struct {
	Spectrum
	Plane     field.Plane
	Distance  float64     // m; +Inf: far field, levels referred to 1 m
	Axis      float64     // rad down
	Angle     []float64   // rad, positive upwards or to the left
	OnAxis    []float64   // dB
	Level     [][]float64 // against the axis, [frequency][angle], dB
	Pressure  [][]complex128
	Beamwidth []float64 // −6 dB full angle, rad; NaN: it does not fall so far
	Lobe      []float64 // highest beside the main beam, against the axis, dB; NaN: none
}

// Angles of a polar all round and of one half, 1° apart.
const (
	AllRound = 361
	HalfTurn = 181
)

// Polar computes a polar of n angles over span rad.
func (s *Study) Polar(ctx context.Context, plane field.Plane, sp Spectrum, n int, span, distance float64) (*Polar, error) {
	e, err := s.engine("polar", false, 0)
	if err != nil {
		return nil, err
	}
	p, err := e.Polar(ctx, field.PolarSpec{Plane: plane, Angle: field.Angles(n, span), Frequency: sp.tones(), Distance: distance, Axis: numeric.Absent})
	if err != nil {
		return nil, err
	}
	out := polarOf(p, sp)
	fine, err := e.Polar(ctx, field.PolarSpec{Plane: plane, Angle: s.fineAngles(sp), Frequency: sp.tones(), Distance: distance, Axis: numeric.Absent})
	if err != nil {
		return nil, err
	}
	f := polarOf(fine, sp)
	out.Beamwidth, out.Lobe = f.Beamwidth, f.Lobe
	return out, nil
}

// Steps of the angles at which beams and lobes are read off: a share of the
// narrowest main lobe, 1.2·λ/L, within bounds.
const (
	beamShare    = 12
	coarsestStep = 0.25 * quantity.Degree
	mostFine     = 8001
)

// fineAngles covers the front half as finely as the narrowest beam asks for.
func (s *Study) fineAngles(sp Spectrum) []float64 {
	length := s.Design.Length()
	narrowest := 1.2 * s.SoundSpeed() / (sp.Hz[len(sp.Hz)-1] * length)
	n := 2*int(math.Ceil(math.Pi/2/math.Min(narrowest/beamShare, coarsestStep))) + 1
	return field.Angles(min(n, mostFine), math.Pi)
}

// polarOf averages a field's polar over the bands of a spectrum.
func polarOf(p *field.Polar, sp Spectrum) *Polar {
	rows := make([][]float64, len(p.Level))
	for i := range rows {
		rows[i] = append(append([]float64(nil), p.Level[i]...), p.OnAxis[i])
	}
	out := &Polar{Spectrum: sp, Plane: p.Plane, Distance: p.Distance, Axis: p.Axis, Angle: p.Angle}
	if sp.Bands == nil {
		out.Pressure = p.Pressure
	}
	for _, row := range sp.average(rows) {
		n := len(row) - 1
		axis := row[n]
		level := row[:n]
		for i := range level {
			level[i] -= axis
		}
		out.OnAxis = append(out.OnAxis, axis)
		out.Level = append(out.Level, level)
		out.Lobe = append(out.Lobe, highestLobe(out.Angle, level))
	}
	of := field.Polar{PolarSpec: p.PolarSpec, Normalised: out.Level}
	for i := range out.Level {
		out.Beamwidth = append(out.Beamwidth, of.Beamwidth(i, 6))
	}
	return out
}

// highestLobe returns the highest level in front beside the main beam: beyond the
// first minimum that is at least leastDip below what follows, on either side.
// NaN: there is only the main beam.
func highestLobe(angle, level []float64) float64 {
	middle := 0
	for i, a := range angle {
		if math.Abs(a) < math.Abs(angle[middle]) {
			middle = i
		}
	}
	lobe := math.Max(sideLobe(angle, level, middle, 1), sideLobe(angle, level, middle, -1))
	if math.IsInf(lobe, -1) {
		return numeric.Absent
	}
	return lobe
}

// What counts as a lobe: it lies beyond a dip that is at least beamDepth below
// the axis, and rises from it by leastDip; less is a shoulder. dB.
const (
	beamDepth = 3
	leastDip  = 0.5
)

// sideLobe walks from the axis to one side; −Inf: there is no lobe.
func sideLobe(angle, level []float64, from, step int) float64 {
	lobe, dip := math.Inf(-1), math.Inf(1)
	inside := true
	for i := from; i >= 0 && i < len(level) && math.Abs(angle[i]) <= math.Pi/2+1e-9; i += step {
		if inside {
			dip = math.Min(dip, level[i])
			inside = level[i] < dip+leastDip || dip > -beamDepth
		}
		if !inside {
			lobe = math.Max(lobe, level[i])
		}
	}
	return lobe
}
