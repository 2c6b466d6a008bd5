package describe

import (
	"math"
	"slices"

	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
)

// Leveled is a design with its maximum level over frequency.
type Leveled struct {
	Sized
	Frequency []float64 // Hz
	Level     []float64 // of one box, dB at 1 m in half space
}

// Levels overlays the maximum level of designs, each labelled with its gap, so that
// what closes the gap and what it costs at the bottom stand in one picture.
func Levels(designs []Leveled) result.Series {
	p := result.Panel{Proportion: result.LevelProportion}
	var alt result.Text
	var sized []Sized
	for _, d := range designs {
		sized = append(sized, d.Sized)
		label := gapLabel(d)
		p.Curves = append(p.Curves, result.Curve{Label: label, X: d.Frequency, Y: finite(d.Level)})
		b := &d.Sizing.Box
		if !numeric.Given(b.MaxLevel) {
			continue
		}
		p.Marks = addMark(p.Marks, result.Mark{X: b.LevelAt, Y: b.MaxLevel, Text: result.Say("%s", level(b.MaxLevel))})
		if !alt.Empty() {
			alt = alt.And(result.Plain("; "))
		}
		alt = alt.And(result.Say("%s %s at %s", label, level(b.MaxLevel), hertz(b.LevelAt)))
	}
	p.Y = levelAxis("Maximum level of one box re 20 µPa", 40, p.Curves...)
	const title = "Maximum level at the low end, and the gap at the top"
	f := designs[0].Frequency
	c := captionedAll(withUnlike(result.Caption{ID: "levels", Title: title, Page: "Maximum level of one box at the low end",
		Subtitle: result.Plain("one box without insert, 1 m, half space; power compression left out; diamonds: the frequency asked for"),
		Trust:    figure.Aperture.String() + ", lumped circuit",
		Alt:      result.Say(title+": %s.", alt)}, sized, levelConditions), sized)
	return result.Series{Shown: result.View(CompareLevel, result.Drawn|result.Page), Caption: c, Panels: []result.Panel{p},
		X: result.Axis{Kind: quantity.Frequency, Scale: result.FrequencyScale, Low: f[0], High: f[len(f)-1]}}
}

// gapLabel names a design with its gap.
func gapLabel(d Leveled) result.Text {
	gap := d.Sizing.Gap.AsGiven()
	switch {
	case gap > 0:
		return result.Say("%s, gap %s", d.Name, hundredths(gap))
	case !math.IsNaN(gap):
		return result.Say("%s, %s", d.Name, result.Fig(figure.GapOpen, gap))
	}
	return result.Plain(d.Name)
}

// addMark adds a mark unless one of the same value stands there already.
func addMark(marks []result.Mark, m result.Mark) []result.Mark {
	if slices.ContainsFunc(marks, func(x result.Mark) bool { return math.Abs(x.Y-m.Y) < 0.05 && math.Abs(x.X/m.X-1) < 1e-3 }) {
		return marks
	}
	return append(marks, m)
}
