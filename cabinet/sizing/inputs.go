package sizing

import (
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/waveguide"
)

// This file alone knows where the record holds what the stages depend on.

// hornInput gathers what the horn depends on, at the speed of sound c in m/s.
func (z *Sizer) hornInput(d *design.Design, c float64) hornInput {
	h := &d.Horn
	return hornInput{
		coverage: h.Coverage.Value(), mouthWidth: h.MouthWidth.Value(), mouthHeight: h.MouthHeight.Value(), sides: h.Sides,
		throat: h.Throat.Value(), length: h.Length.Value(), family: h.Family.Value(), lowest: h.Lowest.Value(), profile: h.Profile,
		distances: z.distances.of(h.Distances), areas: z.areas.of(h.Areas),
		pitch: d.Pitch(), c: c, basis: d.Basis(),
	}
}

func straightInputOf(d *design.Design, c float64) straightInput {
	return straightInput{d.Horn.MouthHeight.Value(), d.Fold.VirtualPath.Or(d.Horn.PathLength.Value()), d.Pitch(), d.LobeTarget(), c}
}

// wooferRow is the cones of one box as seen along the line. Woofers side by side at
// one height are one mouth.
func wooferRow(d *design.Design) row {
	return cones(d.WooferRows(), d.WooferSpacing(), d.Woofer.Diameter())
}

func midRow(d *design.Design) row {
	return cones(d.MidRows(), d.MidSpacing(), d.Mid.Diameter())
}

func cones(n int, spacing, diameter float64) row {
	shape := Circle
	if !numeric.Given(diameter) {
		shape = Point
	}
	return row{n, spacing, shape, diameter}
}

// insertRow is the mouths of the insert: strips where their height is given, points
// else.
func insertRow(d *design.Design) row {
	shape := Strip
	if !d.Insert.MouthHeight.Given() {
		shape = Point
	}
	return row{d.Insert.Mouths, d.InsertSpacing(), shape, d.Insert.MouthHeight.Value()}
}

// wooferColumns appends to cs the columns of woofers, with an insert those of its mouths:
// one row of mouths in front of each column of cones.
func wooferColumns(cs []Column, d *design.Design) []Column {
	w := &d.Woofer
	if !d.HasWoofer() && !d.HasInsert() {
		return cs
	}
	mouth := mouthAcross(Circle, w.Diameter())
	if d.HasInsert() {
		mouth = mouthAcross(Strip, d.Insert.MouthWidth.Value())
	}
	size := w.Size.Or(w.Diameter())
	return bandColumns(cs, d, layout.Woofers, &d.Bands.Woofer, mouth, d.WooferColumns(), size)
}

// midColumns appends to cs the columns of mids.
func midColumns(cs []Column, d *design.Design) []Column {
	if !d.HasMid() {
		return cs
	}
	m := &d.Mid
	return bandColumns(cs, d, layout.Mids, &d.Bands.Mid, mouthAcross(Circle, m.Diameter()), d.MidColumns(), m.Size.Or(m.Diameter()))
}

// bandColumns appends the columns of a band. Those flush with the front follow from their
// spacing alone; of others the layout says where they stand.
func bandColumns(cs []Column, d *design.Design, band layout.Band, place *design.Place, mouth Column, n int, size float64) []Column {
	if place.Setback.Or(0) == 0 && place.Turn.Or(0) == 0 {
		return columnsOf(cs, mouth, n, place.Lateral.Or(size))
	}
	start := len(cs)
	l := layout.New(d)
	for _, i := range l.Radiating(band) {
		p := &l.Parts[i]
		c := Column{Y: p.At.Y, X: p.At.X, Turn: p.Turn, Width: mouth.Width, Shape: mouth.Shape}
		if p.Kind == layout.Opening {
			c.Width, c.Shape = p.Width, Strip
		}
		if len(cs) == start || c != cs[len(cs)-1] {
			cs = append(cs, c)
		}
	}
	return cs
}

// mouthAcross is a column in the middle; a Point where the width in m is not given.
func mouthAcross(shape Shape, width float64) Column {
	if !numeric.Given(width) {
		return Column{}
	}
	return Column{Width: width, Shape: shape}
}

// columnsOf appends n columns of the mouth, apart in m from each other, about their
// middle. None is known where the distance is not, or one column has no width.
func columnsOf(cs []Column, mouth Column, n int, apart float64) []Column {
	if n == 1 && mouth.Shape == Point || n > 1 && !numeric.Given(apart) {
		return cs
	}
	for i := range n {
		if n > 1 {
			mouth.Y = (float64(n-1)/2 - float64(i)) * apart
		}
		cs = append(cs, mouth)
	}
	return cs
}

// woofersCrossover is where the woofers hand over to the mids, or to the horn.
func woofersCrossover(d *design.Design, g *Gap) handover {
	if d.HasMid() {
		return handover{d.Low.Frequency.Or(d.Mid.Lowest.Value()), true}
	}
	return hornCrossover(d, g)
}

// hornCrossover is where what plays below the horn hands over to it.
func hornCrossover(d *design.Design, g *Gap) handover {
	return handover{d.Crossover.Frequency.Or(Middle(g.Low, g.High)), d.Crossover.Frequency.Given()}
}

func limitInputOf(d *design.Design, r row, c float64) limitInput {
	return limitInput{r, d.Pitch(), d.LobeTarget(), c}
}

func insertInputOf(d *design.Design, c float64) insertInput {
	i, w := &d.Insert, &d.Woofer
	return insertInput{
		mouths: i.Mouths, columns: d.WooferColumns(), height: i.MouthHeight.Value(), width: i.MouthWidth.Value(), between: d.InsertSpacing(),
		depth: i.SlotDepth.Value(), chamber: i.ChamberVolume.Value(),
		cones: d.WooferRows(), coneArea: w.PistonArea(), diameter: w.Diameter(), spacing: d.WooferSpacing(), c: c,
	}
}

// gapInputOf takes the limits from what is already sized.
func gapInputOf(d *design.Design, s *Sizing) gapInput {
	k, b := &s.Coupling, d.Basis()
	return gapInput{
		basis: b, horn: s.Horn.Lower, cones: k.Open.On(b), hasInsert: k.HasInsert, insert: k.Insert.On(b),
		chamber: b.Choose(k.Insert.Chamber, k.Insert.Coupled), inPhase: b.Choose(k.Insert.InPhase, k.Insert.Part), hasMid: k.HasMid, mid: k.Mid.On(b), lowest: d.Mid.Lowest.Value(),
	}
}

func partsInputOf(d *design.Design) partsInput {
	return partsInput{d.HasWoofer(), d.DriversPerBox(), d.Crossovers(), d.Line.Boxes, d.CostPerBox()}
}

func boxInputOf(d *design.Design, a air.Air) boxInput {
	s := d.DriverSetup(driver.Complete{}, a)
	if s.Enclosure.PanelHolds() {
		s.Enclosure.PanelArea = optional.Float{}
	}
	return boxInput{d.Woofer.Parameters, s.Count, s.Columns, s.Spacing, s.Lateral, s.Wiring, s.Enclosure, a}
}

func foldSpecOf(d *design.Design, c float64) waveguide.FoldSpec {
	s := d.FoldSpec()
	s.SoundSpeed = c
	// Nothing of a given fold depends on the cabinet.
	s.CabinetDepth, s.CabinetHeight, s.CabinetWidth = numeric.Absent, numeric.Absent, numeric.Absent
	return s
}

// GapOf returns the gap in octaves of the design as given, and nothing else: it
// is what the levers are solved with.
func GapOf(d *design.Design) float64 {
	c, h, b := air.SoundSpeed(d.Air), &d.Horn, d.Basis()
	pattern := waveguide.KeeleFrequency(h.ExitWidth(), h.ExitCoverage())
	if b.Computed() {
		pattern = waveguide.ControlFrequency(h.ExitWidth(), h.ExitCoverage(), c)
	}
	in := gapInput{horn: h.LowerLimit(pattern, h.Cutoff(c)), hasInsert: d.HasInsert(), hasMid: d.HasMid()}
	switch {
	case in.hasMid:
		in.mid = limitOn(b, limitInputOf(d, midRow(d), c))
	case in.hasInsert:
		in.insert = limitOn(b, limitInputOf(d, insertRow(d), c))
		costs := insertCosts(insertInputOf(d, c))
		in.chamber, in.inPhase = b.Choose(costs.Chamber, costs.Coupled), b.Choose(costs.InPhase, costs.Part)
	default:
		in.cones = limitOn(b, limitInputOf(d, wooferRow(d), c))
	}
	_, asGiven := in.ends()
	return math.Log2(in.horn / asGiven)
}
