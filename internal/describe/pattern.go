package describe

import (
	"math"
	"strings"

	"gapline/cabinet/source"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/result"
	"gapline/internal/study/line"
)

// apertureKind is what a band without a pattern radiates by.
const apertureKind = "aperture"

// patternKind is what a band radiates by, as a word of --pattern.
func patternKind(b *source.Band) string {
	if b.Pattern == nil {
		return apertureKind
	}
	return b.Pattern.Kind.String()
}

// patternName is the run or the folder; empty: ideal mouths.
func patternName(b *source.Band) string {
	if b.Pattern == nil {
		return ""
	}
	return b.Pattern.Name
}

// patternEnds are the range of a pattern, and that outside which mouths alone sound.
func patternEnds(b *source.Band) [4]float64 {
	a := numeric.Absent
	if b.Pattern == nil {
		return [4]float64{a, a, a, a}
	}
	low, high := b.Pattern.Range()
	below, above := b.Pattern.Mouths()
	return [4]float64{low, high, below, above}
}

// radiates says by what each band radiates; nothing where all do by ideal mouths, which the
// conditions say.
func (h hung) radiates() []result.Text {
	if !h.Model.Patterned() {
		return nil
	}
	var out []result.Text
	for i := range h.Model.Bands {
		b := &h.Model.Bands[i]
		if b.Pattern == nil {
			out = append(out, result.Say("  %s by ideal mouths (trust aperture): no pattern of this box is at hand", result.Name(b.Name)))
			continue
		}
		from := "run " + b.Pattern.Name + " in space of this box by itself (trust wave)"
		if n := b.Pattern.Boxes; n > 1 {
			from = "run " + b.Pattern.Name + " in space of this box in the middle of " + boxes(n) + " (trust wave)"
		}
		if b.Pattern.Kind == source.ByMeasured {
			from = "polars in " + b.Pattern.Name + " (trust measured)"
			if b.Pattern.Predicted {
				from = "polars in " + b.Pattern.Name + " (predicted ones, trust as there)"
			}
		}
		e := patternEnds(b)
		text := result.Say("  %s by the "+from+", %s to %s; ideal mouths below %s and above %s, both in between", result.Name(b.Name),
			result.Fig(h.figs.PatternFrom, e[0]), result.Fig(h.figs.PatternTo, e[1]), result.Fig(h.figs.MouthsBelow, e[2]), result.Fig(h.figs.MouthsAbove, e[3]))
		if len(b.Pattern.Notes) > 0 {
			text = text.And(result.Plain("; " + strings.Join(b.Pattern.Notes, "; ")))
		}
		out = append(out, text)
	}
	return out
}

// trusted words the level of trust of a stack.
func (h hung) trusted() string {
	if h.Model.Patterned() {
		return "trust by band as below"
	}
	return "trust aperture"
}

// tableTrust is that of a table written for other programs, which has one line for it.
func (h hung) tableTrust() string {
	if !h.Model.Patterned() {
		return h.trusted()
	}
	var words []string
	for i := range h.Model.Bands {
		b := &h.Model.Bands[i]
		words = append(words, b.Name+" "+patternKind(b))
	}
	return "trust " + strings.Join(words, ", ")
}

// byMouths sets the seats by patterns beside those by ideal mouths: front, back, and the seat that
// moves most; nothing where none moves noticeably.
func (v lineParts) byMouths() []result.Part {
	m := v.r.Moved()
	if m == nil || !(math.Abs(m.Most) > line.MovedNoticeably) {
		return nil
	}
	a, ideal := v.r.Audience, v.r.ByMouths
	t := result.Table{Shown: result.View(LineSummary, result.People), Columns: seatColumns(a), Title: result.Plain("SEATS by pattern and by ideal mouths")}
	var rows result.List
	seat := func(label result.Text, j int) {
		rows.Row(label.And(result.Plain(", pattern")), append(result.Figs(figure.AudienceLevel, column(a.Level, j)).List, result.Fig(figure.AudienceWeighted, a.AWeighted[j]))...)
		rows.Row(result.Plain("  ideal mouths"), append(result.Figs(figure.AudienceMouthLevel, column(ideal.Level, j)).List, result.Fig(figure.AudienceMouthWeighted, ideal.AWeighted[j]))...)
		rows.Row(result.Plain("  moved by"), append(result.Figs(figure.AudienceMoved, column(m.Octave, j)).List, result.Fig(figure.AudienceMovedWeighted, m.Weighted[j]))...)
	}
	last := len(a.Seat) - 1
	seat(result.Plain("front seat"), 0)
	if m.Seat != 0 && m.Seat != last {
		seat(result.Say("moved most, %s", far(a.Seat[m.Seat].X)), m.Seat)
	}
	if last > 0 {
		seat(result.Plain("back seat"), last)
	}
	t.Rows = rows.Rows()
	return []result.Part{t}
}

// byMouthsData is the seats by ideal mouths for programs; null where no pattern hangs.
func (v lineParts) byMouthsData() result.Section {
	m := v.r.Moved()
	if m == nil {
		return groupIf(false, "by_mouths")
	}
	return groupIf(true, "by_mouths", levels(figure.AudienceMouthLevel, v.r.ByMouths.Level), levels(figure.AudienceMoved, m.Octave),
		object(list(figure.AudienceMouthWeighted, v.r.ByMouths.AWeighted), list(figure.AudienceMovedWeighted, m.Weighted)))
}
