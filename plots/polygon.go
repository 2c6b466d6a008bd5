package plots

import (
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
)

// hatchedPolygon returns lines that rise by 45 degrees across a closed polygon, pitch
// apart. They lie on one grid for the whole sheet, so that those of neighbours meet.
func hatchedPolygon(corners []vg.Point, pitch vg.Length) [][]vg.Point {
	if len(corners) < 3 {
		return nil
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, c := range corners { // a line holds the points of one value of y − x
		low, high = math.Min(low, float64(c.Y-c.X)), math.Max(high, float64(c.Y-c.X))
	}
	step := float64(pitch) * math.Sqrt2
	var out [][]vg.Point
	for n := math.Ceil(low / step); n*step < high; n++ {
		at := crossings(corners, vg.Length(n*step))
		for i := 0; i+1 < len(at); i += 2 {
			out = append(out, []vg.Point{{X: at[i], Y: at[i] + vg.Length(n*step)}, {X: at[i+1], Y: at[i+1] + vg.Length(n*step)}})
		}
	}
	return out
}

// crossings are the x at which the line y = x + rise meets the polygon's edges, sorted.
func crossings(corners []vg.Point, rise vg.Length) []vg.Length {
	var out []vg.Length
	for i, a := range corners {
		b := corners[(i+1)%len(corners)]
		u, v := a.Y-a.X-rise, b.Y-b.X-rise
		if (u < 0) != (v < 0) {
			out = append(out, a.X+u/(u-v)*(b.X-a.X))
		}
	}
	slices.Sort(out)
	return out
}
