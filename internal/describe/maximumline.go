package describe

import (
	"fmt"

	"gapline/cabinet/field"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/preferred"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/line"
	"gapline/internal/study/maximum"
)

// loudest is the largest levels of the stack.
func (v lineParts) loudest() loudest {
	m := v.r.Maximum
	return loudest{one: m.Box, levels: m.Levels, stack: m.Stack, play: m.Programme, figs: figure.LineMaximum}
}

// most is the largest levels in the summary: tones, then programme.
func (v lineParts) most() []result.Part {
	l := v.loudest()
	shown := result.View(LineSummary, result.People)
	levels := []result.Part{l.tones(shown, "LARGEST TONES", v.r.Few.Hz)}
	if v.r.Maximum.Seats != nil {
		levels = append(levels, v.programme(shown, false))
	}
	out := []result.Part{setOff(levels...)}
	if l.play.First() != maximum.None {
		out = append(out, setOff(l.bands(shown)))
	}
	return out
}

// loudestTables are the views of the largest levels for the screen.
func (v lineParts) loudestTables() []result.Part {
	l := v.loudest()
	out := []result.Part{onScreen(line.MaximumView, l.tones(result.Shown{}, "LARGEST TONES", nominalHz(31, 16e3)))}
	if v.r.Maximum.Seats != nil {
		out = append(out, onScreen(line.ProgrammeView, v.programme(result.Shown{}, true), l.bands(result.Shown{})))
	}
	return out
}

// Octaves of the programme that people read, Hz.
const lowestRead, highestRead = 63, 8000

// programme is the largest levels at the seats: of the first, the last and the loudest, or
// of about seatRows of them.
func (v lineParts) programme(shown result.Shown, every bool) result.Table {
	s := v.r.Maximum.Seats
	t := result.Table{Shown: shown, Title: result.Plain("LARGEST PROGRAMME, dB")}
	var octaves []int
	for i, b := range s.Octave {
		if f := preferred.Nominal(b.Mid); f >= lowestRead && f <= highestRead {
			octaves = append(octaves, i)
			t.Columns = append(t.Columns, result.Column{Head: band(b.Mid)})
		}
	}
	t.Columns = append(t.Columns, headed(value, "dBA"), headed(value, "dBC"))
	var rows result.List
	seat := func(label result.Text, j int) {
		var cells []result.Cell
		for _, i := range octaves {
			cells = append(cells, result.Fig(figure.ProgrammeLevel, s.Level[i][j]))
		}
		rows.Row(label, append(cells, result.Fig(figure.ProgrammeA, s.A[j]), result.Fig(figure.ProgrammeC, s.C[j]))...)
	}
	last := len(s.Seat) - 1
	if every {
		step := max(1, len(s.Seat)/seatRows)
		for j := 0; j <= last; j += step {
			seat(result.Say("%s", far(s.Seat[j].X)), j)
		}
		if last%step != 0 {
			seat(result.Say("%s", far(s.Seat[last].X)), last)
		}
	} else {
		seat(result.Say("front seat, %s", far(s.Seat[0].X)), 0)
		seat(result.Say("back seat, %s", far(s.Seat[last].X)), last)
		seat(result.Say("loudest seat, %s", far(s.Seat[s.Loudest].X)), s.Loudest)
	}
	t.Rows = rows.Rows()
	return t
}

// loudestLists are the views of the largest levels for CSV.
func (v lineParts) loudestLists() []result.Part {
	out := []result.Part{v.loudest().list(result.View(string(line.MaximumView), result.Listing))}
	s := v.r.Maximum.Seats
	if s == nil {
		return out
	}
	columns := columnsOf(figure.ProgrammeX, figure.ProgrammeZ, figure.ProgrammeA, figure.ProgrammeC)
	for _, b := range s.Octave {
		columns = append(columns, result.Column{Key: fmt.Sprintf("level_db_%.5ghz", preferred.Nominal(b.Mid)), Fig: figure.ProgrammeLevel})
	}
	return append(out, long(string(line.ProgrammeView), columns, func(row func(...float64) bool) {
		for j, at := range s.Seat {
			if !row(append([]float64{at.X, at.Z, s.A[j], s.C[j]}, column(s.Level, j)...)...) {
				return
			}
		}
	}))
}

// loudestData is the largest levels for programs.
func (v lineParts) loudestData() result.Part {
	s, l := v.r.Maximum.Seats, v.loudest()
	if s == nil {
		return l.data("maximum")
	}
	var doses result.List
	for _, e := range s.Exposures {
		doses.Row(result.Text{}, result.Name(e.Of.Name), result.Name(e.Of.Source), result.Fig(figure.ProgrammeDoseLevel, e.Of.Level),
			result.Fig(figure.ProgrammeDosePeak, e.Of.Peak), result.Fig(figure.ProgrammeDose, e.Time), result.Yes(e.Over))
	}
	return l.data("maximum",
		group("seats", object(list(figure.ProgrammeFrequency, each(s.Octave, func(b field.Band) float64 { return b.Mid })),
			list(figure.ProgrammeX, each(s.Seat, seatX)), list(figure.ProgrammeZ, each(s.Seat, seatZ))), levels(figure.ProgrammeLevel, s.Level),
			object(list(figure.ProgrammeA, s.A), list(figure.ProgrammeC, s.C), fact(figure.ProgrammeTones, float64(s.Tones)), under("tones_settled", result.Yes(s.Settled)),
				fact(figure.ProgrammeLoudest, float64(s.Loudest)), under("air_absorption", result.Yes(v.r.Maximum.Absorbed)))),
		group("exposure", facts(result.Fig(figure.ProgrammeExposure, s.LoudestLevel()), result.Fig(figure.ProgrammePeak, s.Peak),
			result.Fig(figure.ProgrammeVenue, s.VenueMargin())),
			records("doses", []result.Column{{Key: "name"}, {Key: "source"}, {Fig: figure.ProgrammeDoseLevel}, {Fig: figure.ProgrammeDosePeak}, {Fig: figure.ProgrammeDose}, {Key: "peak_over"}}, doses)))
}

// loudestCharts draws the largest levels.
func (v lineParts) loudestCharts() []result.Part {
	l := v.loudest()
	out := []result.Part{}
	if numeric.AnyGiven(l.levels.Sum) {
		out = append(out, result.Series{Shown: drawnIn(line.MaximumView, result.Page), X: l.axis(), Panels: []result.Panel{l.panel()}, Caption: v.caption(result.Caption{
			ID: "maximum", Title: "Largest level, and what stops it", Page: "Largest level of tones of one box and of the stack, and what stops it",
			Subtitle: result.Say("%s; tones through the crossover, one box in half space at 1 m; diamonds: the band that stops all there, and by what; power compression left out", v.boxes()),
			Alt:      result.Plain("Largest level over frequency of one box and of the stack, with what stops it."),
		})})
	}
	if v.r.Maximum.Seats != nil {
		out = append(out, v.programmeChart())
	}
	return out
}

// programmeChart draws the largest programme along the seats.
func (v lineParts) programmeChart() result.Series {
	s, l := v.r.Maximum.Seats, v.loudest()
	x := each(s.Seat, seatX)
	weighted := result.Panel{Y: result.Axis{Label: "Weighted", Kind: quantity.Level, Unit: "dB"}, Height: 150, Curves: []result.Curve{
		{Label: result.Plain("C-weighted"), X: x, Y: finite(s.C), Colour: 2, Dash: result.Dashed},
		{Label: result.Plain("A-weighted"), X: x, Y: finite(s.A), Colour: 1, Dash: result.Solid}}}
	octaves := result.Panel{Y: result.Axis{Label: "Octaves", Kind: quantity.Level, Unit: "dB SPL"}, Height: 200}
	for n, want := range []float64{63, 250, 1000, 4000} {
		i := nearestBand(s.Octave, want)
		octaves.Curves = append(octaves.Curves, result.Curve{Label: result.Say("%s", nominal(want)), X: x, Y: finite(s.Level[i]), Colour: 1 + n, Dash: dashOf(n)})
	}
	return result.Series{Shown: drawnIn(line.ProgrammeView, result.Page), X: inHall("Distance"), Panels: []result.Panel{weighted, octaves}, Caption: v.caption(result.Caption{
		ID: "programme", Title: "Largest level of programme along the seats", Page: "Largest level of programme along the seats",
		Subtitle: result.Say("%s; %s; first the %s stop, by %s; %s, %s", v.boxes(), l.signal(), l.band(l.play.First()), cause(l.play.First()), absorbed(v.r.Maximum.Absorbed), v.conditions()),
		Alt:      result.Plain("Largest level of programme along the seats, weighted and in octaves."),
	})}
}
