package describe

import (
	"math"

	"gapline/cabinet/field"
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/line"
)

// About how many rows a view's table has: whoever wants every value takes CSV or JSON.
const (
	beamRows, distanceRows, seatRows = 32, 24, 24
	hallColumns, hallRows            = 9, 8
)

// onScreen is a view's table for the screen, with a blank line before it.
func onScreen(view line.View, tables ...result.Table) result.Section {
	s := result.Section{Shown: result.At(result.Screen), Spaced: true}
	for _, t := range tables {
		t.Shown = result.View(string(view), result.Screen)
		s.Parts = append(s.Parts, t)
	}
	return s
}

// tables are the views as short tables, thinned to what reads well.
func (v lineParts) tables() []result.Part {
	var out []result.Part
	if v.r.Polar != nil {
		out = append(out, onScreen(line.PolarView, v.everyFive(v.r.Polar)))
	}
	if v.r.Map != nil {
		out = append(out, onScreen(line.AngleMapView, beams("VERTICAL", v.r.Map, figure.LineAngleMap)))
	}
	if v.r.HorizontalMap != nil {
		out = append(out, onScreen(line.HorizontalView, beams("HORIZONTAL", v.r.HorizontalMap, figure.LineHorizontalMap)))
	}
	if v.r.Side != nil {
		out = append(out, onScreen(line.SideView, hall(v.r.Side)...))
	}
	if v.r.Distance != nil {
		views := []result.Table{alongAxis(v.r.Distance)}
		if v.r.Distance.Seats != nil {
			views = append(views, alongRows(v.r.Distance))
		}
		out = append(out, onScreen(line.DistanceView, views...))
	}
	if v.r.Audience != nil {
		out = append(out, onScreen(line.AudienceView, seatBySeat(v.r.Audience)))
	}
	if v.r.Coupling != nil {
		out = append(out, onScreen(line.CouplingView, variants(v.r.Coupling)))
	}
	if v.r.Maximum != nil {
		out = append(out, v.loudestTables()...)
	}
	return out
}

// over is a table with a column for each frequency.
func over(title string, hz []float64) result.Table {
	t := result.Table{Title: result.Plain(title)}
	for _, f := range hz {
		t.Columns = append(t.Columns, result.Column{Head: band(f)})
	}
	return t
}

// column picks one column of levels held by frequency.
func column(levels [][]float64, j int) []float64 {
	return each(levels, func(row []float64) float64 { return row[j] })
}

// everyFive lists a polar every five degrees in front.
func (v lineParts) everyFive(p *line.Polar) result.Table {
	t := over("VERTICAL, "+v.referredTo(p), p.Hz)
	shown := referredLevels(p)
	var rows result.List
	for j, a := range p.Angle {
		five := a / (5 * degree)
		if math.Abs(a) > math.Pi/2+1e-4 || math.Abs(five-math.Round(five)) > 1e-6 {
			continue
		}
		label := angle(a).As(quantity.Style{Verb: "%+.0f"})
		rows.Row(result.Say("%s", label), result.Figs(figure.LinePolar.Level, column(shown, j)).List...)
	}
	t.Rows = rows.Rows()
	return t
}

const degree = math.Pi / 180

// beams lists the beam against frequency.
func beams(plane string, p *line.Polar, f figure.Polar) result.Table {
	heads := []string{"on axis, dB", "beam over axis, dB", "aim", "left edge", "right edge", "−6 dB beam", "highest lobe, dB"}
	if p.Plane == field.Vertical {
		heads[3], heads[4], heads[6] = "upper edge", "lower edge", lobeWords(p)+", dB"
	}
	t := result.Table{Title: result.Plain(plane)}
	for _, h := range heads {
		t.Columns = append(t.Columns, headed(value, h))
	}
	aim, upper, lower := p.Directions(aimOf), p.Directions(upperOf), p.Directions(lowerOf)
	var rows result.List
	for i := 0; i < len(p.Hz); i += max(1, len(p.Hz)/beamRows) {
		cell := func(f *figure.Def, x float64, words string) result.Cell { return orWords(f, []float64{x}, words)[0] }
		rows.Row(result.Say("%s", hertz(p.Hz[i])), result.Fig(f.OnAxis, p.OnAxis[i]), result.Fig(f.Peak, p.Beam[i].Level), result.Fig(f.Aim, aim[i]),
			cell(f.Upper, upper[i], "none"), cell(f.Lower, lower[i], "none"), cell(f.Beamwidth, p.Beamwidth[i], overHalf), result.Fig(f.Lobe, p.Beam[i].Lobe))
	}
	t.Rows = rows.Rows()
	return t
}

func alongAxis(d *line.Distance) result.Table {
	t := over("LEVEL ALONG THE AXIS, dB", d.Hz)
	var rows result.List
	for j := 0; j < len(d.Metre); j += max(1, len(d.Metre)/distanceRows) {
		rows.Row(result.Say("%s", far(d.Metre[j])), result.Figs(figure.DistanceLevel, column(d.Level, j)).List...)
	}
	row(&rows, figure.DistanceCrossing.Name, figure.DistanceCrossing, d.Crossing)
	row(&rows, "smoothed over a doubling, outermost", figure.DistancePasses, outermost(d.Passes))
	t.Rows = rows.Rows()
	return t
}

func seatBySeat(a *line.Audience) result.Table {
	t := result.Table{Title: result.Plain("SEATS, dB"), Columns: seatColumns(a)}
	var rows result.List
	seat := func(j int) {
		rows.Row(result.Say("%s", far(a.Seat[j].X)), append(result.Figs(figure.AudienceLevel, column(a.Level, j)).List,
			result.Fig(figure.AudienceWeighted, a.AWeighted[j]))...)
	}
	step, last := max(1, len(a.Seat)/seatRows), len(a.Seat)-1
	for j := 0; j <= last; j += step {
		seat(j)
	}
	if last%step != 0 {
		seat(last)
	}
	spread := make([]result.Cell, len(a.Bands), len(a.Bands)+1)
	for i := range spread {
		spread[i] = result.None
	}
	rows.Row(result.Plain("largest less smallest"), append(spread, result.Fig(figure.AudienceSpread, a.Spread))...)
	t.Rows = rows.Rows()
	return t
}

// hall lists a coarse grid of a side view, top row first, a table for each frequency.
func hall(s *line.Side) []result.Table {
	var out []result.Table
	at := func(c int) int { return c * (len(s.X) - 1) / (hallColumns - 1) }
	for i, f := range s.Hz {
		t := result.Table{Title: result.Say("%s, dB; height by distance", hertz(f))}
		for c := range hallColumns {
			t.Columns = append(t.Columns, result.Column{Head: result.Say("%s", far(s.X[at(c)]))})
		}
		var rows result.List
		for l := hallRows - 1; l >= 0; l-- {
			iz := l * (len(s.Z) - 1) / (hallRows - 1)
			cells := make([]result.Cell, hallColumns)
			for c := range cells {
				cells[c] = result.Fig(figure.SideLevel, s.Level[i][iz*len(s.X)+at(c)])
			}
			rows.Row(result.Say("%s", far(s.Z[iz])), cells...)
		}
		t.Rows = rows.Rows()
		out = append(out, t)
	}
	return out
}

// variants sets the line as built beside other ways of building it.
func variants(c *line.Coupling) result.Table {
	picked := c.Pick(250, 500, 1000, 2000)
	t := result.Table{Title: result.Plain("LINE HUNG STRAIGHT, in a wall"), Columns: []result.Column{
		headed(value, "half-wave rule"), {Head: result.Say("lobe over %s dB from", result.Fig(figure.VariantTarget, c.Target))}}}
	for _, i := range picked {
		t.Columns = append(t.Columns, result.Column{Head: result.Plain("lobe, DI at ").And(band(c.Hz[i]))})
	}
	var rows result.List
	for _, x := range c.Variants {
		limit := result.Fig(figure.VariantLimit, x.UpTo)
		if math.IsInf(x.UpTo, 1) {
			limit = limit.Saying("none")
		}
		cells := []result.Cell{result.Fig(figure.VariantHalfWave, x.Half), limit}
		for _, i := range picked {
			cells = append(cells, result.Phrase(result.Say("%s, %s", result.Fig(figure.VariantLobe, x.Lobe[i]), result.Fig(figure.VariantIndex, x.Index[i]))))
		}
		rows.Row(result.Plain(x.Name), cells...)
	}
	t.Rows = rows.Rows()
	return t
}
