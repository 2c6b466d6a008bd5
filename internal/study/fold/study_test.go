package fold_test

import (
	"math"
	"testing"

	"gapline/internal/advice"
	"gapline/internal/designtest"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/reftable"
	"gapline/internal/study/fold"
)

// The line of folded mouths: a perfect front has lobes of |sinc(πm·share)|, closed
// form, and the fold's plane front, tapered, stays near it.
func TestStackOfFolds(t *testing.T) {
	d := designtest.Folded()
	d.Fold.VirtualPath, d.Fold.ThroatToWall = optional.Of(math.Inf(1)), optional.Of(0.35)
	st, err := fold.Run(&d, fold.Options{Rays: 5})
	if err != nil {
		t.Fatal(err)
	}
	share := d.Horn.MouthHeight.Value() / d.Pitch()
	want := numeric.DB(numeric.Sinc(math.Pi * share))
	row := st.Stack.At([]float64{2000})[0]
	reftable.Within(t, "first lobe of a perfect front", row.PlaneLobe, want, 1e-6)
	reftable.Within(t, "first lobe of the gentle parabola", row.FrontLobe, want, 1)
	if low := st.Stack.At([]float64{1000})[0]; !math.IsInf(low.PlaneLobe, -1) {
		t.Errorf("a lobe of %g dB below c/p", low.PlaneLobe)
	}
	if !math.IsInf(st.Stack.RibbonTo, 1) || row.AxisChange < -1e-6 {
		t.Errorf("a plane front: ribbon to %g Hz, axis %g dB", st.Stack.RibbonTo, row.AxisChange)
	}
	if !st.Stack.Top.Visible || st.Stack.Boxes != 7 {
		t.Errorf("the line of boxes: %+v", st.Stack.Top)
	}
}

// A solved fold meets depth and flatness; one that cannot says what binds.
func TestStudySolvesTheWall(t *testing.T) {
	d := designtest.Folded()
	d.Fold.ThroatToWall, d.Fold.VirtualPath, d.Fold.Depth = optional.Float{}, optional.Float{}, optional.Of(0.15)
	d.Targets.FlatTo = optional.Of(12e3)
	st, err := fold.Run(&d, fold.Options{Rays: 5})
	if err != nil || !st.Fits {
		t.Fatalf("no fold: %v", err)
	}
	if st.Fold.BuiltDepth() > 0.15 || st.Sizing.Fold.PathSpread > st.Fold.SpreadBudget()+1e-9 {
		t.Errorf("depth %g m, spread %g m", st.Fold.BuiltDepth(), st.Sizing.Fold.PathSpread)
	}
	if d.Fold.ThroatToWall.Given() {
		t.Error("the caller's design was changed")
	}
	d.Fold.Depth = optional.Of(0.05)
	st, err = fold.Run(&d, fold.Options{Rays: 5})
	if err != nil || st.Fits || len(fold.Binding(st.Solved)) == 0 || !advice.Unmet(advice.FoldFindings(st)) {
		t.Errorf("a fold 50 mm deep: %v, fits %t", err, st.Fits)
	}
}
