package layout

import (
	"math"

	"gapline/cabinet/design"
	"gapline/internal/numeric"
	"gapline/waveguide"
)

// Path is how the horn's parts follow each other, in m.
type Path struct {
	Flares float64 // depth of the side flares; 0 without
	Walls  float64 // depth of the side walls; NaN: not known
	Folded float64 // length of the path through the fold; 0 without
	Fold   float64 // depth that the fold takes; 0 without
	Slot   float64 // width from which the walls open; NaN: not known
	// ByAngle is the depth that straight side walls at the coverage need; NaN: not known
	ByAngle float64
}

// PathOf returns how the horn's parts follow each other in depth.
func PathOf(d *design.Design) Path {
	h := &d.Horn
	p := Path{Flares: h.Sides.Length.Or(0), Slot: d.SlotWidth(), Walls: numeric.Absent, ByAngle: numeric.Absent}
	if f, ok := d.Folded(); ok {
		p.Folded, p.Fold = f.Path(), f.BuiltDepth()
	}
	p.ByAngle = (h.MouthWidth.Value() - p.Slot) / 2 / math.Tan(h.Coverage.Value()/2)
	if length := h.Length.Value(); numeric.Given(length) && !unsolved(d) {
		p.Walls = math.Max(length-p.Folded, 0)
	} else {
		p.Walls = p.ByAngle
	}
	return p
}

// unsolved reports whether the design wants a fold whose wall it leaves open: how much of
// the horn's length the fold takes is then not known.
func unsolved(d *design.Design) bool { return d.Fold.Layer.Given() && !d.Fold.ThroatToWall.Given() }

// horn makes the exit, flares, side walls, fold and driver.
func (l *Layout) horn(g *group) {
	d := l.design
	h := &d.Horn
	exit := Part{Kind: HornExit, Band: Horn, At: Vec{Y: g.middle, Z: g.rise}, Shape: Square, Width: h.ExitWidth(), Height: g.high, Rests: g.rests, Coaxial: g.coaxial}
	if !(exit.Width > 0) || !(exit.Height > 0) {
		exit.Shape = Unknown
		l.add(exit)
		return
	}
	exit.Solids = []Solid{l.block(g, 0, exit.Width, g.high, -thinnest, exit.Width, g.high)}
	l.add(exit)
	path := PathOf(d)
	at := 0.0
	if path.Flares > 0 {
		l.add(l.hornPart(Flare, g, at, path.Flares, exit.Width, h.MouthWidth.Value(), g.high, g.high, nil))
		at -= path.Flares
	}
	if !numeric.Given(path.Walls) {
		return
	}
	var rests []Assumed
	if !h.Length.Given() || unsolved(d) {
		rests = append(rests, WallsByAngle)
		l.assume(WallsByAngle, Horn, path.Walls)
	}
	if d.Section.SideWalls == 0 {
		l.assume(StraightWalls, Horn, path.ByAngle)
	}
	throat := g.high
	if path.Fold == 0 {
		throat = h.Throat.Or(path.Slot)
	}
	if path.Walls > 0 && numeric.Given(path.Slot) {
		l.add(l.hornPart(HornBody, g, at, path.Walls, h.MouthWidth.Value(), path.Slot, g.high, throat, rests))
	}
	at -= path.Walls
	rests = append(rests, g.rests...)
	if f, ok := d.Folded(); ok {
		l.fold(g, &f, at, path.Slot, rests)
		return
	}
	l.compression(g, Vec{X: at, Y: g.middle, Z: g.rise}, Vec{X: 1}, rests)
}

// block is a body between two upright rectangles about the middle of the group.
func (l *Layout) block(g *group, x0, w0, h0, x1, w1, h1 float64) Solid {
	return between(face{x0, g.middle, g.rise, w0, h0}, face{x1, g.middle, g.rise, w1, h1})
}

func (l *Layout) hornPart(kind Kind, g *group, at, depth, front, rear, high, rearHigh float64, rests []Assumed) Part {
	return Part{Kind: kind, Band: Horn, At: Vec{X: at, Y: g.middle, Z: g.rise}, Shape: Square, Width: front, Height: high, Depth: depth, Coaxial: g.coaxial,
		RearWidth: rear, RearHeight: rearHigh,
		Rests: append(rests, g.rests...), Solids: []Solid{l.block(g, at, front, high, at-depth, rear, rearHigh)}}
}

// fold makes the two layers, the one that ends in the slot on the horn's axis, and the
// driver on the outer face of the other.
func (l *Layout) fold(g *group, f *waveguide.Fold, at, slot float64, rests []Assumed) {
	low, high := f.Heights()
	low, high = low+g.rise, high+g.rise
	t, plate := f.Spec.Layer, 2*f.Spec.BendRadius
	side := 1.0 // the first layer lies towards the middle of the box
	if g.middle > Touch {
		side = -1
	}
	if !(math.Abs(g.place.Offset.Or(0)) > Touch) {
		rests = append(rests, FoldSide)
		l.assume(FoldSide, Horn, side)
	}
	wide := f.StackWidth()
	middle := g.middle + side*(t+plate)/2
	depth := f.BuiltDepth()
	l.add(Part{Kind: Fold, Band: Horn, At: Vec{X: at, Y: middle, Z: (low + high) / 2}, Shape: Square, Width: wide, Height: high - low, Depth: depth, Rests: rests, Coaxial: g.coaxial,
		Solids: []Solid{between(face{at, middle, (low + high) / 2, wide, high - low}, face{at - depth, middle, (low + high) / 2, wide, high - low})}})
	outer := g.middle + side*(3*t/2+plate)
	l.compression(g, Vec{X: at - f.Spec.MouthDistance, Y: outer, Z: g.rise + f.Spec.ThroatHeight}, Vec{Y: -side}, rests)
}

// compression makes the driver, which looks along axis from its throat.
func (l *Layout) compression(g *group, at, axis Vec, rests []Assumed) {
	c := &l.design.HornDrive
	if !c.Depth.Given() && !c.Diameter.Given() {
		return
	}
	diameter := c.Diameter.Or(l.design.Horn.Throat.Value())
	if !c.Diameter.Given() {
		rests = append(rests, DriverWidth)
		l.assume(DriverWidth, Horn, diameter)
	}
	p := Part{Kind: CompressionDriver, Band: Horn, At: at, Shape: Round, Width: diameter, Height: diameter, Depth: c.Depth.Value(), Rests: rests, Coaxial: g.coaxial,
		Turn: math.Atan2(axis.Y, axis.X)}
	if numeric.Given(diameter) {
		p.Solids = []Solid{frustum(at, axis, c.Depth.Or(thinnest), diameter/2, diameter/2)}
	} else {
		p.Shape = Unknown
	}
	l.add(p)
}
