package surface

import (
	"math"

	"gapline/cabinet/layout"
	"gapline/internal/numeric"
)

// margin is what is left beside a piston in a pocket or chamber, against its diameter.
const margin = 0.02

// plane is an upright one in which cones stand.
type plane struct {
	at   layout.Vec
	turn float64
}

// behind is how far the plane stands behind the front at y, m.
func (p plane) behind(y float64) float64 { return (y-p.at.Y)*math.Tan(p.turn) - p.at.X }

// opening puts cones behind the front into the floor of a pocket that opens beside the horn.
func (b *builder) opening(box, front, o int, cones []int) {
	if len(cones) == 0 {
		return
	}
	part := b.l.Parts[cones[0]]
	floor := plane{part.At, part.Turn}
	open := b.l.Parts[o].Front()
	if inside := b.l.Width/2 - thinWall; open.Left > inside || open.Right < -inside {
		b.assume(WallThickness, thinWall)
		open.Left, open.Right = math.Min(open.Left, inside), math.Max(open.Right, -inside)
	}
	if inside := b.l.Height/2 - thinWall; open.Top > inside || open.Bottom < -inside {
		b.assume(WallThickness, thinWall)
		open.Top, open.Bottom = math.Min(open.Top, inside), math.Max(open.Bottom, -inside)
	}
	if wide := open.Left - open.Right; wide < thinWall {
		b.fault(Fault{Of: OpeningMisses, Band: part.Band, Part: cones[0], Values: []float64{thinWall - wide}})
		return
	}
	left, right := open.Left, open.Right // of the floor
	for _, c := range cones {
		p := &b.l.Parts[c]
		if off := math.Abs(floor.behind(p.At.Y) + p.At.X); off > near || math.Abs(p.Turn-floor.turn) > 1e-6 {
			b.fault(Fault{Of: ConesApart, Band: p.Band, Part: c, Values: []float64{off}})
			return
		}
		reach := math.Max(p.Width/2, p.Radiates*(0.5+margin)) * math.Cos(p.Turn)
		if b.l.Parts[o].At.Y > 0 {
			right = math.Min(right, p.At.Y-reach)
		} else {
			left = math.Max(left, p.At.Y+reach)
		}
	}
	deepest := math.Max(floor.behind(left), floor.behind(right))
	top := b.reach(open.Top, 1, &floor, cones, deepest)
	bottom := -b.reach(-open.Bottom, -1, &floor, cones, deepest)
	up := func(e float64) float64 { return open.Top + (top-open.Top)*e/deepest }
	down := func(e float64) float64 { return open.Bottom + (bottom-open.Bottom)*e/deepest }
	corner := func(y float64, z func(float64) float64) layout.Vec {
		e := floor.behind(y)
		return layout.Vec{X: -e, Y: y, Z: z(e)}
	}
	mouth := upright(0, open)
	rear := []layout.Vec{corner(right, down), corner(left, down), corner(left, up), corner(right, up)}
	if least := math.Min(floor.behind(left), floor.behind(right)); least < thinWall {
		b.fault(Fault{Of: StandsOut, Band: part.Band, Part: cones[0], Values: []float64{-least}})
		return
	}
	b.cut(front, cones[0], polygon{at: mouth, hole: true})
	b.way(cones[0], int32(Pocket), mouth, rear)
	b.floor(box, b.add(int32(Pocket), rear), cones, floor)
}

// reach is how high a pocket that begins at height z reaches at its deepest, m, or how low
// for a side of −1: as high as it begins, or higher where the cones in its floor need that,
// and no farther than the cabinet.
func (b *builder) reach(z, side float64, floor *plane, cones []int, deepest float64) float64 {
	slope := 0.0
	for _, c := range cones {
		p := &b.l.Parts[c]
		slope = math.Max(slope, (side*p.At.Z+p.Radiates*(0.5+margin)-z)/floor.behind(p.At.Y))
	}
	return math.Min(z+slope*deepest, b.halfHeight(-deepest)-thinWall)
}

// floor puts cones into the floor that they stand in.
func (b *builder) floor(box, floor int, cones []int, at plane) {
	for _, c := range cones {
		p := b.l.Parts[c]
		p.At.X = -at.behind(p.At.Y)
		disc := b.piston(box, c, &p)
		if by := outside(disc.at, b.faces[floor].polygons[0].at); by > near {
			b.fault(Fault{Of: OpeningMisses, Band: p.Band, Part: c, Values: []float64{by}})
			return
		}
		if !b.rigid(p.Band) {
			b.cut(floor, c, disc)
		}
	}
}

// leastPlate is the least thickness of an insert's plate, m.
const leastPlate = 1e-3

// insert puts the plate's mouths into the front and makes the chambers behind them.
func (b *builder) insert(box, front int, cones []int) {
	thick := b.design.Insert.SlotDepth.Or(0)
	if thick < leastPlate {
		thick = leastPlate
		b.assume(PlateThickness, thick)
	}
	plates := b.l.Of(layout.Plate, layout.Woofers)
	for _, i := range plates {
		column := func(list []int) []int {
			var out []int
			for _, c := range list {
				if math.Abs(b.l.Parts[c].At.Y-b.l.Parts[i].At.Y) < near {
					out = append(out, c)
				}
			}
			return out
		}
		mouths, behind := column(b.l.Of(layout.InsertMouth, layout.Woofers)), column(cones)
		for _, m := range mouths {
			if b.l.Parts[m].Shape != layout.Square {
				b.fault(Fault{Of: MouthLacks, Band: layout.Woofers, Part: m})
				return
			}
		}
		if len(mouths) == 0 || len(behind) == 0 {
			b.fault(Fault{Of: PistonLacks, Band: layout.Woofers, Part: i})
			return
		}
		b.chamber(box, front, i, mouths, behind, thick, len(plates))
	}
}

// chamber makes one chamber with its mouths.
func (b *builder) chamber(box, front, plate int, mouths, cones []int, thick float64, columns int) {
	room := b.room(mouths, cones, 0)
	floor, ok := b.floorOf(cones, room, thick, columns)
	if !ok {
		return
	}
	room = b.room(mouths, cones, -floor.behind((room.Left+room.Right)/2))
	floor, _ = b.floorOf(cones, room, thick, columns)
	if !b.design.Bands.Woofer.Setback.Given() {
		b.assume(ChamberDepth, floor.behind((room.Left+room.Right)/2)-thick)
	}
	back := upright(-thick, room)
	rear := make([]layout.Vec, len(back))
	for i, v := range back {
		rear[i] = layout.Vec{X: -floor.behind(v.Y), Y: v.Y, Z: v.Z}
		if -rear[i].X < thick+thinWall/2 {
			b.fault(Fault{Of: StandsOut, Band: layout.Woofers, Part: cones[0], Values: []float64{thick + rear[i].X}})
			return
		}
	}
	behind := b.add(int32(Plate), reversed(back))
	for k, m := range mouths {
		p := &b.l.Parts[m]
		opening := upright(0, p.Front())
		for _, n := range mouths[:k] {
			if q := b.l.Parts[n].Front(); math.Max(q.Bottom-p.Front().Top, p.Front().Bottom-q.Top) < leastWeb {
				b.fault(Fault{Of: Meet, Band: layout.Woofers, Part: m, Values: []float64{float64(n)}})
				return
			}
		}
		inner := upright(-thick, p.Front())
		b.cut(front, m, polygon{at: opening, hole: true})
		for i, v := range opening {
			j := (i + 1) % len(opening)
			b.add(int32(Plate), []layout.Vec{v, opening[j], inner[j], inner[i]})
		}
		b.cut(behind, m, polygon{at: reversed(inner), hole: true})
	}
	first := len(b.faces)
	b.way(plate, int32(Chamber), back, rear)
	b.floor(box, b.add(int32(Chamber), rear), cones, floor)
	deep := 0.0
	for _, v := range rear {
		deep = math.Max(deep, -v.X-thick)
	}
	b.faces[behind].most = gapLength * deep
	for f := first; f < len(b.faces); f++ {
		b.faces[f].most = gapLength * deep
	}
}

// gapLength is how long an edge may be in a chamber, against its depth: what is wrong with a
// solution between two walls grows as the one over the other. Measured on the load of a
// cone behind an insert 7.5 mm deep, to 1.5 kHz: 1.0 % at 4, 0.7 % at 3, 0.4 % at 2.
const gapLength = 3

// leastWeb is the least width of what the plate leaves between two mouths, m.
const leastWeb = 1e-4

// leastLedge is the least width of the ledge that a chamber has beside a mouth, m, unless it
// has none.
const leastLedge = 2e-3

// room is what a chamber covers as seen from the front: mouths, and cones with a margin,
// within the cabinet at its depth at x.
func (b *builder) room(mouths, cones []int, x float64) layout.Outline {
	openings := layout.Outline{Left: math.Inf(-1), Right: math.Inf(1), Top: math.Inf(-1), Bottom: math.Inf(1)}
	for _, m := range mouths {
		p := &b.l.Parts[m]
		openings = about(openings, p, p.Width/2, p.Height/2)
	}
	bare, all := openings, openings
	for _, c := range cones {
		p := &b.l.Parts[c]
		r := p.Radiates / 2
		bare = about(bare, p, r*math.Cos(p.Turn), r)
		r *= 1 + 2*margin
		all = about(all, p, r*math.Cos(p.Turn), r)
	}
	w, h := b.l.Width/2-thinWall, b.halfHeight(x)-thinWall
	edge := func(wanted, bare, opening, wall float64) float64 {
		if wanted > opening && wanted < opening+leastLedge {
			wanted = opening + leastLedge
		}
		return math.Max(bare, math.Min(wanted, wall))
	}
	return layout.Outline{
		Left: edge(all.Left, bare.Left, openings.Left, w), Right: -edge(-all.Right, -bare.Right, -openings.Right, w),
		Top: edge(all.Top, bare.Top, openings.Top, h), Bottom: -edge(-all.Bottom, -bare.Bottom, -openings.Bottom, h),
	}
}

// about is the rectangle about another one and a part of half the given size.
func about(o layout.Outline, p *layout.Part, w, h float64) layout.Outline {
	return layout.Outline{Left: math.Max(o.Left, p.At.Y+w), Right: math.Min(o.Right, p.At.Y-w), Top: math.Max(o.Top, p.At.Z+h), Bottom: math.Min(o.Bottom, p.At.Z-h)}
}

// floorOf is the plane in which the cones of a chamber stand: as far back as the design
// states, else as its volume asks for.
func (b *builder) floorOf(cones []int, room layout.Outline, thick float64, columns int) (plane, bool) {
	p := b.l.Parts[cones[0]]
	floor := plane{p.At, p.Turn}
	if b.design.Bands.Woofer.Setback.Given() {
		return floor, true
	}
	volume := b.design.Insert.ChamberVolume.Value() / float64(columns)
	if !numeric.Given(volume) {
		b.fault(Fault{Of: ChamberLacks, Band: layout.Woofers, Part: cones[0]})
		return floor, false
	}
	deep := volume / ((room.Left - room.Right) * (room.Top - room.Bottom))
	// In the mean over the room, whose middle may lie beside the cone's.
	floor.at.X = -thick - deep + ((room.Left+room.Right)/2-floor.at.Y)*math.Tan(floor.turn)
	return floor, true
}
