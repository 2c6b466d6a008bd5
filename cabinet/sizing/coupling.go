package sizing

import (
	"math"

	"gapline/cabinet/design"
	"gapline/internal/numeric"
)

// Coupling is how far the lines of woofers and mids act as one source.
type Coupling struct {
	Lower  float64       // frequency whose wavelength is the line, Hz
	Pitch  float64       // m
	Length float64       // m
	Open   CouplingLimit // the bare cones

	HasInsert bool
	Insert    InsertSizing // with the insert

	HasMid bool
	Mid    CouplingLimit // the mid band
}

// CouplingLimit is the upper end of coupling of one line of mouths.
type CouplingLimit struct {
	Spacing    float64 // largest between neighbouring centres, m
	HalfWave   float64 // Hz
	Lobe       float64 // Hz
	FirstLobe  float64 // level of the lobe at c/p, dB re axis
	Share      float64 // radiating share
	Shape      Shape
	Efficiency float64 // directivity factor over that of a continuous line
}

// On returns the coupling limit on the given basis, Hz.
func (u *CouplingLimit) On(basis design.Basis) float64 { return basis.Choose(u.HalfWave, u.Lobe) }

var absentLimit = CouplingLimit{
	Spacing: numeric.Absent, HalfWave: numeric.Absent, Lobe: numeric.Absent,
	FirstLobe: numeric.Absent, Share: numeric.Absent, Efficiency: numeric.Absent,
}

// row is the mouths of one box that carry one band: equal, evenly spaced about the
// box's centre.
type row struct {
	count   int
	spacing float64 // m
	shape   Shape
	extent  float64 // as of a Mouth, m
}

// mouths returns the row's mouths.
func (r row) mouths() Mouths { return evenly(r.count, r.spacing, r.shape, r.extent) }

// limitInput is what the coupling limit of a line depends on.
type limitInput struct {
	row
	pitch  float64 // m
	target float64 // highest lobe allowed, a pressure ratio to the axis
	c      float64 // speed of sound, m/s
}

// lobeFloor is the lowest lobe level reported, dB: an exact cancellation is
// rounding noise below it.
const lobeFloor = -200

// limit is the stage of the coupling limit: all of a CouplingLimit but the
// efficiency.
func limit(in limitInput) CouplingLimit {
	if !numeric.Given(in.pitch) {
		return absentLimit
	}
	ms := in.mouths()
	u := CouplingLimit{
		Spacing:    ms.LargestSpacing(in.pitch),
		Lobe:       ms.LobeLimit(in.pitch, in.target, in.c),
		FirstLobe:  math.Max(numeric.DB(ms.LobeRatio(in.pitch, 1)), lobeFloor),
		Share:      ms.Share(in.pitch),
		Shape:      in.shape,
		Efficiency: numeric.Absent,
	}
	if u.Shape == Point && len(ms) == 1 {
		u.FirstLobe = numeric.Absent // a point's own pattern holds nothing back
	}
	u.HalfWave = in.c / (2 * u.Spacing)
	return u
}

// limitOn is the coupling limit on one basis alone, Hz.
func limitOn(basis design.Basis, in limitInput) float64 {
	ms := in.mouths()
	if basis.Computed() {
		return ms.LobeLimit(in.pitch, in.target, in.c)
	}
	return in.c / (2 * ms.LargestSpacing(in.pitch))
}

// efficiencyInput is what the efficiency of a line depends on.
type efficiencyInput struct {
	row
	boxes         int
	pitch, lambda float64 // m
}

// efficiency is the stage of the efficiency: the directivity factor of the line over
// that of a continuous one; NaN for a line of no length.
func efficiency(in efficiencyInput) float64 {
	if in.boxes <= 0 || !numeric.Given(in.pitch) {
		return numeric.Absent
	}
	return in.mouths().LineFactor(in.boxes, in.pitch, in.lambda) /
		ContinuousLineFactor(float64(in.boxes)*in.pitch, in.lambda)
}

// lineStages size one line of mouths.
type lineStages struct {
	limit      remembered[limitInput, CouplingLimit]
	efficiency remembered[efficiencyInput, float64]
	limitsOnly bool // leave the efficiency out
}

// size takes the efficiency at the frequency in Hz where the horn takes over, or at
// the half-wave limit when that is not known.
func (z *lineStages) size(in limitInput, boxes int, horn float64) CouplingLimit {
	u := *z.limit.of(in, limit)
	if z.limitsOnly {
		return u
	}
	lambda := in.c / numeric.Or(horn, u.HalfWave)
	u.Efficiency = *z.efficiency.of(efficiencyInput{in.row, boxes, in.pitch, lambda}, efficiency)
	return u
}
