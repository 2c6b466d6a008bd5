package sizing

import (
	"gapline/cabinet/design"
	"gapline/internal/air"
)

// Sizing is everything the estimates say about a design, SI. NaN marks what the
// design does not give enough for; +Inf a limit that does not exist.
type Sizing struct {
	Air      air.Air
	Coupling Coupling
	Horn     HornSizing
	Fold     FoldSizing
	Gap      Gap
	Woofers  Horizontal
	Mids     Horizontal
	Box      BoxSizing
	Line     LineSizing
	Wave     WaveSizing     // absent until a run of the wave level is put in
	Measured MeasuredSizing // absent until traces are put in

	Easing Easing // what gives way in it; see Eased
}

// Size computes every estimate. It never fails: what cannot be computed is NaN.
// Designs that cannot exist are to be refused first, by package check.
func Size(d *design.Design) Sizing { return new(Sizer).Size(d) }

// Sizer computes estimates one after the other. Each stage remembers its last input
// and result, so that a design computes only the stages whose input has changed.
// The zero value is ready; a Sizer serves one goroutine at a time.
type Sizer struct {
	air                remembered[air.Conditions, air.Air]
	distances, areas   heldList[float64] // of the horn's profile
	horn               hornStage
	straight           remembered[straightInput, front]
	fold               foldStages
	cones, insert, mid lineStages
	costs              remembered[insertInput, InsertSizing]
	woofers, mids      acrossStages
	box                lowEnd
}

// NewSizer returns a Sizer for many designs that all differ: what costs most is taken from
// a curve, to 1e-6 of itself (see patternCurve).
func NewSizer() *Sizer { return &Sizer{horn: hornStage{curve: &patternCurve{}}} }

// NewGapSizer returns a Sizer for who asks for the gap alone: it leaves out the efficiency
// of lines, an integral that grows with their length and that no limit depends on.
func NewGapSizer() *Sizer {
	z := new(Sizer)
	for _, line := range []*lineStages{&z.cones, &z.insert, &z.mid} {
		line.limitsOnly = true
	}
	return z
}

// Size is the same as the function Size, to the last bit but for a NewSizer's.
func (z *Sizer) Size(d *design.Design) Sizing {
	var s Sizing
	s.Air = *z.air.of(d.Air, air.Of)
	c := s.Air.SoundSpeed
	s.Horn = *z.horn.size(z.hornInput(d, c))
	s.Fold = z.sizeFront(&s.Horn, d, c)
	s.Coupling = z.sizeCoupling(d, c, s.Horn.Lower)
	s.Gap = sizeGap(gapInputOf(d, &s))
	s.Woofers = z.woofers.size(wooferColumns(z.woofers.room[:0], d), woofersCrossover(d, &s.Gap), s.Horn.ExitCoverage, c)
	s.Mids = z.mids.size(midColumns(z.mids.room[:0], d), hornCrossover(d, &s.Gap), s.Horn.ExitCoverage, c)
	s.Box = z.sizeBox(d, s.Air)
	s.Line = sizeLine(d.Line.Boxes, s.Coupling.Length, d.Line.Splay, c)
	s.Wave, s.Measured = AbsentWave, AbsentMeasured
	return s
}

// sizeFront puts the front of the fold, or of a straight guide, into the horn's
// figures.
func (z *Sizer) sizeFront(h *HornSizing, d *design.Design, c float64) FoldSizing {
	fold, f, ok := absentFold, front{}, false
	if d.HasFold() {
		fold, f, ok = z.fold.size(foldSpecOf(d, c), d.Pitch(), d.LobeTarget())
	}
	if !ok {
		f = *z.straight.of(straightInputOf(d, c), straightFront)
	}
	h.Path, h.Sagitta, h.FlatTo, h.FlatLobe = f.path, f.sagitta, f.flatTo, f.flatLobe
	return fold
}

// sizeCoupling takes the speed of sound in m/s and the frequency in Hz from which
// the horn can be used.
func (z *Sizer) sizeCoupling(d *design.Design, c, horn float64) Coupling {
	k := Coupling{
		Pitch:     d.Pitch(),
		Length:    d.Length(),
		HasInsert: d.HasInsert(),
		HasMid:    d.HasMid(),
		Mid:       absentLimit,
		Insert:    absentInsert,
	}
	k.Lower = c / k.Length
	k.Open = z.cones.size(limitInputOf(d, wooferRow(d), c), d.Line.Boxes, horn)
	if k.HasMid {
		k.Mid = z.mid.size(limitInputOf(d, midRow(d), c), d.Line.Boxes, horn)
	}
	if k.HasInsert {
		k.Insert = *z.costs.of(insertInputOf(d, c), insertCosts)
		k.Insert.CouplingLimit = z.insert.size(limitInputOf(d, insertRow(d), c), d.Line.Boxes, horn)
		k.Insert.SpacingError = spacingError(d.Insert.Mouths, d.InsertSpacing(), k.Pitch)
	}
	return k
}

// sizeBox works out the low end of one box and what it takes. What the design does
// not give enough for is NaN.
func (z *Sizer) sizeBox(d *design.Design, a air.Air) BoxSizing {
	s := countParts(partsInputOf(d))
	s.LevelAt, s.SweptVolume = d.LevelAt(), float64(d.WoofersPerBox())*d.Woofer.PistonArea()*d.Woofer.Xmax.Value()
	z.box.size(&s, boxInputOf(d, a))
	return s
}
