package plots

import (
	"fmt"
	"math"
	"sort"
)

// grid2 is a rectangular table of values over two increasing axes, in the
// coordinates of a panel (0 to 1 along each axis).
type grid2 struct {
	x, y []float64
	z    [][]float64 // z[row of y][column of x]; NaN: no value
}

// at interpolates bilinearly at (u, v); NaN outside the table and in cells with a
// corner without value.
func (g grid2) at(u, v float64) float64 {
	i, fx := cell(g.x, u)
	j, fy := cell(g.y, v)
	if i < 0 || j < 0 {
		return math.NaN()
	}
	return bilinear(g.z, i, j, fx, fy)
}

func bilinear(z [][]float64, i, j int, fx, fy float64) float64 {
	low := z[j][i]*(1-fx) + z[j][i+1]*fx
	high := z[j+1][i]*(1-fx) + z[j+1][i+1]*fx
	return low*(1-fy) + high*fy
}

// cell finds the interval of sorted values that holds u and the place in it.
func cell(values []float64, u float64) (int, float64) {
	n := len(values)
	const slack = 1e-9
	if u < values[0]-slack || u > values[n-1]+slack {
		return -1, 0
	}
	i := min(max(sort.SearchFloat64s(values, u)-1, 0), n-2)
	return i, min(max((u-values[i])/(values[i+1]-values[i]), 0), 1)
}

// refine returns the table with each cell divided until it has at least n points
// along each axis, so that contour lines follow the same surface as the colours.
func (g grid2) refine(n int) grid2 {
	out := grid2{x: divide(g.x, n), y: divide(g.y, n)}
	for _, v := range out.y {
		row := make([]float64, len(out.x))
		for i, u := range out.x {
			row[i] = g.at(u, v)
		}
		out.z = append(out.z, row)
	}
	return out
}

// divide cuts each interval of the values into equal parts so that there are n
// values or more.
func divide(values []float64, n int) []float64 {
	cells := len(values) - 1
	parts := (n + cells - 1) / cells
	out := make([]float64, 0, cells*parts+1)
	for i := range cells {
		for k := range parts {
			out = append(out, values[i]+(values[i+1]-values[i])*float64(k)/float64(parts))
		}
	}
	return append(out, values[cells])
}

// checkGrid returns what is wrong with the data of a map.
func checkGrid(x, y []float64, z [][]float64, xLog, yLog bool) error {
	for _, axis := range []struct {
		name   string
		values []float64
		log    bool
	}{{"x", x, xLog}, {"y", y, yLog}} {
		if len(axis.values) < 2 {
			return fmt.Errorf("map has %d %s values: want 2 or more", len(axis.values), axis.name)
		}
		for i, v := range axis.values {
			if !finite(v) || axis.log && v <= 0 || i > 0 && v <= axis.values[i-1] {
				return fmt.Errorf("map's %s value %d is %g: want finite values that increase", axis.name, i+1, v)
			}
		}
	}
	if len(z) != len(y) {
		return fmt.Errorf("map has %d rows for %d y values", len(z), len(y))
	}
	shown := false
	for j, row := range z {
		if len(row) != len(x) {
			return fmt.Errorf("row %d of the map has %d values for %d x values", j+1, len(row), len(x))
		}
		for i, v := range row {
			if math.IsInf(v, 0) {
				return fmt.Errorf("map value in row %d, column %d is infinite", j+1, i+1)
			}
			shown = shown || !math.IsNaN(v)
		}
	}
	if !shown {
		return fmt.Errorf("map has no valid values: all are NaN")
	}
	return nil
}

// valueRange is the range of all values that are not NaN.
func valueRange(z [][]float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, row := range z {
		for _, v := range row {
			if !math.IsNaN(v) {
				low, high = math.Min(low, v), math.Max(high, v)
			}
		}
	}
	return low, high
}
