package describe

import (
	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/formula"
	"gapline/internal/result"
	"gapline/internal/study/fit"
	"gapline/internal/study/size"
	"gapline/internal/study/space"
)

// Binding is the gap of a design at each level of trust that has figures, with the verdict
// there and what binds each side.
func Binding(d Sized, fits *fit.Fit) result.Table {
	p := sizeParts{d: d.Design, s: d.Sizing, fits: fits, judged: advice.Judge(d.Design, d.Sizing, fits)}
	t := result.Table{Shown: result.At(result.Screen), Labels: "level", Columns: []result.Column{headed(value, "gap"),
		headed(value, "verdict"), headed(value, p.belowName()+" up to"), headed(value, "bound by"), headed(value, "horn from"), headed(value, "bound by")}}
	var rows result.List
	for l := range sizing.LevelCount {
		g := &p.judged.Levels[l]
		x := traded{Sized: d, judged: p.judged}
		if !x.known(l) {
			continue
		}
		rows.Row(result.Plain(advice.By(l)), gapWords(gapLevels[l].Gap, g.Gap), result.Word(g.Verdict.String()),
			result.Fig(gapLevels[l].Low, g.Low.Hz), result.Word(advice.LimitWords[g.Low.By]),
			result.Fig(gapLevels[l].High, g.High.Hz), result.Word(advice.LimitWords[g.High.By]))
	}
	t.Rows = rows.Rows()
	return t
}

// gapWords is a gap as size prints it: "0.51 oct open".
func gapWords(f *figure.Def, octaves float64) result.Cell {
	c := gapCell(f, octaves)
	c.Style = nil
	return c
}

// GapAsGiven is the gap of the design as given, on the basis of the verdict.
func GapAsGiven(d Sized) result.Cell {
	f := space.GapFigure(d.Design)
	return gapWords(f, size.Of(d.Sizing, f))
}

// GapBy names the level of trust of GapAsGiven: "by rule".
func GapBy(d Sized) string {
	if d.Sizing.Gap.Basis == design.Lobe {
		return advice.By(sizing.ByAperture)
	}
	return advice.By(sizing.ByRule)
}

// Verdict is the word for the verdict on the gap.
func Verdict(d Sized, fits *fit.Fit) string {
	j := advice.Judge(d.Design, d.Sizing, fits)
	return j.Verdict.String()
}

// FiguresBeside lists the figures that a design has, with their values in an earlier state.
func FiguresBeside(now, before Sized) result.Table {
	var rows result.List
	for _, f := range size.Table {
		is, was := size.Cell(now.Sizing, f.Def), size.Cell(before.Sizing, f.Def)
		if !is.Given() && !was.Given() {
			continue
		}
		rows.Add(result.Row{Key: f.Key, Label: result.Plain(f.Name), Cells: []result.Cell{is, was}, Trust: is.TrustOf()})
	}
	return result.Table{Shown: result.At(result.Screen), Columns: []result.Column{headed(value, "now"), headed(value, "before"), headed(trust, "trust")}, Rows: rows.Rows()}
}

// WorkBeside puts the numbers of two states of a design into the formula of a figure.
func WorkBeside(f *figure.Def, now, before Sized) *result.Result {
	is := worked{d: now.Design, s: now.Sizing, seen: map[string]bool{}}
	was := worked{d: before.Design, s: before.Sizing, seen: map[string]bool{}}
	var rows result.List
	for _, t := range workedTerms(f) {
		label := t.Key
		if t.Symbol != "" {
			label = t.Symbol + " = " + t.Key
		}
		key := ""
		if figure.Find(t.Key) != nil {
			key = figure.Find(t.Key).Key
		}
		rows.Add(result.Row{Key: key, Label: result.Plain(label), Cells: []result.Cell{is.shown(t), was.shown(t)}})
	}
	rows.Add(result.Row{Label: result.Plain("result"), Cells: []result.Cell{result.Phrase(is.result(f)), result.Phrase(was.result(f))}})
	r := &result.Result{Title: f.Name, Untitled: true}
	for _, text := range []string{f.Formula, f.Domain, f.Higher, f.Source} {
		if text != "" {
			r.Add(result.Prose{Shown: result.At(result.Screen), Texts: []result.Text{result.Plain(text)}})
		}
	}
	r.Add(result.Table{Shown: result.At(result.Screen), Labels: "input", Columns: []result.Column{headed(value, "now"), headed(value, "before")}, Rows: rows.Rows()})
	r.Add(inFullBeside(f, &is, &was)...)
	return r
}

// inFullBeside is the formula in full with what each line gives in two states.
func inFullBeside(f *figure.Def, is, was *worked) []result.Part {
	if len(f.Hand) == 0 {
		return nil
	}
	now, before := is.byHand(f), was.byHand(f)
	given := func(values []formula.Value, i int) result.Cell {
		if i < len(values) && values[i].Known {
			return result.Word(complexText(values[i].Number))
		}
		return result.None
	}
	var rows result.List
	for i, line := range f.Hand {
		rows.Row(result.Plain(line), given(now, i), given(before, i))
	}
	return []result.Part{result.Table{Shown: result.At(result.Screen), Labels: "in full, SI units",
		Columns: []result.Column{headed(value, "now"), headed(value, "before")}, Rows: rows.Rows()}}
}

// shown is an input with its value, or why it has none.
func (w *worked) shown(t figure.Term) result.Cell {
	v := w.value(t)
	if v.lacks != "" {
		return result.Word(v.lacks)
	}
	return v.shown
}
