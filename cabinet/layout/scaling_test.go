package layout

import (
	"math"
	"math/rand/v2"
	"testing"

	"gapline/cabinet/design"
	"gapline/internal/designtest"
	"gapline/internal/optional"
)

// scaled is a design as Laid draws them with every length s times as long.
func scaled(d design.Design, s float64) design.Design {
	k, w, m, e, h, f := &d.Cabinet, &d.Woofer, &d.Mid, &d.Enclosure, &d.Horn, &d.Fold
	lengths := []*optional.Float{
		&k.Height, &k.Width, &k.Depth, &k.Gap, &k.Pitch, &k.RearHeight, &k.Wall, &w.Size, &w.Spacing, &m.Size, &m.Spacing,
		&h.MouthWidth, &h.MouthHeight, &h.Throat, &h.Length, &h.Sides.Length, &h.Sides.SplitterWidth, &d.Section.SlotWidth,
		&d.HornDrive.Depth, &d.HornDrive.Diameter, &f.ThroatToWall, &f.Layer, &f.VirtualPath, &f.BendRadius, &f.RearAllowance, &f.Depth,
		&e.VentDiameter, &e.Vent.Width, &e.Vent.Height, &e.Vent.Length, &e.VentPlace.Offset, &e.VentPlace.Rise,
		&e.RadiatorPlace.Offset, &e.RadiatorPlace.Rise, &e.RadiatorPlace.Depth,
	}
	for _, p := range []*design.Place{&d.Bands.Woofer, &d.Bands.Mid, &d.Bands.Horn} {
		lengths = append(lengths, &p.Offset, &p.Rise, &p.Lateral, &p.Setback, &p.Depth)
	}
	for _, x := range lengths {
		*x = optional.Of(s * x.Value())
	}
	e.Radiator.Sd = optional.Of(s * s * e.Radiator.Sd.Value())
	e.Volume = optional.Of(s * s * s * e.Volume.Value())
	return d
}

// A box of which every length is s times as long is laid out s times as large and has the
// same conflicts. Touch and the thickness of what has no depth do not grow: no box drawn
// here is that close to an edge.
func TestLayoutScales(t *testing.T) {
	for i := range 300 {
		r := rand.New(rand.NewPCG(uint64(i), 2))
		small := designtest.Laid(r)
		s := 0.6 + 1.4*r.Float64()
		large := scaled(small, s)
		a, b := New(&small), New(&large)
		if len(a.Parts) != len(b.Parts) || len(a.Conflicts) != len(b.Conflicts) {
			t.Fatalf("box %d: %d parts and %v, %g times as large %d parts and %v", i, len(a.Parts), a.Conflicts, s, len(b.Parts), b.Conflicts)
		}
		for j := range a.Parts {
			p, q := &a.Parts[j], &b.Parts[j]
			if p.Kind != q.Kind || p.Band != q.Band || p.Turn != q.Turn || p.At.Scale(s).Sub(q.At).Norm() > 1e-12 {
				t.Errorf("box %d: part %d stands at %v, %g times as large at %v", i, j, p.At, s, q.At)
			}
			for k, x := range [][2]float64{{p.Width, q.Width}, {p.Height, q.Height}, {p.RearWidth, q.RearWidth}, {p.RearHeight, q.RearHeight}, {p.Depth, q.Depth}} {
				if math.Abs(s*x[0]-x[1]) > 1e-12 {
					t.Errorf("box %d: size %d of part %d is %g m, %g times as large %g m", i, k, j, x[0], s, x[1])
				}
			}
		}
		for j := range a.Conflicts {
			c, d := a.Conflicts[j], b.Conflicts[j]
			by, within := s, 1e-12
			switch c.Of {
			case VolumeShort:
				by = s * s * s
			case LeavesHeight: // the millimetre of the exit, along a taper of at most 1 in 2
				within = 1e-3 / 2
			}
			if c.Of != d.Of || c.A != d.A || c.B != d.B || c.Joint != d.Joint || c.Certain() != d.Certain() ||
				math.Abs(by*c.Needs-d.Needs) > within || math.Abs(by*c.Has-d.Has) > within {
				t.Errorf("box %d: %+v, %g times as large %+v", i, c, s, d)
			}
		}
		if by := s * s * s; math.Abs(by*a.Volume.Inside-b.Volume.Inside) > 1e-9 || math.Abs(by*a.Volume.Used-b.Volume.Used) > 1e-9 {
			t.Errorf("box %d: volume %+v, %g times as large %+v", i, a.Volume, s, b.Volume)
		}
	}
}
