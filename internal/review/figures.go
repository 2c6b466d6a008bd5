package review

import (
	"fmt"
	"slices"
	"strings"

	"gapline/internal/document"
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/screen"
	"gapline/internal/study/size"
)

// groups are the tables of figures: the group of a key and its caption.
var groups = []struct{ group, caption string }{
	{"gap", "Crossover gap"},
	{"coupling", "Line"},
	{"coupling.open", "Woofer line, bare cones"},
	{"coupling.insert", "Woofer line with the insert"},
	{"coupling.mid", "Mid line"},
	{"horn", "Horn"},
	{"fold", "Folded path"},
	{"box", "Low end of one box"},
	{"line", "Hung line"},
	{"air", "Air"},
}

// figures lists every figure that the design gives, with its level of trust.
func (b *builder) figures(s *document.Section) error {
	s.Add(document.Text{Tone: document.Plain, Text: "Every figure carries how far it can be trusted. A higher level never replaces a lower one: where they part is what to ask about."})
	s.Add(b.levels())
	absent := absentees{b: b}
	for _, g := range groups {
		t := document.Table{Caption: g.caption, Head: []string{"figure", "value", "trust", "source"}, Left: []bool{true, false, true, true}}
		for _, f := range size.Table {
			switch {
			case f.Group() != g.group:
			case screen.FigureText(f.Def, &b.sizing, b.sys) == "-":
				absent.add(f.Def)
			default:
				t.Rows = append(t.Rows, b.figureRow(f.Def))
			}
		}
		if len(t.Rows) > 0 {
			s.Add(t)
		}
	}
	if len(absent.keys) > 0 {
		missing(s, "The file does not give enough for "+strings.Join(absent.keys, ", ")+". gapline explain KEY names what each needs.")
	}
	if absent.parts != nil {
		s.Add(document.Text{Tone: document.Remark, Text: "The design has no " + strings.Join(absent.parts, " and no ") + "."})
	}
	return nil
}

// absentees are the figures without a value: those of parts that the design does
// not have count once.
type absentees struct {
	b     *builder
	keys  []string
	parts []string
}

func (a *absentees) add(f *figure.Def) {
	part := ""
	switch k := &a.b.sizing.Coupling; {
	case f.Group() == "coupling.insert" && !k.HasInsert || f == figure.GapInsert && !k.HasInsert:
		part = "insert"
	case f.Group() == "coupling.mid" && !k.HasMid || f == figure.GapWooferMid && !k.HasMid:
		part = "mid band"
	case f.Group() == "fold" && !a.b.sizing.Fold.Given:
		part = "folded path"
	case f == figure.HornFlaresFilled && !a.b.design.Horn.Sides.Given():
		part = "side flares"
	case f == figure.GapCrossover && a.b.sizing.Gap.AsGiven() > 0:
		return // an open gap has no place for a crossover
	case f.Trust == figure.Wave || slices.Contains(ofStudies, f):
		return // their own sections have them, or say why not
	default:
		a.keys = append(a.keys, f.Key)
		return
	}
	if !slices.Contains(a.parts, part) {
		a.parts = append(a.parts, part)
	}
}

// ofStudies are the figures that only the studies of horn and fold work out; size
// --json has none of them.
var ofStudies = []*figure.Def{figure.HornRipple, figure.HornHalfLoaded, figure.HornEfficiency,
	figure.FoldToleranceAxial, figure.FoldToleranceLateral, figure.FoldToleranceProfile}

// levels explains the levels of trust.
func (b *builder) levels() document.Table {
	t := document.Table{Caption: "Levels of trust, from low to high", Head: []string{"level", "what it stands for"}, Left: []bool{true, true}}
	for _, l := range []figure.Trust{figure.Rule, figure.Aperture, figure.Wave, figure.Geometry} {
		text := l.Meaning()
		if l == figure.Geometry {
			text += "; as good as the file"
		}
		t.Rows = append(t.Rows, document.Cells(l.String(), text))
	}
	return t
}

func (b *builder) figureRow(f *figure.Def) document.Row {
	n := b.sourceNumber(f.Source)
	return document.Row{Cells: []document.Cell{{Text: f.Name, Note: f.Key}, b.figureCell(&b.sized, f),
		{Text: size.Trust(&b.sizing, f).String()}, {Text: fmt.Sprint(n), Link: sourceID(n)}}}
}

// sourceNumber is the source's place in the list of sources.
func (b *builder) sourceNumber(text string) int {
	i := slices.Index(b.source, text)
	if i < 0 {
		b.source = append(b.source, text)
		return len(b.source)
	}
	return i + 1
}

func sourceID(n int) string { return fmt.Sprintf("source-%d", n) }

// sources lists what the figures' formulas are taken from.
func (b *builder) sources(s *document.Section) error {
	t := document.Table{Caption: "Sources of the figures' formulas", Head: []string{"number", "source"}, Left: []bool{true, true}}
	for i, text := range b.source {
		t.Rows = append(t.Rows, document.Row{ID: sourceID(i + 1), Cells: []document.Cell{{Text: fmt.Sprint(i + 1)}, {Text: text}}})
	}
	s.Add(t)
	f := document.Table{Caption: "Formulas of the figures", Head: []string{"figure", "formula", "source"}, Left: []bool{true, true, true}}
	for _, x := range size.Table {
		if screen.FigureText(x.Def, &b.sizing, quantity.Metric) == "-" {
			continue
		}
		n := b.sourceNumber(x.Source)
		f.Rows = append(f.Rows, document.Row{Cells: []document.Cell{{Text: x.Key}, {Text: x.Formula}, {Text: fmt.Sprint(n), Link: sourceID(n)}}})
	}
	s.Add(f)
	return nil
}
