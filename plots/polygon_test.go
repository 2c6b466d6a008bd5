package plots

import (
	"math"
	"testing"

	"gonum.org/v1/plot/vg"
)

// Lines pitch apart times their length tend to the area: within one line's share for a
// square, a triangle and an L, in either sense.
func TestHatchCoversThePolygon(t *testing.T) {
	const pitch = 0.25
	for _, c := range []struct {
		corners []vg.Point
		area    float64
	}{
		{[]vg.Point{{X: 0, Y: 0}, {X: 40, Y: 0}, {X: 40, Y: 40}, {X: 0, Y: 40}}, 1600},
		{[]vg.Point{{X: 3, Y: 1}, {X: 3, Y: 31}, {X: 43, Y: 1}}, 600},
		{[]vg.Point{{X: 0, Y: 0}, {X: 30, Y: 0}, {X: 30, Y: 10}, {X: 10, Y: 10}, {X: 10, Y: 30}, {X: 0, Y: 30}}, 500},
	} {
		sum := 0.0
		for _, l := range hatchedPolygon(c.corners, pitch) {
			sum += pitch * math.Hypot(float64(l[1].X-l[0].X), float64(l[1].Y-l[0].Y))
		}
		if math.Abs(sum/c.area-1) > 0.01 {
			t.Errorf("hatch covers %g, area is %g", sum, c.area)
		}
	}
	if got := hatchedPolygon([]vg.Point{{X: 0, Y: 0}, {X: 5, Y: 5}}, 1); got != nil {
		t.Errorf("a line is hatched: %v", got)
	}
}
