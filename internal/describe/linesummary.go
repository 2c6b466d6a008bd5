package describe

import (
	"math"
	"sort"

	"gapline/cabinet/field"
	"gapline/internal/figure"
	"gapline/internal/result"
	"gapline/internal/study/line"
)

// summary is how the stack radiates, how its level falls with distance, what arrives
// at the seats and at points.
func (v lineParts) summary() result.Section {
	s := result.Section{Shown: result.At(result.People)}
	if v.r.Polar != nil {
		s.Parts = append(s.Parts, result.Prose{Shown: result.View(LineSummary, result.People), Texts: []result.Text{seatsSeen(v.r.Polar)}}, v.around())
	}
	if v.r.Distance != nil {
		s.Parts = append(s.Parts, v.fall())
	}
	if v.r.Audience != nil {
		s.Parts = append(s.Parts, v.atSeats())
		s.Parts = append(s.Parts, v.byMouths()...)
	}
	if v.r.Spots != nil {
		s.Parts = append(s.Parts, v.atPoints())
	}
	return s
}

// overFew is a table of the summary, a column for each of the few frequencies.
func (v lineParts) overFew(title result.Text, rows result.List) result.Table {
	t := result.Table{Shown: result.View(LineSummary, result.People), Title: title, Rows: rows.Rows()}
	for _, f := range v.r.Few.Hz {
		t.Columns = append(t.Columns, result.Column{Head: band(f)})
	}
	t.Columns = append(t.Columns, headed(trust, "trust"))
	return t
}

// row adds the values of a figure under a label.
func row(rows *result.List, label string, f *figure.Def, si []float64) {
	rows.Row(result.Plain(label), result.Figs(f, si).List...)
}

func (v lineParts) fall() result.Table {
	d := v.r.Distance
	var rows result.List
	for _, metre := range []float64{10, 100} {
		if metre >= d.Metre[0] && metre <= d.Metre[len(d.Metre)-1] {
			rows.Row(result.Say("level at %s, dB", far(metre)), result.Figs(figure.DistanceLevel, levelsAt(d, metre)).List...)
		}
	}
	of := func(f func(field.Transition) float64) []float64 { return each(d.Transition, f) }
	row(&rows, figure.DistanceCrossing.Name, figure.DistanceCrossing, d.Crossing)
	if d.Seats != nil && v.bent() {
		row(&rows, "seats: 4.5 dB per doubling at", figure.DistanceSeatsPasses, outermost(d.Seats.Passes))
	}
	row(&rows, figure.DistanceHalfRule.Name, figure.DistanceHalfRule, of(func(x field.Transition) float64 { return x.HalfRule }))
	row(&rows, figure.DistanceHeilUrban.Name, figure.DistanceHeilUrban, of(func(x field.Transition) float64 { return x.HeilUrban }))
	row(&rows, figure.DistanceLawsCross.Name, figure.DistanceLawsCross, of(func(x field.Transition) float64 { return x.Asymptote }))
	return v.overFew(result.Plain("LEVEL ALONG THE AXIS"), rows)
}

// levelsAt reads the levels off at a distance within the range, over log distance.
func levelsAt(d *line.Distance, metre float64) []float64 {
	j := max(sort.SearchFloat64s(d.Metre, metre), 1)
	share := math.Log(metre/d.Metre[j-1]) / math.Log(d.Metre[j]/d.Metre[j-1])
	return each(d.Level, func(l []float64) float64 { return l[j-1] + share*(l[j]-l[j-1]) })
}

func (v lineParts) atSeats() result.Table {
	a := v.r.Audience
	last := len(a.Seat) - 1
	t := result.Table{Shown: result.View(LineSummary, result.People), Columns: seatColumns(a),
		Title: result.Say("SEATS, %s to %s", far(a.Seat[0].X), far(a.Seat[last].X))}
	var rows result.List
	of := func(label string, at func([]float64) float64, weighted result.Cell) {
		rows.Row(result.Plain(label), append(result.Figs(figure.AudienceLevel, each(a.Level, at)).List, weighted)...)
	}
	of("front seat, octave bands", func(xs []float64) float64 { return xs[0] }, result.Fig(figure.AudienceFront, a.Front))
	of("back seat", func(xs []float64) float64 { return xs[last] }, result.Fig(figure.AudienceBack, a.Back))
	of("largest less smallest", extent, result.Fig(figure.AudienceSpread, a.Spread))
	t.Rows = rows.Rows()
	return t
}

// seatColumns are the octave bands and the A-weighted level.
func seatColumns(a *line.Audience) []result.Column {
	var out []result.Column
	for _, b := range a.Bands {
		out = append(out, result.Column{Head: band(b.Mid)})
	}
	return append(out, headed(value, "dBA"))
}

func extent(xs []float64) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, x := range xs {
		low, high = math.Min(low, x), math.Max(high, x)
	}
	return high - low
}

func (v lineParts) atPoints() result.Table {
	var rows result.List
	for _, s := range v.r.Spots.Spot {
		rows.Row(result.Say("%s, %s, %s", far(s.At.X), far(s.At.Y), far(s.At.Z)), result.Figs(figure.SpotLevel, s.Level).List...)
	}
	return v.overFew(result.Plain("AT POINTS x, y, z"), rows)
}
