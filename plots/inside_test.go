package plots

import (
	"math"
	"testing"

	"gonum.org/v1/plot/vg"
)

// A slope that leaves the map keeps its slope: of a triangle under the diagonal of
// 2 × 1 cut at half its width a quarter of the area is left, 0.25 of 1.
func TestBodiesAreCutAtTheEdgeOfAMap(t *testing.T) {
	p := &mapPlan{panel: panel{rect: rect(0, 0, 100, 100), x: scale{low: 0, high: 1}, y: scale{low: 0, high: 1}}}
	got := p.inside(Overlay{X: []float64{0, 2, 2}, Y: []float64{0, 1, 0}, Solid: true})
	area := 0.0
	for i, b := range got {
		a := got[(i+len(got)-1)%len(got)]
		area += float64(a.X*b.Y-b.X*a.Y) / 2
	}
	if math.Abs(math.Abs(area)-0.25*100*100) > 1e-6 {
		t.Errorf("area %g of 10000, want 2500: %v", area, got)
	}
	for at, want := range map[vg.Point]bool{{X: 90, Y: 10}: true, {X: 10, Y: 90}: false, {X: 50, Y: 24}: true, {X: 50, Y: 26}: false} {
		if holds(got, at) != want {
			t.Errorf("%v is held: %v", at, !want)
		}
	}
	if got := p.inside(Overlay{X: []float64{2, 3, 3}, Y: []float64{0, 1, 0}}); len(got) != 0 {
		t.Errorf("%v of a body beside the map", got)
	}
}
