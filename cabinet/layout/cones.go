package layout

import (
	"math"

	"gapline/internal/numeric"
)

// thinnest is the depth of a body whose depth is not given, m: it keeps two of them from
// standing in one place, and nothing more.
const thinnest = 1e-3

// coneTaper is the width of a driver's back against its flange: common practice, no source.
const coneTaper = 0.5

// build makes the parts of a group.
func (l *Layout) build(g *group) {
	if g.band == Horn {
		l.horn(g)
		return
	}
	insert := g.band == Woofers && l.design.HasInsert()
	if l.design.HasWoofer() || g.band == Mids {
		l.drivers(g, insert)
	}
	if insert {
		l.insert(g)
	}
}

// drivers makes the cones of a band, by columns from the left and in each from the bottom.
func (l *Layout) drivers(g *group, insert bool) {
	d := l.design
	size, radiates, rests := d.Woofer.Size.Or(d.Woofer.Diameter()), d.Woofer.Diameter(), g.rests
	if g.band == Mids {
		size, radiates = d.Mid.Size.Or(d.Mid.Diameter()), d.Mid.Diameter()
	}
	setback := g.place.Setback.Or(0)
	if insert && !g.place.Setback.Given() {
		setback = numeric.Or(d.Insert.SlotDepth.Value(), 0) + numeric.Or(l.chamberDepth(), 0)
		rests = append(rests[:len(rests):len(rests)], ConeSetback)
		l.assume(ConeSetback, g.band, setback)
	}
	for c := range g.columns {
		for r := range g.rows {
			p := Part{Kind: Cone, Band: g.band, At: Vec{X: 0 - setback, Y: g.y(c), Z: g.z(r)}, Shape: Round, Width: size, Height: size,
				Radiates: radiates, Turn: turn(g.place.Turn.Or(0), g.y(c)), Rests: rests, Coaxial: g.coaxial}
			if !(size > 0) {
				p.Shape = Unknown
			} else {
				depth := g.place.Depth.Or(thinnest)
				p.Depth = g.place.Depth.Value()
				p.Solids = []Solid{frustum(p.At, p.Axis(), depth, size/2, size/2*coneTaper)}
			}
			l.add(p)
		}
	}
}

// turn is the turn of a column to the left: outward, and to the left on the middle.
func turn(outward, y float64) float64 {
	if y < -Touch {
		return 0 - outward
	}
	return outward
}

// chamberDepth is the depth of the air between plate and cones: the chamber's volume
// over the area of all cones, m.
func (l *Layout) chamberDepth() float64 {
	d := l.design
	return d.Insert.ChamberVolume.Value() / (float64(d.WoofersPerBox()) * d.Woofer.PistonArea())
}

// insert makes plate, chamber and mouths of every column.
func (l *Layout) insert(g *group) {
	i := &l.design.Insert
	n, spacing := i.Mouths, l.design.InsertSpacing()
	width, height := i.MouthWidth.Value(), i.MouthHeight.Value()
	tall := numeric.Or(height, 0)
	if n > 1 {
		tall += float64(n-1) * spacing
	}
	plateWide, plateHigh := i.PlateWidth.Or(g.one), i.PlateHeight.Or(math.Max(tall, g.tall()))
	rests := g.rests[:len(g.rests):len(g.rests)]
	if !i.PlateWidth.Given() {
		rests = append(rests, PlateWidth)
		l.assume(PlateWidth, Woofers, plateWide)
	}
	if !i.PlateHeight.Given() {
		rests = append(rests, PlateHeight)
		l.assume(PlateHeight, Woofers, plateHigh)
	}
	slot := numeric.Or(i.SlotDepth.Value(), 0)
	for c := range g.columns {
		at := Vec{Y: g.y(c), Z: g.rise}
		plate := Part{Kind: Plate, Band: Woofers, At: at, Shape: Square, Width: plateWide, Height: plateHigh, Rests: rests, Coaxial: g.coaxial, Depth: i.SlotDepth.Value()}
		plate.Solids = []Solid{between(face{0, at.Y, at.Z, plateWide, plateHigh}, face{-math.Max(slot, thinnest), at.Y, at.Z, plateWide, plateHigh})}
		l.add(plate)
		if deep := l.chamberDepth(); numeric.Given(deep) {
			l.add(l.chamber(g, at, slot, deep))
		}
		for m := range n {
			p := Part{Kind: InsertMouth, Band: Woofers, At: at, Shape: Square, Width: width, Height: height, Rests: g.rests, Coaxial: g.coaxial}
			if n > 1 {
				p.At.Z += (float64(m) - float64(n-1)/2) * spacing
			}
			if !numeric.Given(width) || !numeric.Given(height) {
				p.Shape = Unknown
			} else {
				p.Solids = []Solid{between(face{0, p.At.Y, p.At.Z, width, height}, face{-thinnest, p.At.Y, p.At.Z, width, height})}
			}
			l.add(p)
		}
	}
}

// chamber is the air between the plate and the cones of a column, as wide and high as
// their pistons.
func (l *Layout) chamber(g *group, at Vec, slot, deep float64) Part {
	wide := l.design.Woofer.Diameter()
	high := wide
	if g.rows > 1 {
		high += float64(g.rows-1) * g.spacing
	}
	rests := g.rests[:len(g.rests):len(g.rests)]
	if !g.place.Setback.Given() {
		rests = append(rests, ConeSetback)
	}
	return Part{Kind: Chamber, Band: Woofers, At: at.Sub(Vec{X: slot}), Shape: Square, Width: wide, Height: high, Depth: deep, Rests: rests,
		Solids: []Solid{between(face{-slot, at.Y, at.Z, wide, high}, face{-slot - deep, at.Y, at.Z, wide, high})}}
}

// openings makes the free parts of the front through which cones radiate that stand
// behind it and are covered in part by what stands in it: between the outermost part and
// the side of the cabinet, as high as the horn's exit.
func (l *Layout) openings() {
	exit := l.Of(HornExit, Horn)
	if len(exit) == 0 {
		return
	}
	for _, band := range []Band{Woofers, Mids} {
		o, ok := l.filled(band)
		if !ok {
			continue
		}
		for _, left := range []bool{true, false} {
			if !l.behind(band, left, o) {
				continue
			}
			from, to := o.Left, l.Width/2-l.Wall
			if !left {
				from, to = -l.Width/2+l.Wall, o.Right
			}
			l.add(Part{Kind: Opening, Band: band, Shape: Square, Width: to - from, Height: l.Parts[exit[0]].Height,
				At: Vec{Y: (from + to) / 2, Z: l.Parts[exit[0]].At.Z}})
		}
	}
}

// filled is the rectangle about all other bands' parts in the front.
func (l *Layout) filled(band Band) (o Outline, ok bool) {
	for i := range l.Parts {
		p := &l.Parts[i]
		if p.Band == band || p.Side != FrontSide || p.At.X < -thinnest || p.Kind != Cone && p.Kind != InsertMouth && p.Kind != HornExit {
			continue
		}
		f := p.Front()
		if !ok {
			o, ok = f, true
			continue
		}
		o = Outline{math.Max(o.Left, f.Left), math.Min(o.Right, f.Right), math.Max(o.Top, f.Top), math.Min(o.Bottom, f.Bottom)}
	}
	return o, ok
}

// behind reports whether a cone of the band on that side stands behind the front and is
// covered in part.
func (l *Layout) behind(band Band, left bool, covered Outline) bool {
	middle := (covered.Left + covered.Right) / 2
	for _, i := range l.Of(Cone, band) {
		p := &l.Parts[i]
		if p.At.X < -thinnest && p.At.Y > middle == left && p.Front().meets(covered) && !p.Coaxial {
			return true
		}
	}
	return false
}
