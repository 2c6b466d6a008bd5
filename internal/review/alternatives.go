package review

import (
	"fmt"
	"gapline/internal/describe"
	"gapline/internal/render/page"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/document"
	"gapline/internal/numeric"
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
	var designs []describe.Sized
	var data []string
	for i := range b.all {
		designs, data = append(designs, b.all[i].shown(b.all[i].Name)), append(data, b.all[i].data)
	}
	strip := describe.Strip(designs)
	strip.ID, strip.Page = "alternatives", "Frequency strips of the designs"
	b.addPart(s, strip)
	b.levelsOf(s, designs)
	b.verdicts(s)
	differences := describe.Differences(designs, data)
	page.Add(s, differences, b.sys)
	if len(differences.Parts) == 0 {
		s.Add(document.Text{Tone: document.Plain, Text: "The designs do not differ."})
	}
	return nil
}

// Range of the overlaid levels, Hz.
const levelFrom, levelTo, levelPoints = 20, 1000, 240

// levelsOf overlays the maximum levels of the designs that give a box.
func (b *builder) levelsOf(s *document.Section, designs []describe.Sized) {
	f := driver.Frequencies(levelFrom, levelTo, levelPoints)
	var given []describe.Leveled
	var without []string
	for _, d := range designs {
		level, err := box.MaxLevels(d.Design, f)
		if err != nil || !slices.ContainsFunc(level, numeric.Given) {
			without = append(without, d.Name)
			continue
		}
		given = append(given, describe.Leveled{Sized: d, Frequency: f, Level: level})
	}
	if len(given) > 0 {
		b.addPart(s, describe.Levels(given))
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
			if f.Severity.Judges() {
				t.Rows = append(t.Rows, document.Cells(b.all[i].Name, f.Severity.Label(), b.text(f.Text)))
			}
		}
	}
	if len(t.Rows) > 0 {
		s.Add(t)
	}
}

// values lists every key that the design gives.
func (b *builder) values(s *document.Section) error {
	page.Add(s, describe.Values(b.design), b.sys)
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
