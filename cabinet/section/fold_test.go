package section

import (
	"context"
	"errors"
	"math"
	"math/cmplx"
	"testing"

	"gapline/cabinet/design"
	"gapline/internal/bem"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/waveguide/wave"
)

func TestFoldFollowsTheDesign(t *testing.T) {
	d := folded()
	rays, g, faults := Fold(&d, wave.Matched)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if g.ThroatRadius != 0.018 || g.Thickness != 0.014 {
		t.Errorf("throat radius %g, layer %g", g.ThroatRadius, g.Thickness)
	}
	// The wall is the hyperbola of the virtual path: from every point of it the
	// throat is nearer than the virtual apex by the same length.
	apex, ok := rays.Apex()
	if !ok {
		t.Fatal("no apex")
	}
	v := bem.Point{X: apex.Z, Y: apex.Y}
	for i, p := range g.Wall {
		if got, want := p.Sub(v).Norm()-p.Sub(g.Throat).Norm(), g.Wall[0].Sub(v).Norm()-g.Wall[0].Sub(g.Throat).Norm(); math.Abs(got-want) > 1e-12 {
			t.Fatalf("wall point %d: |VP| - |FP| = %.15g, want %.15g", i, got, want)
		}
	}
	// The virtual path runs from the apex to the mouth plane.
	if l := g.Mouth[0].X - v.X; math.Abs(l-1.2) > 1e-12 {
		t.Errorf("virtual path %g m, want 1.2", l)
	}
	if h := g.Mouth[1].Y - g.Mouth[0].Y; math.Abs(h-0.258) > 1e-12 {
		t.Errorf("mouth %g m high", h)
	}
	d.Horn.Throat = optional.Float{}
	if _, g, _ := Fold(&d, wave.Matched); g.ThroatRadius != 0.007 {
		t.Errorf("throat radius %g without horn.throat, want half a layer", g.ThroatRadius)
	}
}

func TestFoldMeetsTheRaysAtHighFrequency(t *testing.T) {
	// Rays are the limit of short waves: flat-to by both agree within 5 %.
	d := folded()
	rays, g, faults := Fold(&d, wave.Matched)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	c, err := CheckFold(context.Background(), &d, rays, g, Solve{Frequencies: []float64{8000, 10000, 12000, 14000}, Halve: true})
	if err != nil {
		t.Fatal(err)
	}
	if got, want := c.Figures.FlatTo, rays.FlatTo(); math.Abs(got-want) > 0.05*want {
		t.Errorf("flat to %g Hz, by rays %g Hz", got, want)
	}
	if numeric.Given(c.Figures.FlatBeyond) {
		t.Errorf("flat beyond %g Hz as well", c.Figures.FlatBeyond)
	}
	for i, change := range c.Result.Change {
		if !(change < 0.01) {
			t.Errorf("%g Hz: change on halving %g", c.Result.Frequency[i], change)
		}
	}
	// The front lags at the edges by the path difference of the rays, and its
	// phase by k times that.
	if got, want := Spread(c.RayPhase(8000))*Air(&d).SoundSpeed/(2*math.Pi*8000), rays.PathSpread(); math.Abs(got-want) > 0.03*want {
		t.Errorf("lag by rays %g m, path spread %g m", got, want)
	}
	low, err := CheckFold(context.Background(), &d, rays, g, Solve{Frequencies: []float64{500, 1000}})
	if err != nil {
		t.Fatal(err)
	}
	if numeric.Given(low.Figures.FlatTo) || low.Figures.FlatBeyond != 1000 {
		t.Errorf("flat to %g Hz, beyond %g Hz: want beyond 1000", low.Figures.FlatTo, low.Figures.FlatBeyond)
	}
}

func TestRayLevelsAreRelativeToTheMean(t *testing.T) {
	d := folded()
	rays, _, _ := Fold(&d, wave.Matched)
	r := Rays(&rays, []float64{-0.1, -0.05, 0, 0.05, 0.1})
	sum := 0.0
	for _, l := range r.Level {
		sum += math.Pow(10, l/10)
	}
	if math.Abs(sum/5-1) > 1e-12 || r.Lag[2] != 0 {
		t.Errorf("mean square %g, lag in the middle %g", sum/5, r.Lag[2])
	}
}

func TestFoldFaults(t *testing.T) {
	d := design.New()
	if _, _, faults := Fold(&d, wave.Matched); len(faults) != 3 {
		t.Errorf("an empty design: %v", faults)
	}
	d = folded()
	d.Horn.Throat = optional.Of(0.23)
	if _, _, faults := Fold(&d, wave.Matched); len(faults) != 1 || faults[0].Of != FoldFails || faults[0].Err == nil {
		t.Errorf("throat as wide as the wall is far: %v", faults)
	}
}

func TestTurn(t *testing.T) {
	d := folded()
	c, faults := Turns(&d, numeric.Absent)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if c.Plate != 0.0035 || c.Plain().Filleted || !c.Fillet().Filleted {
		t.Errorf("plate %g, plain %v, fillet %v", c.Plate, c.Plain().Filleted, c.Fillet().Filleted)
	}
	if want := Air(&d).SoundSpeed / 0.028; math.Abs(c.CrossMode-want) > 1e-9 {
		t.Errorf("cross mode %g Hz, want c/(2t) = %g", c.CrossMode, want)
	}
	s := Solve{Frequencies: []float64{500, 2000, 6000, 8000, 11000}}
	if err := c.Solve(context.Background(), &d, s); err != nil {
		t.Fatal(err)
	}
	// Without loss what is not reflected passes; below cut-off the thin layer is
	// the quieter, and fillets help.
	for i := range c.Turns {
		turn := &c.Turns[i]
		for j, b := range turn.Result.Imbalance {
			if math.Abs(b) > 5e-3 {
				t.Errorf("layer %g m, %g Hz: power balance %g", turn.Bend.Thickness, turn.Result.Frequency[j], b)
			}
		}
	}
	if p, q := c.Plain().QuietTo(), c.Turns[0].QuietTo(); !(p < q && p < c.Fillet().QuietTo()) {
		t.Errorf("quiet to %g Hz, half the layer %g Hz, filleted %g Hz", p, q, c.Fillet().QuietTo())
	}
	err := c.Solve(context.Background(), &d, Solve{Frequencies: []float64{13e3}})
	if !errors.Is(err, ErrCrossMode) {
		t.Errorf("above the cross mode: err = %v", err)
	}
}

func TestQuietToInterpolates(t *testing.T) {
	// |R| rising through √0.1 half way on the logarithmic scale.
	turn := Turn{Result: &wave.BendResult{
		Frequency:  []float64{1000, 4000},
		Reflection: []complex128{complex(LoudReflection-0.1, 0), complex(0, LoudReflection+0.1)},
	}}
	if got := turn.QuietTo(); math.Abs(got-2000) > 1e-6 {
		t.Errorf("quiet to %g Hz, want 2000", got)
	}
	turn.Result.Reflection = []complex128{0.1, 0.2}
	if got := turn.QuietTo(); !math.IsInf(got, 1) {
		t.Errorf("quiet to %g Hz, want no limit", got)
	}
	if got := (&Turn{}).QuietTo(); !math.IsNaN(got) {
		t.Errorf("not solved: %g", got)
	}
}

func TestFieldWindows(t *testing.T) {
	d := folded()
	f, err := PlanField(context.Background(), &d, mustPlan(t, &d, ByHorn), 1000, bem.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if f.X[0] != -0.62 || f.X[len(f.X)-1] != 0.62 || math.Abs(f.Y[len(f.Y)-1]-0.93) > 1e-12 {
		t.Errorf("window x %g to %g, y to %g", f.X[0], f.X[len(f.X)-1], f.Y[len(f.Y)-1])
	}
	_, g, _ := Fold(&d, wave.Matched)
	first, second, err := FoldField(context.Background(), &d, g, 1000, bem.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, layer := range []*wave.Field{first, second} {
		for j := range layer.Y {
			for _, i := range []int{0, len(layer.X) - 1} {
				if !cmplx.IsNaN(layer.Pressure[j][i]) {
					t.Fatalf("the layer reaches the window's edge at (%g, %g)", layer.X[i], layer.Y[j])
				}
			}
		}
	}
	if cmplx.IsNaN(Reference(second, g.Mouth[0].X, 0)) {
		t.Error("no reference at the mouth")
	}
}
