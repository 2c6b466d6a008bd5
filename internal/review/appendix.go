package review

import (
	"crypto/sha256"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"gapline/driver"
	"gapline/internal/advice"
	"gapline/internal/check"
	"gapline/internal/describe"
	"gapline/internal/document"
	"gapline/internal/numeric"
	"gapline/internal/result"
	"gapline/internal/study/box"
)

// drawing is the stack, to scale.
func (b *builder) drawing(s *document.Section) error {
	if len(check.DrawProblems(b.design)) > 0 {
		return nil // said on page one
	}
	var all document.Section
	b.add(&all, describe.Draw(b.design, &b.sizing, b.fit, false))
	first := slices.IndexFunc(all.Blocks, func(x document.Block) bool { _, ok := x.(document.Picture); return ok })
	if first >= 0 { // it stands on page one
		all.Blocks = slices.Delete(all.Blocks, first, first+1)
	}
	s.Add(besides(all.Blocks)...)
	return nil
}

// besides sets the first picture beside all else; without a picture nothing is left.
func besides(blocks []document.Block) []document.Block {
	at := slices.IndexFunc(blocks, func(x document.Block) bool { _, ok := x.(document.Picture); return ok })
	if at < 0 {
		return nil
	}
	p := blocks[at].(document.Picture)
	return []document.Block{document.Beside{Blocks: slices.Delete(blocks, at, at+1), Picture: p}}
}

// alternatives sets the designs side by side in all that differs.
func (b *builder) alternatives(s *document.Section) error {
	if len(b.all) == 1 {
		return nil
	}
	designs := b.designs()
	var data []string
	for i := range b.all {
		data = append(data, b.all[i].data)
	}
	strip := describe.Strip(designs)
	strip.ID, strip.Page = "alternatives", "Frequency strips of the designs"
	b.addPart(s, strip)
	b.verdicts(s)
	differences := describe.Differences(designs, data)
	b.add(s, differences)
	if len(differences.Parts) == 0 {
		s.Add(document.Text{Tone: document.Plain, Text: "The designs do not differ."})
	}
	return nil
}

// designs are all designs, under their names.
func (b *builder) designs() []describe.Sized {
	var out []describe.Sized
	for i := range b.all {
		out = append(out, b.all[i].shown(b.all[i].Name))
	}
	return out
}

// Range of the overlaid levels, Hz.
const levelFrom, levelTo, levelPoints = 20, 1000, 240

// levelsOf overlays the maximum levels of the designs that give a box; ok is false where
// none does.
func (b *builder) levelsOf() (levels result.Series, ok bool) {
	f := driver.Frequencies(levelFrom, levelTo, levelPoints)
	var given []describe.Leveled
	var without []string
	for _, d := range b.designs() {
		level, err := box.MaxLevels(d.Design, f)
		if err != nil || !slices.ContainsFunc(level, numeric.Given) {
			without = append(without, d.Name)
			continue
		}
		given = append(given, describe.Leveled{Sized: d, Frequency: f, Level: level})
	}
	if len(without) > 0 {
		b.misses("No maximum level of " + strings.Join(without, ", ") + ": it needs the woofer's parameters, woofer.xmax or woofer.power, and enclosure.volume.")
	}
	if len(given) == 0 {
		return levels, false
	}
	return describe.Levels(given), true
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

// values lists every key that the design gives, under the whole digest of the file: page
// one has room for its beginning only.
func (b *builder) values(s *document.Section) error {
	s.Add(document.Text{Tone: document.Plain, Text: fmt.Sprintf("%s, SHA-256 %x", filepath.Base(b.File.Name), sha256.Sum256([]byte(b.File.Text)))})
	b.add(s, describe.Values(b.design))
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

// absent lists what a reader may look for in vain, and why.
func (b *builder) absent(s *document.Section) error {
	if len(b.absences) > 0 {
		s.Add(document.List{Items: b.absences})
	}
	return nil
}

// patents says what nothing else here says.
const patents = "Folded guides and inserts before cones may be protected by patents. Nothing here says that they may be built: that is for the reader to clear."

// cautions stand last, and all together.
func (b *builder) cautions(s *document.Section) error {
	items := []string{advice.SuspensionCaution, advice.LoudnessCaution, advice.AmplifierCaution}
	if b.o.Traces != nil {
		items = append(items, advice.MeasuringCaution)
	}
	items = append(items, patents, "Predictions are estimates at the level of trust printed beside them. Measure before you build many.")
	if !b.design.Line.TopHeight.Given() {
		missing(s, "The height at which the line hangs is not given (line.top_height).")
	}
	s.Add(document.List{Items: items})
	return nil
}
