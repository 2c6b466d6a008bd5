package layout

import (
	"math"
	"slices"
	"testing"

	"gapline/cabinet/design"
	"gapline/internal/designtest"
	"gapline/internal/optional"
)

// box is a front 600 mm wide and 300 mm high, 500 mm deep, with one woofer 200 mm wide and
// a horn 300 mm by 250 mm of 90 degrees from a slot 20 mm wide.
func box() design.Design {
	d := design.New()
	d.Cabinet = design.Dimensions{Height: optional.Of(0.3), Width: optional.Of(0.6), Depth: optional.Of(0.5), Gap: optional.Of(0.004)}
	d.Line.Boxes = 4
	d.Woofer.Size, d.Woofer.PerBox = optional.Of(0.2), 1
	d.Bands.Woofer.Depth = optional.Of(0.1)
	d.Horn.MouthWidth, d.Horn.MouthHeight, d.Horn.Coverage, d.Horn.Throat = optional.Of(0.3), optional.Of(0.25), optional.Of(math.Pi/2), optional.Of(0.02)
	d.Section.SideWalls = design.StraightWalls
	d.Horn.Length = optional.Of(0.14) // (300 − 20)/2 at 45 degrees
	return d
}

// at compares the places of parts with those worked out by hand.
func at(t *testing.T, l *Layout, kind Kind, band Band, want ...Vec) {
	t.Helper()
	parts := l.Of(kind, band)
	if len(parts) != len(want) {
		t.Fatalf("%d parts of kind %d, want %d", len(parts), kind, len(want))
	}
	for i, p := range parts {
		if l.Parts[p].At.Sub(want[i]).Norm() > 1e-12 {
			t.Errorf("part %d of kind %d stands at %v, want %v", i+1, kind, l.Parts[p].At, want[i])
		}
	}
}

// reasonsOf are those of the misfits.
func reasonsOf(l *Layout) []Reason {
	var out []Reason
	for _, c := range l.Misfits() {
		out = append(out, c.Of)
	}
	return out
}

// Woofer and horn share 100 mm of free front in three gaps of 33.3 mm.
func TestBandsSpreadEvenly(t *testing.T) {
	d := box()
	l := New(&d)
	gap := 0.1 / 3
	at(t, l, Cone, Woofers, Vec{Y: 0.3 - gap - 0.1})
	at(t, l, HornExit, Horn, Vec{Y: -0.3 + gap + 0.15})
	if len(l.Conflicts) > 0 {
		t.Errorf("conflicts %+v", l.Conflicts)
	}
}

// One woofer far off the middle: what is not placed stands in the middle of the rest.
func TestOneWooferFarOff(t *testing.T) {
	d := box()
	d.Bands.Woofer.Offset = optional.Of(-0.19)
	l := New(&d)
	at(t, l, Cone, Woofers, Vec{Y: -0.19})
	at(t, l, HornExit, Horn, Vec{Y: (0.3 + (-0.19 + 0.1)) / 2})
	if len(l.Conflicts) > 0 {
		t.Errorf("conflicts %+v", l.Conflicts)
	}
}

// Four mids, two above two, between woofer and horn.
func TestTwoByTwoMids(t *testing.T) {
	d := box()
	d.Cabinet.Width, d.Mid.Size, d.Mid.PerBox, d.Mid.Spacing = optional.Of(0.8), optional.Of(0.08), 4, optional.Of(0.1)
	d.Bands.Mid.Columns, d.Bands.Mid.Lateral = 2, optional.Of(0.09)
	d.Bands.Woofer.Offset, d.Bands.Mid.Offset, d.Bands.Horn.Offset = optional.Of(0.29), optional.Of(0.05), optional.Of(-0.2)
	l := New(&d)
	at(t, l, Cone, Mids, Vec{Y: 0.095, Z: -0.05}, Vec{Y: 0.095, Z: 0.05}, Vec{Y: 0.005, Z: -0.05}, Vec{Y: 0.005, Z: 0.05})
	if len(l.Conflicts) > 0 {
		t.Errorf("conflicts %+v", l.Conflicts)
	}
	d.Bands.Mid.Lateral = optional.Of(0.07)
	if got := reasonsOf(New(&d)); !slices.Equal(got, []Reason{Overlaps}) {
		t.Errorf("mids 80 mm wide 70 mm apart: %v", got)
	}
}

// Woofers either side of the horn.
func TestWoofersEitherSide(t *testing.T) {
	d := box()
	d.Cabinet.Width, d.Woofer.PerBox, d.Bands.Woofer.Lateral = optional.Of(0.74), 2, optional.Of(0.52)
	l := New(&d)
	at(t, l, Cone, Woofers, Vec{Y: 0.26}, Vec{Y: -0.26})
	at(t, l, HornExit, Horn, Vec{})
	if len(l.Conflicts) > 0 {
		t.Errorf("conflicts %+v", l.Conflicts)
	}
	d.Bands.Woofer.Lateral = optional.Of(0.49) // 290 mm between them for a mouth of 300 mm
	if got := reasonsOf(New(&d)); !slices.Equal(got, []Reason{TooWide}) {
		t.Errorf("a mouth of 300 mm between woofers 290 mm apart: %v", got)
	}
}

// Cones behind the horn in a V, which radiate through the free front at its sides: 150 mm
// each. The horn is 140 mm deep, the cones stand clear of its driver.
func TestConesBehindTheHorn(t *testing.T) {
	d := box()
	w := &d.Bands.Woofer
	d.Woofer.PerBox, w.Lateral, w.Setback, w.Turn = 2, optional.Of(0.36), optional.Of(0.2), optional.Of(math.Pi/6)
	d.HornDrive.Depth, d.HornDrive.Diameter = optional.Of(0.08), optional.Of(0.09)
	l := New(&d)
	at(t, l, Cone, Woofers, Vec{X: -0.2, Y: 0.18}, Vec{X: -0.2, Y: -0.18})
	if a, b := l.Parts[0].Turn, l.Parts[1].Turn; a != math.Pi/6 || b != -math.Pi/6 {
		t.Errorf("turned by %g and %g, want outward", a, b)
	}
	at(t, l, Opening, Woofers, Vec{Y: 0.225}, Vec{Y: -0.225})
	if o := l.Parts[l.Of(Opening, Woofers)[0]]; math.Abs(o.Width-0.15) > 1e-12 || o.Height != 0.25 {
		t.Errorf("opening %g by %g", o.Width, o.Height)
	}
	if len(l.Misfits()) > 0 {
		t.Errorf("misfits %+v", l.Misfits())
	}
	w.Offset, d.Bands.Horn.Offset = optional.Of(0), optional.Of(0)
	d.HornDrive.Diameter = optional.Of(0.26)
	if got := reasonsOf(New(&d)); !slices.Contains(got, Overlaps) {
		t.Errorf("a driver 260 mm wide between cones: %v", got)
	}
}

// Passive radiators in the sides, left and right, look outward.
func TestRadiatorsAtTheSides(t *testing.T) {
	d := designtest.Box()
	d.Cabinet = box().Cabinet
	d.Enclosure.Volume = optional.Of(0.03)
	r := &d.Enclosure.Radiator
	r.Count, r.Sd = 2, optional.Of(math.Pi*0.01)
	d.Enclosure.RadiatorPlace = design.Outlet{Panel: design.SidePanels, Offset: optional.Of(0.3), Depth: optional.Of(0.06)}
	l := New(&d)
	at(t, l, Radiator, Enclosure, Vec{X: -0.3, Y: 0.3}, Vec{X: -0.3, Y: -0.3})
	for i, want := range []Vec{{Y: 1}, {Y: -1}} {
		if got := l.Parts[l.Of(Radiator, Enclosure)[i]].Axis(); got.Sub(want).Norm() > 1e-12 {
			t.Errorf("radiator %d looks along %v", i+1, got)
		}
	}
}

// The horn's path: 2·110 + 32 mm run through the fold, so that 420 mm of length leave
// 168 mm of side walls; the fold stands behind them and its driver at the side.
func TestPathThroughTheFold(t *testing.T) {
	d := box()
	d.Horn.Length = optional.Of(0.42)
	d.Fold.ThroatToWall, d.Fold.Layer, d.Fold.VirtualPath, d.Fold.MouthDistance = optional.Of(0.11), optional.Of(0.014), optional.Of(1.5), optional.Of(0.032)
	d.HornDrive.Depth, d.HornDrive.Diameter = optional.Of(0.07), optional.Of(0.05)
	d.Bands.Woofer.Offset, d.Bands.Horn.Offset = optional.Of(0.18), optional.Of(-0.12)
	p := PathOf(&d)
	if math.Abs(p.Folded-0.252) > 1e-12 || math.Abs(p.Walls-0.168) > 1e-12 || p.Slot != 0.014 {
		t.Errorf("path %+v", p)
	}
	l := New(&d)
	at(t, l, CompressionDriver, Horn, Vec{X: -0.168 - 0.032, Y: -0.12 + 0.014/2 + 0.014})
	if got := l.Parts[l.Of(CompressionDriver, Horn)[0]].Axis(); got.Sub(Vec{Y: -1}).Norm() > 1e-12 {
		t.Errorf("the driver looks along %v, want into the fold", got)
	}
	d.Horn.Length = optional.Of(0.25)
	if got := reasonsOf(New(&d)); !slices.Contains(got, PathShort) {
		t.Errorf("250 mm of horn with 252 mm of fold: %v", got)
	}
}

// A box said by offsets and by columns is one layout; its mirror image is mirrored.
func TestOneBoxSaidTwice(t *testing.T) {
	d := box()
	d.Cabinet.Width = optional.Of(0.8)
	d.Woofer.PerBox, d.Bands.Woofer.Columns, d.Bands.Woofer.Lateral = 2, 2, optional.Of(0.55)
	d.Bands.Woofer.Offset, d.Bands.Horn.Offset = optional.Of(0.02), optional.Of(0.03)
	a := New(&d)
	m := d
	m.Bands.Woofer.Offset, m.Bands.Horn.Offset = optional.Of(-0.02), optional.Of(-0.03)
	b := New(&m)
	for _, kind := range []Kind{Cone, HornExit, HornBody} {
		for _, band := range []Band{Woofers, Horn} {
			x, y := a.Of(kind, band), b.Of(kind, band)
			for i := range x {
				p, q := a.Parts[x[i]].At, b.Parts[y[len(y)-1-i]].At
				if q.Y = -q.Y; p.Sub(q).Norm() > 1e-12 {
					t.Errorf("kind %d: %v mirrors %v", kind, p, q)
				}
			}
		}
	}
	e := d
	e.Woofer.Spacing, e.Bands.Woofer.Columns = optional.Float{}, 0 // two side by side without a word
	c := New(&e)
	for i := range a.Parts {
		if a.Parts[i].At != c.Parts[i].At {
			t.Errorf("part %d at %v and %v", i, a.Parts[i].At, c.Parts[i].At)
		}
	}
}

// Neighbours 300 mm high and 500 mm deep with 4 mm between them meet at the rear from
// 0.46° of splay on: tan(θ/2) = 2/500. A taper of 20 mm to each side adds 20/500.
func TestBoxesCollideAtTheRear(t *testing.T) {
	for _, c := range []struct{ rear, meets float64 }{{0.3, 2 * math.Atan(0.002/0.5)}, {0.26, 2 * math.Atan(0.022/0.5)}} {
		for _, side := range []float64{-1, 1} {
			d := box()
			d.Cabinet.RearHeight = optional.Of(c.rear)
			d.Line.Splay = []float64{0, c.meets + side*1e-4, 0}
			if got := slices.Contains(reasonsOf(New(&d)), BoxesCollide); got != (side > 0) {
				t.Errorf("rear %g m, splay %g rad: collide %v", c.rear, d.Line.Splay[1], got)
			}
			l := New(&d)
			if l.SplayFits(c.meets+side*1e-4) != (side < 0) {
				t.Errorf("rear %g m: a step of %g rad", c.rear, c.meets+side*1e-4)
			}
		}
	}
}

// Inside 22 mm panels: (500 − 44)(600 − 44)(300 − 44) mm³, less the horn behind the front
// panel: of a prismatoid of 140 mm from 300 × 250 to 20 × 20 mm (no fold) the rear 118 mm.
func TestNetVolume(t *testing.T) {
	d := box()
	d.Cabinet.Wall = optional.Of(0.022)
	inside := 0.456 * 0.556 * 0.256
	at := func(behind float64) float64 { return (0.3 - 0.28*behind/0.14) * (0.25 - 0.23*behind/0.14) }
	horn := 0.118 / 6 * (at(0.022) + 4*at(0.081) + at(0.14))
	l := New(&d)
	if math.Abs(l.Volume.Inside-inside) > 1e-12 || math.Abs(l.Volume.Used-horn) > 1e-12 {
		t.Errorf("volume %+v, want %g less %g", l.Volume, inside, horn)
	}
	for _, share := range []float64{0.999, 1.001} {
		d.Enclosure.Volume = optional.Of(share * (inside - horn))
		if got := slices.Contains(reasonsOf(New(&d)), VolumeShort); got != (share > 1) {
			t.Errorf("a volume %g of what is left: misfit %v", share, got)
		}
	}
}

// Coaxial bands share their room; beside each other they do not.
func TestCoaxial(t *testing.T) {
	d := box()
	d.Mid.Size, d.Mid.PerBox, d.Bands.Mid.Offset, d.Bands.Woofer.Offset = optional.Of(0.06), 1, optional.Of(0.18), optional.Of(0.18)
	if got := reasonsOf(New(&d)); !slices.Equal(got, []Reason{Overlaps}) {
		t.Errorf("a mid in the woofer: %v", got)
	}
	d.Bands.Mid.Mounting, d.Bands.Mid.Offset = design.Coaxial, optional.Float{}
	l := New(&d)
	if len(l.Misfits()) > 0 {
		t.Errorf("a coaxial mid: %+v", l.Misfits())
	}
	at(t, l, Cone, Mids, Vec{Y: 0.18})
}

// A horn whose stated offset sets it to one side has its fold towards the middle, so that
// a driver that stands in a woofer there is a misfit; of a horn on the middle the side is
// taken, and the same is a note.
func TestFoldSide(t *testing.T) {
	for _, offset := range []float64{-0.001, 0, 0.001} {
		d := box()
		d.Horn.Length = optional.Of(0.42)
		d.Fold.ThroatToWall, d.Fold.Layer, d.Fold.VirtualPath, d.Fold.MouthDistance = optional.Of(0.11), optional.Of(0.014), optional.Of(1.5), optional.Of(0.032)
		d.HornDrive.Depth, d.HornDrive.Diameter = optional.Of(0.07), optional.Of(0.05)
		d.Bands.Horn.Offset = optional.Of(offset)
		d.Bands.Woofer.Offset, d.Bands.Woofer.Depth = optional.Of(0.055), optional.Of(0.1)
		d.Bands.Woofer.Setback = optional.Of(0.17)
		if offset > 0 { // the driver lies to the right
			d.Bands.Woofer.Offset = optional.Of(-0.055)
		}
		l := New(&d)
		var got []Conflict
		for _, c := range l.Conflicts {
			if c.Of == Overlaps {
				got = append(got, c)
			}
		}
		if len(got) != 1 || got[0].Certain() == (offset == 0) {
			t.Errorf("horn at %g m: %+v", offset, got)
		}
	}
}

// Coaxial parts share the room of the cones that carry them, with all of the horn, and of
// nothing else.
func TestCoaxialWithWhat(t *testing.T) {
	d := box()
	d.HornDrive.Depth, d.HornDrive.Diameter = optional.Of(0.08), optional.Of(0.09)
	d.Bands.Woofer.Setback, d.Bands.Woofer.Offset = optional.Of(0.1), optional.Of(0.02)
	d.Bands.Horn.Mounting, d.Bands.Horn.Offset = design.Coaxial, optional.Of(0.02)
	if l := New(&d); len(l.Conflicts) > 0 {
		t.Errorf("a coaxial horn with its driver in the woofer: %+v", l.Conflicts)
	}
	e := d
	e.Enclosure.VentDiameter, e.Enclosure.Vent.Length, e.Enclosure.VentPlace.Offset = optional.Of(0.05), optional.Of(0.1), optional.Of(-0.1)
	if got := reasonsOf(New(&e)); !slices.Equal(got, []Reason{Overlaps}) {
		t.Errorf("a vent in the mouth of a coaxial horn: %v", got)
	}
	m := box()
	m.Mid.Size, m.Mid.PerBox, m.Bands.Mid.Mounting = optional.Of(0.06), 1, design.Coaxial
	m.Bands.Woofer.Offset, m.Bands.Horn.Offset = optional.Of(0.19), optional.Of(-0.1)
	for _, offset := range []float64{0.19, 0.08, 0.07} { // the mouth ends at 50 mm
		m.Bands.Mid.Offset = optional.Of(offset)
		if got := reasonsOf(New(&m)); slices.Contains(got, Overlaps) != (offset < 0.08) {
			t.Errorf("a coaxial mid %g m off the middle beside a horn: %v", offset, got)
		}
	}
}

// Pipes of 60 mm in the panels of a box 600 × 300 mm and 500 mm deep of 20 mm panels: in a
// side they end 480 mm behind the front at the latest, in the rear 300 mm off the middle.
func TestOutletsStayInTheirPanel(t *testing.T) {
	for _, c := range []struct {
		panel        design.Panel
		offset, rise float64
		want         []Reason
	}{
		{design.SidePanels, 0.449, 0.119, nil},
		{design.SidePanels, 0.451, 0, []Reason{LeavesDepth}},
		{design.SidePanels, 0.3, 0.121, []Reason{LeavesHeight}},
		{design.RearPanel, -0.269, -0.119, nil},
		{design.RearPanel, -0.271, 0, []Reason{LeavesWidth}},
		{design.RearPanel, 0, -0.121, []Reason{LeavesHeight}},
	} {
		d := design.New()
		d.Cabinet = box().Cabinet
		d.Cabinet.Wall = optional.Of(0.02)
		e := &d.Enclosure
		e.VentDiameter, e.Vent.Length = optional.Of(0.06), optional.Of(0.1)
		e.VentPlace = design.Outlet{Panel: c.panel, Offset: optional.Of(c.offset), Rise: optional.Of(c.rise)}
		if got := reasonsOf(New(&d)); !slices.Equal(got, c.want) {
			t.Errorf("a pipe in the %s at %g m, %g m up: %v, want %v", c.panel, c.offset, c.rise, got, c.want)
		}
	}
}

// A horn between the rows of two woofers 100 mm wide 200 mm apart takes no width beside
// them, though the three are higher together than the box: 100 mm of 100 are free there. So
// does one cone that stands back behind the narrow end of the horn.
func TestBesideIsNotEverywhere(t *testing.T) {
	d := box()
	d.Cabinet.Height, d.Cabinet.Width = optional.Of(0.305), optional.Of(0.34)
	d.Woofer.Size, d.Woofer.PerBox, d.Woofer.Spacing, d.Bands.Woofer.Offset = optional.Of(0.1), 2, optional.Of(0.2), optional.Of(0)
	d.Bands.Horn.Offset = optional.Of(0)
	for high, want := range map[float64][]Reason{0.099: nil, 0.101: {TooWide}} {
		d.Horn.MouthHeight = optional.Of(high)
		if got := reasonsOf(New(&d)); !slices.Equal(got, want) {
			t.Errorf("a mouth %g m high between rows: %v, want %v", high, got, want)
		}
	}
	d = box()
	d.Cabinet.Width, d.Bands.Woofer.Setback = optional.Of(0.4), optional.Of(0.15)
	d.Bands.Woofer.Offset, d.Bands.Horn.Offset = optional.Of(0.09), optional.Of(-0.04)
	if got := reasonsOf(New(&d)); len(got) > 0 {
		t.Errorf("a cone behind the horn: %v", got)
	}
	d.Bands.Woofer.Setback = optional.Of(0.01)
	if got := reasonsOf(New(&d)); !slices.Equal(got, []Reason{TooWide}) {
		t.Errorf("a cone in the horn: %v", got)
	}
}

// A stated plate has its own size, and one wider than the woofers takes its width beside
// the horn.
func TestStatedPlate(t *testing.T) {
	d := designtest.Box()
	d.Insert.PlateWidth, d.Insert.PlateHeight = optional.Of(0.28), optional.Of(0.25)
	l := New(&d)
	p := l.Parts[l.Of(Plate, Woofers)[0]]
	if p.Width != 0.28 || p.Height != 0.25 || len(l.Misfits()) > 0 {
		t.Errorf("plate %g by %g m, %v", p.Width, p.Height, reasonsOf(l))
	}
	if slices.ContainsFunc(l.Defaults, func(d Default) bool { return d.Of == PlateWidth || d.Of == PlateHeight }) {
		t.Errorf("taken for a stated plate: %+v", l.Defaults)
	}
	d.Insert.PlateWidth = optional.Of(0.3) // beside a mouth 330 mm wide in 620 mm
	if got := reasonsOf(New(&d)); !slices.Equal(got, []Reason{TooWide}) {
		t.Errorf("a plate 300 mm wide: %v", got)
	}
}

// A slot 40 mm wide and as high as the box takes, of 122 mm of length, what lies between
// panels of 22 mm: 40 × 256 × 100 mm.
func TestVolumeBetweenPanels(t *testing.T) {
	d := design.New()
	d.Cabinet = box().Cabinet
	d.Cabinet.Wall = optional.Of(0.022)
	e := &d.Enclosure
	e.Vent.Width, e.Vent.Height, e.Vent.Length, e.VentPlace.Offset = optional.Of(0.04), optional.Of(0.3), optional.Of(0.122), optional.Of(0)
	if got, want := New(&d).Volume.Used, 0.04*0.256*0.1; math.Abs(got-want) > 1e-12 {
		t.Errorf("the slot takes %g m³, want %g", got, want)
	}
}

// A fold 250 mm high in a box that tapers from 300 to 200 mm leaves it in the middle of its
// depth: a misfit where the horn's length says how far back it stands, else a note.
func TestFoldInATaper(t *testing.T) {
	d := box()
	d.Cabinet.RearHeight, d.Woofer, d.Bands.Woofer = optional.Of(0.2), design.Woofer{}, design.Place{}
	d.Fold.ThroatToWall, d.Fold.Layer, d.Fold.VirtualPath, d.Fold.MouthDistance = optional.Of(0.11), optional.Of(0.014), optional.Of(1.5), optional.Of(0.032)
	d.Bands.Horn.Offset = optional.Of(0.01)
	for _, length := range []optional.Float{optional.Of(0.41), {}} {
		d.Horn.Length = length
		l := New(&d)
		if len(l.Conflicts) != 1 || l.Conflicts[0].Of != LeavesHeight || l.Conflicts[0].Certain() != length.Given() {
			t.Errorf("horn length given %v: %+v", length.Given(), l.Conflicts)
		}
	}
}

// A cone 200 mm wide turned by 30° reaches 50 mm out of the front unless its middle stands
// that far behind it.
func TestTurnedConeStaysBehindTheFront(t *testing.T) {
	d := box()
	w := &d.Bands.Woofer
	w.Offset, w.Turn = optional.Of(0.19), optional.Of(math.Pi/6)
	for _, setback := range []float64{0.0499, 0.0501} {
		w.Setback = optional.Of(setback)
		if got := slices.Contains(reasonsOf(New(&d)), LeavesFront); got != (setback < 0.05) {
			t.Errorf("set back by %g m: stands out %v", setback, got)
		}
	}
}
