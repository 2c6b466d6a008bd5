package describe

import (
	"math"
	"slices"
	"strings"

	"gapline/cabinet/field"
	"gapline/cabinet/source"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/preferred"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/line"
)

// LineSummary is the view of what a stack does in a few rows; the other views are
// those of the study.
const LineSummary = "summary"

// Always is the view of the parts that belong to none, to be shown beside others.
const Always = ""

// Line describes what a stack does, in the views that the study holds.
func Line(r *line.Result, findings []result.Finding) *result.Result {
	v := lineParts{hung{r.Study, figure.LineHung}, r}
	out := &result.Result{Title: r.Design.Title, Head: v.head()}
	out.Add(v.data()...)
	if r.Aimed != nil {
		out.Add(v.aimed(), v.aimData())
	}
	out.Add(v.summary())
	if r.Maximum != nil {
		out.Add(v.most()...)
	}
	out.Add(v.tables()...)
	out.Add(v.lists()...)
	out.Add(v.pictures()...)
	out.Add(result.Findings{Shown: result.At(result.People | result.Data), List: findings})
	return out
}

type lineParts struct {
	hung
	r *line.Result
}

// hung is a stack with the figures under which its command prints it.
type hung struct {
	*line.Study
	figs figure.Hung
}

// far is a distance in the hall, which reads best in m.
func far(m float64) result.Cell { return result.Num(m, quantity.Length).As(figure.InHall) }

// nearly is a distance in the hall as charts write it.
func nearly(m float64) result.Cell {
	return result.Num(m, quantity.Length).As(quantity.Style{Unit: "m", InchUnit: "ft", Verb: "%.3g"})
}

// nominal is a frequency by its preferred name, as charts write it.
func nominal(f float64) result.Cell { return short(preferred.Nominal(f)) }

// band names a frequency over a column of levels: "500", "1k", "12.5k".
func band(f float64) result.Text {
	f = preferred.Nominal(f)
	st := quantity.Style{Verb: "%.4g", Unit: "Hz", Bare: true}
	if f < 1000 {
		return result.Say("%s", hertz(f).As(st))
	}
	st.Unit = "kHz"
	return result.Say("%sk", hertz(f).As(st))
}

// joined sets a separator between texts.
func joined(separator string, texts ...result.Text) result.Text {
	var out result.Text
	for i, t := range texts {
		if i > 0 {
			out = out.And(result.Plain(separator))
		}
		out = out.And(t)
	}
	return out
}

// head says where the boxes hang, under which conditions, and what is in them.
func (h hung) head() []result.Text {
	out := []result.Text{h.place(), result.Say("Predicted, "+h.trusted()+": %s. Levels in %s.", h.conditions(), h.reference())}
	for i := range h.Model.Bands {
		b := &h.Model.Bands[i]
		text := result.Plain("  " + b.Name + ", " + b.What + " a box: " + strings.TrimSuffix(b.Origin, ", "))
		if numeric.Given(b.Turned) && math.Abs(b.Turned) > 0.05 {
			text = text.And(result.Say(" (turned %s)", result.Fig(h.figs.Turned, b.Turned)))
		}
		out = append(out, text)
	}
	return append(out, h.radiates()...)
}

// place says where the boxes hang.
func (h hung) place() result.Text {
	d := h.Design
	parts := []result.Text{result.Say("%s boxes at %s pitch", result.Count(d.Line.Boxes), length(d.Pitch()))}
	if d.Line.Boxes > 1 {
		splay := result.Plain("straight")
		if turn := h.TotalSplay(); turn != 0 {
			splay = result.Say("%s of splay in all", angle(turn))
		}
		parts = append(parts, splay)
	}
	if top := h.Model.Stack.TopHeight; numeric.Given(top) {
		parts = append(parts, result.Say("top at %s", far(top)), result.Say("lowest corner at %s", far(h.Lowest())))
	}
	if tilt := d.Line.Tilt.Or(0); tilt != 0 {
		parts = append(parts, result.Say("top box tilted %s", downward(-tilt)))
	}
	parts = append(parts, result.Say("axis %s", downward(h.AxisDown())))
	if g := h.Model.Stack.Shading; len(g) > 0 && slices.Min(g) != slices.Max(g) {
		parts = append(parts, result.Say("gains of the boxes %s to %s", level(slices.Min(g)), level(slices.Max(g))))
	}
	if t := h.Model.Stack.Delays; len(t) > 0 && slices.Max(t) > 0 {
		parts = append(parts, result.Say("boxes delayed by up to %s", result.Num(slices.Max(t), quantity.Time)))
	}
	return joined(", ", parts...).And(result.Say("; air %s", h.air()))
}

func (h hung) air() result.Text { return airOf(h.Design, h.SoundSpeed()) }

// downward words an angle counted downward: "10° down".
func downward(down float64) result.Cell {
	const even = 5e-4 // rad
	switch {
	case math.Abs(down) < even:
		return result.Word("level")
	case down > 0:
		return result.Phrase(result.Say("%s down", angle(down)))
	}
	return result.Phrase(result.Say("%s up", angle(-down)))
}

// conditions words what the study assumes.
func (h hung) conditions() result.Text {
	boundary, floor := "mouths in the open", result.Plain("no floor")
	switch {
	case h.Conditions.Boundary == field.Baffled:
		boundary = "each mouth in its own wall"
	case h.Model.Patterned():
		boundary = "boxes in the open"
	}
	if g := h.Conditions.Ground; g > 0 {
		floor = result.Say("floor reflecting %s", result.Num(g, quantity.Fraction).As(quantity.Style{Verb: "%.0f"}))
	}
	shade := "boxes do not shade each other"
	if slices.ContainsFunc(h.Model.Bands, func(b source.Band) bool { return b.Pattern != nil && b.Pattern.Boxes > 1 }) {
		shade = "boxes shade each other as far as in the run"
	}
	return result.Say("%s, %s, "+shade, boundary, floor)
}

// reference says what 0 dB is and at which drive.
func (h hung) reference() result.Text {
	if !h.Model.Absolute {
		return result.Plain(h.Model.Reference() + " (relative: no level is known)")
	}
	return result.Say("%s at %s a box", h.Model.Reference(), result.Fig(h.figs.Drive, h.Model.Voltage))
}
