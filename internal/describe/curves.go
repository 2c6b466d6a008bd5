package describe

import (
	"math"

	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/result"
)

// curve is one column of values over a shared variable, SI.
type curve struct {
	figure *figure.Def
	key    string // in JSON and CSV; empty: the figure's last part
	head   string // over the column of a sampled table; empty: only for programs
	y      []float64
	absent string // in place of a value that does not exist; empty: "-"
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
		t.Columns = append(t.Columns, result.Column{Key: c.key, Fig: c.figure, Empty: !numeric.AnyGiven(c.y)})
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
