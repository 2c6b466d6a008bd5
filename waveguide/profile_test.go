package waveguide

import (
	"errors"
	"math"
	"testing"

	"gapline/internal/numeric"
	"gapline/internal/wordset"
)

// profiled is a horn of the profile, with a list of areas for the one by points.
func profiled(p Profile) Horn {
	h := NewHorn()
	h.Profile, h.Throat, h.MouthWidth, h.MouthHeight, h.Length = p, 0.03, 0.3, 0.2, 0.35
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
