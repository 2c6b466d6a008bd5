package picture

import (
	"fmt"
	"math"

	"gapline/cabinet/sizing"
	"gapline/internal/quantity"
	"gapline/internal/screen"
	"gapline/internal/study/space"
	"gapline/plots"
)

// Ranking draws how far each tolerance by itself moves the gap.
func Ranking(t *space.Tolerance, r *space.ToleranceResult, sys quantity.System) (plots.Bars, error) {
	if !isFinite(r.Gap) {
		return plots.Bars{}, fmt.Errorf("there is no picture of a gap that is %s", screen.OctaveText(r.Gap))
	}
	d := t.Base
	b := plots.Bars{Value: plots.Axis{Label: "Gap, above 0 open", Unit: "octaves"}, Base: r.Gap}
	for _, e := range r.Effects {
		show := func(in, gap float64) (float64, string) {
			text := quantity.Format(in, e.Tolerance.Key.Kind, sys)
			if !isFinite(gap) {
				return r.Gap, text + " (none)"
			}
			return gap, text
		}
		bar := plots.Bar{Label: screen.ToleranceLine(&e.Tolerance, sys)}
		bar.AtLow, bar.LowText = show(e.InLow, e.AtLow)
		bar.AtHigh, bar.HighText = show(e.InHigh, e.AtHigh)
		b.Bars = append(b.Bars, bar)
	}
	b.Caption = caption("What moves the gap most", r.Sizing.Gap.Basis.Name()+" basis; one tolerance at a time, from its low end (light) to its high end (solid), the others as designed",
		d, &r.Sizing, trustOfGap(&r.Sizing), "", sys)
	return b, nil
}

// BandChart draws the gap against one lever with the band in which 90 % of the
// boxes come out.
func BandChart(t *space.Tolerance, s *sizing.Sizing, lever []space.LeverBand, sys quantity.System) plots.Lever {
	d := t.Base
	key := lever[0].Value.Key
	var x, nominal, median, low, high []float64
	for _, b := range lever {
		x = append(x, displayOf(key.Kind, b.Value.Number, sys))
		nominal, median = append(nominal, b.Nominal), append(median, b.Median)
		low, high = append(low, b.Low), append(high, b.High)
	}
	chart := plots.Lever{Lever: leverAxis(key, sys), Curves: []plots.Curve{
		{Label: "median and 5 to 95 %", X: x, Y: finite(median), Low: finite(low), High: finite(high), Dash: plots.Solid, Colour: 1},
		{Label: "no tolerance", X: x, Y: finite(nominal), Dash: plots.Dashed, Colour: 2, Thin: true},
	}}
	chart.Caption = caption("Crossover gap against the "+key.Label()+", within the tolerances",
		key.Path+" varies; "+s.Gap.Basis.Name()+" basis; band: 90 % of the boxes come out within it", d, s, trustOfGap(s), "", sys)
	if at := key.Number(d); !math.IsNaN(at) && isFinite(s.Gap.AsGiven()) {
		chart.Present = &plots.Mark{X: displayOf(key.Kind, at, sys), Y: s.Gap.AsGiven(), Text: "this design"}
	}
	return chart
}
