package screen

import (
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/describe"
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/study/size"
)

// AirText describes the air in one line.
func AirText(d *design.Design, s *sizing.Sizing, sys quantity.System) string {
	return terminal.Text(describe.Air(d, s), sys)
}

// FigureText returns a figure's value with its unit, and words for values that
// are limits: an exact cancellation, a limit that does not exist, an open or
// closed gap.
func FigureText(f *figure.Def, s *sizing.Sizing, sys quantity.System) string {
	return terminal.Cell(size.Cell(s, f), sys)
}

// OctaveText says whether a gap is open or closed: "0.51 oct open".
func OctaveText(x float64) string {
	switch {
	case math.IsNaN(x):
		return "-"
	case math.IsInf(x, -1):
		return "unlimited overlap"
	case x > 0:
		return quantity.Format(x, quantity.Octaves, quantity.Metric) + " open"
	}
	return quantity.Format(math.Abs(x), quantity.Octaves, quantity.Metric) + " overlap"
}
