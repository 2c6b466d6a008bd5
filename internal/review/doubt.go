package review

import (
	"fmt"

	"gapline/internal/document"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/picture"
	"gapline/internal/screen"
	"gapline/internal/study/space"
)

// wave sets stored figures of the wave level beside rule and aperture.
func (b *builder) wave(s *document.Section) error {
	stored := false
	t := document.Table{Caption: "One figure at each level of trust", Head: []string{"figure", "rule", "aperture", "wave"}}
	for _, row := range []struct {
		name                 string
		rule, aperture, wave *figure.Def
	}{
		{"horn holds its coverage from", figure.HornPatternRule, figure.HornPatternComputed, figure.HornPatternWave},
		{"narrowest width above it", nil, figure.HornNarrowest, figure.HornNarrowestWave},
		{"folded front flat to a quarter wave up to", figure.FoldFlatTo, nil, figure.FoldFlatToWave},
	} {
		cells := []document.Cell{{Text: row.name}}
		for _, f := range []*figure.Def{row.rule, row.aperture, row.wave} {
			cell := document.Cell{Text: "-"}
			if f != nil {
				cell = b.figureCell(&b.sized, f)
			}
			cells = append(cells, cell)
		}
		stored = stored || cells[3].Text != "-"
		t.Rows = append(t.Rows, document.Row{Cells: cells})
	}
	s.Add(t)
	w := &b.sizing.Wave
	if !stored {
		missing(s, "No stored run of the wave level matches this design: gapline wave FILE solves the horn in its cabinet, gapline wave FILE --of fold the folded path.")
		return nil
	}
	if !numeric.Given(w.Pattern) {
		missing(s, "No stored run of the horn in its cabinet matches this design: gapline wave FILE.")
	}
	if !numeric.Given(w.FlatTo) && !numeric.Given(w.FlatBeyond) {
		missing(s, "No stored run of the folded path matches this design: gapline wave FILE --of fold.")
	}
	return nil
}

// tolerance says how far a built box may be off and what that does.
func (b *builder) tolerance(s *document.Section) error {
	if t := b.File.Tolerances; t == nil || len(t.List) == 0 {
		missing(s, "The file has no [tolerance] table: it names the keys that may be off, and by how much.")
		return nil
	}
	t, err := space.NewTolerance(b.File)
	if err != nil {
		return lacking(s, "The spread within the tolerances", err)
	}
	r, err := t.Run(b.ctx, func(int) {})
	if err != nil {
		return lacking(s, "The spread within the tolerances", err)
	}
	ranking, err := picture.Ranking(t, r, b.sys)
	if err != nil {
		missing(s, fmt.Sprintf("What moves the gap most is not drawn: %s.", err))
	} else {
		addPicture(s, "tolerance", ranking, "What moves the gap most, one tolerance at a time")
	}
	view := screen.ToleranceView{Study: t, Result: r}
	sampled, blocks := view.Blocks(b.sys)
	addBlocks(s, sampled, blocks)
	return nil
}

// measured lays measured responses over the prediction.
func (b *builder) measured(s *document.Section) error {
	v := b.o.Traces
	if v == nil {
		missing(s, "No measured response was given (--trace FILE): all numbers here are predictions.")
		return nil
	}
	addPicture(s, "measured", picture.Overlay(b.design, v, b.sys), "Measured responses over the prediction")
	conditions, blocks := screen.TraceBlocks(v, b.sys)
	addBlocks(s, conditions, blocks)
	for i := range v.Pairs {
		p := &v.Pairs[i]
		s.Add(document.Text{Tone: document.Plain, Text: fmt.Sprintf("%s minus %s: %s", p.With, p.Without, screen.PartingText(v, p, b.sys))})
	}
	for i := range v.Curves {
		for _, n := range v.Curves[i].Notes {
			s.Add(document.Text{Tone: document.Remark, Text: v.Curves[i].Name + ": " + n})
		}
	}
	return nil
}
