// Package review puts the results of all studies of a design together as a
// document for a design review: what a meeting decides by on page one, then what
// speaks for and against, then the evidence, and an appendix with every figure. It
// computes no figure of its own: numbers come from the studies in the commands' own
// words, and what the design does not give enough for is named.
package review

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/cabinet/source"
	"gapline/internal/advice"
	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/document"
	"gapline/internal/quantity"
	"gapline/internal/render/machine"
	"gapline/internal/result"
	"gapline/internal/study/box"
	"gapline/internal/study/fit"
	"gapline/internal/study/fold"
	"gapline/internal/study/space"
	"gapline/internal/study/stored"
	"gapline/internal/study/trace"
	"gapline/internal/wavecache"
)

// Design is a design file with its name in the document.
type Design struct {
	File *designfile.File
	Name string
}

// Options are what a review looks at beside the designs.
type Options struct {
	Since    *Design        // the earlier revision; nil: none
	Traces   *trace.Overlay // measured responses over the first design; nil: none
	Settings []string       // KEY=VALUE in place of the files' values, as given
	System   quantity.System
	Version  string      // of the program
	Warn     func(error) // is told of stored runs that are not used
}

// Review is the document and what a program may want to know of it.
type Review struct {
	Document document.Document
	Object   *machine.Object
}

// sized is a design with what the estimates say about it.
type sized struct {
	Design
	design   *design.Design
	sizing   sizing.Sizing
	fit      *fit.Fit
	judged   advice.Judgement
	data     string // id of its JSON in the document
	findings []result.Finding
}

func newSized(ctx context.Context, d Design, data string, o Options) sized {
	s := sized{Design: d, design: &d.File.Design, data: data}
	s.sizing = sizing.Size(s.design)
	stored.Into(ctx, d.File.Name, s.design, &s.sizing, o.Warn)
	s.fit = fit.Of(s.design, d.File.Links)
	s.fit.Runs = func(x *design.Design) sizing.WaveSizing { return wavecache.Beside(d.File.Name).Figures(ctx, x, nil) }
	s.judged = advice.Judge(s.design, &s.sizing, s.fit)
	s.findings = advice.Findings(s.design, &s.sizing, s.fit)
	return s
}

// object is what size --json prints.
func (s *sized) object() *machine.Object {
	r := describe.Size(s.design, &s.sizing, s.fit, s.findings, true)
	return machine.ObjectOf(describe.Misfits(r, []describe.Fitted{{Design: s.design, Fit: s.fit}}))
}

// shown is the design beside others, under a name.
func (s *sized) shown(name string) describe.Sized {
	return describe.Sized{Design: s.design, Sizing: &s.sizing, Name: name}
}

// builder is a review while it is put together.
type builder struct {
	sized    // the design under review
	all      []sized
	since    *sized
	o        Options
	sys      quantity.System
	ctx      context.Context
	weighed  []describe.Weighed     // all designs, for the tradeoff
	oneBox   *box.Study             // nil until it is worked out
	oneFold  *fold.Study            // nil until it is worked out
	spread   *space.ToleranceResult // nil: not worked out
	within   *space.Tolerance
	hung     map[*design.Design][]source.Pattern // of each box, from stored runs
	source   []string                            // in the order of their numbers
	details  map[string]*document.Section
	lacks    []string // ids of sections in which something is missing
	absences []string // what is not in the document, and why
}

// New reviews the first of the designs; the others are its alternatives. The error
// says what could not be computed, or that ctx ended.
func New(ctx context.Context, designs []Design, o Options) (*Review, error) {
	b := &builder{o: o, sys: system(o.System), ctx: ctx, details: map[string]*document.Section{}}
	for i, d := range designs {
		b.all = append(b.all, newSized(ctx, d, fmt.Sprintf("size-%d", i+1), o))
	}
	b.sized = b.all[0]
	if o.Since != nil {
		s := newSized(ctx, *o.Since, "size-since", o)
		b.since = &s
	}
	if err := b.prepare(); err != nil {
		return nil, err
	}
	r := &Review{Document: document.Document{Title: "Design review: " + title(b.design), Author: b.design.Review.Author, Footer: b.footer(false), Noted: b.footer(b.measures())}}
	for _, part := range parts {
		s := document.Section{ID: part.id, Title: part.title, Part: part.of}
		if err := part.fill(b, &s); err != nil {
			return nil, fmt.Errorf("%s: %w", strings.ToLower(part.title), err)
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		b.note(&s)
		if s.Part == document.Appendix {
			dense(s.Blocks)
		}
		if len(s.Blocks) > 0 {
			s.Noted = b.holdsMeasurements(&s)
			r.Document.Sections = append(r.Document.Sections, s)
		}
	}
	var err error
	if r.Document.Data, err = b.data(); err != nil {
		return nil, err
	}
	r.Object, err = b.summary(&r.Document)
	return r, err
}

// dense sets the tables of a section small.
func dense(blocks []document.Block) {
	for i := range blocks {
		if t, ok := blocks[i].(document.Table); ok {
			t.Dense = true
			blocks[i] = t
		}
	}
}

// system is the document's own form of a system of units.
func system(s quantity.System) quantity.System {
	if s == quantity.Metric {
		return quantity.Document
	}
	return s
}

// part is one section of the document.
type part struct {
	id, title string
	of        document.Part
	fill      func(*builder, *document.Section) error
}

// parts are the sections in order. One that has nothing to show is left out, and named
// under what the document does not hold.
var parts = []part{
	{"question", "The question", document.PageOne, (*builder).question},
	{"verdict", "Verdict", document.PageOne, (*builder).verdict},
	{"tradeoff", "All designs", document.PageOne, (*builder).tradeoff},
	{"decision", "Decision", document.PageOne, (*builder).decision},

	{"changes", "What changed since the last revision", document.Case, (*builder).changes},
	{"why", "Why", document.Case, (*builder).why},
	{"why-not", "Why not", document.Case, (*builder).whyNot},
	{"next", "What to measure or change next", document.Case, (*builder).next},

	{"strip", "Where woofers and horn meet", document.Evidence, (*builder).strip},
	{"box", "Low end of one box", document.Evidence, (*builder).box},
	{"insert", "With and without the insert", document.Evidence, (*builder).insert},
	{"horn", "Horn", document.Evidence, (*builder).horn},
	{"fold", "Folded path", document.Evidence, (*builder).fold},
	{"crossover", "Crossover", document.Evidence, (*builder).crossover},
	{"field", "Stack and seats", document.Evidence, (*builder).line},
	{"wave", "Check by the wave equation", document.Evidence, (*builder).wave},
	{"tolerance", "Tolerances", document.Evidence, (*builder).tolerance},
	{"measured", "Measured beside predicted", document.Evidence, (*builder).measured},

	{"drawing", "The stack, to scale", document.Appendix, (*builder).drawing},
	{"alternatives", "Alternatives in full", document.Appendix, (*builder).alternatives},
	{"changed", "Changes in full", document.Appendix, (*builder).changed},
	{"levers", "The gap against its levers", document.Appendix, (*builder).levers},
	{"more-box", "Low end, in full", document.Appendix, detailsOf("box")},
	{"more-insert", "Insert, in full", document.Appendix, detailsOf("insert")},
	{"more-horn", "Horn, in full", document.Appendix, detailsOf("horn")},
	{"more-fold", "Folded path, in full", document.Appendix, detailsOf("fold")},
	{"more-crossover", "Crossover, in full", document.Appendix, detailsOf("crossover")},
	{"more-field", "Stack and seats, in full", document.Appendix, detailsOf("field")},
	{"more-tolerance", "Tolerances, in full", document.Appendix, detailsOf("tolerance")},
	{"more-measured", "Measurements, in full", document.Appendix, detailsOf("measured")},
	{"figures", "All figures", document.Appendix, (*builder).figures},
	{"formulas", "Formulas", document.Appendix, (*builder).formulas},
	{"design", "Keys of the file", document.Appendix, (*builder).values},
	{"methods", "Methods, assumptions and limits", document.Appendix, (*builder).methods},
	{"sources", "Sources", document.Appendix, (*builder).sources},
	{"absent", "What this document does not hold", document.Appendix, (*builder).absent},
	{"cautions", "Cautions", document.Appendix, (*builder).cautions},
}

func title(d *design.Design) string {
	if d.Title == "" {
		return "untitled design"
	}
	return d.Title
}

// note remembers a section in which something is missing.
func (b *builder) note(s *document.Section) {
	for _, x := range s.Blocks {
		if t, ok := x.(document.Text); ok && t.Tone == document.Missing {
			b.lacks = append(b.lacks, s.ID)
			return
		}
	}
}

// measures reports whether the document holds anything measured.
func (b *builder) measures() bool {
	if b.o.Traces != nil {
		return true
	}
	for i := range b.all {
		if b.all[i].sizing.Measured.Given() {
			return true
		}
	}
	return b.since != nil && b.since.sizing.Measured.Given()
}

// holdsMeasurements reports whether a section does: traces stand in their own sections,
// limits read off them beside those of the other levels of trust.
func (b *builder) holdsMeasurements(s *document.Section) bool {
	switch s.ID {
	case "measured", "more-measured":
		return b.o.Traces != nil
	case "why-not":
		return b.o.Traces != nil || b.sizing.Measured.Given()
	case "verdict", "strip", "horn", "figures", "why", "wave":
		return b.sizing.Measured.Given()
	case "tradeoff", "alternatives":
		return slices.ContainsFunc(b.all, func(d sized) bool { return d.sizing.Measured.Given() })
	case "changes", "changed":
		return b.sizing.Measured.Given() || b.since != nil && b.since.sizing.Measured.Given()
	}
	return false
}

// footer is the foot of a page, of one that holds measurements or not.
func (b *builder) footer(measured bool) string {
	text := title(b.design)
	if r := b.design.Review.Revision; r != "" {
		text += " · revision " + r
	}
	says := "predicted, not measured"
	if measured {
		says = "predicted; measured where it says so"
	}
	return text + " · gapline " + b.o.Version + " · " + says + " · rigging is not computed"
}

// data are the figures of every design as size --json prints them.
func (b *builder) data() ([]document.Data, error) {
	list := b.all
	if b.since != nil {
		list = append(list[:len(list):len(list)], *b.since)
	}
	var out []document.Data
	for i := range list {
		var text bytes.Buffer
		if err := machine.Write(&text, list[i].object()); err != nil {
			return nil, err
		}
		out = append(out, document.Data{ID: list[i].data, JSON: text.Bytes()})
	}
	return out, nil
}

// summary is the JSON of the report command.
func (b *builder) summary(d *document.Document) (*machine.Object, error) {
	var designs []*machine.Object
	for i := range b.all {
		designs = append(designs, b.all[i].object().Set("name", b.all[i].Name))
	}
	r := &b.design.Review
	o := &machine.Object{}
	o.Set("schema_version", machine.SchemaVersion).Set("title", b.design.Title)
	o.Set("review", (&machine.Object{}).Set("question", r.Question).Set("decision", r.Decision).Set("reasons", listed(r.Reasons)).
		Set("open_points", listed(r.OpenPoints)).Set("author", r.Author).Set("revision", r.Revision))
	o.Set("missing", listed(strings.Join(b.lacks, "\n"))).Set("absent", append([]string{}, b.absences...)).Set("designs", designs)
	if b.since == nil {
		o.Set("changes", nil)
	} else {
		o.Add(describe.Changes(b.since.shown(b.since.Name), b.sized.shown(b.Name), [2]string{}))
	}
	sections, err := sectionObjects(d.Sections)
	if err != nil {
		return nil, err
	}
	o.Set("sections", sections).Set("footers", []string{d.Footer, d.Noted})
	return o, nil
}

// listed is never null in JSON.
func listed(text string) []string { return append([]string{}, design.Points(text)...) }
