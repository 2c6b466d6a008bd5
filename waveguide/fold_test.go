package waveguide

import (
	"math"
	"strings"
	"testing"

	"gapline/internal/numeric"
	"gapline/internal/reftable"

	"pgregory.net/rapid"
)

const c343 = 343.0

func mustFold(t testing.TB, s FoldSpec) Fold {
	t.Helper()
	f, err := NewFold(s)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func spec343(a, l, layer, h float64) FoldSpec {
	s := NewFoldSpec(a, l, layer, h)
	s.SoundSpeed = c343
	return s
}

func mustRays(t testing.TB, f Fold, n int) []Ray {
	t.Helper()
	r, err := f.Rays(n)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// The parabola by its textbook equation z = -a + y²/(4a), every path 2a + z_m,
// half-height 2a tan(φ_max/2).
func TestParabolaAgainstTextbook(t *testing.T) {
	const a, h = 0.12, 0.25
	f := mustFold(t, spec343(a, math.Inf(1), 0.012, h))
	if k := f.Wall.Kind(); k != WallParabola {
		t.Errorf("kind = %q", k)
	}
	reftable.Near(t, "h/2 = 2a tan(φ/2)", 2*a*math.Tan(f.Fan().High/2), h/2, 1e-14)
	for _, r := range mustRays(t, f, 1000) {
		reftable.Within(t, "wall z", r.Wall.Z, -a+r.Wall.Y*r.Wall.Y/(4*a), 1e-15)
		reftable.Within(t, "path", r.Path, 2*a+f.MouthZ(), 1e-15)
		reftable.Within(t, "ray runs along the axis", r.MouthY, r.Wall.Y, 0)
		reftable.Within(t, "incidence is φ/2", math.Cos(r.Incidence), math.Cos(r.Angle/2), 1e-14)
		// physics: intensity in proportion to 1 + cos φ.
		reftable.Within(t, "level", r.Level, 10*math.Log10((1+math.Cos(r.Angle))/2), 1e-12)
	}
	reftable.Within(t, "taper", f.Taper(), 10*math.Log10((1+math.Cos(f.Fan().High))/2), 1e-12)
	if !math.IsInf(f.FlatTo(), 1) || !(f.PathSpread() <= 1e-9) {
		t.Errorf("spread %g m, flat to %g Hz", f.PathSpread(), f.FlatTo())
	}
	reftable.Near(t, "depth", f.Depth(), a+f.MouthZ(), 1e-15)
}

// The straight wall is the mirror: the apex is the throat's image and L the
// unfolded path.
func TestStraightWallIsAMirror(t *testing.T) {
	s := spec343(0.15, numeric.Absent, 0.01, 0.2)
	s.Wall = StraightWall
	s.ThroatHeight = 0.03
	f := mustFold(t, s)
	reftable.Near(t, "L", f.VirtualPath(), 0.3+f.MouthZ(), 1e-15)
	for _, r := range mustRays(t, f, 101) {
		reftable.Within(t, "wall z", r.Wall.Z, -0.15, 1e-15)
		want := math.Hypot(f.MouthZ()+0.3, r.MouthY-0.03)
		reftable.Near(t, "path as the crow flies from the image", r.Path, want, 1e-14)
	}
	reftable.Near(t, "depth", f.Depth(), 0.15+f.MouthZ(), 1e-15)
	// A given L of just that length makes the same wall (throat in the middle).
	s.ThroatHeight = 0
	s.Wall = CurvedWall
	s.VirtualPath = 0.3 + 0.015
	if g := mustFold(t, s); g.Wall.Kind() != WallStraight {
		t.Errorf("kind = %q, q = %g", g.Wall.Kind(), g.Wall.Q)
	}
}

// physics.md section 4: sagitta √(L²+h²/4) - L, flat to c/(4s).
func TestSpreadIsTheSagitta(t *testing.T) {
	for _, l := range []float64{0.3, 0.4, 0.8, 1.5, 20} {
		spec := spec343(0.12, l, 0.012, 0.25)
		spec.BendRadius, spec.RearAllowance = 0.004, 0.009
		f := mustFold(t, spec)
		s := math.Hypot(l, 0.125) - l
		reftable.Near(t, "spread", f.PathSpread(), s, 1e-11)
		reftable.Near(t, "flat to", f.FlatTo(), c343/(4*s), 1e-11)
		// A half turn as long in the middle as the path it stands for lies half its mean
		// length, (π/2)(ρ + t/2), inside the wall; behind its outside is the allowance.
		built := f.MouthZ() + 0.12 + (0.004 + 0.012 - math.Pi/2*(0.004+0.006)) + 0.009
		reftable.Within(t, "depth saved", f.DepthSaved(), l-built, 1e-15)
	}
}

// "A 250 mm mouth flat to 16 kHz wants L of about 1.5 m".
func TestFlatPathOfTheBriefsExample(t *testing.T) {
	reftable.Within(t, "L", flatPath(0.25, c343/(4*16e3)), 1.5, 0.05)
	f := mustFold(t, spec343(0.12, math.Inf(1), 0.012, 0.25))
	reftable.Near(t, "straight horn", math.Hypot(f.StraightLength(), 0.125)-f.StraightLength(), c343/64e3, 1e-10)
}

// drawnFold is a random fold that may be possible or not.
func drawnFold(t *rapid.T) (Fold, error) {
	h := rapid.Float64Range(0.05, 0.6).Draw(t, "h")
	s := NewFoldSpec(
		rapid.Float64Range(0.03, 0.6).Draw(t, "a"), math.Inf(1),
		rapid.Float64Range(0.004, 0.03).Draw(t, "layer"), h)
	if rapid.Bool().Draw(t, "round") {
		s.VirtualPath = rapid.Float64Range(0.05, 50).Draw(t, "L")
	}
	if rapid.Bool().Draw(t, "off axis") {
		s.ThroatHeight = h * rapid.Float64Range(-0.5, 0.5).Draw(t, "throat height")
	}
	if rapid.Bool().Draw(t, "mouth") {
		s.MouthDistance = rapid.Float64Range(0.02, 0.5).Draw(t, "mouth distance")
	}
	return NewFold(s)
}

// Over random folds: the front is circular about the virtual apex (or plane), the
// reflections obey the law of reflection, the energy of the fan arrives on the
// mouth, and the rays span it.
func TestFoldProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, err := drawnFold(t)
		if err != nil {
			t.Skip(err.Error())
		}
		rays, err := f.Rays(41)
		if err != nil {
			t.Fatal(err)
		}
		within := func(what string, got, want, tol float64) {
			if !(math.Abs(got-want) <= tol) {
				t.Fatalf("%s = %.15g, want %.15g", what, got, want)
			}
		}
		within("lower edge", rays[0].MouthY, -f.Spec.MouthHeight/2, 1e-9)
		within("upper edge", rays[40].MouthY, f.Spec.MouthHeight/2, 1e-9)
		rest := make([]float64, len(rays))
		for i, r := range rays {
			m := Point{f.MouthZ(), r.MouthY}
			if v, ok := f.Apex(); ok {
				rest[i] = r.Path - v.distance(m)
			} else {
				rest[i] = r.Path
			}
			within("all but the distance from the apex", rest[i], rest[0], 1e-9)
			within("angle of the ray", f.AngleAt(r.MouthY), r.Angle, 1e-9)
			if r.Wall.Z < f.rearmost()-1e-12 {
				t.Fatalf("wall at z = %g, rearmost %g", r.Wall.Z, f.rearmost())
			}
			// Law of reflection at the wall's own normal.
			in := r.Wall.minus(f.Throat())
			in = in.times(1 / math.Hypot(in.Z, in.Y))
			n := f.Wall.Normal(r.Angle)
			out := m.minus(r.Wall)
			out = out.times(1 / math.Hypot(out.Z, out.Y))
			mirrored := in.along(n, -2*in.dot(n))
			within("reflection", mirrored.distance(out), 0, 1e-8)
		}
		within("energy", f.MouthEnergy()/f.Fan().Width(), 1, 1e-9)
	})
}

// The intensity must be the ray density counted from the rays themselves: the
// angle between neighbours over their distance across the ray.
func TestIntensityIsCountedRayDensity(t *testing.T) {
	for _, l := range []float64{0.35, 0.9, math.Inf(1)} {
		s := spec343(0.14, l, 0.01, 0.28)
		s.ThroatHeight = 0.04
		f := mustFold(t, s)
		rays := mustRays(t, f, 2001)
		for i := 1; i < len(rays)-1; i += 100 {
			before, at, after := rays[i-1], rays[i], rays[i+1]
			slope := (at.MouthY - at.Wall.Y) / (f.MouthZ() - at.Wall.Z)
			across := (after.MouthY - before.MouthY) / math.Hypot(1, slope)
			reftable.Near(t, "intensity", f.Intensity(at.MouthY), (after.Angle-before.Angle)/across, 1e-6)
		}
	}
}

// A shift e of the parabola along its axis spreads the paths by e(1 - cos φ_max)
// to first order (path change e(cos φ + 1), image sources).
func TestWallShiftToFirstOrder(t *testing.T) {
	f := mustFold(t, spec343(0.12, math.Inf(1), 0.012, 0.25))
	rate := 1 - math.Cos(f.Fan().High)
	for _, e := range []float64{1e-6, -1e-6} {
		d, err := f.ShiftWall(Point{e, 0})
		if err != nil {
			t.Fatal(err)
		}
		reftable.Near(t, "spread", d.PathSpread, 1e-6*rate, 1e-4)
	}
	tol, err := f.Tolerance()
	if err != nil {
		t.Fatal(err)
	}
	reftable.Near(t, "axial tolerance, first order", tol.Axial*rate, f.SpreadBudget(), 0.15)
	d, err := f.ShiftWall(Point{tol.Axial, 0})
	if err != nil {
		t.Fatal(err)
	}
	e, err := f.ShiftWall(Point{-tol.Axial, 0})
	if err != nil {
		t.Fatal(err)
	}
	reftable.Near(t, "spread at the tolerance", math.Max(d.PathSpread, e.PathSpread), f.SpreadBudget(), 1e-8)
	// A bump at normal incidence counts twice, up and down: 4e.
	reftable.Near(t, "profile tolerance", 4*tol.Profile, f.SpreadBudget(), 1e-3)
	if _, err := f.ShiftWall(Point{0.1, 0}); err == nil {
		t.Error("a shift beyond the throat gave no error")
	}
}

func TestDisplacedByNothingIsTheFold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, err := drawnFold(t)
		if err != nil {
			t.Skip(err.Error())
		}
		if got := f.displacedSpread(Point{}); math.Abs(got-f.PathSpread()) > 2e-3*f.PathSpread()+1e-9 {
			t.Fatalf("spread %g, want %g", got, f.PathSpread())
		}
	})
}

func TestFoldErrors(t *testing.T) {
	inf := math.Inf(1)
	good := func() FoldSpec { return spec343(0.12, inf, 0.012, 0.25) }
	cases := []struct {
		name string
		edit func(*FoldSpec)
		want string
	}{
		{"wide fan", func(s *FoldSpec) { s.ThroatToWall = 0.06 }, "less than 180°"},
		{"just 180", func(s *FoldSpec) { s.ThroatToWall = 0.0625 }, "less than 180°"},
		{"negative depth", func(s *FoldSpec) { s.CabinetDepth = -0.3 }, "cabinet depth is -300 mm"},
		{"negative a", func(s *FoldSpec) { s.ThroatToWall = -0.1 }, "throat to wall is -100 mm"},
		{"nothing", func(s *FoldSpec) { s.ThroatToWall = numeric.Absent }, "throat to wall is needed"},
		{"throat in front", func(s *FoldSpec) { s.MouthDistance = -0.01 }, "throat lies outside"},
		{"throat in wall", func(s *FoldSpec) { s.ThroatDiameter = 0.3; s.MouthDistance = 0.2 }, "reaches the wall"},
		{"short path", func(s *FoldSpec) { s.VirtualPath = 0.1 }, "apex in front of the wall"},
		{"zero path", func(s *FoldSpec) { s.VirtualPath = 0 }, "virtual path is 0 mm"},
		{"straight and path", func(s *FoldSpec) { s.Wall = StraightWall }, "leave virtual path out"},
		{"layer", func(s *FoldSpec) { s.Layer = 0 }, "layer thickness is 0 mm"},
		{"infinite a", func(s *FoldSpec) { s.ThroatToWall = inf }, "must be more than 0 and finite"},
	}
	for _, c := range cases {
		s := good()
		c.edit(&s)
		if _, err := NewFold(s); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want one with %q", c.name, err, c.want)
		}
	}
	s := good()
	s.Layer, s.MouthHeight = -1, -1
	if _, err := NewFold(s); err == nil || strings.Count(err.Error(), "\n") != 1 {
		t.Errorf("two faults: %v", err)
	}
	f := mustFold(t, good())
	if _, err := f.Rays(1); err == nil {
		t.Error("one ray gave no error")
	}
}

func TestNotesFollowTheNumbers(t *testing.T) {
	s := spec343(0.12, 0.6, 0.012, 0.25)
	s.CabinetDepth, s.CabinetWidth, s.CabinetHeight = 0.1, 0.02, 0.3
	f := mustFold(t, s)
	want := map[FoldLimit]bool{FoldFlatness: false, FoldCrossMode: false, FoldClearance: true,
		FoldTurn: true, FoldDepth: false, FoldWidth: false, FoldHeight: true}
	notes := f.Notes()
	if len(notes) != len(want) {
		t.Fatalf("%d notes, want %d", len(notes), len(want))
	}
	for _, n := range notes {
		if n.OK != want[n.Of] {
			t.Errorf("%s: ok = %v", n.Of, n.OK)
		}
	}
	// c/(2t), physics.md section 4.
	reftable.Near(t, "cross mode", f.CrossMode(), 343/0.024, 1e-14)
}

// The mirror picture keeps the path only if the turn's half circle is as long as
// what it replaces: inset each side of the wall.
func TestTurnKeepsThePathLength(t *testing.T) {
	s := spec343(0.12, math.Inf(1), 0.012, 0.25)
	s.BendRadius = 0.005
	f := mustFold(t, s)
	reftable.Near(t, "half circle", math.Pi*(0.005+0.006), 2*f.TurnInset(), 1e-14)
	reftable.Near(t, "outer surface", f.TurnInset()+f.TurnOverhang(), 0.017, 1e-14)
	reftable.Near(t, "stack", f.StackWidth(), 0.034, 1e-14)
}

func BenchmarkFoldThousandRays(b *testing.B) {
	s := spec343(0.12, 1.5, 0.012, 0.25)
	s.CabinetDepth, s.CabinetWidth, s.CabinetHeight = 0.3, 0.5, 0.3
	for b.Loop() {
		f, err := NewFold(s)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := f.Rays(1000); err != nil {
			b.Fatal(err)
		}
		if _, err := f.Tolerance(); err != nil {
			b.Fatal(err)
		}
		f.Notes()
		f.Taper()
	}
}
