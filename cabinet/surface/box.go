package surface

import (
	"fmt"
	"math"
	"slices"

	"gapline/cabinet/layout"
)

// thinWall is the least thickness of a panel beside an opening, m: where an opening reaches
// to the outside of the cabinet it ends that much before.
const thinWall = 1e-3

// box makes the faces of a box.
func (b *builder) box(i int) {
	s := &b.sides[i]
	b.box0, b.ways = len(b.faces), nil
	w, d := b.l.Width/2, b.l.Depth
	front := b.add(int32(Wall), upright(0, layout.Outline{Left: w, Right: -w, Top: s.frontTop, Bottom: s.frontBottom}))
	rear := b.add(int32(Wall), reversed(upright(-d, layout.Outline{Left: w, Right: -w, Top: s.rearTop, Bottom: s.rearBottom})))
	panel := func(y float64) int {
		return b.add(int32(Wall), looking(layout.Vec{Y: y}, layout.Vec{Y: y, Z: s.frontTop}, layout.Vec{Y: y, Z: s.frontBottom}, layout.Vec{X: -d, Y: y, Z: s.rearBottom}, layout.Vec{X: -d, Y: y, Z: s.rearTop}))
	}
	left, right := panel(w), panel(-w)
	cover := func(z, front, rear float64) {
		b.add(int32(Wall), looking(layout.Vec{Z: z}, layout.Vec{Y: w, Z: front}, layout.Vec{Y: -w, Z: front}, layout.Vec{X: -d, Y: -w, Z: rear}, layout.Vec{X: -d, Y: w, Z: rear}))
	}
	if !s.above {
		cover(1, s.frontTop, s.rearTop)
	}
	if !s.below {
		cover(-1, s.frontBottom, s.rearBottom)
	}
	b.woofers(i, front)
	b.exit(i, front)
	b.outlets(i, [...]int{layout.FrontSide: front, layout.LeftSide: left, layout.RightSide: right, layout.RearSide: rear})
	b.apartWays()
	for f := b.box0; f < len(b.faces); f++ {
		for p := range b.faces[f].polygons {
			at := b.faces[f].polygons[p].at
			for k := range at {
				at[k] = b.out.Boxes[i].Place(at[k])
				if b.out.Stands && math.Abs(at[k].Z) < near {
					at[k].Z = 0
				}
			}
		}
	}
}

// rigid reports whether a band does not move.
func (b *builder) rigid(band layout.Band) bool { return slices.Contains(b.o.Rigid, band) }

// group makes the group of a part that moves in a box.
func (b *builder) group(kind Kind, part, box int, area float64) int32 {
	p := &b.l.Parts[part]
	n := int32(len(b.out.About))
	b.out.About = append(b.out.About, Group{Kind: kind, Band: p.Band, Part: part, Box: box, Area: area, Factor: 1, Image: [2]int32{n, n}})
	b.out.Groups = append(b.out.Groups, fmt.Sprintf("box%d-%s%d", b.out.Boxes[box].Box+1, partNames[p.Kind][min(p.Band, layout.Horn)], p.Index+1))
	return n
}

// partNames are the words of groups for parts, by band.
var partNames = map[layout.Kind][3]string{
	layout.Cone: {"woofer", "mid", "cone"}, layout.HornExit: {"exit", "exit", "horn"}, layout.Flare: {"exit", "exit", "horn"},
	layout.Vent: {"vent", "vent", "vent"}, layout.Radiator: {"radiator", "radiator", "radiator"},
}

// exit puts the horn's exit into the front, or its flares with their mouth.
func (b *builder) exit(box, front int) {
	if b.o.Flares {
		if flares := b.l.Of(layout.Flare, layout.Horn); len(flares) > 0 {
			b.flares(box, front, flares[0])
			return
		}
	}
	for _, i := range b.l.Of(layout.HornExit, layout.Horn) {
		p := &b.l.Parts[i]
		switch {
		case b.rigid(layout.Horn):
		case p.Shape != layout.Square:
			b.fault(Fault{Of: ExitLacks, Band: layout.Horn, Part: i})
		default:
			b.cut(front, i, polygon{at: upright(p.At.X, p.Front()), group: b.group(Exit, i, box, p.Width*p.Height)})
		}
	}
}

// flares puts the side flares into the front.
func (b *builder) flares(box, front, i int) {
	p := &b.l.Parts[i]
	exit := upright(0, p.Front())
	mouth := upright(-p.Depth, layout.Outline{Left: p.At.Y + p.RearWidth/2, Right: p.At.Y - p.RearWidth/2, Top: p.At.Z + p.RearHeight/2, Bottom: p.At.Z - p.RearHeight/2})
	group := int32(Pocket)
	if !b.rigid(layout.Horn) {
		group = b.group(Exit, i, box, p.RearWidth*p.RearHeight)
	}
	b.cut(front, i, polygon{at: exit, hole: true})
	b.way(i, int32(Pocket), exit, mouth)
	b.add(group, mouth)
}

// outlets puts vents and passive radiators into their panels.
func (b *builder) outlets(box int, panels [4]int) {
	if b.rigid(layout.Enclosure) {
		return
	}
	for i := range b.l.Parts {
		p := &b.l.Parts[i]
		kind, lacks := Vent, VentLacks
		switch p.Kind {
		case layout.Vent:
		case layout.Radiator:
			kind, lacks = Radiator, PistonLacks
		default:
			continue
		}
		if p.Shape == layout.Unknown || !(p.Width > 0 && p.Height > 0) {
			b.fault(Fault{Of: lacks, Band: p.Band, Part: i})
			continue
		}
		at, area := b.disc(p.At, p.Axis(), p.Width, p.Width), math.Pi/4*p.Width*p.Width
		if p.Shape == layout.Square {
			across, up := layout.Vec{X: -p.Axis().Y, Y: p.Axis().X}.Scale(p.Width/2), layout.Vec{Z: p.Height / 2}
			at, area = []layout.Vec{p.At.Sub(across).Sub(up), p.At.Add(across).Sub(up), p.At.Add(across).Add(up), p.At.Sub(across).Add(up)}, p.Width*p.Height
		}
		b.cut(panels[p.Side], i, polygon{at: at, group: b.group(kind, i, box, area)})
	}
}

// How many sides a round patch has at least; more in steps of four, so that it is alike on
// both sides of its middle.
const leastSides = 16

// disc is a round patch about a middle that looks along axis: with the area of the circle,
// but nowhere beyond a second, wider one. Diameters in m.
func (b *builder) disc(at, axis layout.Vec, diameter, most float64) []layout.Vec {
	n := max(leastSides, 4*int(math.Ceil(math.Pi*diameter/(4*edgeShare*b.size))))
	angle := 2 * math.Pi / float64(n)
	radius := math.Min(diameter/2*math.Sqrt(angle/math.Sin(angle)), most/2)
	across := layout.Vec{X: -axis.Y, Y: axis.X}
	out := make([]layout.Vec, n)
	for i := range out {
		// Those at the ends of the upright and the level line are exact.
		sin, cos := math.Sincos(angle * float64(i%(n/4)))
		for range i / (n / 4) {
			sin, cos = cos, -sin
		}
		out[i] = at.Add(across.Scale(radius * cos)).Add(layout.Vec{Z: radius * sin})
	}
	return out
}

// woofers puts the cones of both bands into the front, or behind it.
func (b *builder) woofers(box, front int) {
	for _, band := range []layout.Band{layout.Woofers, layout.Mids} {
		cones := b.l.Of(layout.Cone, band)
		for _, i := range cones {
			if p := &b.l.Parts[i]; p.Shape != layout.Round || !(p.Radiates > 0) {
				if b.rigid(band) && p.At.X > -thinWall {
					return
				}
				b.fault(Fault{Of: PistonLacks, Band: band, Part: i})
				return
			}
		}
		if band == layout.Woofers && b.design.HasInsert() && !b.o.WithoutInsert {
			b.insert(box, front, cones)
			continue
		}
		for _, o := range b.l.Of(layout.Opening, band) {
			var behind []int
			left := b.l.Parts[o].At.Y > 0
			cones = slices.DeleteFunc(cones, func(c int) bool {
				p := &b.l.Parts[c]
				taken := p.At.Y > 0 == left && p.At.X < -thinWall
				if taken {
					behind = append(behind, c)
				}
				return taken
			})
			b.opening(box, front, o, behind)
		}
		for _, c := range cones {
			b.cone(box, front, c)
		}
	}
}

// cone puts one cone into the front, or at the end of a straight pocket behind it.
func (b *builder) cone(box, front, c int) {
	p := b.l.Parts[c]
	if b.design.HasInsert() && p.Band == layout.Woofers { // without it
		p.At.X = 0 - b.design.Bands.Woofer.Setback.Or(0)
	}
	if p.At.X > -thinWall && math.Abs(p.Turn) < 1e-9 {
		if !b.rigid(p.Band) {
			p.At.X = 0
			b.cut(front, c, b.piston(box, c, &p))
		}
		return
	}
	disc := b.piston(box, c, &p)
	hole := make([]layout.Vec, len(disc.at))
	for i, v := range disc.at {
		if v.X > -thinWall/2 {
			b.fault(Fault{Of: StandsOut, Band: p.Band, Part: c, Values: []float64{v.X}})
			return
		}
		hole[i] = layout.Vec{Y: v.Y, Z: v.Z}
	}
	b.cut(front, c, polygon{at: hole, hole: true})
	b.way(c, int32(Pocket), hole, disc.at)
	b.add(disc.group, disc.at)
}

// piston is the patch of a cone, rigid where its band is.
func (b *builder) piston(box, c int, p *layout.Part) polygon {
	out := polygon{at: b.disc(p.At, p.Axis(), p.Radiates, math.Max(p.Width, p.Radiates)), group: int32(Pocket)}
	if !b.rigid(p.Band) {
		out.group = b.group(Piston, c, box, math.Pi/4*p.Radiates*p.Radiates)
	}
	return out
}

// way is the air between two polygons of as many corners, for telling whether it has room.
type way struct {
	part        int
	front, rear []layout.Vec
}

// way makes the walls from an opening back to a floor; the air lies between.
func (b *builder) way(part int, group int32, front, rear []layout.Vec) {
	for i, p := range front {
		j := (i + 1) % len(front)
		b.add(group, []layout.Vec{p, front[j], rear[j], rear[i]})
	}
	w := way{part, front, rear}
	b.ways = append(b.ways, w)
	by := math.Inf(-1)
	for _, list := range [][]layout.Vec{front, rear} {
		for _, v := range list {
			by = math.Max(by, math.Max(math.Abs(v.Y)-b.l.Width/2, -v.X-b.l.Depth))
			by = math.Max(by, math.Abs(v.Z)-b.halfHeight(v.X))
		}
	}
	if by > -thinWall/2 {
		b.fault(Fault{Of: PocketLeaves, Band: b.l.Parts[part].Band, Part: part, Values: []float64{by + thinWall}})
	}
}

// halfHeight is half the cabinet's outside height at x, m.
func (b *builder) halfHeight(x float64) float64 {
	return (b.l.Height - (b.l.Height-b.l.RearHeight)*-x/b.l.Depth) / 2
}

// apartWays finds two ways of a box that share room: no plane of a face of either, and none
// along an edge of each, parts them.
func (b *builder) apartWays() {
	for i := range b.ways {
		for j := range i {
			if p, q := &b.ways[j], &b.ways[i]; p.meets(q) {
				b.fault(Fault{Of: PocketsMeet, Band: b.l.Parts[q.part].Band, Part: q.part, Values: []float64{float64(p.part)}})
				return
			}
		}
	}
}

func (w *way) corners() []layout.Vec { return slices.Concat(w.front, w.rear) }

// axes are the normals of the faces, and the directions of the edges.
func (w *way) axes() (normals, edges []layout.Vec) {
	normals = []layout.Vec{normal(w.front), normal(w.rear)}
	for i, p := range w.front {
		j := (i + 1) % len(w.front)
		normals = append(normals, normal([]layout.Vec{p, w.front[j], w.rear[j], w.rear[i]}))
		edges = append(edges, w.front[j].Sub(p), w.rear[j].Sub(w.rear[i]), w.rear[i].Sub(p))
	}
	return normals, edges
}

func (w *way) meets(v *way) bool {
	n, e := w.axes()
	m, f := v.axes()
	all := slices.Concat([]layout.Vec{{X: 1}, {Y: 1}, {Z: 1}}, n, m)
	for _, a := range e {
		for _, c := range f {
			all = append(all, a.Cross(c))
		}
	}
	p, q := w.corners(), v.corners()
	for _, d := range all {
		l := d.Norm()
		if l < 1e-12 {
			continue
		}
		pl, ph := extent(p, d)
		ql, qh := extent(q, d)
		if math.Max(ql-ph, pl-qh) > thinWall/2*l {
			return false
		}
	}
	return true
}

func extent(at []layout.Vec, d layout.Vec) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, v := range at {
		low, high = math.Min(low, v.Dot(d)), math.Max(high, v.Dot(d))
	}
	return low, high
}
