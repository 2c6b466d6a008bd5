package screen

import (
	"fmt"
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

// coarse is the number of frequencies an octave below which limits between them
// are not to be relied on.
const coarse = 2.99

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

// solvedText says at how many frequencies was solved, how finely and, when
// change is given, how good the result is. of names what changes.
func solvedText(frequencies []float64, unknowns []int, change []float64, of string, sys quantity.System) string {
	hz := func(f float64) string { return quantity.Format(f, quantity.Frequency, sys) }
	least, most := unknowns[0], 0
	for _, n := range unknowns {
		least, most = min(least, n), max(most, n)
	}
	count := fmt.Sprintf("%d to %d", least, most)
	if least == most {
		count = strconv.Itoa(most)
	}
	text := fmt.Sprintf("Solved at %d frequencies from %s to %s, with %s unknowns.", len(frequencies), hz(frequencies[0]), hz(frequencies[len(frequencies)-1]), count)
	if len(frequencies) == 1 {
		text = fmt.Sprintf("Solved at %s, with %d unknowns.", hz(frequencies[0]), most)
	}
	if octaves := math.Log2(frequencies[len(frequencies)-1] / frequencies[0]); float64(len(frequencies)-1) < coarse*octaves {
		text += " They are farther apart than third octaves: limits between them are rough."
	}
	if n := stride(len(frequencies)); n > 1 {
		text += fmt.Sprintf(" The table shows one frequency in %d; --csv and --json have all.", n)
	}
	if change == nil {
		return text + " --check estimates the error."
	}
	i := greatest(change)
	return text + fmt.Sprintf(" Error estimate: elements of half the size change %s by %.2g %% at most, at %s.", of, 100*change[i], hz(frequencies[i]))
}

func greatest(v []float64) int {
	at := 0
	for i, x := range v {
		if x > v[at] {
			at = i
		}
	}
	return at
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
