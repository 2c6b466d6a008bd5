package screen

import (
	"io"
	"math"
	"strconv"

	"gapline/cabinet/sizing"
	"gapline/internal/cleantext"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/study/size"
)

// maxRows is about how many frequencies a table for people shows.
const maxRows = 24

// stride is the step at which n rows are shown, a power of two: four makes third
// octaves of the default series.
func stride(n int) int {
	step := 1
	for n > maxRows*step {
		step *= 2
	}
	return step
}

// mostUnknowns is the size of the largest solution.
func mostUnknowns(unknowns []int) int {
	most := 0
	for _, n := range unknowns {
		most = max(most, n)
	}
	return most
}

// figureRows adds those of the figures that have a value.
func figureRows(t *Table, figures []*figure.Def, s *sizing.Sizing, sys quantity.System) {
	for _, f := range figures {
		if text := FigureText(f, s, sys); text != "-" {
			t.Row("  "+f.Name, text, size.Trust(s, f).String())
		}
	}
}

// figureValues sets the figures' values under their keys.
func figureValues(o *Object, figures []*figure.Def, s *sizing.Sizing) {
	for _, f := range figures {
		o.Path(f.Key, Number(f.Machine(size.Of(s, f))))
	}
}

// multiplied returns the values times a factor.
func multiplied(v []float64, factor float64) []float64 {
	out := make([]float64, len(v))
	for i, x := range v {
		out[i] = x * factor
	}
	return out
}

// perRadian is the number of degrees in a radian.
const perRadian = 180 / math.Pi

// changeJSON is the error estimate at each frequency, null when none was made.
func changeJSON(change []float64) any {
	if change == nil {
		return nil
	}
	return Numbers(change)
}

// degreesText is an angle in a table; a width that does not exist is "-".
func degreesText(rad float64) string { return quantity.Format(rad, quantity.Angle, quantity.Metric) }

// waveCell writes a number for CSV, empty when there is none.
func waveCell(v float64) string {
	if !numeric.Given(v) || math.IsInf(v, 0) {
		return ""
	}
	return strconv.FormatFloat(v, 'g', 9, 64)
}

// writeCSV writes a head and rows of numbers.
func writeCSV(w io.Writer, head []string, rows [][]float64) error {
	c := cleantext.NewCSV(w)
	if err := c.Write(head); err != nil {
		return err
	}
	for _, row := range rows {
		cells := make([]string, len(row))
		for i, v := range row {
			cells[i] = waveCell(v)
		}
		if err := c.Write(cells); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}
