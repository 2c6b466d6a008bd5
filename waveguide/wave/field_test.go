package wave

import (
	"context"
	"math"
	"math/cmplx"
	"testing"

	"gapline/internal/bem"
)

func TestPlanFieldMeetsTheFarField(t *testing.T) {
	// Far away the field is the pattern's F·e^{-jkr}/√r, which is computed by
	// another route. At r = 60 m, kr = 2200 and (kD)²/(2kr) is under 1 %.
	const hz, r = 2000.0, 60.0
	p := hornPlan()
	w := Window{X0: 0, X1: 0.02, Y0: r, Y1: r + 0.02, Step: 0.05}
	f, err := p.Field(context.Background(), testAir, hz, w, bem.Options{})
	if err != nil {
		t.Fatal(err)
	}
	k := 2 * math.Pi * hz / testAir.SoundSpeed
	want := mustPlan(t, p, []float64{hz}).Axis[0] * cmplx.Rect(1/math.Sqrt(r), -k*r)
	if got := f.Pressure[0][0]; cmplx.Abs(got-want) > 0.01*cmplx.Abs(want) {
		t.Errorf("pressure %g m away: %v, want %v", r, got, want)
	}
}

func TestPlanFieldLeavesTheCabinetBlank(t *testing.T) {
	p := hornPlan()
	half, err := p.Field(context.Background(), testAir, 900, Window{X1: 0.4, Y0: -0.5, Y1: 0.2, Step: 0.02}, bem.Options{})
	if err != nil {
		t.Fatal(err)
	}
	f := half.Mirrored()
	n := len(f.X)
	for j, y := range f.Y {
		for i, x := range f.X {
			got := f.Pressure[j][i]
			if a, b := got, f.Pressure[j][n-1-i]; a != b && !(cmplx.IsNaN(a) && cmplx.IsNaN(b)) {
				t.Fatalf("(%g, %g): %v, its mirror image %v", x, y, a, b)
			}
			behind := math.Abs(x) < 0.24 && y < -0.16 && y > -0.39 // the solid behind the throat
			outside := math.Abs(x) > 0.26 || y > 0.01 || y < -0.41
			if behind != cmplx.IsNaN(got) && (behind || outside) {
				t.Fatalf("(%g, %g): pressure %v", x, y, got)
			}
		}
	}
}

func TestFoldFieldIsContinuousAcrossTheWall(t *testing.T) {
	// The seam joins the layers: pressure is the same on both sides of the fold.
	// Compared 1 to 1.5 mm in front of the vertex: between the two points the
	// wave runs twice that, 0.055 rad at most at 1 kHz.
	g := parabola(0.11, 0.25, 0.04, 41)
	w := Window{X0: -0.109, X1: -0.1085, Y0: -0.002, Y1: 0.002, Step: 0.01}
	first, second, err := g.Field(context.Background(), testAir, 1000, w, bem.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for j := range first.Y {
		for i := range first.X {
			a, b := first.Pressure[j][i], second.Pressure[j][i]
			if !(cmplx.Abs(a-b) < 0.06*cmplx.Abs(a)) {
				t.Errorf("(%g, %g): %v in the first layer, %v in the second", first.X[i], first.Y[j], a, b)
			}
		}
	}
}

func TestNarrowest(t *testing.T) {
	r := &PlanResult{Frequency: []float64{100, 200, 400, 800, 1600}, Beamwidth: []float64{math.NaN(), 2, 1.2, 1.5, math.NaN()}}
	if w, at, falling := r.Narrowest(200); w != 1.2 || at != 400 || falling {
		t.Errorf("narrowest %g at %g Hz, falling %v, want 1.2 at 400", w, at, falling)
	}
	r.Beamwidth[4] = 0.4
	if w, at, falling := r.Narrowest(150); w != 0.4 || at != 1600 || !falling {
		t.Errorf("narrowest %g at %g Hz, falling %v, want 0.4 at the end", w, at, falling)
	}
	for _, from := range []float64{2000, math.NaN()} {
		if w, at, falling := r.Narrowest(from); !math.IsNaN(w) || !math.IsNaN(at) || falling {
			t.Errorf("from %g Hz: narrowest %g at %g Hz, want none", from, w, at)
		}
	}
}
