package review

import (
	"fmt"
	"slices"
	"strings"

	"gapline/internal/describe"
	"gapline/internal/document"
	"gapline/internal/figure"
	"gapline/internal/result"
	"gapline/internal/study/size"
)

// figures lists every figure that the design gives, with its level of trust.
func (b *builder) figures(s *document.Section) error {
	s.Add(document.Text{Tone: document.Plain, Text: "Every figure carries how far it can be trusted. A higher level never replaces a lower one: where they part is what to ask about."})
	s.Add(b.levels())
	b.add(s, describe.Figures(b.design, &b.sizing, b.sized.data, b.sourceCell))
	keys, parts := describe.Absentees(b.design, &b.sizing)
	if len(keys) > 0 {
		b.misses("The file does not give enough for " + strings.Join(keys, ", ") + ". gapline explain KEY names what each needs.")
	}
	if parts != nil {
		b.misses("The design has no " + strings.Join(parts, " and no ") + ".")
	}
	return nil
}

// levels explains the levels of trust.
func (b *builder) levels() document.Table {
	t := document.Table{Caption: "Levels of trust, from low to high", Head: []string{"level", "what it stands for"}, Left: []bool{true, true}}
	for _, l := range []figure.Trust{figure.Rule, figure.Aperture, figure.Wave, figure.Measured, figure.Geometry} {
		text := l.Meaning()
		if l == figure.Geometry {
			text += "; as good as the file"
		}
		t.Rows = append(t.Rows, document.Cells(l.String(), text))
	}
	return t
}

// sourceCell refers to a source by its number.
func (b *builder) sourceCell(text string) result.Cell {
	n := b.sourceNumber(text)
	c := result.Word(fmt.Sprint(n))
	c.Link = sourceID(n)
	return c
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

// sources lists what the figures are taken from.
func (b *builder) sources(s *document.Section) error {
	t := document.Table{Caption: "Sources of the figures' formulas", Head: []string{"number", "source"}, Left: []bool{true, true}}
	for i, text := range b.source {
		t.Rows = append(t.Rows, document.Row{ID: sourceID(i + 1), Cells: []document.Cell{{Text: fmt.Sprint(i + 1)}, {Text: text}}})
	}
	s.Add(t)
	return nil
}

// formulas lists the formula of every figure.
func (b *builder) formulas(s *document.Section) error {
	f := document.Table{Caption: "Formulas of the figures", Head: []string{"figure", "formula", "source"}, Left: []bool{true, true, true}}
	for _, x := range size.Table {
		if c := size.Cell(&b.sizing, x.Def); !c.Given() {
			continue
		}
		n := b.sourceNumber(x.Source)
		f.Rows = append(f.Rows, document.Row{Cells: []document.Cell{{Text: x.Key}, {Text: x.Formula}, {Text: fmt.Sprint(n), Link: sourceID(n)}}})
	}
	s.Add(f)
	return nil
}
