package describe

import (
	"fmt"
	"math"
	"math/cmplx"

	"gapline/cabinet/section"
	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/wave"
)

// WaveTurn describes the turn between the layers solved. Frequencies and seconds at
// the top of JSON are those of the design's own turns, plain and filleted together.
func WaveTurn(st *wave.Turn) *result.Result {
	t := turnParts{st}
	r := waved(st.Design, &st.Sizing, t.text(), "fold")
	own := t.solution()
	c := st.Check
	r.Add(alone(t.limits()), alone(t.table()), notes(advice.TurnFindings(c, stride(len(own.frequency)))), t.listing(),
		named("view", result.Word(WaveBend)), t.both(own).data(),
		facts(result.Fig(figure.WavePlate, c.Plate), result.Fig(figure.WaveLayer, c.Layer)),
		result.Table{Shown: result.At(result.Data), Columns: []result.Column{value}, Rows: result.Rows(result.FigureRow(result.Fig(figure.FoldCrossMode, c.CrossMode)))},
		t.turns(), t.chart())
	return r
}

type turnParts struct{ *wave.Turn }

// solved are the turns with a result.
func (t turnParts) solved() []*section.Turn {
	var out []*section.Turn
	for i := range t.Check.Turns {
		if x := &t.Check.Turns[i]; x.Result != nil {
			out = append(out, x)
		}
	}
	return out
}

// solution is that of the design's plain turn.
func (t turnParts) solution() *solution {
	r := t.Check.Plain().Result
	return &solution{r.Frequency, r.Seconds, r.Unknowns, r.Change}
}

// both is the solution with the time of the filleted turn too and the unknowns of all.
func (t turnParts) both(own *solution) *solution {
	out := *own
	out.seconds, out.unknowns = nil, nil
	fillet := t.Check.Fillet().Result.Seconds
	for i, s := range own.seconds {
		out.seconds = append(out.seconds, s+fillet[i])
	}
	for _, x := range t.solved() {
		out.unknowns = append(out.unknowns, x.Result.Unknowns...)
	}
	return &out
}

// text describes the turn in one sentence.
func (t turnParts) text() result.Text {
	return result.Say("Section through the turn between the layers: layers %s thick, a plate of %s between them; plain corners, and filleted: plate end half round, outer corners rounded about it.",
		length(t.Check.Layer), length(t.Check.Plate))
}

// limits tells for each thickness how far up the turn stays quiet.
func (t turnParts) limits() result.Table {
	c := t.Check
	var rows result.List
	for i := 0; i+1 < len(c.Turns); i += 2 {
		plain, filleted := &c.Turns[i], &c.Turns[i+1]
		mark := ""
		if plain == c.Plain() {
			mark = ", fold.layer"
		}
		rows.Row(result.Say("layers %s"+mark, length(plain.Bend.Thickness)), quiet(plain), quiet(filleted),
			result.Fig(figure.WaveTurnMode, c.CrossMode*c.Layer/plain.Bend.Thickness))
	}
	return result.Table{Shown: result.At(result.Screen), Title: result.Plain("REFLECTS UNDER A TENTH OF THE POWER UP TO"), Rows: rows.Rows(),
		Columns: []result.Column{headed(value, "plain"), headed(value, "filleted"), headed(value, "cross mode"), headed(trust, "trust")}}
}

// quiet is the frequency up to which a turn reflects little.
func quiet(t *section.Turn) result.Cell {
	c := result.Fig(figure.WaveTurnQuiet, t.QuietTo())
	if math.IsInf(c.SI, 1) {
		f := t.Result.Frequency
		c.SI, c.State = f[len(f)-1], result.Beyond
	}
	return c
}

func decibels(z []complex128) []float64 {
	return each(z, func(v complex128) float64 { return numeric.DB(cmplx.Abs(v)) })
}

// table is reflection and transmission of the design's turn against frequency.
func (t turnParts) table() result.Table {
	plain, fillet := t.Check.Plain().Result, t.Check.Fillet().Result
	over := func(fig *figure.Def, head string, z []complex128) curve {
		return curve{figure: fig, head: head, y: decibels(z)}
	}
	return sampled(result.At(result.Screen), "LEVEL AT", plain.Frequency, stride(len(plain.Frequency)), []curve{
		over(figure.WaveTurnReflected, "reflected, plain", plain.Reflection), over(figure.WaveTurnReflected, "filleted", fillet.Reflection),
		over(figure.WaveTurnPassed, "passed, plain", plain.Transmission), over(figure.WaveTurnPassed, "filleted", fillet.Transmission),
	})
}

// curvesOf are a turn's curves over frequency.
func curvesOf(t *section.Turn) []curve {
	r := t.Result
	return []curve{{figure: figure.WaveFrequency, y: r.Frequency}, {figure: figure.WaveTurnReflected, y: decibels(r.Reflection)},
		{figure: figure.WaveTurnPassed, y: decibels(r.Transmission)}, {figure: figure.WaveImbalance, y: r.Imbalance}}
}

// turns holds every turn, for programs.
func (t turnParts) turns() result.Section {
	out := result.Section{Shown: result.At(result.Data), Key: "turns", List: true}
	for _, x := range t.solved() {
		s := solution{frequency: x.Result.Frequency, change: x.Result.Change}
		out.Parts = append(out.Parts, result.Section{Shown: result.At(result.Data), Parts: []result.Part{
			facts(result.Fig(figure.WaveTurnLayer, x.Bend.Thickness)), named("filleted", result.Yes(x.Filleted)), facts(quiet(x)),
			listed(result.At(result.Data), curvesOf(x)), listed(result.At(result.Data), []curve{s.changes()}),
		}})
	}
	return out
}

// listing is reflection and transmission of every turn, a row for each turn and
// frequency.
func (t turnParts) listing() result.Table {
	out := result.Table{Shown: result.At(result.Listing), As: result.ByColumn, Columns: []result.Column{{Fig: figure.WaveTurnLayer}, {Key: "filleted"}}}
	var rows result.List
	for k, x := range t.solved() {
		s := solution{frequency: x.Result.Frequency, change: x.Result.Change}
		curves := append(curvesOf(x), s.changes())
		for i := range x.Result.Frequency {
			cells := []result.Cell{result.Fig(figure.WaveTurnLayer, x.Bend.Thickness), result.Yes(x.Filleted)}
			for j := range curves {
				cells = append(cells, curves[j].cell(i))
			}
			rows.Add(result.Row{Cells: cells})
		}
		for j := range curves {
			if k == 0 {
				out.Columns = append(out.Columns, result.Column{Fig: curves[j].figure})
			}
		}
	}
	out.Rows = rows.Rows()
	return out
}

// chart shows what the turn reflects and passes on, plain and filleted, for the
// design's layer and for a thinner and a thicker one.
func (t turnParts) chart() result.Series {
	var reflected, passed []result.Curve
	low, high := 0.0, 0.0
	for i := range t.Check.Turns {
		x := &t.Check.Turns[i]
		if x.Result == nil {
			continue
		}
		f := x.Result.Frequency
		low, high = f[0], math.Max(high, f[len(f)-1])
		curve := result.Curve{Label: result.Say("%s plain", length(x.Bend.Thickness)), X: f, Colour: 1 + i/2, Dash: result.Solid}
		if x.Filleted {
			curve.Label, curve.Dash = result.Say("%s filleted", length(x.Bend.Thickness)), result.Dashed
		}
		curve.Y = powers(x.Result.Reflection)
		reflected = append(reflected, curve)
		curve.Y = powers(x.Result.Transmission)
		passed = append(passed, curve)
	}
	share := func(label string) result.Axis {
		return result.Axis{Label: label, Kind: quantity.Fraction, Unit: "%", High: 1}
	}
	return result.Series{Shown: result.View(WaveBend, result.Drawn), X: runBand([]float64{low, high}), Panels: []result.Panel{
		{Y: share("Power reflected"), Curves: reflected,
			Guides: []result.Guide{{Value: section.LoudReflection * section.LoudReflection, Text: result.Plain("a tenth")}}},
		{Y: share("Power passed on"), Curves: passed},
	}, Caption: captioned(result.Caption{Title: "What the turn between the layers throws back", Subtitle: t.text(), Trust: "wave",
		Alt: result.Plain(fmt.Sprintf("Reflected and passed power of the turn against frequency, %d curves.", len(reflected)))}, t.Design, &t.Sizing)}
}

// powers are the powers of pressure ratios.
func powers(z []complex128) []float64 {
	return each(z, func(v complex128) float64 { return real(v)*real(v) + imag(v)*imag(v) })
}
