package layout

import (
	"math"
	"slices"

	"gapline/cabinet/design"
)

// The oracle: every body of a design as a function that says how deep a point lies in it,
// written from the values of the design and what the package comment and the keys say of
// them, and read on grids of points. It shares no geometry with the layout.

// body is a convex part of the box.
type body struct {
	kind Kind
	band Band
	// inset is how far in m a point lies inside the nearest face; negative: outside.
	inset     func(p Vec) float64
	low, high Vec // a box about it
	coaxial   bool
	side      design.Panel // that it stands in
}

// coneOf is a round body behind a mouth about at that looks along axis.
func coneOf(at, axis Vec, depth, front, rear float64) body {
	slope := (front - rear) / depth
	cos := 1 / math.Sqrt(1+slope*slope)
	reach := Vec{X: math.Max(front, rear), Y: math.Max(front, rear), Z: math.Max(front, rear)}
	end := at.Sub(axis.Scale(depth))
	return body{
		inset: func(p Vec) float64 {
			v := p.Sub(at)
			t := -v.Dot(axis)
			rho := v.Add(axis.Scale(t)).Norm()
			return min(t, depth-t, (front-slope*t-rho)*cos)
		},
		low:  Vec{X: min(at.X, end.X), Y: min(at.Y, end.Y), Z: min(at.Z, end.Z)}.Sub(reach),
		high: Vec{X: max(at.X, end.X), Y: max(at.Y, end.Y), Z: max(at.Z, end.Z)}.Add(reach),
	}
}

// blend is a body about the line through y and z from x back by depth, whose width and
// height change evenly.
func blend(x, y, z, depth, w0, h0, w1, h1 float64) body {
	fw, fh := (w1-w0)/2/depth, (h1-h0)/2/depth
	cw, ch := 1/math.Sqrt(1+fw*fw), 1/math.Sqrt(1+fh*fh)
	w, h := max(w0, w1)/2, max(h0, h1)/2
	return body{
		inset: func(p Vec) float64 {
			t := x - p.X
			return min(t, depth-t, (w0/2+fw*t-math.Abs(p.Y-y))*cw, (h0/2+fh*t-math.Abs(p.Z-z))*ch)
		},
		low: Vec{X: x - depth, Y: y - w, Z: z - h}, high: Vec{X: x, Y: y + w, Z: z + h},
	}
}

// bodies lists those of a design that states all of them.
func bodies(d *design.Design) []body {
	w, m := &d.Woofer, &d.Mid
	out := conesOf(Woofers, &d.Bands.Woofer, w.PerBox, w.Size.Value(), w.Spacing.Value())
	if m.PerBox > 0 {
		out = append(out, conesOf(Mids, &d.Bands.Mid, m.PerBox, m.Size.Value(), m.Spacing.Value())...)
	}
	return slices.Concat(out, hornOf(d), outletsOf(d))
}

func conesOf(band Band, at *design.Place, n int, size, spacing float64) []body {
	var out []body
	rows := n / at.Columns
	for i := range n {
		p := Vec{X: -at.Setback.Value(), Y: at.Offset.Value(), Z: at.Rise.Value()}
		if at.Columns > 1 {
			p.Y += (float64(at.Columns-1)/2 - float64(i%at.Columns)) * at.Lateral.Value()
		}
		if rows > 1 {
			p.Z += (float64(i/at.Columns) - float64(rows-1)/2) * spacing
		}
		outward := 1.0
		if p.Y < 0 {
			outward = -1
		}
		sin, cos := math.Sincos(outward * at.Turn.Value())
		b := coneOf(p, Vec{X: cos, Y: sin}, at.Depth.Value(), size/2, size/4)
		b.kind, b.band, b.coaxial = Cone, band, at.Mounting == design.Coaxial
		out = append(out, b)
	}
	return out
}

// hornOf follows the path from the front back: flares, side walls, fold, driver.
func hornOf(d *design.Design) []body {
	h, drive, y, x := &d.Horn, &d.HornDrive, d.Bands.Horn.Offset.Value(), 0.0
	var out []body
	add := func(kind Kind, b body) {
		if d.Bands.Horn.Mounting == design.Coaxial { // as high as the woofers that carry it
			z := d.Bands.Woofer.Rise.Value()
			inset := b.inset
			b.inset = func(p Vec) float64 { return inset(p.Sub(Vec{Z: z})) }
			b.low.Z, b.high.Z = b.low.Z+z, b.high.Z+z
		}
		b.kind, b.band, b.coaxial = kind, Horn, d.Bands.Horn.Mounting == design.Coaxial
		out = append(out, b)
	}
	mouth, high := h.MouthWidth.Value(), h.MouthHeight.Value()
	if h.Sides.Length.Given() {
		l := h.Sides.Length.Value()
		exit := mouth + 2*l*math.Tan(h.Sides.Angle.Or(h.Coverage.Value())/2) + float64(h.Sides.Splitters)*h.Sides.SplitterWidth.Or(0)
		add(Flare, blend(x, y, 0, l, exit, high, mouth, high))
		x -= l
	}
	f, folded := d.Folded()
	slot, rear, walls := d.Section.SlotWidth.Or(h.Throat.Value()), h.Throat.Value(), h.Length.Value()
	if folded {
		slot, rear = d.Section.SlotWidth.Or(d.Fold.Layer.Value()), high
		walls -= 2*d.Fold.ThroatToWall.Value() + f.Spec.MouthDistance
	}
	if walls > 0 {
		add(HornBody, blend(x, y, 0, walls, mouth, high, slot, rear))
		x -= walls
	}
	r, depth := drive.Diameter.Value()/2, drive.Depth.Value()
	if !folded {
		add(CompressionDriver, coneOf(Vec{X: x, Y: y}, Vec{X: 1}, depth, r, r))
		return out
	}
	layer, plate, inward := d.Fold.Layer.Value(), 2*d.Fold.BendRadius.Or(0), 1.0
	if y > 0 {
		inward = -1
	}
	low, top := f.Heights()
	add(Fold, blend(x, y+inward*(layer+plate)/2, (low+top)/2, f.BuiltDepth(), 2*layer+plate, top-low, 2*layer+plate, top-low))
	at := Vec{X: x - f.Spec.MouthDistance, Y: y + inward*(layer/2+plate+layer), Z: d.Fold.ThroatHeight.Or(0)}
	add(CompressionDriver, coneOf(at, Vec{Y: -inward}, depth, r, r))
	return out
}

// outletsOf are the ducts or passive radiators behind their panels.
func outletsOf(d *design.Design) []body {
	e, k := &d.Enclosure, &d.Cabinet
	kind, at, n, depth := Vent, &e.VentPlace, e.Vent.Count, e.Vent.Length.Value()
	size := e.VentDiameter.Value()
	if e.Radiator.Sd.Given() {
		kind, at, n = Radiator, &e.RadiatorPlace, e.Radiator.Count
		size, depth = 2*math.Sqrt(e.Radiator.Sd.Value()/math.Pi), e.RadiatorPlace.Depth.Value()
	}
	var out []body
	for i := range n {
		p, axis := Vec{Y: at.Offset.Value()}, Vec{X: 1}
		above, in := i, n // one above the other, or left and right in turn
		switch at.Panel {
		case design.RearPanel:
			p.X, axis = -k.Depth.Value(), Vec{X: -1}
		case design.SidePanels:
			left := float64(1 - 2*(i%2))
			p, axis = Vec{X: -at.Offset.Value(), Y: left * k.Width.Value() / 2}, Vec{Y: left}
			if above, in = i/2, (n+1)/2; left < 0 {
				in = n / 2
			}
		}
		p.Z = at.Rise.Value() + ((float64(above)+0.5)/float64(in)-0.5)*k.Height.Value()
		b := coneOf(p, axis, depth, size/2, size/2)
		if e.Vent.Width.Given() { // in the front
			w, h := e.Vent.Width.Value(), e.Vent.Height.Value()
			b = blend(0, p.Y, p.Z, depth, w, h, w, h)
		}
		b.kind, b.band, b.side = kind, Enclosure, at.Panel
		out = append(out, b)
	}
	return out
}

// compared reports whether two bodies may not share room: parts of one horn are made of
// each other, and coaxial parts may stand in the room of the cones below them.
func compared(a, b *body) bool {
	if a.band > b.band {
		a, b = b, a
	}
	guide := func(k Kind) bool { return k == Flare || k == HornBody || k == Fold }
	switch {
	case a.band == Horn && b.band == Horn:
		return !(guide(a.kind) && guide(b.kind)) && a.kind != Fold && b.kind != Fold
	case b.band != Enclosure && b.coaxial:
		return a.band == b.band
	}
	return true
}
