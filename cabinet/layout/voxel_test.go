package layout

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gapline/cabinet/design"
	"gapline/internal/designtest"
)

// finding is one thing that the check may say of a box.
type finding struct {
	of   Reason
	a, b Band // of Overlaps, the lower first; of a part that leaves the cabinet a alone
}

// said lists what the check finds between stated values, and whether anything rests on
// what is not stated.
func said(l *Layout) (out []finding, rests bool) {
	for i := range l.Conflicts {
		c := &l.Conflicts[i]
		rests = rests || !c.Certain()
		f := finding{of: c.Of}
		switch c.Of {
		case Overlaps:
			a, b := l.Parts[c.A].Band, l.Parts[c.B].Band
			f.a, f.b = min(a, b), max(a, b)
		case LeavesWidth, LeavesHeight, LeavesDepth, LeavesFront:
			f.a = l.Parts[c.A].Band
		}
		out = append(out, f)
	}
	return out, rests
}

// netVolume counts what the horn and the ducts leave of the room within the panels, by one
// point drawn in each voxel, m³, and how far the count may be off: six standard deviations
// of a draw in each voxel on a face.
func netVolume(d *design.Design, r *rand.Rand) (v, within float64) {
	k := &d.Cabinet
	h, w, depth, wall := k.Height.Value(), k.Width.Value(), k.Depth.Value(), k.Wall.Value()
	slope := (h - k.RearHeight.Value()) / 2 / depth
	slant := 1 / math.Sqrt(1+slope*slope)
	counted := slices.DeleteFunc(bodies(d), func(b body) bool { return b.kind == Cone || b.kind == Radiator })
	n, open := [3]int{int(depth/coarse) + 1, int(w/coarse) + 1, int(h/coarse) + 1}, 0
	cell := Vec{X: depth / float64(n[0]), Y: w / float64(n[1]), Z: h / float64(n[2])}
	for i := range n[0] * n[1] * n[2] {
		at := func(k int, size float64) float64 { return (float64(k) + r.Float64()) * size }
		p := Vec{X: -at(i%n[0], cell.X), Y: at(i/n[0]%n[1], cell.Y) - w/2, Z: at(i/n[0]/n[1], cell.Z) - h/2}
		if min(-p.X-wall, depth-wall+p.X, w/2-wall-math.Abs(p.Y), (halfHeight(k, p.X)-math.Abs(p.Z))*slant-wall) < 0 {
			continue
		}
		if !slices.ContainsFunc(counted, func(b body) bool { return b.inset(p) > 0 }) {
			open++
		}
	}
	one := cell.X * cell.Y * cell.Z
	faces := 2*(depth*w+depth*h+w*h) + 1
	return float64(open) * one, 6 * one * 0.5 * math.Sqrt(faces/(coarse*coarse))
}

// boxes is how many are compared.
func boxes() int {
	if testing.Short() {
		return 100
	}
	return 1000
}

// The check against the oracle on boxes that state everything.
func TestCheckAgainstVoxels(t *testing.T) {
	valid := 0
	found := map[Reason]int{}
	for i := range boxes() {
		r := rand.New(rand.NewPCG(uint64(i), 1))
		d := designtest.Laid(r)
		l := New(&d)
		findings, rests := said(l)
		if rests {
			t.Errorf("box %d: something rests on what is not stated: %+v", i, l.Conflicts)
		}
		if l.Fits() {
			valid++
		}
		for _, f := range findings {
			found[f.of]++
		}
		s := look(&d)
		wide := compareWidths(t, i, l, &d, &s)
		for _, f := range findings {
			if f.of != TooWide && f.of != VolumeShort && !s.may[f] {
				t.Errorf("box %d: the check says of bands %d and %d: %s; the voxels do not", i, f.a, f.b, f.of)
			}
		}
		for f := range s.must {
			if !slices.Contains(findings, f) && !(f.of == Overlaps && wide[f.a] && wide[f.b] && f.a != f.b) {
				t.Errorf("box %d: the voxels say of bands %d and %d: %s; the check does not", i, f.a, f.b, f.of)
			}
		}
		compareVolumes(t, i, l, &d, &s, r)
	}
	t.Logf("%d of %d fit; found %v", valid, boxes(), found)
	for of := range ReasonCount {
		if !testing.Short() && of != NoRoom && found[of] == 0 {
			t.Errorf("no box in which %s", of)
		}
	}
	if share := float64(valid) / float64(boxes()); share < 0.4 || share > 0.6 {
		t.Errorf("%.0f %% of the boxes fit, want about half", 100*share)
	}
}

// compareVolumes compares what is left for the woofers where the parts stand inside the
// cabinet and none in another.
func compareVolumes(t *testing.T, i int, l *Layout, d *design.Design, s *seen, r *rand.Rand) {
	for f := range s.may {
		if f.of == Overlaps || f.of == LeavesDepth || f.of == LeavesHeight || f.of == LeavesWidth || f.of == LeavesFront || f.of == VentLong {
			return
		}
	}
	net, within := netVolume(d, r)
	if got := l.Volume.Inside - l.Volume.Used; math.Abs(got-net) > within {
		t.Errorf("box %d: %.2f L left for the woofers, counted %.2f ± %.2f L", i, 1e3*got, 1e3*net, 1e3*within)
	}
	short := slices.ContainsFunc(l.Conflicts, func(c Conflict) bool { return c.Of == VolumeShort })
	if v := d.Enclosure.Volume.Value(); math.Abs(v-net) > within && short != (v > net) {
		t.Errorf("box %d: %.2f L wanted, %.2f L there: short %v", i, 1e3*v, 1e3*net, short)
	}
}
