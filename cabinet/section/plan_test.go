package section

import (
	"context"
	"math"
	"slices"
	"testing"

	"gapline/cabinet/design"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/waveguide"
	"gapline/waveguide/wave"
)

const degree = math.Pi / 180

// box is an invented design that gives just what the sections need.
func box() design.Design {
	d := design.New()
	d.Cabinet.Width, d.Cabinet.Depth = optional.Of(0.62), optional.Of(0.43)
	d.Horn.Coverage, d.Horn.MouthWidth, d.Horn.MouthHeight, d.Horn.Throat = optional.Of(85*degree), optional.Of(0.33), optional.Of(0.258), optional.Of(0.036)
	d.Horn.Profile, d.Horn.Length = waveguide.ExponentialProfile, optional.Of(0.3)
	d.Woofer.EffectiveDiameter = optional.Of(0.12)
	// One woofer in the middle of the front on each side of the horn.
	d.Woofer.PerBox, d.Bands.Woofer.Lateral = 2, optional.Of(0.465)
	d.Bands.Woofer.Offset, d.Bands.Horn.Offset = optional.Of(0), optional.Of(0)
	return d
}

// folded is box with a fold.
func folded() design.Design {
	d := box()
	d.Fold.ThroatToWall, d.Fold.VirtualPath, d.Fold.Layer = optional.Of(0.11), optional.Of(1.2), optional.Of(0.014)
	return d
}

func mustPlan(t *testing.T, d *design.Design, driven Driven) wave.Plan {
	t.Helper()
	p, faults := PlanOf(d, driven)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if _, err := p.Problem(Air(d)); err != nil {
		t.Fatal(err)
	}
	return p
}

func TestStraightWallsStandAtTheCoverage(t *testing.T) {
	d := box()
	p := mustPlan(t, &d, ByHorn)
	n := len(p.Horn)
	a, b := p.Horn[n-2], p.Horn[n-1]
	if angle := 2 * math.Atan2(b.Across-a.Across, b.Along-a.Along); math.Abs(angle-85*degree) > 1e-12 {
		t.Errorf("walls open by %g°, want 85", angle/degree)
	}
	if b != (wave.WallPoint{Across: 0.165}) || a.Across != 0.018 {
		t.Errorf("walls from %v to %v, want from 18 mm off the middle to the mouth's edge", a, b)
	}
	if s := p.Horn[0]; s.Across != 0.018 || math.Abs(a.Along-s.Along-0.036) > 1e-12 {
		t.Errorf("slot starts at %v, want 36 mm behind %v", s, a)
	}
	if p.Drive != 1 || p.Openings != nil {
		t.Errorf("drive %v, woofers %v: want the horn alone driven", p.Drive, p.Openings)
	}
}

func TestSlotIsShortInAShallowCabinet(t *testing.T) {
	d := box()
	deep := (0.165 - 0.018) / math.Tan(42.5*degree)
	d.Cabinet.Depth = optional.Of(deep + 0.01)
	p := mustPlan(t, &d, ByHorn)
	if l := -p.Horn[0].Along - deep; math.Abs(l-0.005) > 1e-12 {
		t.Errorf("slot %g m long, want half of the 10 mm behind the walls", l)
	}
}

func TestProfileWalls(t *testing.T) {
	d := box()
	d.Section.SideWalls = design.ProfileWalls
	check := func(name string, want func(x float64) float64) {
		t.Helper()
		for _, w := range mustPlan(t, &d, ByHorn).Horn[1:] {
			x := w.Along + d.Horn.Length.Value()
			if math.Abs(w.Across-want(x)) > 1e-9 {
				t.Errorf("%s: half-width %g m at %g m, want %g", name, w.Across, x, want(x))
			}
		}
	}
	ratio := math.Log(0.165 / 0.018)
	check("exponential", func(x float64) float64 { return 0.018 * math.Exp(ratio*x/0.3) })
	d.Horn.Profile = waveguide.ConicalProfile
	check("conical", func(x float64) float64 { return 0.018 + (0.165-0.018)*x/0.3 })
	// A tractrix: the tangent from each point to the axis is as long as the mouth's
	// half-width, so the slope there is r/√(a² − r²).
	d.Horn.Profile = waveguide.TractrixProfile
	wall := mustPlan(t, &d, ByHorn).Horn[1:]
	for i := 1; i < len(wall)-1; i++ {
		a, b := wall[i-1], wall[i+1]
		r := wall[i].Across
		want := math.Atan2(r, math.Sqrt(0.165*0.165-r*r))
		if got := math.Atan2(b.Across-a.Across, b.Along-a.Along); math.Abs(got-want) > 0.03 {
			t.Errorf("tractrix: slope %.2f° at %g m off the middle, want %.2f°", got/degree, r, want/degree)
		}
	}
}

func TestWooferOpenings(t *testing.T) {
	d := box()
	d.Section.EdgeRadius = optional.Of(0.01)
	p := mustPlan(t, &d, ByWoofers)
	// The flat front runs from 165 to 300 mm off the middle.
	if len(p.Openings) != 2 || p.Drive != 0 || !p.Symmetric() {
		t.Fatalf("woofers %v, drive %v", p.Openings, p.Drive)
	}
	if w := p.Openings[0]; math.Abs(w.Right-0.1725) > 1e-12 || math.Abs(w.Left-0.2925) > 1e-12 || w.Velocity != 1 {
		t.Errorf("opening %+v, want 120 mm in the middle of the front", w)
	}
	d.Insert.Mouths, d.Insert.MouthWidth = 2, optional.Of(0.08)
	if w := mustPlan(t, &d, ByWoofers).Openings[0]; math.Abs(w.Left-w.Right-0.08) > 1e-12 {
		t.Errorf("opening %+v, want the insert's mouth of 80 mm", w)
	}
}

// A fold ends in its layer, and takes of the horn's length what its middle ray runs:
// throat to wall 110 mm, and from there past the throat to the mouth plane, 18 mm of
// throat and 14 mm of layer in front of it.
func TestPlanBehindAFold(t *testing.T) {
	d := folded()
	d.Section.SideWalls = design.ProfileWalls
	p := mustPlan(t, &d, ByHorn)
	if got := p.Horn[0].Across; got != 0.007 {
		t.Errorf("slot half-width %g m, want half of the layer's 14 mm", got)
	}
	if got, want := -p.Horn[1].Along, 0.3-(0.110+0.110+0.018+0.014); math.Abs(got-want) > 1e-12 {
		t.Errorf("side walls %g m long, want %g", got, want)
	}
	d.Section.SlotWidth = optional.Of(0.03)
	if got := mustPlan(t, &d, ByHorn).Horn[0].Across; got != 0.015 {
		t.Errorf("slot half-width %g m, want half of horn.slot_width", got)
	}
}

func TestPlanFaults(t *testing.T) {
	absent := numeric.Absent
	for _, c := range []struct {
		change func(*design.Design)
		driven Driven
		want   Reason
		values []float64 // to a micrometre
	}{
		{func(d *design.Design) { d.Cabinet.Width = optional.Of(absent) }, ByHorn, WidthLacks, nil},
		{func(d *design.Design) { d.Cabinet.Depth = optional.Of(absent) }, ByHorn, DepthLacks, nil},
		{func(d *design.Design) { d.Horn.MouthWidth = optional.Of(absent) }, ByHorn, MouthWidthLacks, nil},
		{func(d *design.Design) { d.Horn.Throat = optional.Of(absent) }, ByHorn, SlotLacks, nil},
		{func(d *design.Design) { d.Horn.Coverage = optional.Of(absent) }, ByHorn, CoverageLacks, nil},
		{func(d *design.Design) { d.Horn.MouthWidth = optional.Of(0.03) }, ByHorn, SlotTooWide, []float64{0.036, 0.03}},
		{func(d *design.Design) { d.Section.SlotWidth = optional.Of(0.5) }, ByHorn, SlotTooWide, []float64{0.5, 0.33}},
		{func(d *design.Design) { d.Horn.Coverage = optional.Of(20 * degree) }, ByHorn, WallsTooDeep, []float64{0.147 / math.Tan(10*degree), 0.036, 0.33}},
		{func(d *design.Design) { d.Section.SideWalls, d.Horn.Length = design.ProfileWalls, optional.Of(0.5) }, ByHorn, ProfileDeep, []float64{0.5}},
		{func(d *design.Design) { d.Section.SideWalls, d.Horn.Profile = design.ProfileWalls, 0 }, ByHorn, ProfileFails, nil},
		{func(d *design.Design) { d.Woofer.EffectiveDiameter = optional.Of(0.2) }, ByWoofers, OpeningWide, []float64{0.2, 0.145}},
		{func(d *design.Design) { d.Woofer.EffectiveDiameter = optional.Of(absent) }, ByWoofers, OpeningLacks, nil},
	} {
		d := box()
		c.change(&d)
		_, faults := PlanOf(&d, c.driven)
		near := func(a, b float64) bool { return math.Abs(a-b) < 1e-6 }
		if len(faults) != 1 || faults[0].Of != c.want || !slices.EqualFunc(faults[0].Values, c.values, near) || (faults[0].Err != nil) != (c.want == ProfileFails) {
			t.Errorf("%+v, want reason %d with %v", faults, c.want, c.values)
		}
	}
}

func TestCheckPlanStandsBesideTheLowerLevels(t *testing.T) {
	d := box()
	p := mustPlan(t, &d, ByHorn)
	s := Solve{Frequencies: []float64{500, 800, 1000, 1250, 1600, 2000, 4000, 5000}}
	c, err := CheckPlan(context.Background(), &d, p, ByHorn, s)
	if err != nil {
		t.Fatal(err)
	}
	// Keele's rule, 10⁶ inch·degree·Hz: the width is that over W·f, and the
	// coverage from 905.6 Hz on.
	if got, want := c.Rule[0]/degree, 1e6*0.0254/(0.33*500); math.Abs(got-want) > 1e-9 {
		t.Errorf("rule at 500 Hz %g°, want %g", got, want)
	}
	if got := c.Rule[2] / degree; math.Abs(got-85) > 1e-9 {
		t.Errorf("rule at 1 kHz %g°, want 85", got)
	}
	// The three levels look at one horn: within an octave of each other.
	computed := waveguide.ControlFrequency(0.33, 85*degree, Air(&d).SoundSpeed)
	if f := c.Figures.Pattern; !(f > computed/2 && f < computed*2) {
		t.Errorf("control by wave %g Hz, by aperture %g Hz", f, computed)
	}
	if !(c.Figures.Narrowest < 85*degree && c.Figures.NarrowestAt > c.Figures.Pattern) {
		t.Errorf("narrowest %g° at %g Hz", c.Figures.Narrowest/degree, c.Figures.NarrowestAt)
	}
	if c.Result.Change != nil {
		t.Error("an error estimate that nobody asked for")
	}
}

func TestWiderCabinetShieldsTheBack(t *testing.T) {
	// What only the wave level sees: the cabinet's front. The same horn in a much
	// wider one radiates less to the back at 500 Hz.
	back := func(width float64) float64 {
		d := box()
		d.Cabinet.Width = optional.Of(width)
		c, err := CheckPlan(context.Background(), &d, mustPlan(t, &d, ByHorn), ByHorn, Solve{Frequencies: []float64{500}})
		if err != nil {
			t.Fatal(err)
		}
		return c.Result.Pattern[0][len(c.Result.Angle)-1]
	}
	if narrow, wide := back(0.4), back(1.2); !(wide < narrow-2) {
		t.Errorf("level behind a cabinet 400 mm wide %.1f dB, 1200 mm wide %.1f dB", narrow, wide)
	}
}

func TestWoofersHaveNoHornFigures(t *testing.T) {
	d := box()
	c, err := CheckPlan(context.Background(), &d, mustPlan(t, &d, ByWoofers), ByWoofers, Solve{Frequencies: []float64{300, 1000}})
	if err != nil {
		t.Fatal(err)
	}
	if numeric.Given(c.Figures.Pattern) || c.Aperture != nil {
		t.Errorf("%+v, aperture %v", c.Figures, c.Aperture)
	}
	// Two strips ±232 mm off the middle: at 1 kHz the first null of cos(k d sin θ)
	// lies at 22°, so the level falls 6 dB before.
	if w := c.Result.Beamwidth[1]; !(w < 44*degree) {
		t.Errorf("width %g°, want below the first null's 44°", w/degree)
	}
}

func TestSideFlares(t *testing.T) {
	d := box()
	before := mustPlan(t, &d, ByHorn).Horn
	d.Horn.Sides.Length, d.Horn.Sides.Angle = optional.Of(0.05), optional.Of(100*degree)
	after := mustPlan(t, &d, ByHorn).Horn
	n := len(before)
	if want := (wave.WallPoint{Across: 0.165, Along: -0.05}); len(after) != n+1 || after[n-1] != want {
		t.Fatalf("wall %v, want the mouth at %v", after, want)
	}
	if got, want := after[n].Across, 0.165+0.05*math.Tan(50*degree); math.Abs(got-want) > 1e-12 || after[n].Along != 0 {
		t.Errorf("exit at %v, want %g m off the middle, flush", after[n], want)
	}
	c, err := CheckPlan(context.Background(), &d, mustPlan(t, &d, ByHorn), ByHorn, Solve{Frequencies: []float64{500, 4000}})
	if err != nil {
		t.Fatal(err)
	}
	if got := c.Rule[1] / degree; math.Abs(got-100) > 1e-9 {
		t.Errorf("rule high up %g°, want the flares' 100", got)
	}
	d.Horn.Sides.Length = optional.Of(0.3)
	if _, faults := PlanOf(&d, ByHorn); len(faults) != 1 || faults[0].Of != FlaresTooDeep {
		t.Errorf("flares too deep: %v", faults)
	}
}
