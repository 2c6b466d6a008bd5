package designtest

import (
	"math"

	"gapline/cabinet/design"
	"gapline/internal/optional"
	"gapline/waveguide"
)

// horn draws the horn with its driver, in some boxes with flares or a fold.
func (b *laid) horn() {
	d := &b.d
	h := &d.Horn
	h.Coverage, h.Throat = optional.Of(b.in(60, 110)*math.Pi/180), optional.Of(b.in(0.025, 0.045))
	h.MouthWidth, h.MouthHeight = optional.Of(b.in(0.12, 0.38)), optional.Of(b.height()*b.in(0.5, 0.97))
	if b.chance(0.5) {
		d.Section.SlotWidth = optional.Of(b.in(0.015, 0.04))
	}
	d.Section.SideWalls = design.StraightWalls
	if b.chance(0.3) {
		h.Sides.Length = optional.Of(b.in(0.02, 0.06))
		if b.chance(0.5) {
			h.Sides.Angle = optional.Of(b.in(50, 110) * math.Pi / 180)
		}
		if b.chance(0.3) {
			h.Sides.Splitters, h.Sides.SplitterWidth = 1+b.IntN(2), optional.Of(b.in(0.002, 0.008))
		}
	}
	if b.chance(0.35) {
		b.fold()
	}
	slot, path := d.SlotWidth(), 0.0
	if f, ok := d.Folded(); ok {
		slot, path = d.Section.SlotWidth.Or(d.Fold.Layer.Value()), 2*d.Fold.ThroatToWall.Value()+f.Spec.MouthDistance
	}
	walls := (h.MouthWidth.Value() - slot) / 2 / math.Tan(h.Coverage.Value()/2)
	h.Length = optional.Of(path + walls*b.in(1.001, 1.25))
	d.HornDrive.Depth, d.HornDrive.Diameter = optional.Of(b.in(0.04, 0.09)), optional.Of(b.in(0.07, 0.12))
}

// fold draws a fold; one that cannot be is left out.
func (b *laid) fold() {
	f := &b.d.Fold
	f.ThroatToWall, f.Layer, f.VirtualPath = optional.Of(b.in(0.05, 0.12)), optional.Of(b.in(0.01, 0.02)), optional.Of(b.in(0.8, 2.5))
	if b.chance(0.5) {
		f.BendRadius, f.RearAllowance = optional.Of(b.in(0, 0.004)), optional.Of(b.in(0, 0.01))
	}
	if b.chance(0.3) {
		f.Depth = optional.Of(b.in(0.1, 0.3))
	}
	if _, err := waveguide.NewFold(b.d.FoldSpec()); err != nil {
		*f = design.Fold{}
	}
}

// arrange draws the cones and how they stand to the horn, and gives the cabinet its width.
func (b *laid) arrange() {
	d := &b.d
	w := &d.Bands.Woofer
	d.Woofer.PerBox, w.Columns, w.Rise, w.Setback, w.Turn = 1, 1, optional.Of(b.in(-0.01, 0.01)), optional.Of(0), optional.Of(0)
	d.Woofer.Size = optional.Of(b.height() * b.in(0.5, 0.9))
	side := 1.0
	if b.chance(0.5) {
		side = -1
	}
	switch b.IntN(6) {
	case 0, 1:
		b.besides(side)
	case 2:
		b.eitherSide()
	case 3:
		b.behind()
	case 4:
		b.between(side)
	case 5:
		b.coaxial(side)
	}
	w.Depth = optional.Of(d.Woofer.Size.Value() * b.in(0.35, 0.55))
	if d.Bands.Mid.Columns > 0 {
		d.Bands.Mid.Depth = optional.Of(d.Mid.Size.Value() * b.in(0.4, 0.7))
	}
}

// besides stands woofers, in some boxes mids two by two, and the horn beside each other.
func (b *laid) besides(side float64) {
	d := &b.d
	if b.chance(0.3) { // two woofers one above the other
		d.Woofer.PerBox, d.Woofer.Size = 2, optional.Of(b.height()*b.in(0.3, 0.47))
		d.Woofer.Spacing = optional.Of(d.Woofer.Size.Value() * b.in(1.01, 1.06))
	}
	size, exit := d.Woofer.Size.Value(), d.Horn.ExitWidth()
	wide, mids := size+exit, 0.0
	if b.chance(0.35) {
		m := &d.Bands.Mid
		d.Mid.PerBox, m.Columns, d.Mid.Size = 4, 2, optional.Of(b.in(0.06, 0.09))
		d.Mid.Spacing, m.Lateral = optional.Of(d.Mid.Size.Value()*b.in(1, 1.4)), optional.Of(d.Mid.Size.Value()*b.in(1, 1.2))
		m.Rise, m.Setback, m.Turn = optional.Of(b.in(-0.02, 0.02)), optional.Of(0), optional.Of(0)
		mids = m.Lateral.Value() + d.Mid.Size.Value()
		wide += mids + 0.01
	}
	gap := b.in(0.01, 0.05)
	width := wide + 3*gap
	d.Cabinet.Width = optional.Of(width)
	d.Bands.Woofer.Offset = optional.Of(side * (width/2 - gap - size/2))
	d.Bands.Horn.Offset = optional.Of(side * -(width/2 - gap - exit/2))
	if mids > 0 {
		d.Bands.Mid.Offset = optional.Of(side * (width/2 - gap - size - gap/2 - 0.005 - mids/2))
	}
}

// eitherSide stands one or two rows of two woofers at the sides of the horn.
func (b *laid) eitherSide() {
	d := &b.d
	d.Woofer.PerBox, d.Bands.Woofer.Columns = 2, 2
	if b.chance(0.3) {
		d.Woofer.PerBox, d.Woofer.Size = 4, optional.Of(b.height()*b.in(0.3, 0.46))
		d.Woofer.Spacing = optional.Of(d.Woofer.Size.Value() * b.in(1.01, 1.07))
	}
	gap, size := b.in(0.005, 0.03), d.Woofer.Size.Value()
	lateral := d.Horn.ExitWidth() + size + 2*gap
	d.Bands.Woofer.Lateral, d.Bands.Woofer.Offset = optional.Of(lateral), optional.Of(b.in(-0.5, 0.5)*gap)
	d.Bands.Horn.Offset = optional.Of(b.in(0.01, 0.4) * gap)
	d.Cabinet.Width = optional.Of(lateral + size + 3*gap)
}

// behind stands two cones in a V behind the horn, or beside its narrow end.
func (b *laid) behind() {
	d := &b.d
	w := &d.Bands.Woofer
	d.Woofer.PerBox, w.Columns = 2, 2
	size := d.Woofer.Size.Value()
	w.Setback, w.Turn = optional.Of(b.in(0.03, 0.25)), optional.Of(b.in(0, 40)*math.Pi/180)
	w.Lateral, w.Offset = optional.Of(size*b.in(1.05, 1.6)), optional.Of(0)
	d.Bands.Horn.Offset = optional.Of(b.in(0.001, 0.01))
	d.Cabinet.Width = optional.Of(math.Max(d.Horn.ExitWidth()+0.1, w.Lateral.Value()+size+b.in(0, 0.1)))
	d.Cabinet.Depth = optional.Of(b.in(0.45, 0.75))
}

// between stands the horn between woofers above and below it, set off so that its driver
// has room.
func (b *laid) between(side float64) {
	d := &b.d
	w := &d.Bands.Woofer
	h := b.height()
	d.Woofer.PerBox, d.Woofer.Size, d.Horn.MouthHeight = 2, optional.Of(h*b.in(0.22, 0.32)), optional.Of(h*b.in(0.25, 0.33))
	d.Fold = design.Fold{}
	size := d.Woofer.Size.Value()
	d.Woofer.Spacing = optional.Of(h - size - b.in(0.005, 0.02))
	d.Cabinet.Width = optional.Of(d.Horn.ExitWidth() + b.in(0.02, 0.1))
	w.Rise, w.Offset, d.Bands.Horn.Offset = optional.Of(0), optional.Of(side*b.in(0, 0.02)), optional.Of(-side*b.in(0.001, 0.01))
	if b.chance(0.4) {
		d.Woofer.PerBox, w.Columns, w.Lateral = 4, 2, optional.Of(size*b.in(1.01, 1.2))
		d.Cabinet.Width = optional.Of(math.Max(d.Cabinet.Width.Value(), size+w.Lateral.Value()+0.05))
	}
}

// coaxial mounts the horn in front of one woofer, or mids in front of it and the horn
// beside them.
func (b *laid) coaxial(side float64) {
	d := &b.d
	b.besides(side)
	if d.Bands.Mid.Columns > 0 {
		d.Bands.Mid.Mounting, d.Bands.Mid.Offset = design.Coaxial, optional.Of(d.Bands.Woofer.Offset.Value()+b.in(-0.02, 0.02))
		return
	}
	d.Bands.Horn.Mounting = design.Coaxial
	d.Bands.Horn.Offset = optional.Of(d.Bands.Woofer.Offset.Value() * b.in(0.8, 1))
}

// outlets draws vents or passive radiators, for which the cabinet grows.
func (b *laid) outlets() {
	d := &b.d
	e := &d.Enclosure
	at := &e.VentPlace
	wider := func(by float64) { d.Cabinet.Width = optional.Of(d.Cabinet.Width.Value() + by) }
	switch b.IntN(8) {
	case 0: // slots beside the other parts
		wide := b.in(0.03, 0.06)
		wider(2*wide + 0.02)
		at.Panel, at.Rise, at.Offset = design.FrontPanel, optional.Of(b.in(-0.01, 0.01)), optional.Of(d.Cabinet.Width.Value()/2-wide/2-b.in(0.003, 0.01))
		e.Vent.Count, e.Vent.Width, e.Vent.Height = 1+b.IntN(2), optional.Of(wide), optional.Of(b.height()*b.in(0.2, 0.45))
		e.Vent.Length = optional.Of(b.in(0.05, 0.25))
	case 1: // pipes in the rear
		at.Panel, at.Rise, at.Offset = design.RearPanel, optional.Of(b.in(-0.02, 0.02)), optional.Of(b.in(-0.35, 0.35)*d.Cabinet.Width.Value())
		e.Vent.Count, e.VentDiameter, e.Vent.Length = 1+b.IntN(2), optional.Of(b.in(0.04, 0.08)), optional.Of(b.in(0.03, 0.12))
	case 2: // pipes in the sides
		at.Panel, at.Rise, at.Offset = design.SidePanels, optional.Of(b.in(-0.02, 0.02)), optional.Of(b.in(0.6, 0.8)*d.Cabinet.Depth.Value())
		e.Vent.Count, e.VentDiameter, e.Vent.Length = 1+b.IntN(2), optional.Of(b.in(0.04, 0.08)), optional.Of(b.in(0.03, 0.12))
	case 3: // radiators in the sides, behind the cones
		size := b.in(0.1, 0.16)
		at = &e.RadiatorPlace
		wider(0.1)
		d.Cabinet.Depth = optional.Of(d.Cabinet.Depth.Value() + 0.1)
		e.Radiator.Count, e.Radiator.Sd = 2, optional.Of(math.Pi/4*size*size)
		at.Panel, at.Rise, at.Depth = design.SidePanels, optional.Of(b.in(-0.02, 0.02)), optional.Of(b.in(0.03, 0.06))
		at.Offset = optional.Of(d.Cabinet.Depth.Value() - size/2 - b.in(0.03, 0.06))
	}
}
