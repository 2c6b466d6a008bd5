package describe

import (
	"math"

	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/line"
)

// bent reports whether a stack is curved: its axis then stands for no seat, and the level
// along the seats says more.
func (v lineParts) bent() bool {
	for _, a := range v.Model.Stack.Splay {
		if a != 0 {
			return true
		}
	}
	return false
}

// outermost picks the last of each row of distances; NaN where there is none.
func outermost(rows [][]float64) []float64 {
	return each(rows, func(xs []float64) float64 {
		if len(xs) == 0 {
			return numeric.Absent
		}
		return xs[len(xs)-1]
	})
}

// distance draws level along the axis, and along the seats of a bent stack, with the
// smoothed slopes below and every place where they pass 4.5 dB.
func (v lineParts) distance() result.Series {
	d := v.r.Distance
	upper := result.Panel{Y: result.Axis{Label: "Level", Kind: quantity.Level, Unit: v.levelUnit()}, Height: 230}
	slope := result.Panel{Y: result.Axis{Label: "Drop per doubling", Kind: quantity.Level, Unit: "dB", Low: -3, High: 12, Step: 3}, Height: 120,
		Guides: []result.Guide{{Value: 3, Text: result.Plain("3 dB, cylinder")}, {Value: 6, Text: result.Plain("6 dB, sphere")}, {Value: 4.5, Text: result.Plain("4.5 dB")}}}
	shown := few(d.Spectrum, 250, 1000, 4000)
	for n, i := range shown {
		upper.Curves = append(upper.Curves, result.Curve{Label: result.Say("%s", nominal(d.Hz[i])), X: d.Metre, Y: finite(d.Level[i]), Colour: 1 + n, Dash: dashOf(n)})
		slope.Curves = append(slope.Curves, result.Curve{X: d.Metre, Y: finite(d.Smooth[i]), Colour: 1 + n, Dash: dashOf(n)})
		for _, c := range d.Passes[i] {
			mark := result.Mark{X: c, Y: between(d.Metre, d.Level[i], c)}
			if c == outermost(d.Passes)[i] {
				mark.Text = result.Say("4.5 dB at %s", nearly(c))
			}
			upper.Marks = append(upper.Marks, mark)
		}
	}
	along := ""
	panels := []result.Panel{upper, slope}
	law := middling(d, shown)
	last := d.Metre[len(d.Metre)-1]
	panels[0].Curves = append(panels[0].Curves, laws(d, law)...)
	if h := d.Transition[law].HalfRule; h > d.Metre[0] && h < last {
		panels[0].Guides = append(panels[0].Guides, result.Guide{Value: h, Vertical: true, Text: result.Say("L²/(2λ) at %s", nominal(d.Hz[law]))})
	}
	if d.Seats != nil && v.bent() {
		panels = append(panels, v.alongSeats(shown)...)
		along = " above, along the seats below"
	}
	subtitle := result.Say("%s; along the axis%s, %s; %s; slopes fitted over a doubling, marks where they pass 4.5 dB; dotted: 3 and 6 dB per doubling about %s",
		v.boxes(), along, d.Words(), v.reference(), nominal(d.Hz[law]))
	x := inHall("Distance from the middle of the stack")
	x.Scale, x.Low, x.High = result.Logarithmic, d.Metre[0], last
	return result.Series{Shown: drawnIn(line.DistanceView, result.Page), X: x, Panels: panels, Caption: v.caption(result.Caption{
		ID: "distance", Title: "Level against distance", Subtitle: subtitle, Page: "Level against distance",
		Alt: result.Plain("Level against distance with the smoothed slope below."),
	})}
}

// alongSeats are the panels of the level along the seats and its slope.
func (v lineParts) alongSeats(shown []int) []result.Panel {
	s, d := v.r.Distance.Seats, v.r.Distance
	level := result.Panel{Y: result.Axis{Label: "Seats", Kind: quantity.Level, Unit: v.levelUnit()}, Height: 150}
	slope := result.Panel{Y: result.Axis{Label: "Drop per doubling", Kind: quantity.Level, Unit: "dB", Low: -6, High: 12, Step: 3}, Height: 100,
		Guides: []result.Guide{{Value: 3}, {Value: 6}, {Value: 4.5}}}
	for n, i := range shown {
		level.Curves = append(level.Curves, result.Curve{Label: result.Say("%s", nominal(d.Hz[i])), X: s.Metre, Y: finite(s.Level[i]), Colour: 1 + n, Dash: dashOf(n)})
		slope.Curves = append(slope.Curves, result.Curve{X: s.Metre, Y: finite(s.Smooth[i]), Colour: 1 + n, Dash: dashOf(n)})
		for _, c := range s.Passes[i] {
			level.Marks = append(level.Marks, result.Mark{X: c, Y: between(s.Metre, s.Level[i], c)})
		}
	}
	if !anyShown(slope.Curves) {
		return []result.Panel{level}
	}
	return []result.Panel{level, slope}
}

// anyShown reports whether a curve has a value.
func anyShown(curves []result.Curve) bool {
	for _, c := range curves {
		if numeric.AnyGiven(c.Y) {
			return true
		}
	}
	return false
}

// alongRows lists the level along the seats.
func alongRows(d *line.Distance) result.Table {
	s := d.Seats
	t := over("LEVEL ALONG THE SEATS, dB, by distance from the stack", d.Hz)
	var rows result.List
	for j := 0; j < len(s.Metre); j += int(math.Ceil(float64(len(s.Metre)) / distanceRows)) {
		rows.Row(result.Say("%s", far(s.Metre[j])), result.Figs(figure.DistanceSeatsLevel, column(s.Level, j)).List...)
	}
	row(&rows, "4.5 dB per doubling at, outermost", figure.DistanceSeatsPasses, outermost(s.Passes))
	t.Rows = rows.Rows()
	return t
}
