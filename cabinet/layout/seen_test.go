package layout

import (
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
)

// voxel is the grid on which two bodies are compared, m; coarse that for volumes.
const voxel, coarse = 0.003, 0.009

// rounding is how deep a point must lie in two bodies before the check has to find that
// they share room, m: more than Touch.
const rounding = 5e-6

// seen is what the oracle finds: what must be said, and what may be said because it is so
// within the grid.
type seen struct{ must, may map[finding]bool }

// see takes in the depth of a violation in m, known to within a grid: positive when it is
// one.
func (s *seen) see(f finding, depth, grid float64) {
	if depth > rounding {
		s.must[f] = true
	}
	if depth > -grid {
		s.may[f] = true
	}
}

// look is the oracle's view of a design.
func look(d *design.Design) seen {
	s := seen{map[finding]bool{}, map[finding]bool{}}
	all := bodies(d)
	for i := range all {
		a := &all[i]
		for j := range all[:i] {
			if b := &all[j]; compared(a, b) {
				f := finding{Overlaps, min(a.band, b.band), max(a.band, b.band)}
				s.see(f, deepest(maxOf(a.low, b.low), minOf(a.high, b.high), func(p Vec) float64 { return min(a.inset(p), b.inset(p)) }), voxel)
			}
		}
		s.outside(d, a)
	}
	s.path(d)
	s.stack(d)
	return s
}

func maxOf(a, b Vec) Vec { return Vec{X: max(a.X, b.X), Y: max(a.Y, b.Y), Z: max(a.Z, b.Z)} }

func minOf(a, b Vec) Vec { return Vec{X: min(a.X, b.X), Y: min(a.Y, b.Y), Z: min(a.Z, b.Z)} }

// deepest is the most of a depth over the grid within a box, grown by a voxel to each
// side; it stops at the first violation.
func deepest(low, high Vec, depth func(Vec) float64) float64 {
	most := math.Inf(-1)
	for x := low.X - voxel/2; x < high.X+voxel; x += voxel {
		for y := low.Y - voxel/2; y < high.Y+voxel; y += voxel {
			for z := low.Z - voxel/2; z < high.Z+voxel; z += voxel {
				if most = max(most, depth(Vec{X: x, Y: y, Z: z})); most > rounding {
					return most
				}
			}
		}
	}
	return most
}

// halfHeight is that of the cabinet at x, m.
func halfHeight(k *design.Dimensions, x float64) float64 {
	share := max(0, min(1, -x/k.Depth.Value()))
	return (k.Height.Value()*(1-share) + k.RearHeight.Value()*share) / 2
}

// outside looks for points of a body beyond the cabinet. A body that stands in a panel may
// reach to the inside of the opposite one.
func (s *seen) outside(d *design.Design, b *body) {
	k := &d.Cabinet
	w, depth, wall := k.Width.Value(), k.Depth.Value(), k.Wall.Value()
	beyond := func(f finding, by func(Vec) float64) {
		corner := math.Inf(-1) // the box about the body spares most of them
		for i := range 8 {
			p := [2]Vec{b.low, b.high}
			corner = max(corner, by(Vec{X: p[i&1].X, Y: p[i>>1&1].Y, Z: p[i>>2].Z}))
		}
		if corner > -voxel {
			s.see(f, deepest(b.low, b.high, func(p Vec) float64 { return min(b.inset(p), by(p)) }), voxel)
		}
	}
	beyond(finding{of: LeavesHeight, a: b.band}, func(p Vec) float64 { return math.Abs(p.Z) - halfHeight(k, p.X) })
	if b.side != design.RearPanel { // whose depth is looked at below
		beyond(finding{of: LeavesFront, a: b.band}, func(p Vec) float64 { return p.X })
	}
	across := func(p Vec) float64 { return math.Abs(p.Y) - w/2 }
	behind := func(p Vec) float64 { return -p.X - (depth - wall) }
	switch {
	case b.side == design.SidePanels:
		beyond(finding{of: LeavesDepth, a: b.band}, behind)
		if left := b.low.Y+b.high.Y > 0; b.kind == Vent && left {
			beyond(finding{of: VentLong}, func(p Vec) float64 { return -p.Y - (w/2 - wall) })
		} else if b.kind == Vent {
			beyond(finding{of: VentLong}, func(p Vec) float64 { return p.Y - (w/2 - wall) })
		}
		return
	case b.side == design.RearPanel:
		beyond(finding{of: VentLong}, func(p Vec) float64 { return p.X + wall })
	case b.kind == Vent:
		beyond(finding{of: VentLong}, behind)
	default:
		beyond(finding{of: LeavesDepth, a: b.band}, behind)
	}
	beyond(finding{of: LeavesWidth, a: b.band}, across)
}

// path works out what the horn's length has to hold.
func (s *seen) path(d *design.Design) {
	h, slot, folded := &d.Horn, d.Section.SlotWidth.Or(d.Horn.Throat.Value()), 0.0
	if f, ok := d.Folded(); ok {
		slot, folded = d.Section.SlotWidth.Or(d.Fold.Layer.Value()), 2*d.Fold.ThroatToWall.Value()+f.Spec.MouthDistance
		if d.Fold.Depth.Given() {
			s.see(finding{of: FoldDeep}, f.BuiltDepth()-d.Fold.Depth.Value(), rounding)
		}
	}
	left := h.Length.Value() - folded
	s.see(finding{of: PathShort}, -left, rounding)
	if left >= 0 {
		s.see(finding{of: WallsShort}, (h.MouthWidth.Value()-slot)/2/math.Tan(h.Coverage.Value()/2)-left, rounding)
	}
}

// stack looks for points of the side view that lie in two neighbours, on a grid along the
// lower edge of the upper one.
func (s *seen) stack(d *design.Design) {
	k := &d.Cabinet
	h, depth := k.Height.Value(), k.Depth.Value()
	gap := k.Gap.Or(k.Pitch.Value() - h)
	s.see(finding{of: BoxesOverlap}, -gap, rounding)
	if gap < 0 {
		return
	}
	slope := (h - k.RearHeight.Value()) / 2 / depth
	slant := 1 / math.Sqrt(1+slope*slope)
	inset := func(x, z float64) float64 { return min(-x, depth+x, (h/2+slope*x-math.Abs(z))*slant) }
	hinge := Vec{Z: -(h + gap) / 2}
	if d.Hanging.Hinge == field.RearHinge {
		hinge.X = -depth
	}
	const grid = 1e-3
	for _, splay := range d.Line.Splay {
		sin, cos := math.Sincos(splay)
		most := math.Inf(-1)
		for x := -depth; x < grid; x += grid {
			for up := -5 * grid; up < 5.5*grid; up += grid / 2 {
				z := up - h/2 - slope*x
				// The lower box turns down about the hinge: its front looks along (cos, −sin).
				v := Vec{X: x, Z: z}.Sub(hinge)
				most = max(most, min(inset(x, z), inset(hinge.X+v.X*cos-v.Z*sin, -hinge.Z+v.X*sin+v.Z*cos)))
			}
		}
		s.see(finding{of: BoxesCollide}, most, grid)
	}
}
