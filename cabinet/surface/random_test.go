package surface_test

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	. "gapline/cabinet/surface"
	"gapline/internal/designtest"
	"gapline/internal/optional"
	"gapline/internal/trimesh"
)

// Random boxes that can be built have a surface that is closed and does not run through
// itself; it encloses the cabinet less the ways to cones behind its front. Faults are those
// of a part in front of another: a vent in the opening beside the horn, or a coaxial horn
// that covers its woofer whole. Those that cannot be built have faults, or a surface that
// is sound all the same.
func TestRandomDesigns(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	count := map[string]int{}
	designs := 160
	if testing.Short() {
		designs = 24
	}
	for i := range designs {
		d := designtest.Laid(r)
		fits := layout.New(&d).Fits()
		for _, n := range []int{1, 3} {
			s, faults, _ := New(context.Background(), &d, Options{Frequency: 700, Boxes: n})
			if len(faults) > 0 {
				count[faults[0].Of.String()]++
				if f := faults[0].Of; fits && f != Covered && !(f == Meet && s == nil && len(layout.New(&d).Of(layout.Vent, layout.Enclosure)) > 0) {
					t.Errorf("design %d: %v: %+v", i, f, faults)
				}
				continue
			}
			count["made"]++
			if whole := s.Unfold(); whole.Closed() != nil {
				t.Errorf("design %d: %v", i, whole.Closed())
			}
			if n == 1 && fits {
				sound(t, "random", s, cabinetVolume(s.Layout)-pockets(s.Layout))
			}
			if i%16 == 0 {
				whole := s.Unfold()
				if a, b := pierced(&whole.Mesh); a >= 0 {
					t.Errorf("design %d: triangle %d runs through %d", i, a, b)
				}
			}
		}
	}
	t.Log(count)
	if count["made"] < designs/2 {
		t.Errorf("too few designs: %v", count)
	}
}

// Random inserts in such boxes: they enclose the cabinet less the chambers' volume and the
// air in the mouths.
func TestRandomInserts(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	count := map[string]int{}
	in := func(low, high float64) float64 { return low + (high-low)*r.Float64() }
	wanted := 60
	if testing.Short() {
		wanted = 8
	}
	for i := 0; i < 400 && count["made"] < wanted; i++ {
		d := designtest.Laid(r)
		if d.Bands.Woofer.Setback.Value() > 0 || d.Bands.Mid.Mounting == design.Coaxial || d.Bands.Horn.Mounting == design.Coaxial {
			continue
		}
		size := d.Woofer.Size.Value()
		d.Bands.Woofer.Setback = optional.Float{}
		d.Enclosure.Volume = optional.Float{}
		rows := float64(d.WooferRows())
		n := 1 + r.IntN(3)
		d.Insert.Mouths, d.Insert.Spacing = n, optional.Of(rows*size/float64(n))
		d.Insert.MouthHeight = optional.Of(d.Insert.Spacing.Value() * in(0.3, 0.9))
		d.Insert.MouthWidth = optional.Of(size * in(0.2, 0.95))
		d.Insert.SlotDepth = optional.Of(in(0.002, 0.03))
		d.Insert.ChamberVolume = optional.Of(float64(d.WoofersPerBox()) * size * size * in(0.005, 0.03))
		if !layout.New(&d).Fits() {
			count["misfit"]++
			continue
		}
		s, faults, _ := New(context.Background(), &d, Options{Frequency: 700})
		if len(faults) > 0 {
			t.Errorf("design %d: %v %+v", i, faults[0].Of, faults)
			continue
		}
		count["made"]++
		mouths := float64(d.InsertMouths()) * d.Insert.MouthHeight.Value() * d.Insert.MouthWidth.Value() * d.Insert.SlotDepth.Value()
		sound(t, "random insert", s, cabinetVolume(s.Layout)-d.Insert.ChamberVolume.Value()-mouths)
		if i%8 == 0 {
			if a, b := pierced(&s.Mesh); a >= 0 {
				t.Errorf("design %d: triangle %d runs through %d", i, a, b)
			}
		}
	}
	t.Log(count)
	if count["made"] < wanted {
		t.Errorf("too few designs: %v", count)
	}
}

// pockets is the air in front of cones behind the front, m³, by its depth at each place
// seen from the front.
func pockets(l *layout.Layout) float64 {
	sum := 0.0
	open := map[bool]layout.Outline{}
	for _, i := range l.Of(layout.Opening, layout.Woofers) {
		open[l.Parts[i].At.Y > 0] = l.Parts[i].Front()
	}
	for _, i := range l.Of(layout.Cone, layout.Woofers) {
		p := &l.Parts[i]
		left := p.At.Y > 0
		o, ok := open[left]
		switch {
		case p.At.X > -1e-3 && p.Turn == 0:
		case ok:
			sum += openingPocket(l, p, o)
			delete(open, left)
		default: // a straight way as wide as the cone is seen from the front
			sum += math.Pi / 4 * p.Radiates * p.Radiates * math.Cos(p.Turn) * -p.At.X
		}
	}
	return sum
}

// openingPocket is summed over a grid in plan: between the opening's outer edge and the
// line from its inner edge to the flange's inner end, back to the flange's plane.
func openingPocket(l *layout.Layout, p *layout.Part, o layout.Outline) float64 {
	from, to, turn := o.Right, o.Left, p.Turn
	if p.At.Y < 0 {
		from, to, turn = -o.Left, -o.Right, -turn
	}
	to = math.Min(to, l.Width/2-1e-3)
	y0, e0 := math.Abs(p.At.Y), -p.At.X
	deep := func(y float64) float64 { return e0 + (y-y0)*math.Tan(turn) }
	inner := math.Min(from, y0-p.Width/2*math.Cos(turn))
	deepest := math.Max(deep(inner), deep(to))
	// Top and bottom go straight back, or spread to the cone, and stay in the cabinet.
	edge := func(z, side float64) float64 {
		z = math.Min(z, l.Height/2-1e-3)
		slope := math.Max(0, (side*p.At.Z+0.52*p.Radiates-z)/e0)
		end := math.Min(z+slope*deepest, (l.Height-(l.Height-l.RearHeight)*deepest/l.Depth)/2-1e-3)
		return (end - z) / deepest
	}
	up, down := edge(o.Top, 1), edge(-o.Bottom, -1)
	top, bottom := math.Min(o.Top, l.Height/2-1e-3), math.Min(-o.Bottom, l.Height/2-1e-3)
	sum := 0.0
	const n = 20000
	for k := range n {
		y := inner + (to-inner)*(float64(k)+0.5)/n
		start := 0.0
		if y < from {
			start = deep(inner) * (from - y) / (from - inner)
		}
		if e := deep(y); e > start {
			// The height is linear in the depth: its value half way counts.
			sum += (e - start) * (top + bottom + (up+down)*(e+start)/2) * (to - inner) / n
		}
	}
	return sum
}

// pierced finds a triangle that runs through another one: an edge of the one passes
// through the inside of the other. −1: none does.
func pierced(m *trimesh.Mesh) (int, int) {
	at := func(c int32) layout.Vec { v := m.Vertices[c]; return layout.Vec{X: v[0], Y: v[1], Z: v[2]} }
	for i, t := range m.Triangles {
		a, b, c := at(t[0]), at(t[1]), at(t[2])
		n := b.Sub(a).Cross(c.Sub(a))
		area := n.Norm()
		n = n.Scale(1 / area)
		for j, u := range m.Triangles {
			for k := range 3 {
				p, q := at(u[k]), at(u[(k+1)%3])
				hp, hq := p.Sub(a).Dot(n), q.Sub(a).Dot(n)
				if hp*hq >= 0 || math.Min(math.Abs(hp), math.Abs(hq)) < 2e-5 { // it ends in the plane
					continue
				}
				x := p.Add(q.Sub(p).Scale(hp / (hp - hq)))
				inside := true
				for _, e := range [][2]layout.Vec{{a, b}, {b, c}, {c, a}} {
					inside = inside && e[1].Sub(e[0]).Cross(x.Sub(e[0])).Dot(n) > 1e-6*area
				}
				if inside {
					return j, i
				}
			}
		}
	}
	return -1, -1
}
