package review

import (
	"crypto/sha256"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"gapline/internal/advice"
	"gapline/internal/check"
	"gapline/internal/describe"
	"gapline/internal/document"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
	"gapline/internal/study/line"
	"gapline/plots"
)

// prepare works out what several sections need: how loud each design plays at its seats.
func (b *builder) prepare() error {
	for i := range b.all {
		d := &b.all[i]
		w := describe.Weighed{Sized: d.shown(d.Name), Data: d.data}
		var err error
		if w.Seats, err = b.seats(d); err != nil {
			return err
		}
		b.weighed = append(b.weighed, w)
	}
	return nil
}

// seats is how loud a design plays at its seats; nil where it does not give enough.
func (b *builder) seats(d *sized) (*line.Maximum, error) {
	study, problems := line.New(d.design, b.conditions(d))
	if problems != nil || study.SeatProblems() != nil || !study.Model.Absolute {
		return nil, nil
	}
	r, err := study.Hear(b.ctx, line.Request{Views: []line.View{line.ProgrammeView}})
	if b.ctx.Err() != nil {
		return nil, b.ctx.Err()
	}
	if err != nil {
		return nil, nil // the section of the field says why
	}
	return r.Maximum, nil
}

// question is what is asked, and the box that it is asked of.
func (b *builder) question(s *document.Section) error {
	var words []document.Block
	if q := strings.TrimSpace(b.design.Review.Question); q != "" {
		words = append(words, document.Text{Tone: document.Lead, Text: q})
	} else {
		words = append(words, document.Text{Tone: document.Missing, Text: "Not given (review.question)."})
		b.lacks = append(b.lacks, s.ID)
	}
	words = append(words, document.Text{Tone: document.Plain, Text: b.what() + " " + b.asked()}, b.about())
	if p, ok := b.boxPicture(); ok {
		s.Add(document.Beside{Blocks: words, Picture: p})
		return nil
	}
	s.Add(words...)
	return nil
}

// boxPicture is the front of the box, to scale.
func (b *builder) boxPicture() (document.Picture, bool) {
	faults := check.DrawProblems(b.design)
	if len(faults) > 0 {
		b.misses("The box is not drawn: " + strings.Join(problemTexts(faults), "; ") + ".")
		return document.Picture{}, false
	}
	var s document.Section
	b.add(&s, describe.Draw(b.design, &b.sizing, b.fit, false))
	for _, x := range s.Blocks {
		if p, ok := x.(document.Picture); ok {
			if d, ok := p.Figure.(plots.Drawing); ok { // what the page says already
				d.Subtitle, d.Design, d.Air, d.Alt = "", "", "", d.Alt+" "+d.Subtitle
				p.Figure = d
			}
			return p, true
		}
	}
	return document.Picture{}, false
}

// about names the file and the conditions.
func (b *builder) about() document.List {
	r := &b.design.Review
	units := "metric"
	if b.sys == quantity.Inch {
		units = "inches and feet"
	}
	l := document.List{}
	add := func(label, text string) { l.Labels, l.Items = append(l.Labels, label), append(l.Items, text) }
	add("Revision", orMissing(r.Revision, "review.revision"))
	add("File", b.fileText())
	if len(b.o.Settings) > 0 {
		add("Changed", "for this document only: "+strings.Join(b.o.Settings, "; "))
	}
	add("Air", terminal.Text(describe.Air(b.design, &b.sizing), b.sys))
	add("Units", units)
	return l
}

// fileText names the file and its contents, by as much of their digest as tells two
// revisions apart.
func (b *builder) fileText() string {
	return fmt.Sprintf("%s, SHA-256 %.6x…", filepath.Base(b.File.Name), sha256.Sum256([]byte(b.File.Text)))
}

func orMissing(text, key string) string {
	if text = strings.TrimSpace(text); text == "" {
		return "not given (" + key + ")"
	}
	return text
}

func (b *builder) show(si float64, k quantity.Kind) string { return quantity.Format(si, k, b.sys) }

// what describes the design.
func (b *builder) what() string {
	d, k := b.design, &b.sizing.Coupling
	stack := "A stack of boxes whose pitch is not given (cabinet.height)"
	switch {
	case numeric.Given(k.Length):
		stack = fmt.Sprintf("%d boxes at %s pitch make a line of %s", d.Line.Boxes, b.show(k.Pitch, quantity.Length), b.show(k.Length, quantity.Length))
	case numeric.Given(k.Pitch):
		stack = fmt.Sprintf("Boxes stand at %s pitch", b.show(k.Pitch, quantity.Length))
	}
	return stack + ", each with " + list(b.contents()) + "."
}

// contents lists what is in a box.
func (b *builder) contents() []string {
	d := b.design
	var out []string
	if n := max(d.Woofer.PerBox, 1); numeric.Given(d.Woofer.Diameter()) {
		out = append(out, plural(n, "woofer")+" "+b.show(d.Woofer.Diameter(), quantity.Length)+" across the piston")
	} else {
		out = append(out, "woofers whose size is not given (woofer.size)")
	}
	if d.HasInsert() {
		out = append(out, fmt.Sprintf("an insert with %s", plural(d.Insert.Mouths, "mouth")))
	}
	if d.HasMid() {
		out = append(out, plural(max(d.Mid.PerBox, 1), "mid"))
	}
	h := &d.Horn
	if numeric.Given(h.ExitCoverage()) && numeric.Given(h.ExitWidth()) {
		text := fmt.Sprintf("a horn of %s from an exit %s wide", b.show(h.ExitCoverage(), quantity.Angle), b.show(h.ExitWidth(), quantity.Length))
		if d.HasFold() {
			text += " behind a folded path"
		}
		return append(out, text)
	}
	return append(out, "a horn whose coverage or mouth is not given (horn.coverage, horn.mouth_width)")
}

func plural(n int, what string) string {
	if n == 1 {
		return "one " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// list joins words: "a, b and c".
func list(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}

// asked says what the targets ask for.
func (b *builder) asked() string {
	t := &b.design.Targets
	gap := "no crossover gap"
	if t.Gap.Given() && t.Gap.Value() != 0 {
		gap = "a crossover gap of at most " + b.show(t.Gap.Value(), quantity.Octaves)
	}
	asks := []string{fmt.Sprintf("%s on the %s basis", gap, b.sizing.Gap.Basis)}
	if t.FlatTo.Given() {
		asks = append(asks, "a horn front flat to "+b.show(t.FlatTo.Value(), quantity.Frequency))
	}
	if t.Lowest.Given() {
		asks = append(asks, "a line that couples from "+b.show(t.Lowest.Value(), quantity.Frequency))
	}
	if t.Level.Given() {
		asks = append(asks, fmt.Sprintf("%s from one box", b.show(t.Level.Value(), quantity.Level)))
	}
	return "Asked for: " + list(asks) + "."
}

// verdict is the judgement of every target, the gap's first and by level of trust.
func (b *builder) verdict(s *document.Section) error {
	judged := false
	for _, f := range advice.Misfits(b.design, b.fit) {
		s.Add(document.Text{Tone: document.Bad, Text: "Misfit: " + b.text(f.Text), Key: f.Key})
		judged = true
	}
	for _, f := range b.findings {
		switch f.Severity {
		case result.Divided, result.Unknown, result.Missed:
			s.Add(document.Text{Tone: document.Bad, Text: f.Severity.Label() + ": " + b.text(f.Text), Key: f.Key})
		case result.Met:
			s.Add(document.Text{Tone: document.Good, Text: "Met: " + b.text(f.Text), Key: f.Key})
		default:
			continue
		}
		judged = true
	}
	if gap := b.sizing.Gap.AsGiven(); math.IsNaN(gap) {
		i := slices.IndexFunc(b.findings, func(f result.Finding) bool { return f.Severity == result.Note && f.Key == figure.GapOpen.Key })
		text := "The gap is not judged: the file does not give enough."
		if i >= 0 {
			text = "The gap is not judged. " + b.text(b.findings[i].Text)
		}
		missing(s, text)
		return nil
	} else if !judged {
		missing(s, "No target is given ([targets]).")
	}
	b.addDense(s, describe.Verdicts(b.design, &b.sizing, &b.judged, b.sized.data, b.o.Traces != nil, b.sourceCell))
	return nil
}

// tradeoff sets all designs side by side.
func (b *builder) tradeoff(s *document.Section) error {
	if len(b.all) == 1 {
		b.misses("No alternatives: further files after the first stand side by side with it.")
	}
	b.addDense(s, describe.Weigh(b.weighed, b.sourceCell))
	if names := b.titles(); names != "" {
		s.Add(document.Text{Tone: document.Remark, Text: names})
	}
	return nil
}

// titles says which design each name stands for; empty where none has a title.
func (b *builder) titles() string {
	var names []string
	if len(b.all) == 1 {
		return ""
	}
	for i := range b.all[1:] {
		if d := &b.all[1+i]; d.design.Title != "" {
			names = append(names, d.Name+": "+d.design.Title)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return strings.Join(names, ". ") + "."
}

// addDense adds the one table of its section, set small.
func (b *builder) addDense(s *document.Section, t result.Table) {
	from := len(s.Blocks)
	b.addPart(s, t)
	for i := from; i < len(s.Blocks); i++ {
		if x, ok := s.Blocks[i].(document.Table); ok {
			x.Dense, x.Alone = true, true
			s.Blocks[i] = x
		}
	}
}

// decision is what the designer wrote under [review], who answers for it, and what can
// hurt people, in a line.
func (b *builder) decision(s *document.Section) error {
	r := &b.design.Review
	if text := strings.TrimSpace(r.Decision); text != "" {
		s.Add(document.Text{Tone: document.Lead, Text: text})
	} else {
		missing(s, "Not given (review.decision).")
	}
	s.Add(document.Text{Tone: document.Plain, Text: "Answers for it: " + orMissing(r.Author, "review.author") + "."})
	s.Add(document.Text{Tone: document.Caution, Text: "Rigging is not computed, such levels damage hearing, and amplifiers and mains can kill: see Cautions."})
	return nil
}
