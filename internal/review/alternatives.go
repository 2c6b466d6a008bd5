package review

import (
	"fmt"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/designfile"
	"gapline/internal/document"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/picture"
	"gapline/internal/result"
	"gapline/internal/screen"
	"gapline/internal/study/box"
)

// alternatives sets the designs side by side and repeats why one was chosen.
func (b *builder) alternatives(s *document.Section) error {
	if len(b.all) == 1 {
		missing(s, "No alternatives were named: further files after the first stand side by side here.")
		return nil
	}
	r := &b.design.Review
	s.Add(document.Text{Tone: document.Plain, Text: "Under review: " + b.Name + ". Decision: " + orMissing(r.Decision, "review.decision")})
	if why := design.Points(r.Reasons); len(why) > 0 {
		s.Add(document.List{Items: why})
	} else {
		missing(s, "Why this one is not said (review.reasons).")
	}
	var designs []picture.Sized
	for i := range b.all {
		designs = append(designs, b.all[i].picture())
	}
	addPicture(s, "alternatives", picture.Strip(designs, b.sys), "Frequency strips of the designs")
	b.levelsOf(s, designs)
	b.verdicts(s)
	b.differences(s)
	return nil
}

// Range of the overlaid levels, Hz.
const levelFrom, levelTo, levelPoints = 20, 1000, 240

// levelsOf overlays the maximum levels of the designs that give a box.
func (b *builder) levelsOf(s *document.Section, designs []picture.Sized) {
	f := driver.Frequencies(levelFrom, levelTo, levelPoints)
	var given []picture.Leveled
	var without []string
	for _, d := range designs {
		level, err := box.MaxLevels(d.Design, f)
		if err != nil || !slices.ContainsFunc(level, numeric.Given) {
			without = append(without, d.Name)
			continue
		}
		given = append(given, picture.Leveled{Sized: d, Frequency: f, Level: level})
	}
	if len(given) > 0 {
		addPicture(s, "levels", picture.Levels(given, b.sys), "Maximum level of one box at the low end")
	}
	if len(without) > 0 {
		missing(s, "No maximum level of "+strings.Join(without, ", ")+": it needs the woofer's parameters, woofer.xmax or woofer.power, and enclosure.volume.")
	}
}

// verdicts lists the judgement of every design.
func (b *builder) verdicts(s *document.Section) {
	t := document.Table{Caption: "Targets, design by design", Head: []string{"design", "judgement", "finding"}, Left: []bool{true, true, true}}
	for i := range b.all {
		for _, f := range b.all[i].findings {
			if f.Severity == result.Missed || f.Severity == result.Met {
				t.Rows = append(t.Rows, document.Cells(b.all[i].Name, f.Severity.Label(), b.text(f.Text)))
			}
		}
	}
	if len(t.Rows) > 0 {
		s.Add(t)
	}
}

// differences lists keys and figures in which the designs differ.
func (b *builder) differences(s *document.Section) {
	head := []string{"key"}
	var columns []screen.Column
	for i := range b.all {
		x := &b.all[i]
		head = append(head, x.Name)
		columns = append(columns, screen.Column{Name: x.Name, Design: x.design, Sizing: &x.sizing})
	}
	keys := document.Table{Caption: "Where the designs differ: keys", Head: head}
	figures := document.Table{Caption: "Where the designs differ: figures", Head: slices.Concat([]string{"figure"}, head[1:])}
	for _, row := range screen.CompareRows(columns, b.sys) {
		switch {
		case !row.Differs || strings.HasPrefix(row.Key, "review."):
		case row.Figure != nil:
			figures.Rows = append(figures.Rows, b.figureAcross(row.Figure))
		default:
			cells := []string{row.Key}
			for _, c := range row.Cells {
				cells = append(cells, clip(c))
			}
			keys.Rows = append(keys.Rows, document.Cells(cells...))
		}
	}
	for _, t := range []document.Table{keys, figures} {
		if len(t.Rows) > 0 {
			s.Add(t)
		}
	}
	if len(keys.Rows)+len(figures.Rows) == 0 {
		s.Add(document.Text{Tone: document.Plain, Text: "The designs do not differ."})
	}
}

func (b *builder) figureAcross(f *figure.Def) document.Row {
	r := document.Row{Cells: []document.Cell{{Text: f.Name, Note: f.Key}}}
	for i := range b.all {
		r.Cells = append(r.Cells, b.figureCell(&b.all[i], f))
	}
	return r
}

// values lists every key that the design gives.
func (b *builder) values(s *document.Section) error {
	t := document.Table{Caption: "Keys of the design file", Head: []string{"key", "value", "what it is"}, Left: []bool{true, true, true}}
	for i := range designfile.Keys {
		k := &designfile.Keys[i]
		if text := k.Text(b.design, b.sys); text != "-" && k.Table() != "review" {
			t.Rows = append(t.Rows, document.Cells(k.Path, clip(text), k.Doc))
		}
	}
	s.Add(t)
	l := document.List{}
	for i := range b.File.Links {
		x := &b.File.Links[i]
		l.Items = append(l.Items, fmt.Sprintf("%s follows %s.", x.Target.Path, x.Source.Path))
	}
	if len(l.Items) > 0 {
		s.Add(document.Heading("Links"), l)
	}
	return nil
}
