package review

import (
	"math"
	"strings"

	"gapline/internal/designfile"
	"gapline/internal/document"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/picture"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/screen"
	"gapline/internal/study/size"
)

// changes says what differs from the earlier revision: the verdict, the design's
// keys, and every figure.
func (b *builder) changes(s *document.Section) error {
	if b.since == nil {
		missing(s, "No earlier revision was given (--since OLD.toml).")
		return nil
	}
	old := b.since
	s.Add(document.Text{Tone: document.Plain, Text: "Against " + old.Name + ", revision " + orMissing(old.design.Review.Revision, "review.revision") + "."})
	for _, f := range old.findings {
		if f.Severity == result.Missed || f.Severity == result.Met {
			s.Add(document.Text{Tone: document.Remark, Text: "Then " + strings.ToLower(f.Severity.Label()) + ": " + b.text(f.Text)})
		}
	}
	b.changedKeys(s)
	b.changedFigures(s)
	addPicture(s, "since", picture.Strip([]picture.Sized{named(old, "then"), named(&b.sized, "now")}, b.sys), "Frequency strips, then and now")
	return nil
}

func named(s *sized, name string) picture.Sized {
	p := s.picture()
	p.Name = name
	return p
}

// changedKeys lists the keys that differ.
func (b *builder) changedKeys(s *document.Section) {
	t := document.Table{Caption: "Changed in the design", Head: []string{"key", "then", "now"}, Left: []bool{true, true, true}}
	for i := range designfile.Keys {
		k := &designfile.Keys[i]
		then, now := k.Text(b.since.design, b.sys), k.Text(b.design, b.sys)
		if then != now || k.Numeric() && !same(k.Number(b.since.design), k.Number(b.design)) {
			t.Rows = append(t.Rows, document.Cells(k.Path, clip(then), clip(now)))
		}
	}
	if len(t.Rows) == 0 {
		s.Add(document.Text{Tone: document.Plain, Text: "No key of the design has changed."})
		return
	}
	s.Add(t)
}

// changedFigures lists every figure that either revision gives, those that stayed
// too.
func (b *builder) changedFigures(s *document.Section) {
	t := document.Table{Caption: "Every figure, then and now", Head: []string{"figure", "then", "now", "change", "trust"}, Left: []bool{true, false, false, false, true}}
	for _, f := range size.Table {
		then, now := b.figureCell(b.since, f.Def), b.figureCell(&b.sized, f.Def)
		if then.Text == "-" && now.Text == "-" {
			continue
		}
		t.Rows = append(t.Rows, document.Row{Cells: []document.Cell{{Text: f.Name, Note: f.Key}, then, now,
			{Text: b.changeText(f.Def)}, {Text: size.Trust(&b.sizing, f.Def).String()}}})
	}
	s.Add(t)
}

// changeText words how a figure has changed.
func (b *builder) changeText(f *figure.Def) string {
	then, now := size.Of(&b.since.sizing, f), size.Of(&b.sizing, f)
	switch d := now - then; {
	case same(then, now):
		return "none"
	case math.IsNaN(d) || math.IsInf(d, 0):
		return "now " + screen.FigureText(f, &b.sizing, b.sys)
	default:
		sign := "+"
		if d < 0 {
			sign = "−"
		}
		text := sign + quantity.FormatDifference(math.Abs(d), f.Kind, b.sys)
		if share := 100 * d / math.Abs(then); f.Kind != quantity.Level && f.Kind != quantity.Octaves && !math.IsInf(share, 0) {
			text += " (" + sign + quantity.Format(math.Abs(d/then), quantity.Fraction, b.sys) + ")"
		}
		return text
	}
}

func same(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }

// clip keeps long texts from filling a table.
func clip(s string) string {
	const most = 160
	r := []rune(strings.Join(strings.Fields(s), " "))
	if len(r) <= most {
		return string(r)
	}
	return string(r[:most-1]) + "…"
}

// changesObject is the JSON of the changes, in the units of the keys.
func (b *builder) changesObject() *screen.Object {
	o := &screen.Object{}
	keys, changed := &screen.Object{}, &screen.Object{}
	for i := range designfile.Keys {
		k := &designfile.Keys[i]
		then, now := k.Text(b.since.design, quantity.Metric), k.Text(b.design, quantity.Metric)
		if then != now || k.Numeric() && !same(k.Number(b.since.design), k.Number(b.design)) {
			keys.Set(k.Path, (&screen.Object{}).Set("then", then).Set("now", now))
		}
	}
	for _, f := range size.Table {
		then, now := finite(f.Machine(f.Of(&b.since.sizing))), finite(f.Machine(f.Of(&b.sizing)))
		if !same(then, now) {
			changed.Set(f.Key, (&screen.Object{}).Set("then", screen.Number(then)).Set("now", screen.Number(now)))
		}
	}
	return o.Set("since", b.since.Name).Set("keys", keys).Set("figures", changed)
}

// finite is the number that JSON can hold: NaN for infinities.
func finite(x float64) float64 {
	if math.IsInf(x, 0) {
		return numeric.Absent
	}
	return x
}
