package line

import (
	"context"
	"fmt"
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/cabinet/sizing"
	"gapline/cabinet/source"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/quantity"
)

// Coupling is how one band of the line, hung straight, behaves as one source, as
// it is built and otherwise.
type Coupling struct {
	Spectrum
	Target   float64 // highest lobe allowed, dB
	Variants []Variant
}

// Variant is one way of building the line.
type Variant struct {
	Name    string
	Pitch   float64   // box to box, m
	Spacing float64   // largest between neighbouring centres, m
	Half    float64   // half-wave limit, Hz
	Lobe    []float64 // highest lobe beside the main beam, dB; NaN: none
	Index   []float64 // directivity index in a wall, dB
	UpTo    float64   // frequency at which a lobe exceeds the target, Hz; +Inf: not in the range
}

// spread is how much farther apart the boxes of the spaced variant stand.
const spread = 1.5

// CouplingSpectrum is what coupling is looked at by, as lobes move fast with
// frequency: 24ths of an octave about 1 kHz from 100 Hz to 5 kHz.
func (s *Study) CouplingSpectrum() Spectrum {
	const below, above = 78, 54
	var sp Spectrum
	for k := -below; k <= above; k++ {
		sp.Hz = append(sp.Hz, 1000*math.Exp2(float64(k)/24))
	}
	return sp
}

// Coupling hears the woofers with and without the insert, as spaced, packed as
// close as they go and spread apart, and the mids where there are any.
func (s *Study) Coupling(ctx context.Context, sp Spectrum) (*Coupling, error) {
	out := &Coupling{Spectrum: sp, Target: numeric.DB(s.Design.LobeTarget())}
	for _, v := range s.variants() {
		r, err := s.hear(ctx, sp, v, out.Target)
		if err != nil {
			return nil, err
		}
		out.Variants = append(out.Variants, *r)
	}
	return out, nil
}

// built is one variant before it is heard.
type built struct {
	name   string
	design design.Design
	choice source.Choice
	line   func(*sizing.Sizing) *sizing.CouplingLimit
}

func (s *Study) variants() []built {
	d := s.Design
	woofers := source.Choice{WithoutInsert: true, Only: []string{source.Woofers}, Straight: true}
	open := func(z *sizing.Sizing) *sizing.CouplingLimit { return &z.Coupling.Open }
	var out []built
	if s.Model.Band(source.Woofers) >= 0 {
		out = append(out, built{"as spaced", *d, woofers, open})
		if d.HasInsert() {
			with := woofers
			with.WithoutInsert = false
			out = append(out, built{"with insert", *d, with, func(z *sizing.Sizing) *sizing.CouplingLimit { return &z.Coupling.Insert.CouplingLimit }})
		}
		if p, ok := packed(*d); ok {
			out = append(out, built{"packed", p, woofers, open})
		}
		out = append(out, built{"spread", respaced(*d, spread*d.Pitch()), woofers, open})
	}
	if s.Model.Band(source.Mids) >= 0 {
		mids := source.Choice{Only: []string{source.Mids}, Straight: true}
		out = append(out, built{"mids", *d, mids, func(z *sizing.Sizing) *sizing.CouplingLimit { return &z.Coupling.Mid }})
	}
	if len(out) == 0 {
		out = append(out, built{"horn", *d, source.Choice{Only: []string{source.Horn}, Straight: true}, nil})
	}
	return out
}

// packed stands the cones of the whole line frame to frame; ok is false when they
// stand so already or their size is not known.
func packed(d design.Design) (design.Design, bool) {
	one := d.Woofer.Size.Or(d.Woofer.Diameter())
	n := 1
	if d.Woofer.Spacing.Given() {
		n = max(d.Woofer.PerBox, 1)
		d.Woofer.Spacing = optional.Of(one)
	}
	const noticeable = 0.98
	pitch := float64(n) * one
	if !(pitch < noticeable*d.Pitch()) {
		return d, false
	}
	return respaced(d, pitch), true
}

// respaced is the woofers alone at another pitch: whatever else is in the boxes
// would not fit.
func respaced(d design.Design, pitch float64) design.Design {
	d.Cabinet.Height, d.Cabinet.Pitch, d.Cabinet.Gap = optional.Of(pitch), optional.Float{}, optional.Float{}
	d.Insert = design.New().Insert
	d.Mid = design.New().Mid
	d.Horn = design.New().Horn
	return d
}

// hear computes one variant.
func (s *Study) hear(ctx context.Context, sp Spectrum, b built, target float64) (*Variant, error) {
	// A turn to the side does nothing along the line, and one wall has all mouths face ahead.
	b.design.Bands.Woofer.Turn, b.design.Bands.Mid.Turn = optional.Float{}, optional.Float{}
	m, problems := source.New(&b.design, b.choice)
	if problems != nil {
		return nil, fmt.Errorf("%s: %s", b.name, problems[0].Text)
	}
	e, err := field.New(m.Stack, field.Options{Air: b.design.Air, Boundary: field.Baffled})
	if err != nil {
		return nil, err
	}
	angles := field.Angles(2*HalfTurn-1, math.Pi) // half a degree apart
	p, err := e.Polar(ctx, field.PolarSpec{Angle: angles, Frequency: sp.Hz, Distance: math.Inf(1), Axis: 0})
	if err != nil {
		return nil, err
	}
	v := &Variant{Pitch: b.design.Pitch(), Spacing: numeric.Absent, Half: numeric.Absent, Lobe: lobes(p)}
	if b.line != nil {
		z := sizing.Size(&b.design)
		v.Spacing, v.Half = b.line(&z).Spacing, b.line(&z).HalfWave
	}
	v.Name = fmt.Sprintf("%s, %s", b.name, quantity.Format(numeric.Or(v.Spacing, v.Pitch), quantity.Length, quantity.Metric))
	v.UpTo = firstOver(sp.Hz, v.Lobe, target)
	q, err := e.DirectivityIndex(ctx, sp.Hz)
	if err != nil {
		return nil, err
	}
	v.Index = q.Index
	return v, nil
}

// firstOver returns where a rising curve first exceeds the target, on a straight
// line over log frequency; +Inf: nowhere.
func firstOver(hz, level []float64, target float64) float64 {
	for i, l := range level {
		if !(l > target) {
			continue
		}
		if i == 0 || !numeric.Given(level[i-1]) {
			return hz[i]
		}
		t := (target - level[i-1]) / (l - level[i-1])
		return hz[i-1] * math.Pow(hz[i]/hz[i-1], t)
	}
	return math.Inf(1)
}

// lobes returns the highest lobe of each row of a polar, against the axis.
func lobes(p *field.Polar) []float64 {
	out := make([]float64, len(p.Normalised))
	for i, level := range p.Normalised {
		out[i] = highestLobe(p.Angle, level)
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
