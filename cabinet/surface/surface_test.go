package surface_test

import (
	"context"
	"errors"
	"math"
	"math/cmplx"
	"reflect"
	"runtime"
	"slices"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/cabinet/layout"
	. "gapline/cabinet/surface"
	"gapline/internal/air"
	"gapline/internal/designfile"
	"gapline/internal/optional"
)

// starters are the designs that the program brings along.
func starters(t testing.TB) map[string]design.Design {
	t.Helper()
	out := map[string]design.Design{}
	for _, s := range designfile.Starters {
		f, err := designfile.LoadStarter(s.Name, nil)
		if err != nil {
			t.Fatal(err)
		}
		out[s.Name] = f.Design
	}
	return out
}

// made is the surface of a design that has one.
func made(t testing.TB, d *design.Design, o Options) *Surface {
	t.Helper()
	s, faults, _ := New(context.Background(), d, o)
	if len(faults) > 0 {
		t.Fatalf("%v: %v", faults[0].Of, faults)
	}
	return s
}

// sound checks what holds for every surface: it is closed but on its mirror planes, whole
// it is closed, the whole volume is the one wanted, every part that moves has its area by
// its factor, and no triangle is degenerate. Volumes in m³.
func sound(t *testing.T, name string, s *Surface, volume float64) {
	t.Helper()
	if err := s.Check(); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	whole := s.Unfold()
	if err := whole.Closed(); err != nil {
		t.Fatalf("%s, whole: %v", name, err)
	}
	// Corners nearer than 2·near are one.
	if got := whole.Volume(); math.Abs(got-volume) > 1e-5*volume {
		t.Errorf("%s: encloses %.7f m³, want %.7f", name, got, volume)
	}
	if share := float64(int(1) << s.Planes.Count()); math.Abs(s.Volume()*share-whole.Volume()) > 1e-12 {
		t.Errorf("%s: part of %g m³ of %g", name, s.Volume(), whole.Volume())
	}
	area := make([]float64, len(s.About))
	for i, g := range whole.Group {
		area[g] += whole.Area(i)
	}
	for i := range s.About {
		g := &s.About[i]
		if !g.Moves() {
			continue
		}
		p := &s.Layout.Parts[g.Part]
		want := p.Width * p.Height
		switch {
		case p.Kind == layout.Flare:
			want = p.RearWidth * p.RearHeight
		case p.Kind == layout.Cone:
			want = math.Pi / 4 * p.Radiates * p.Radiates
		case p.Shape == layout.Round:
			want *= math.Pi / 4
		}
		if math.Abs(area[i]*g.Factor/want-1) > 1e-9 || math.Abs(g.Area/want-1) > 1e-9 {
			t.Errorf("%s: %s has %g m², factor %g, want %g m²", name, s.Groups[i], area[i], g.Factor, want)
		}
		// A polygon of 16 sides in a circle has 0.9745 of its area. What a coaxial part
		// covers is missing too.
		if g.Factor < 1-1e-3 || g.Factor > 1.0262 && !covered(s.Layout, p) {
			t.Errorf("%s: %s has the factor %g", name, s.Groups[i], g.Factor)
		}
	}
	for i := range s.Triangles {
		if a := s.LeastAngle(i); !(a > 0.2*math.Pi/180) {
			t.Errorf("%s: triangle %d has an angle of %g°", name, i, a*180/math.Pi)
		}
	}
}

func covered(l *layout.Layout, p *layout.Part) bool {
	return slices.ContainsFunc(l.Parts, func(q layout.Part) bool { return q.Coaxial && q.Band > p.Band })
}

// cabinetVolume is that of a box that tapers: the mean of both heights.
func cabinetVolume(l *layout.Layout) float64 {
	return (l.Height + l.RearHeight) / 2 * l.Width * l.Depth
}

// The three starters, one box. The insert's chambers take 0.5 L and its four mouths 104 by 50
// by 12 mm. The cones in a V stand behind two openings; see TestOpeningPocket for theirs.
func TestStarters(t *testing.T) {
	for name, d := range starters(t) {
		for _, hz := range []float64{1000, 2000} {
			for _, rigid := range [][]layout.Band{nil, {layout.Enclosure}, {layout.Enclosure, layout.Horn}} {
				s := made(t, &d, Options{Frequency: hz, Rigid: rigid})
				want := cabinetVolume(s.Layout)
				switch name {
				case "hatch-insert":
					want -= 0.5e-3 + 4*0.104*0.05*0.012
				case "hatch-mids":
					want -= hatchPockets(s.Layout)
				}
				sound(t, name, s, want)
				for i := range s.Triangles {
					if long := s.LongestEdge(i); long > 2*343/hz/4 {
						t.Errorf("%s: an edge of %g m at %g Hz", name, long, hz)
					}
				}
			}
		}
	}
}

// hatchPockets is the air in front of the V's cones, summed in slices across y: from the
// opening, which ends 15 mm before the side, to the plane of the flanges, which are 6.5 in
// wide, 155 mm off the middle and 190 mm behind the front, turned by 30°. The opening begins
// where the horn's exit ends on the right and the mids on the left.
func hatchPockets(l *layout.Layout) float64 {
	sum := 0.0
	for _, i := range l.Of(layout.Opening, layout.Woofers) {
		o := l.Parts[i].Front()
		from, to := o.Left, o.Right // towards the side
		if to > 0 {
			from, to = o.Right, o.Left
		}
		from, to = math.Abs(from), math.Abs(to)
		inner := 0.155 - 0.1651/2*math.Cos(math.Pi/6)
		deep := func(y float64) float64 { return 0.19 + (y-0.155)*math.Tan(math.Pi/6) }
		const n = 200000
		for k := range n {
			y := inner + (to-inner)*(float64(k)+0.5)/n
			start := 0.0 // the inner wall runs from the opening's edge to the flange's end
			if y < from {
				start = deep(inner) * (from - y) / (from - inner)
			}
			sum += math.Max(deep(y)-start, 0) * (to - inner) / n * l.Parts[i].Height
		}
	}
	return sum
}

// Without its insert the box has its cones in the front.
func TestWithoutInsert(t *testing.T) {
	d := starters(t)["hatch-insert"]
	s := made(t, &d, Options{Frequency: 1000, WithoutInsert: true})
	sound(t, "without insert", s, cabinetVolume(s.Layout))
	cones := 0
	for i, g := range s.Group {
		if s.About[g].Kind == Piston {
			cones++
			for _, c := range s.Triangles[i] {
				if s.Vertices[c][0] != 0 {
					t.Fatalf("a cone at %v", s.Vertices[c])
				}
			}
		}
		if k := s.About[g].Kind; k == Plate || k == Chamber {
			t.Fatal("a plate")
		}
	}
	if cones == 0 {
		t.Error("no cones")
	}
}

// Flares 40 mm deep at 85° on a mouth 250 mm wide and 252 mm high: in the mean they are
// 250 mm + 40 mm · tan 42.5° wide.
func TestFlares(t *testing.T) {
	d := starters(t)["hatch"]
	d.Horn.MouthWidth = optional.Of(0.25)
	d.Horn.Sides.Length, d.Horn.Sides.Angle = optional.Of(0.04), optional.Of(85*math.Pi/180)
	deep := 0.04 * 0.252 * (0.25 + 0.04*math.Tan(85*math.Pi/360))
	s := made(t, &d, Options{Frequency: 1000, Flares: true})
	sound(t, "flares", s, cabinetVolume(s.Layout)-deep)
	s = made(t, &d, Options{Frequency: 1000, Flares: true, Rigid: []layout.Band{layout.Horn}})
	sound(t, "rigid flares", s, cabinetVolume(s.Layout)-deep)
	s = made(t, &d, Options{Frequency: 1000})
	sound(t, "flares left out", s, cabinetVolume(s.Layout))
}

// Where the design states how far the cones stand back the chamber is as deep as the plate
// leaves: 20 mm, as wide as a cone with 2 % of its diameter beside it, and as high as the
// two mouths reach.
func TestChamberByItsSetback(t *testing.T) {
	d := starters(t)["hatch-insert"]
	d.Bands.Woofer.Setback = optional.Of(0.032)
	s := made(t, &d, Options{Frequency: 1000})
	wide := 2 * math.Sqrt(139e-4/math.Pi) * 1.04
	sound(t, "stated setback", s, cabinetVolume(s.Layout)-4*0.104*0.05*0.012-2*wide*(0.136+0.104)*0.02)
}

// What stands upright in the middle of the front is symmetric about both planes; a vent in
// the rear, on one side, is not, unless it is rigid.
func TestPlanes(t *testing.T) {
	d := starters(t)["hatch-insert"]
	for _, c := range []struct {
		boxes int
		rigid []layout.Band
		want  Planes
	}{
		{1, nil, Planes{Z: true}},
		{1, []layout.Band{layout.Enclosure}, Planes{Y: true, Z: true}},
		{3, []layout.Band{layout.Enclosure}, Planes{Y: true}},
	} {
		s := made(t, &d, Options{Frequency: 1000, Boxes: c.boxes, Rigid: c.rigid})
		if s.Planes != c.want {
			t.Errorf("%d boxes, rigid %v: %v, want %v", c.boxes, c.rigid, s.Planes, c.want)
		}
		for i, v := range s.Vertices {
			if c.want.Y && v[1] < 0 || c.want.Z && v[2] < 0 {
				t.Fatalf("vertex %d at %v", i, v)
			}
		}
	}
	d.Line.Splay = make([]float64, 6)
	if s := made(t, &d, Options{Frequency: 1000, Boxes: 4, Rigid: []layout.Band{layout.Enclosure}}); s.Planes.Count() != 2 {
		t.Errorf("a straight stack: %v", s.Planes)
	}
	for _, c := range []struct {
		strength []float64
		want     Planes
	}{{[]float64{1, 2, 3, 3, 3, 2, 1}, Planes{Y: true, Z: true}}, {[]float64{1, 2, 3, 3, 3, 3, 1}, Planes{Y: true}}} {
		if s := made(t, &d, Options{Frequency: 500, Boxes: 7, Strength: c.strength, Rigid: []layout.Band{layout.Enclosure}}); s.Planes != c.want {
			t.Errorf("strengths %v: %v, want %v", c.strength, s.Planes, c.want)
		}
	}
	// A splay that is alike from both ends.
	d.Line.Splay = []float64{0.01, 0.02, 0.03, 0.03, 0.02, 0.01}
	if s := made(t, &d, Options{Frequency: 500, Boxes: 7, Rigid: []layout.Band{layout.Enclosure}}); s.Planes.Count() != 2 {
		t.Errorf("a splay that is alike from both ends: %v", s.Planes)
	}
	d.Bands.Woofer.Rise = optional.Of(0.002)
	if s := made(t, &d, Options{Frequency: 1000, Rigid: []layout.Band{layout.Enclosure}}); s.Planes != (Planes{Y: true}) {
		t.Errorf("cones off the middle: %v", s.Planes)
	}
}

// The whole surface has every triangle's image, in the group of the image.
func TestWhole(t *testing.T) {
	d := starters(t)["hatch-insert"]
	o := Options{Frequency: 1000, Rigid: []layout.Band{layout.Enclosure}}
	part := made(t, &d, o)
	o.Whole = true
	s := made(t, &d, o)
	if s.Planes.Count() != 0 || len(s.Triangles) != 4*len(part.Triangles) {
		t.Fatalf("%d triangles of %d, planes %v", len(s.Triangles), len(part.Triangles), s.Planes)
	}
	side := map[int32]float64{}
	for i, g := range s.Group {
		for _, c := range s.Triangles[i] {
			side[g] += s.Vertices[c][1]
		}
	}
	for g, y := range side {
		if a := &s.About[g]; a.Kind == Piston && y*s.Layout.Parts[a.Part].At.Y <= 0 {
			t.Errorf("%s lies at the wrong side: %g", s.Groups[g], y)
		}
	}
}

// Joined boxes enclose what they enclose apart, and the wedges between them: in the side
// view from the lower edges of one to the upper edges of the next, out to where their
// fronts and rears meet, carried on.
func TestJoinedStack(t *testing.T) {
	for name, d := range starters(t) {
		for _, hinge := range []field.Hinge{field.FrontHinge, field.RearHinge} {
			d.Hanging.Hinge = hinge
			if hinge == field.RearHinge {
				d.Cabinet.RearHeight = d.Cabinet.Height
			}
			one := made(t, &d, Options{Frequency: 500})
			for _, boxes := range []int{2, 3, 7} {
				s := made(t, &d, Options{Frequency: 500, Boxes: boxes})
				if !s.Joined || len(s.Boxes) != boxes {
					t.Fatalf("%s: %d boxes, joined %v", name, len(s.Boxes), s.Joined)
				}
				stack := s.Layout.Stack
				first := (7 - boxes) / 2
				o := stack.Outlines()[first : first+boxes]
				want := float64(boxes) * one.Unfold().Volume()
				for i := range o[1:] {
					want += wedge(o[i].Corner, o[i+1].Corner) * s.Layout.Width
				}
				sound(t, name, s, want)
			}
		}
	}
}

// wedge is the area between two boxes in the side view, m².
func wedge(upper, lower [4]layout.Vec) float64 {
	meet := func(a, b, c, d layout.Vec) layout.Vec {
		u, v, w := b.Sub(a), d.Sub(c), c.Sub(a)
		det := u.X*v.Z - u.Z*v.X
		if math.Abs(det) < 1e-12 {
			return b.Add(c).Scale(0.5)
		}
		return a.Add(u.Scale((w.X*v.Z - w.Z*v.X) / det))
	}
	front := meet(upper[0], upper[1], lower[0], lower[1])
	rear := meet(upper[3], upper[2], lower[3], lower[2])
	line := []layout.Vec{upper[1], front, lower[0], lower[3], rear, upper[2]}
	sum := 0.0
	for i, a := range line {
		b := line[(i+1)%len(line)]
		sum += (a.X*b.Z - a.Z*b.X) / 2
	}
	return math.Abs(sum)
}

// Boxes with open joints are bodies of their own, and stand where the layout hangs them.
func TestOpenJoints(t *testing.T) {
	d := starters(t)["hatch"]
	one := made(t, &d, Options{Frequency: 500})
	s := made(t, &d, Options{Frequency: 500, Boxes: 3, OpenJoints: true})
	sound(t, "open joints", s, 3*one.Unfold().Volume())
	o := s.Layout.Stack.Outlines()[2:5]
	for i := range 2 { // distances do not depend on the frame
		want := o[i].Corner[0].Sub(o[i+1].Corner[2]).Norm()
		got := s.Boxes[i].Place(layout.Vec{Z: 0.134}).Sub(s.Boxes[i+1].Place(layout.Vec{X: -0.43, Z: -0.1265})).Norm()
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("boxes %d and %d: %g m, want %g", i, i+1, got, want)
		}
	}
	if s.Joined {
		t.Error("joined")
	}
}

// The front of a horn with a virtual path L lags by √(L² + z²) − L at the height z.
func TestLag(t *testing.T) {
	d := starters(t)["hatch-insert"]
	d.Horn.Coverage = optional.Float{}
	s := made(t, &d, Options{Frequency: 1000})
	l := d.PathLength()
	if !(l > 0) || math.IsInf(l, 1) {
		t.Fatalf("the starter's front is flat: %g", l)
	}
	n := 0
	whole := s.Unfold()
	for i, c := range whole.Triangles {
		for k, lag := range whole.Lag[i] {
			want := 0.0
			if whole.About[whole.Group[i]].Kind == Exit {
				z := whole.Vertices[c[k%3]][2]
				if k >= 3 {
					z = (whole.Vertices[c[(k+1)%3]][2] + whole.Vertices[c[(k+2)%3]][2]) / 2
				}
				want = math.Sqrt(l*l+z*z) - l
				n++
			}
			if math.Abs(lag-want) > 1e-12 {
				t.Fatalf("triangle %d lags by %g m at point %d, want %g", i, lag, k, want)
			}
		}
	}
	if n == 0 {
		t.Error("no exit")
	}
}

// Driven with 1 m/s each cone has the volume velocity of its area, and at the edge of an
// exit the front is late by its lag over the speed of sound.
func TestDrive(t *testing.T) {
	d := starters(t)["hatch-insert"]
	s := made(t, &d, Options{Frequency: 1000, Whole: true})
	flow := 0.0
	for i, v := range s.Drive(1000, func(g *Group) complex128 {
		if g.Kind == Piston {
			return 1
		}
		return 0
	}) {
		flow += real(v) * s.Area(i/6) / 6
	}
	if math.Abs(flow-2*139e-4) > 1e-12 {
		t.Errorf("volume velocity %g m³/s, want that of two cones of 139 cm²", flow)
	}
	turns := 0
	c := air.Of(d.Air).SoundSpeed
	for i, v := range s.Drive(1000, func(g *Group) complex128 {
		if g.Kind == Exit {
			return 2
		}
		return 0
	}) {
		if lag := s.Lag[i/6][i%6]; lag > 0.01 {
			turns++
			want := cmplx.Rect(2, -2*math.Pi*1000*lag/c)
			if cmplx.Abs(v/want-1) > 1e-6 { // of the exit's area as meshed
				t.Fatalf("velocity %g, want %g", v, want)
			}
		}
	}
	if turns == 0 {
		t.Error("the front is flat")
	}
}

// The same bytes come out again, on one core too.
func TestSameAgain(t *testing.T) {
	d := starters(t)["hatch-mids"]
	first := made(t, &d, Options{Frequency: 1000, Boxes: 2})
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	again := made(t, &d, Options{Frequency: 1000, Boxes: 2})
	if !reflect.DeepEqual(first.Mesh, again.Mesh) || !slices.Equal(first.Lag, again.Lag) {
		t.Error("another surface")
	}
}

// A context that has ended is the error.
func TestCancelled(t *testing.T) {
	d := starters(t)["hatch"]
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if s, _, err := New(ctx, &d, Options{Frequency: 1000}); s != nil || !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
}

// What the surface cannot do without, and what is in the way, each by its reason.
func TestFaults(t *testing.T) {
	all := starters(t)
	for _, c := range []struct {
		of     Reason
		from   string
		change func(d *design.Design)
	}{
		{DepthLacks, "hatch", func(d *design.Design) { d.Cabinet.Depth = optional.Float{} }},
		{PistonLacks, "hatch", func(d *design.Design) {
			d.Woofer = design.Woofer{PerBox: 1}
			d.Woofer.Fs = optional.Of(40)
		}},
		{MouthLacks, "hatch-insert", func(d *design.Design) { d.Insert.MouthWidth = optional.Float{} }},
		{ChamberLacks, "hatch-insert", func(d *design.Design) { d.Insert.ChamberVolume = optional.Float{} }},
		{Leaves, "hatch", func(d *design.Design) { d.Bands.Woofer.Offset = optional.Of(0.25) }},
		{Meet, "hatch", func(d *design.Design) { d.Bands.Horn.Offset = optional.Of(-0.06) }},
		{Collide, "hatch", func(d *design.Design) { d.Line.Splay[2] = 0.06 }},
		{Collide, "hatch", func(d *design.Design) { d.Cabinet.Gap, d.Cabinet.Pitch = optional.Float{}, optional.Of(0.267) }},
		{PocketLeaves, "hatch-mids", func(d *design.Design) { d.Bands.Woofer.Setback = optional.Of(0.36) }},
		{StandsOut, "hatch-mids", func(d *design.Design) { d.Bands.Woofer.Setback = optional.Of(0.03) }},
		{StandsOut, "hatch-insert", func(d *design.Design) { d.Bands.Woofer.Setback = optional.Of(0.011) }},
		{Meet, "hatch-insert", func(d *design.Design) { d.Insert.Spacing = d.Insert.MouthHeight }},
	} {
		d := all[c.from]
		d.Line.Splay = slices.Clone(d.Line.Splay)
		c.change(&d)
		_, faults, _ := New(context.Background(), &d, Options{Frequency: 1000, Boxes: 7})
		if !slices.ContainsFunc(faults, func(f Fault) bool { return f.Of == c.of }) {
			t.Errorf("%v: %v", c.of, faults)
		}
	}
}

func TestReasonsAreWorded(t *testing.T) {
	for r := range ReasonCount {
		if r.String() == "" {
			t.Errorf("reason %d has no words", r)
		}
	}
}
