package waveguide

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gapline/internal/numeric"
	"gapline/internal/reftable"

	"pgregory.net/rapid"
)

func mustDesign(t testing.TB, s FoldSpec) FoldDesign {
	t.Helper()
	d, err := DesignFold(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// For the parabola the range has a closed form: the fan is under 180° for
// a > h/4, and the depth allows a = depth - mouth distance - overhang.
func TestParabolaRangeInClosedForm(t *testing.T) {
	s := spec343(numeric.Absent, math.Inf(1), 0.01, 0.25)
	s.CabinetDepth, s.RearAllowance = 0.2, 0.02
	d := mustDesign(t, s)
	if len(d.Options) != 1 || !d.Fits {
		t.Fatalf("%+v", d)
	}
	o := d.Options[0]
	reftable.Near(t, "shortest", o.Shortest, 0.25/4, 1e-9)
	overhang := 0.01 * (1 - math.Pi/4)
	reftable.Near(t, "longest", o.Longest, 0.2-0.015-overhang-0.02, 1e-9)
	if o.ShortBy != FoldAngle || o.LongBy != FoldDepth || o.Kind != WallParabola {
		t.Errorf("bound by %q and %q, kind %q", o.ShortBy, o.LongBy, o.Kind)
	}
	// The gentle fan of 120°: a = (h/4)/tan 30°.
	reftable.Near(t, "best a", d.Best.Spec.ThroatToWall, 0.0625/math.Tan(math.Pi/6), 1e-9)
}

// The solved range must be the set of a at which NewFold succeeds and every note
// about room is good; a scan over a is the independent check.
func TestRangeAgainstScan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := rapid.Float64Range(0.1, 0.4).Draw(t, "h")
		s := spec343(numeric.Absent, math.Inf(1), 0.01, h)
		if rapid.Bool().Draw(t, "finite") {
			s.VirtualPath = rapid.Float64Range(0.1, 3).Draw(t, "L")
		}
		if rapid.Bool().Draw(t, "off axis") {
			s.ThroatHeight = h * rapid.Float64Range(-0.4, 0.4).Draw(t, "throat height")
		}
		s.CabinetDepth = rapid.Float64Range(0.08, 0.5).Draw(t, "depth")
		d, err := DesignFold(s)
		if err != nil {
			t.Fatal(err)
		}
		o := d.Options[0]
		const step = 0.0037
		for a := step; a < 0.6; a += step {
			u := s
			u.ThroatToWall = a
			f, err := NewFold(u)
			good := err == nil
			if good {
				for _, n := range f.Notes() {
					if n.Of == FoldDepth || n.Of == FoldClearance && s.ThroatHeight == 0 {
						good = good && n.OK
					}
				}
			}
			inside := a > o.Shortest && a < o.Longest
			near := math.Min(math.Abs(a-o.Shortest), math.Abs(a-o.Longest)) < 1e-6
			if good != inside && !near && !(numeric.Given(s.ThroatHeight) && a < 0.015) {
				t.Fatalf("a = %g: good %v (%v), range %+v", a, good, err, o)
			}
		}
	})
}

// A flatness target tries the straight wall first. A low target is met by it;
// physics.md: L = 2a + z_m there, and the sagitta a quarter wave.
func TestFlatnessTargetPicksTheSimplestWall(t *testing.T) {
	s := spec343(numeric.Absent, numeric.Absent, 0.01, 0.2)
	s.CabinetDepth, s.TopFrequency = 0.3, 7000
	d := mustDesign(t, s)
	if !d.Fits || d.Best.Wall.Kind() != WallStraight {
		t.Fatalf("%+v", d)
	}
	l := flatPath(0.2, 343/28e3)
	reftable.Near(t, "shortest a", d.Options[0].Shortest, (l-0.015)/2, 1e-9)
	s.TopFrequency = 16e3
	d = mustDesign(t, s)
	if !d.Fits || d.Best.Wall.Kind() != WallHyperbola || d.Options[0].Fits {
		t.Fatalf("%+v", d)
	}
	reftable.Near(t, "flat to", d.Best.FlatTo(), 16e3, 1e-9)
}

func TestWhatBindsAndWhatWouldFit(t *testing.T) {
	inf := math.Inf(1)
	s := spec343(numeric.Absent, inf, 0.01, 0.4)
	s.CabinetDepth = 0.1
	d := mustDesign(t, s)
	if d.Fits || !slices.Equal(d.Binding, []FoldLimit{FoldDepth, FoldAngle}) {
		t.Fatalf("%+v", d)
	}
	// Closed form: depth > h/4 + mouth distance + overhang, and the mouth the other way round.
	over := 0.015 + 0.01*(1-math.Pi/4)
	reftable.Within(t, "depth", d.Nearest.CabinetDepth, 0.1+over, 2e-6)
	reftable.Within(t, "mouth", d.Nearest.MouthHeight, 4*(0.1-over), 2e-5)
	if numeric.Given(d.Nearest.Fan) {
		t.Errorf("a wider fan than 180° cannot help, got %g", d.Nearest.Fan)
	}
	for name, edit := range map[string]func(*FoldSpec){
		"depth": func(s *FoldSpec) { s.CabinetDepth = d.Nearest.CabinetDepth },
		"mouth": func(s *FoldSpec) { s.MouthHeight = d.Nearest.MouthHeight },
		"path":  func(s *FoldSpec) { s.VirtualPath = d.Nearest.VirtualPath },
	} {
		u := s
		edit(&u)
		if !mustDesign(t, u).Fits {
			t.Errorf("nearest by %s does not fit: %+v", name, d.Nearest)
		}
	}

	s = spec343(numeric.Absent, inf, 0.01, 0.4)
	s.CabinetDepth, s.CabinetHeight = 0.4, 0.3
	d = mustDesign(t, s)
	if d.Fits || !slices.Equal(d.Binding, []FoldLimit{FoldHeight}) || d.Nearest.CabinetHeight != 0.4 {
		t.Fatalf("%+v", d)
	}
	reftable.Within(t, "mouth under the cabinet's height", d.Nearest.MouthHeight, 0.3, 2e-6)

	s = spec343(numeric.Absent, inf, 0.01, 0.25)
	s.CabinetDepth, s.MaxFan = 0.12, math.Pi/3
	d = mustDesign(t, s)
	// Parabola: fan 4·atan(h/(4a)) at the longest a.
	reftable.Within(t, "fan", d.Nearest.Fan, 4*math.Atan(0.0625/(0.12-over)), 1e-5)

	s.CabinetWidth = 0.015
	if d = mustDesign(t, s); !slices.Contains(d.Binding, FoldWidth) || d.Nearest.CabinetWidth != 0.02 {
		t.Fatalf("%+v", d)
	}
}

func TestDesignErrors(t *testing.T) {
	s := spec343(numeric.Absent, math.Inf(1), 0.01, 0.25)
	s.CabinetDepth = -1
	if _, err := DesignFold(s); err == nil || !strings.Contains(err.Error(), "cabinet depth is -1000 mm") {
		t.Errorf("negative depth: %v", err)
	}
	s.CabinetDepth, s.MaxFan = 0.3, 4
	if _, err := DesignFold(s); err == nil || !strings.Contains(err.Error(), "widest fan") {
		t.Errorf("fan: %v", err)
	}
}

func BenchmarkDesignFold(b *testing.B) {
	s := spec343(numeric.Absent, numeric.Absent, 0.01, 0.25)
	s.CabinetDepth = 0.3
	for b.Loop() {
		if _, err := DesignFold(s); err != nil {
			b.Fatal(err)
		}
	}
}
