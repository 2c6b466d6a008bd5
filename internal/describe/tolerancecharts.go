package describe

import (
	"gapline/internal/result"
	"gapline/internal/study/space"
)

func (v tolerance) caption(c result.Caption) result.Caption {
	c.Trust = gapTrust(&v.found.Sizing)
	return captioned(c, v.Base, &v.found.Sizing)
}

// ranking draws how far each tolerance by itself moves the gap.
func (v tolerance) ranking() result.Ranking {
	r := result.Ranking{Shown: result.At(result.Drawn | result.Page), Value: gapAxis, Base: v.found.Gap, Caption: v.caption(result.Caption{
		ID: "tolerance", Title: "What moves the gap most", Page: "What moves the gap most, one tolerance at a time",
		Subtitle: result.Plain(v.found.Sizing.Gap.Basis.Name() + " basis; one tolerance at a time, from its low end (light) to its high end (solid), the others as designed"),
	})}
	for _, e := range v.found.Effects {
		end := func(in, gap float64) (float64, result.Text) {
			text := result.Say("%s", result.Num(in, e.Tolerance.Key.Kind))
			if !isFinite(gap) {
				return v.found.Gap, text.And(result.Plain(" (none)"))
			}
			return gap, text
		}
		bar := result.Bar{Label: result.Say("%s %s", e.Tolerance.Key.Label(), toleranceText(&e.Tolerance))}
		bar.AtLow, bar.LowText = end(e.InLow, e.AtLow)
		bar.AtHigh, bar.HighText = end(e.InHigh, e.AtHigh)
		r.Bars = append(r.Bars, bar)
	}
	return r
}

// bandChart draws the gap against one lever with the band in which 90 % of the
// boxes come out.
func (v tolerance) bandChart(lever []space.LeverBand) result.Series {
	key, s := lever[0].Value.Key, &v.found.Sizing
	of := func(f func(space.LeverBand) float64) []float64 { return finite(each(lever, f)) }
	x := of(func(b space.LeverBand) float64 { return b.Value.Number })
	return result.Series{Shown: result.At(result.Drawn), Form: result.Lever, X: keyAxis(key), Panels: []result.Panel{{Y: gapAxis, Curves: []result.Curve{
		{Label: result.Plain("median and 5 to 95 %"), X: x, Y: of(func(b space.LeverBand) float64 { return b.Median }),
			Low: of(func(b space.LeverBand) float64 { return b.Low }), High: of(func(b space.LeverBand) float64 { return b.High }), Dash: result.Solid, Colour: 1},
		{Label: result.Plain("no tolerance"), X: x, Y: of(func(b space.LeverBand) float64 { return b.Nominal }), Dash: result.Dashed, Colour: 2, Thin: true},
	}}}, Present: onLever(key, v.Base, s), Caption: v.caption(result.Caption{
		ID: "band", Title: "Crossover gap against the " + key.Label() + ", within the tolerances",
		Subtitle: result.Plain(key.Path + " varies; " + s.Gap.Basis.Name() + " basis; band: 90 % of the boxes come out within it"),
	})}
}
