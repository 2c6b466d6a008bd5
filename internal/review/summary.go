package review

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/internal/advice"
	"gapline/internal/describe"
	"gapline/internal/document"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/render/page"
	"gapline/internal/result"
)

func (b *builder) show(si float64, k quantity.Kind) string { return quantity.Format(si, k, b.sys) }

// job says in two sentences what is built and what is asked of it.
func (b *builder) job(s *document.Section) error {
	s.Add(document.Text{Tone: document.Plain, Text: b.what() + " " + b.asked()})
	return nil
}

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

// verdict is the judgement of every target, the gap's first.
func (b *builder) verdict(s *document.Section) error {
	judged := false
	for _, f := range advice.Misfits(b.design, b.fit) {
		s.Add(document.Text{Tone: document.Bad, Text: "Misfit: " + b.text(f.Text), Key: f.Key})
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
	} else if !judged {
		missing(s, "No target is given ([targets]).")
	}
	if l := page.Findings(b.findings, b.sys, result.Contradiction, result.Note); len(l.Items) > 0 {
		s.Add(document.Heading("Worth knowing"), l)
	}
	return nil
}

// decision is what the designer wrote under [review].
func (b *builder) decision(s *document.Section) error {
	r := &b.design.Review
	if *r == (design.Review{}) {
		missing(s, "The file has no [review] table: question, decision, reasons, open_points, author and revision are free text for this place.")
		return nil
	}
	for _, x := range []struct{ head, key, text string }{
		{"Question", "question", r.Question}, {"Decision", "decision", r.Decision}, {"Reasons", "reasons", r.Reasons}, {"Open points", "open_points", r.OpenPoints},
	} {
		s.Add(document.Heading(x.head))
		switch points := design.Points(x.text); {
		case len(points) == 0:
			missing(s, "Not given (review."+x.key+").")
		case len(points) == 1:
			s.Add(document.Text{Tone: document.Plain, Text: points[0]})
		default:
			s.Add(document.List{Items: points})
		}
	}
	return nil
}

// strip is the frequency strip of the design.
func (b *builder) strip(s *document.Section) error {
	b.addPart(s, describe.Strip([]describe.Sized{b.sized.shown("")}))
	return nil
}
