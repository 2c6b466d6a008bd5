package waveguide

import (
	"errors"
	"math"
	"slices"
	"testing"

	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/wordset"
)

// profiled is a horn of the profile, with a list of areas for the one by points.
func profiled(p Profile) Horn {
	h := Horn{}
	h.Profile, h.Throat, h.MouthWidth, h.MouthHeight, h.Length = p, optional.Of(0.03), optional.Of(0.3), optional.Of(0.2), optional.Of(0.35)
	if p == ByPoints {
		h.Distances, h.Areas = []float64{0, 0.2, 0.35}, []float64{math.Pi * 0.03 * 0.03 / 4, 0.01, 0.06}
	}
	return h
}

// Every profile runs from throat to mouth, loads its driver, and has side walls
// from slot to mouth or says that it has none.
func TestEveryProfileIsWhole(t *testing.T) {
	if err := wordset.Check(profileCount); err != nil {
		t.Fatal(err)
	}
	for _, p := range wordset.All[Profile]() {
		h := profiled(p)
		law, err := h.Flare()
		if err != nil {
			t.Errorf("%s: %v", p, err)
			continue
		}
		for what, x := range map[string][2]float64{
			"throat": {law.Area(0), math.Pi * 0.03 * 0.03 / 4}, "mouth": {law.Area(law.Length()), 0.06}, "throat's area": {h.ThroatArea(), law.Area(0)},
		} {
			if math.Abs(x[0]/x[1]-1) > 1e-9 {
				t.Errorf("%s: %s of %g m², want %g", p, what, x[0], x[1])
			}
		}
		if f := law.Cutoff(343); numeric.Given(f) != numeric.Given(h.Cutoff(343)) || f <= 0 {
			t.Errorf("%s: cutoff %g Hz", p, f)
		}
		if _, err := Load(law, h.MouthLoad(), 343, []float64{500, 2000}, 1e-4); err != nil {
			t.Errorf("%s: %v", p, err)
		}
		side, err := h.SideWall(0.012, 0.15)
		if errors.Is(err, ErrNoWidths) {
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", p, err)
			continue
		}
		if a, b := side.HalfWidth(0), side.HalfWidth(side.Length()); math.Abs(a-0.012) > 1e-9 || math.Abs(b-0.15) > 1e-9 {
			t.Errorf("%s: side wall from %g to %g m, want 0.012 to 0.15", p, a, b)
		}
	}
}

// The catenoid S = S_t cosh²(x/x₀), x₀ = l/arcosh √(S_m/S_t), with the cutoff
// c/(2πx₀): Salmon's family at T = 0 (JASA 17 (1946) 212-218). In the plan
// section the half-width grows by the same law.
func TestCatenoidalIsItsClosedForm(t *testing.T) {
	h := profiled(CatenoidalProfile)
	law, err := h.Flare()
	if err != nil {
		t.Fatal(err)
	}
	side, err := h.SideWall(0.012, 0.15)
	if err != nil {
		t.Fatal(err)
	}
	catenoid := func(from, to, x float64) float64 {
		c := math.Cosh(x / h.Length.Value() * math.Acosh(math.Sqrt(to/from)))
		return from * c * c
	}
	throat := math.Pi * 0.03 * 0.03 / 4
	for i := range 8 {
		x := h.Length.Value() * float64(i) / 7
		if got, want := law.Area(x), catenoid(throat, 0.06, x); math.Abs(got/want-1) > 1e-12 {
			t.Errorf("%g m²  at %g m, want %g", got, x, want)
		}
		if got, want := side.HalfWidth(x), catenoid(0.012, 0.15, x); math.Abs(got/want-1) > 1e-12 {
			t.Errorf("half-width of %g m at %g m, want %g", got, x, want)
		}
	}
	want := 343 * math.Acosh(math.Sqrt(0.06/throat)) / (2 * math.Pi * h.Length.Value())
	if got := law.Cutoff(343); math.Abs(got/want-1) > 1e-12 {
		t.Errorf("cutoff %g Hz, want %g", got, want)
	}
}

// Catenoidal and hyperbolic with T = 0 are one horn, in its loading, its cutoff and
// its walls in the plan section.
func TestCatenoidalIsHyperbolicOfFamilyZero(t *testing.T) {
	a, b := profiled(CatenoidalProfile), profiled(HyperbolicProfile)
	b.Family = optional.Of(0)
	lawA, errA := a.Flare()
	lawB, errB := b.Flare()
	wallA, errC := a.SideWall(0.012, 0.15)
	wallB, errD := b.SideWall(0.012, 0.15)
	if err := errors.Join(errA, errB, errC, errD); err != nil {
		t.Fatal(err)
	}
	f := []float64{300, 700, 2000}
	loadA, errA := Load(lawA, a.MouthLoad(), 343, f, 1e-6)
	loadB, errB := Load(lawB, b.MouthLoad(), 343, f, 1e-6)
	if errA != nil || errB != nil || !slices.Equal(loadA.Impedance, loadB.Impedance) {
		t.Errorf("throat impedance %v, want %v (%v, %v)", loadA.Impedance, loadB.Impedance, errA, errB)
	}
	if a.Cutoff(343) != b.Cutoff(343) {
		t.Errorf("cutoff %g Hz, want %g", a.Cutoff(343), b.Cutoff(343))
	}
	for i := range 8 {
		x := a.Length.Value() * float64(i) / 7
		if got, want := wallA.HalfWidth(x), wallB.HalfWidth(x); got != want {
			t.Errorf("half-width of %g m at %g m, want %g", got, x, want)
		}
	}
}

// A horn of no profile is one by points where it has them, and none without.
func TestProfileThatIsNotGiven(t *testing.T) {
	h := profiled(ByPoints)
	h.Profile = 0
	if law, err := h.Flare(); err != nil || law.Length() != 0.35 {
		t.Errorf("points without a profile: %v, %v", law, err)
	}
	if _, err := profiled(0).Flare(); err == nil {
		t.Error("a horn without profile has a flare")
	}
}
