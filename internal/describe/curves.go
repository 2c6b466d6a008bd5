package describe

import (
	"math"
	"slices"

	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
)

// curve is one column of values over a shared variable, SI.
type curve struct {
	figure *figure.Def
	key    string // in JSON and CSV; empty: the figure's last part
	head   string // over the column of a sampled table; empty: only for programs
	y      []float64
	absent string // in place of a value that does not exist; empty: "-"
	// maybe marks a curve that need not exist: without any value it is null in JSON and
	// left out of CSV.
	maybe bool
}

func (c *curve) cell(i int) result.Cell {
	cell := result.Fig(c.figure, c.y[i])
	if math.IsNaN(c.y[i]) {
		cell.Words = c.absent
	}
	return cell
}

// listed is a table of curves for programs, an array each in JSON; a curve without any
// value is null there and left out of CSV.
func listed(shown result.Shown, curves []curve) result.Table {
	t := result.Table{Shown: shown, As: result.ByColumn}
	values := make([][]float64, len(curves))
	for i, c := range curves {
		t.Columns = append(t.Columns, result.Column{Key: c.key, Fig: c.figure, Empty: c.maybe && !numeric.AnyGiven(c.y)})
		values[i] = c.y
	}
	t.Rows = result.Curves(t.Columns, values...)
	return t
}

// sampled is a table of the headed curves at every step-th frequency, for people.
func sampled(shown result.Shown, title string, frequency []float64, step int, curves []curve) result.Table {
	t := result.Table{Shown: shown, Title: result.Plain(title)}
	var rows result.List
	for i := 0; i < len(frequency); i += step {
		var cells []result.Cell
		for j := range curves {
			if curves[j].head != "" {
				cells = append(cells, curves[j].cell(i))
			}
		}
		rows.Row(result.Say("%s", hertz(frequency[i])), cells...)
	}
	for _, c := range curves {
		if c.head != "" {
			t.Columns = append(t.Columns, headed(value, c.head))
		}
	}
	t.Rows = rows.Rows()
	return t
}

// levelAxis fits an axis of levels around curves, in steps of 5 dB and no more than
// span high: what lies lower is of no use to anybody.
func levelAxis(label string, span float64, curves ...result.Curve) result.Axis {
	low, high := math.Inf(1), math.Inf(-1)
	for _, c := range curves {
		for _, y := range c.Y {
			if numeric.Given(y) {
				low, high = math.Min(low, y), math.Max(high, y)
			}
		}
	}
	high = 5 * math.Ceil(high/5+0.2)
	low = math.Max(5*math.Floor(low/5), high-span)
	return result.Axis{Label: label, Kind: quantity.Level, Unit: "dB", Low: math.Min(low, high-20), High: high}
}

// drawn drops curves without any value.
func drawn(curves ...result.Curve) []result.Curve {
	return slices.DeleteFunc(curves, func(c result.Curve) bool { return !numeric.AnyGiven(c.Y) })
}

// finite breaks a curve where the value is infinite.
func finite(y []float64) []float64 {
	out := slices.Clone(y)
	for i, x := range out {
		if math.IsInf(x, 0) {
			out[i] = numeric.Absent
		}
	}
	return out
}

// atOctaves returns the indices nearest to 31.25 Hz and its octaves within f.
func atOctaves(f []float64) []int {
	var out []int
	for x := 31.25; x <= f[len(f)-1]*1.01; x *= 2 {
		i, _ := slices.BinarySearch(f, x)
		if i == len(f) || i > 0 && x/f[i-1] < f[i]/x {
			i--
		}
		if math.Abs(math.Log2(f[i]/x)) < 0.25 && !slices.Contains(out, i) {
			out = append(out, i)
		}
	}
	return out
}

// each maps a slice to numbers.
func each[T any](list []T, f func(T) float64) []float64 {
	out := make([]float64, len(list))
	for i, x := range list {
		out[i] = f(x)
	}
	return out
}

// absent is n values that do not exist.
func absent(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = numeric.Absent
	}
	return out
}

// maybe marks curves that need not exist.
func maybe(curves []curve) []curve {
	for i := range curves {
		curves[i].maybe = true
	}
	return curves
}
