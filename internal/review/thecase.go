package review

import (
	"context"
	"path/filepath"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/advice"
	"gapline/internal/describe"
	"gapline/internal/document"
	"gapline/internal/render/page"
	"gapline/internal/result"
	"gapline/internal/study/space"
)

// changes says in words what is another than in the earlier revision, and which key
// explains it.
func (b *builder) changes(s *document.Section) error {
	if b.since == nil {
		b.misses("No earlier revision was given (--since OLD.toml).")
		return nil
	}
	old := b.since
	x := describe.Since(old.shown("then"), b.sized.shown("now"), old.File.Links, [2]string{old.data, b.sized.data})
	s.Add(document.Text{Tone: document.Plain, Text: "Against " + old.Name + ", revision " + orMissing(old.design.Review.Revision, "review.revision") + "."})
	if x.None {
		s.Add(document.Text{Tone: document.Plain, Text: "No figure has changed."})
		return nil
	}
	s.Add(document.List{Items: b.texts(x.Sentences)})
	s.Add(document.Text{Tone: document.Remark, Text: "A key is named where the earlier design with that key alone as it is now, and what follows it by that file's links, has the figure of now; all changes are listed in the appendix."})
	return nil
}

// changed lists every key and figure that is another than in the earlier revision.
func (b *builder) changed(s *document.Section) error {
	if b.since == nil {
		return nil
	}
	then, now := b.since.shown("then"), b.sized.shown("now")
	x := describe.Since(then, now, b.since.File.Links, [2]string{b.since.data, b.sized.data})
	strip := describe.Strip([]describe.Sized{then, now})
	strip.ID, strip.Page = "since", "Frequency strips, then and now"
	b.addPart(s, strip)
	b.addPart(s, x.Keys)
	b.addPart(s, x.Figures)
	return nil
}

// texts sets texts in the document's units.
func (b *builder) texts(list []result.Text) []string {
	var out []string
	for _, t := range list {
		out = append(out, b.text(t))
	}
	return out
}

// why is what speaks for the design.
func (b *builder) why(s *document.Section) error {
	l := document.List{}
	add := func(label string, items ...string) {
		for _, x := range items {
			l.Labels, l.Items = append(l.Labels, label), append(l.Items, x)
		}
	}
	add("Gap", b.texts(b.judged.Supports())...)
	for _, f := range b.findings {
		if f.Severity == result.Met && !strings.HasPrefix(f.Key, "gap.") {
			add("Target", b.text(f.Text))
		}
	}
	best, _ := describe.Ranked(b.weighed)
	add("Best", b.texts(best)...)
	if err := b.tolerances(); err != nil {
		return err
	}
	if b.spread != nil && b.closes() {
		add("Tolerances", b.text(describe.OpeningTolerance(b.within, b.spread)))
	}
	add("The author", design.Points(b.design.Review.Reasons)...)
	if len(l.Items) == 0 {
		missing(s, "Nothing speaks for it: no level of trust closes the gap, no target is met, and no reasons are given (review.reasons).")
		return nil
	}
	s.Add(l)
	return nil
}

// closes reports whether any level of trust that decides closes the gap of a box that can
// be built.
func (b *builder) closes() bool {
	return b.judged.Verdict == advice.GapMet || b.judged.Verdict == advice.GapDivided
}

// whyNot is what speaks against it.
func (b *builder) whyNot(s *document.Section) error {
	l := document.List{}
	add := func(label string, items ...string) {
		for _, x := range items {
			l.Labels, l.Items = append(l.Labels, label), append(l.Items, x)
		}
	}
	for _, f := range advice.Misfits(b.design, b.fit) {
		add("Misfit", b.text(f.Text))
	}
	for _, f := range b.findings {
		if f.Severity.Judges() && f.Severity != result.Met {
			add(f.Severity.Label(), b.text(f.Text))
		}
	}
	add("Levels part", b.texts(b.judged.Contradictions())...)
	if !b.judged.Levels[sizing.ByWave].Given {
		add("Not known", "What the wave level says: it has not been run (gapline wave).")
	}
	if b.spread != nil && !b.closes() {
		add("Tolerances", b.text(describe.OpeningTolerance(b.within, b.spread)))
	}
	if b.spread != nil {
		add("Sensitive", b.texts(describe.Turned(b.within, b.spread))...)
	}
	_, worst := describe.Ranked(b.weighed)
	add("Worst", b.texts(worst)...)
	for _, f := range b.findings {
		if f.Severity == result.Contradiction || f.Severity == result.Note && !f.Detail {
			add("Mind", b.text(f.Text))
		}
	}
	if len(l.Items) == 0 {
		s.Add(document.Text{Tone: document.Plain, Text: "Nothing that is computed speaks against it."})
		return nil
	}
	s.Add(l)
	return nil
}

// next is what would settle what is open: changes that hold, runs and measurements.
func (b *builder) next(s *document.Section) error {
	l := document.List{}
	add := func(label, text string) { l.Labels, l.Items = append(l.Labels, label), append(l.Items, text) }
	tries := page.Findings(b.findings, b.sys, result.Try)
	for _, x := range tries.Items {
		add("Change", x)
	}
	if !b.judged.Levels[sizing.ByWave].Given {
		run := "gapline wave " + filepath.Base(b.File.Name) + ": the horn in its cabinet; with --of front the woofers' outside"
		if b.design.HasFold() {
			run += ", with --of fold the folded path"
		}
		add("Run", run+".")
	}
	m := &b.design.Measured
	if b.sizing.Horn.PatternRule > 0 && m.Edge == "" {
		add("Measure", "One horn on its axis and at half its coverage to the side: gapline trace --edge --write keeps from where it holds its pattern.")
	}
	if b.design.Line.Boxes > 1 && m.Stack == "" {
		add("Measure", "Two stacks of the same boxes, spaced and packed: gapline trace --stacks --write keeps up to where they couple.")
	}
	if b.spread != nil && len(b.spread.Effects) > 0 && b.spread.Effects[0].Swing > 0 {
		add("Hold", b.text(describe.Held(b.spread)))
	}
	for _, x := range design.Points(b.design.Review.OpenPoints) {
		add("Open", x)
	}
	if len(l.Items) > 0 {
		s.Add(l)
	} else {
		s.Add(document.Text{Tone: document.Plain, Text: "Nothing is open."})
	}
	return nil
}

// tolerances works out the spread once; it stays nil where the file names none or it
// cannot be done.
func (b *builder) tolerances() error {
	if t := b.File.Tolerances; b.spread != nil || t == nil || len(t.List) == 0 {
		return nil
	}
	t, err := space.NewTolerance(&b.File.Project)
	if err != nil {
		return nil // the section says why
	}
	r, err := t.Run(b.ctx, func(int) {})
	switch {
	case b.ctx.Err() != nil:
		return context.Cause(b.ctx)
	case err == nil:
		b.within, b.spread = t, r
	}
	return nil
}
