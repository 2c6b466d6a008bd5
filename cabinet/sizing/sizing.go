package sizing

import (
	"math"

	"gapline/cabinet/design"
	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/waveguide"
)

// Sizing is everything the estimates say about a design, SI. NaN marks what the
// design does not give enough for; +Inf a limit that does not exist.
type Sizing struct {
	Air      air.Air
	Coupling Coupling
	Horn     HornSizing
	Fold     FoldSizing
	Gap      Gap
	Box      BoxSizing
	Line     LineSizing
	Wave     WaveSizing // absent until a run of the wave level is put in
}

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

// InsertSizing is the coupling limit with an insert, and what the insert costs.
type InsertSizing struct {
	CouplingLimit
	SpacingError float64 // of the mouths, relative to pitch/mouths
	Chamber      float64 // corner of the front chamber, Hz
	AreaRatio    float64 // cones over mouths
	PathSpread   float64 // m
	InPhase      float64 // frequency at which PathSpread is a quarter wave, Hz
}

// HornSizing is how low the horn holds its pattern and how flat its front is.
type HornSizing struct {
	ExitWidth       float64 // with side flares, m
	ExitCoverage    float64 // rad
	PatternRule     float64 // Hz
	PatternComputed float64 // Hz
	Narrowest       float64 // rad
	NarrowestAt     float64 // Hz
	Cutoff          float64 // Hz
	Lower           float64 // on the gap's basis, Hz
	Path            float64 // m
	Sagitta         float64 // m
	FlatTo          float64 // Hz
	FlatLobe        float64 // Hz
	Share           float64
	RuleDeviation   float64 // PatternRule over PatternComputed, less 1
	FlaresFilled    float64 // frequency to which a flat front fills the side flares, Hz

	// Of the loading; only a study of the horn works them out.
	Ripple        float64 // of the throat resistance above Lower, dB
	HalfLoaded    float64 // from here on the throat takes half of a plane wave's power, Hz
	EfficiencyLow float64 // at Lower
}

// Gap is the distance in octaves between the frequency to which the woofers (or
// mids) couple and that from which the horn holds its pattern.
type Gap struct {
	Basis     design.Basis
	Open      float64 // without the insert, octaves; positive is open
	Insert    float64 // with the insert, octaves
	Low       float64 // f_couple of the design as given, Hz
	High      float64 // f_horn, Hz
	Crossover float64 // geometric mean of an overlap, Hz
	WooferMid float64 // between woofers and mids, octaves
}

// AsGiven returns the gap of the design as it stands, octaves.
func (g *Gap) AsGiven() float64 { return math.Log2(g.High / g.Low) }

// Size computes every estimate. It never fails: what cannot be computed is NaN.
// Designs that cannot exist are to be refused first, by package check.
func Size(d *design.Design) Sizing { return new(Sizer).Size(d) }

// Sizer computes estimates one after the other. It remembers the aperture
// integral of the coverages and the last driver it has met, which designs of a
// sweep share. The zero value is ready; a Sizer serves one goroutine at a time.
type Sizer struct {
	controls map[float64]waveguide.Control // by coverage, for a mouth of 1 m and c = 1 m/s
	woofer   wooferCache
}

// maxControls bounds the memory of a Sizer.
const maxControls = 4096

// control returns the pattern control of a unit mouth.
func (z *Sizer) control(coverage float64) waveguide.Control {
	k, ok := z.controls[coverage]
	if !ok {
		k = waveguide.FindControl(1, coverage, 1)
		if z.controls == nil || len(z.controls) >= maxControls {
			z.controls = map[float64]waveguide.Control{}
		}
		z.controls[coverage] = k
	}
	return k
}

// Size is the same as the function Size, to the last bit.
func (z *Sizer) Size(d *design.Design) Sizing {
	var s Sizing
	s.Air = air.Of(d.Air)
	s.Horn, s.Fold = sizeHorn(d, s.Air.SoundSpeed, z.control(d.Horn.ExitCoverage()))
	s.Coupling = sizeCoupling(d, s.Air.SoundSpeed, s.Horn.Lower)
	s.Gap = sizeGap(d, &s)
	s.Box = z.sizeBox(d, s.Air)
	s.Line = sizeLine(d, s.Air.SoundSpeed)
	s.Wave = AbsentWave
	return s
}

// wooferMouths returns the cones of one box as seen along the line. Woofers
// side by side at one height are one mouth.
func wooferMouths(d *design.Design) Mouths {
	return cones(d.WoofersPerBox(), d.Woofer.Spacing, d.Woofer.Diameter())
}

func midMouths(d *design.Design) Mouths {
	return cones(max(d.Mid.PerBox, 1), d.Mid.Spacing, d.Mid.Diameter())
}

func cones(n int, spacing, diameter float64) Mouths {
	shape := Circle
	if !numeric.Given(diameter) {
		shape = Point
	}
	if !numeric.Given(spacing) {
		n = 1
	}
	return evenly(n, spacing, shape, diameter)
}

func sizeCoupling(d *design.Design, c, horn float64) Coupling {
	k := Coupling{
		Pitch:     d.Pitch(),
		Length:    d.Length(),
		HasInsert: d.HasInsert(),
		HasMid:    d.HasMid(),
		Mid:       absentLimit,
		Insert:    absentInsert,
	}
	k.Lower = c / k.Length
	k.Open = couplingLimit(d, wooferMouths(d), c, horn)
	if k.HasMid {
		k.Mid = couplingLimit(d, midMouths(d), c, horn)
	}
	if k.HasInsert {
		k.Insert = sizeInsert(d, c, horn)
	}
	return k
}

var absentLimit = CouplingLimit{
	Spacing: numeric.Absent, HalfWave: numeric.Absent, Lobe: numeric.Absent,
	FirstLobe: numeric.Absent, Share: numeric.Absent, Efficiency: numeric.Absent,
}

var absentInsert = InsertSizing{
	CouplingLimit: absentLimit, SpacingError: numeric.Absent, Chamber: numeric.Absent,
	AreaRatio: numeric.Absent, PathSpread: numeric.Absent, InPhase: numeric.Absent,
}

// lobeFloor is the lowest lobe level reported, dB: an exact cancellation is
// rounding noise below it.
const lobeFloor = -200

// couplingLimit sizes one line of mouths. The efficiency is taken at the frequency
// where the horn takes over, or at the half-wave limit when that is not known.
func couplingLimit(d *design.Design, ms Mouths, c, horn float64) CouplingLimit {
	pitch := d.Pitch()
	if !numeric.Given(pitch) {
		return absentLimit
	}
	u := CouplingLimit{
		Spacing:    ms.LargestSpacing(pitch),
		Lobe:       ms.LobeLimit(pitch, d.LobeTarget(), c),
		FirstLobe:  math.Max(numeric.DB(ms.LobeRatio(pitch, 1)), lobeFloor),
		Share:      ms.Share(pitch),
		Shape:      ms[0].Shape,
		Efficiency: numeric.Absent,
	}
	if u.Shape == Point && len(ms) == 1 {
		u.FirstLobe = numeric.Absent // a point's own pattern holds nothing back
	}
	u.HalfWave = c / (2 * u.Spacing)
	if n := d.Line.Boxes; n > 0 {
		lambda := c / numeric.Or(horn, u.HalfWave)
		u.Efficiency = ms.LineFactor(n, pitch, lambda) / ContinuousLineFactor(float64(n)*pitch, lambda)
	}
	return u
}

// On returns the coupling limit on the given basis, Hz.
func (u *CouplingLimit) On(basis design.Basis) float64 { return basis.Choose(u.HalfWave, u.Lobe) }

func sizeInsert(d *design.Design, c, horn float64) InsertSizing {
	i := InsertSizing{CouplingLimit: couplingLimit(d, insertMouths(d), c, horn)}
	i.SpacingError = d.InsertSpacing()*float64(d.Insert.Mouths)/d.Pitch() - 1
	if d.Insert.Mouths == 1 {
		i.SpacingError = 0
	}
	i.Chamber = d.Insert.ChamberCorner(c)
	i.AreaRatio = insertAreaRatio(d)
	paths := insertPaths(d, c)
	i.PathSpread, i.InPhase = paths.Spread, paths.Quarter
	return i
}

// sizeHorn takes the pattern control of a unit mouth, which depends on the
// coverage alone, and scales it.
func sizeHorn(d *design.Design, c float64, unit waveguide.Control) (HornSizing, FoldSizing) {
	h := &d.Horn
	width, coverage := h.ExitWidth(), h.ExitCoverage()
	control := unit.Scale(width, c)
	s := HornSizing{
		ExitWidth:       width,
		ExitCoverage:    coverage,
		PatternRule:     waveguide.KeeleFrequency(width, coverage),
		PatternComputed: control.Frequency,
		Narrowest:       control.Narrowest,
		NarrowestAt:     control.NarrowestAt,
		Cutoff:          h.Cutoff(c),
		Share:           h.MouthHeight / d.Pitch(),
		FlatLobe:        numeric.Absent,
		RuleDeviation:   waveguide.KeeleFrequency(width, coverage)/control.Frequency - 1,
		FlaresFilled:    h.FlaresFilledTo(c),
		Ripple:          numeric.Absent,
		HalfLoaded:      numeric.Absent,
		EfficiencyLow:   numeric.Absent,
	}
	s.Lower = h.LowerLimit(d.Basis().Choose(s.PatternRule, s.PatternComputed), s.Cutoff)
	if f, ok := d.Folded(); ok {
		s.frontOf(d, &f, c)
		return s, sizeFold(&f)
	}
	s.frontOf(d, nil, c)
	return s, absentFold
}
