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
	"gapline/internal/numeric"
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
	s.Add(document.Text{Tone: document.Remark, Text: "A key, or the keys of a few tables, is named where the earlier design with them alone as they are now, and what follows them by that file's links, has the figure of now. All changes are listed in the appendix."})
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

// points gathers labelled points.
type points struct{ document.List }

func (p *points) add(label string, items ...string) {
	for _, x := range items {
		p.Labels, p.Items = append(p.Labels, label), append(p.Items, x)
	}
}

// why is what speaks for the design.
func (b *builder) why(s *document.Section) error {
	var l points
	gap := "Gap"
	if b.misfit() {
		gap = "Were it built"
	}
	l.add(gap, b.texts(b.judged.Supports())...)
	for _, f := range b.findings {
		if f.Severity == result.Met && !strings.HasPrefix(f.Key, "gap.") {
			l.add("Target", b.text(f.Text))
		}
	}
	better, _ := describe.Against(b.weighed)
	l.add("Better", b.texts(better)...)
	if err := b.tolerances(); err != nil {
		return err
	}
	if b.spread != nil && b.closes() {
		l.add("Tolerances", b.text(describe.OpeningTolerance(b.within, b.spread)))
	}
	l.add("The author", design.Points(b.design.Review.Reasons)...)
	if len(l.Items) == 0 {
		missing(s, "Nothing speaks for it: no level of trust closes the gap, no target is met, and no reasons are given (review.reasons).")
		return nil
	}
	s.Add(l.List)
	return nil
}

// misfit reports whether the box cannot be built.
func (b *builder) misfit() bool { return b.judged.Verdict == advice.GapMisfit }

// closes reports whether any level of trust that decides closes the gap of a box that can
// be built.
func (b *builder) closes() bool {
	return b.judged.Verdict == advice.GapMet || b.judged.Verdict == advice.GapDivided
}

// whyNot is what speaks against it.
func (b *builder) whyNot(s *document.Section) error {
	var l points
	if n := len(advice.Misfits(b.design, b.fit)); n > 0 {
		l.add("Misfit", "The box cannot be built as it is given: page one names "+plural(n, "misfit")+" with what would mend each.")
	}
	for _, f := range b.findings {
		if f.Severity.Judges() && f.Severity != result.Met {
			l.add(f.Severity.Label(), b.text(f.Text))
		}
	}
	l.add("Levels part", b.texts(b.judged.Contradictions())...)
	l.add("What if", b.texts(b.judged.Ifs())...)
	if !b.judged.Levels[sizing.ByWave].Given {
		l.add("Not known", "What the wave level says: it has not been run (gapline wave).")
	}
	if v := b.o.Traces; v != nil {
		l.add("Measured", b.texts(describe.Limiting(v))...)
	}
	if b.spread != nil && !b.closes() {
		l.add("Tolerances", b.text(describe.OpeningTolerance(b.within, b.spread)))
	}
	if b.spread != nil && !b.misfit() {
		l.add("Sensitive", b.texts(describe.Turned(b.within, b.spread))...)
		if x := describe.Swings(b.within, b.spread); !x.Empty() {
			l.add("Sensitive", b.text(x))
		}
	}
	_, worse := describe.Against(b.weighed)
	l.add("Worse", b.texts(worse)...)
	for _, f := range b.findings {
		if said := b.misfit() && f.Key == space.GapFigure(b.design).Key; !said && (f.Severity == result.Contradiction || f.Severity == result.Note && !f.Detail) {
			l.add("Mind", b.text(f.Text))
		}
	}
	if len(l.Items) == 0 {
		s.Add(document.Text{Tone: document.Plain, Text: "Nothing that is computed speaks against it."})
		return nil
	}
	s.Add(l.List)
	return nil
}

// next is what would settle what is open: changes that hold, runs and measurements.
func (b *builder) next(s *document.Section) error {
	var l points
	if b.misfit() {
		l.add("First", "Make the parts fit: the misfits on page one name what would. Runs and measurements wait for a box that can be built.")
	}
	l.add("Change", page.Findings(b.findings, b.sys, result.Try).Items...)
	if !b.misfit() {
		b.settle(&l)
	}
	l.add("Open", design.Points(b.design.Review.OpenPoints)...)
	if len(l.Items) > 0 {
		s.Add(l.List)
	} else {
		s.Add(document.Text{Tone: document.Plain, Text: "Nothing is open."})
	}
	return nil
}

// settle adds what would settle the verdict of a box that can be built: runs, measurements
// and what is to be held in the making.
func (b *builder) settle(l *points) {
	l.add("Run", b.runs()...)
	l.add("Measure", b.measurements()...)
	if b.spread != nil && len(b.spread.Effects) > 0 && b.spread.Effects[0].Swing > 0 {
		l.add("Hold", b.text(describe.Held(b.spread)))
	}
	if st := b.folded(); st != nil && st.Fits {
		if x, ok := describe.WallTolerance(st); ok {
			l.add("Hold", b.text(x))
		}
	}
}

// command is a command line on the design under review, to be pasted.
func (b *builder) command(verb, flags string) string {
	words := "gapline " + verb + " " + quoted(filepath.Base(b.File.Name)) + flags
	for _, x := range b.o.Settings {
		words += " --set " + quoted(x)
	}
	return words
}

// quoted sets a word between quotes where a shell would take it apart.
func quoted(word string) string {
	if strings.Trim(word, shellSafe) == "" {
		return word
	}
	return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
}

// shellSafe are the letters that no shell takes for anything else.
const shellSafe = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-+=.,:/%@"

// runs are the runs of the wave level that are not stored yet.
func (b *builder) runs() []string {
	w := &b.sizing.Wave
	var out []string
	add := func(there bool, flags, what string) {
		if !there {
			out = append(out, b.command("wave", flags)+": "+what+".")
		}
	}
	add(numeric.Given(w.Pattern), "", "the horn in its cabinet")
	add(numeric.Given(w.FrontTo), " --of front", "the outside of the box in space, for the woofers")
	add(!b.design.HasFold() || numeric.Given(w.FlatTo) || numeric.Given(w.FlatBeyond), " --of fold", "the folded path")
	return out
}

// measurements are the traces that would bring measured limits into the verdict.
func (b *builder) measurements() []string {
	m := &b.design.Measured
	var out []string
	if b.sizing.Horn.PatternRule > 0 && m.Edge == "" {
		out = append(out, "One horn on its axis and at half its coverage to the side, for where it begins to hold its pattern: "+
			b.command("trace", ` --edge axis.txt,edge.txt --write kept.toml`)+".")
	}
	if b.design.Line.Boxes > 1 && m.Stack == "" {
		out = append(out, "Two stacks of the same boxes, spaced and packed, for up to where they couple: "+
			b.command("trace", ` --stacks spaced.txt,packed.txt --write kept.toml`)+".")
	}
	return out
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
