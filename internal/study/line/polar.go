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
	Beam      []field.Beam // of each frequency, levels against the axis
	Beamwidth []float64    // between its edges, rad; +Inf: one of them does not exist
	Zero      []float64    // what pictures take for 0 dB, against the axis, see Conditions.Reference
	Seats     *SeatDirections
	// Across is how many elevations a horizontal polar is the energy mean of; 0: the one
	// plane through the axis.
	Across int
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
	if sp, err = s.settlePolar(ctx, e, sp, plane, distance); err != nil {
		return nil, err
	}
	p, err := e.Polar(ctx, field.PolarSpec{Plane: plane, Angle: field.Angles(n, span), Frequency: sp.tones(), Distance: distance, Axis: numeric.Absent})
	if err != nil {
		return nil, err
	}
	out := polarOf(p, sp)
	beams := sp
	if len(sp.Hz) > manyBands {
		beams.each = min(sp.each, beamTones)
	}
	fine, err := e.Polar(ctx, field.PolarSpec{Plane: plane, Angle: s.fineAngles(sp), Frequency: beams.tones(), Distance: distance, Axis: numeric.Absent})
	if err != nil {
		return nil, err
	}
	s.judge(out, polarOf(fine, beams))
	return out, nil
}

// Steps of the angles at which beams and lobes are read off: a share of the
// narrowest main lobe, 1.2·λ/L, within bounds.
const (
	beamShare    = 12
	coarsestStep = 0.25 * quantity.Degree
	mostFine     = 8001
	// A map of more bands than manyBands has its beams read off so many tones in each,
	// as the angles are ten times as many there.
	manyBands, beamTones = 24, 6
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
	}
	return out
}
