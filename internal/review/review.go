// Package review puts the results of all studies of a design together as a
// document for a design review. It computes no figure of its own: numbers come
// from the studies in the commands' own words, and a part that the design does not
// give enough for says what is missing.
package review

import (
	"bytes"
	"context"
	"crypto/sha256"
	"fmt"
	"path/filepath"
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
	"gapline/internal/render/terminal"
	"gapline/internal/result"
	"gapline/internal/study/box"
	"gapline/internal/study/fit"
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
	data     string // id of its JSON in the document
	findings []result.Finding
}

func newSized(ctx context.Context, d Design, data string, o Options) sized {
	s := sized{Design: d, design: &d.File.Design, data: data}
	s.sizing = sizing.Size(s.design)
	stored.Into(ctx, d.File.Name, s.design, &s.sizing, o.Warn)
	s.fit = fit.Of(s.design, d.File.Links)
	s.fit.Runs = func(x *design.Design) sizing.WaveSizing { return wavecache.Beside(d.File.Name).Figures(ctx, x, nil) }
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
	sized  // the design under review
	all    []sized
	since  *sized
	o      Options
	sys    quantity.System
	ctx    context.Context
	oneBox *box.Study // nil until it is worked out
	source []string   // in the order of their numbers
	lacks  []string   // ids of sections in which something is missing

	hung     []source.Pattern // of the box, from stored runs
	hungRead bool
}

// New reviews the first of the designs; the others are its alternatives. The error
// says what could not be computed, or that ctx ended.
func New(ctx context.Context, designs []Design, o Options) (*Review, error) {
	b := &builder{o: o, sys: o.System, ctx: ctx}
	for i, d := range designs {
		b.all = append(b.all, newSized(ctx, d, fmt.Sprintf("size-%d", i+1), o))
	}
	b.sized = b.all[0]
	if o.Since != nil {
		s := newSized(ctx, *o.Since, "size-since", o)
		b.since = &s
	}
	r := &Review{Document: document.Document{Title: "Design review: " + title(b.design), Author: b.design.Review.Author, Footer: b.footer(), Lead: b.lead()}}
	for _, part := range parts {
		s := document.Section{ID: part.id, Title: part.title}
		if err := part.fill(b, &s); err != nil {
			return nil, fmt.Errorf("%s: %w", strings.ToLower(part.title), err)
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		b.note(&s)
		r.Document.Sections = append(r.Document.Sections, s)
	}
	var err error
	if r.Document.Data, err = b.data(); err != nil {
		return nil, err
	}
	r.Object = b.summary()
	return r, nil
}

// part is one section of the document.
type part struct {
	id, title string
	fill      func(*builder, *document.Section) error
}

// parts are the sections in order.
var parts = []part{
	{"drawing", "The box", (*builder).drawing},
	{"job", "The job", (*builder).job},
	{"verdict", "Verdict", (*builder).verdict},
	{"decision", "Question and decision", (*builder).decision},
	{"changes", "Changes since the last revision", (*builder).changes},
	{"strip", "Where woofers and horn meet", (*builder).strip},
	{"figures", "Figures", (*builder).figures},
	{"levers", "The gap against its levers", (*builder).levers},
	{"box", "Woofer and enclosure", (*builder).box},
	{"insert", "With and without the insert", (*builder).insert},
	{"horn", "Horn", (*builder).horn},
	{"fold", "Folded path", (*builder).fold},
	{"field", "Field and audience", (*builder).line},
	{"crossover", "Crossover", (*builder).crossover},
	{"wave", "Check by the wave equation", (*builder).wave},
	{"tolerance", "Tolerances", (*builder).tolerance},
	{"measured", "Measurements", (*builder).measured},
	{"alternatives", "Alternatives", (*builder).alternatives},
	{"design", "The design's values", (*builder).values},
	{"methods", "Methods, assumptions and limits", (*builder).methods},
	{"sources", "Sources", (*builder).sources},
	{"cautions", "Cautions", (*builder).cautions},
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

func (b *builder) lead() []document.Pair {
	r := &b.design.Review
	units := "metric"
	if b.sys == quantity.Inch {
		units = "inches and feet"
	}
	out := []document.Pair{
		{Name: "Revision", Text: orMissing(r.Revision, "review.revision")},
		{Name: "Author", Text: orMissing(r.Author, "review.author")},
		{Name: "File", Text: b.fileText()},
	}
	if len(b.o.Settings) > 0 {
		out = append(out, document.Pair{Name: "Changed", Text: "for this document only: " + strings.Join(b.o.Settings, "; ")})
	}
	return append(out,
		document.Pair{Name: "Air", Text: terminal.Text(describe.Air(b.design, &b.sizing), b.sys)},
		document.Pair{Name: "Units", Text: units + "; every number is a prediction unless it is called measured"})
}

// fileText names the file and its contents.
func (b *builder) fileText() string {
	return fmt.Sprintf("%s, SHA-256 %x", filepath.Base(b.File.Name), sha256.Sum256([]byte(b.File.Text)))
}

func orMissing(text, key string) string {
	if text = strings.TrimSpace(text); text == "" {
		return "not given (" + key + ")"
	}
	return text
}

func (b *builder) footer() string {
	text := title(b.design)
	if r := b.design.Review.Revision; r != "" {
		text += " · revision " + r
	}
	return text + " · gapline " + b.o.Version + " · predicted, not measured; rigging is not computed"
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
func (b *builder) summary() *machine.Object {
	var designs []*machine.Object
	for i := range b.all {
		designs = append(designs, b.all[i].object().Set("name", b.all[i].Name))
	}
	r := &b.design.Review
	o := &machine.Object{}
	o.Set("schema_version", machine.SchemaVersion).Set("title", b.design.Title)
	o.Set("review", (&machine.Object{}).Set("question", r.Question).Set("decision", r.Decision).Set("reasons", points(r.Reasons)).
		Set("open_points", points(r.OpenPoints)).Set("author", r.Author).Set("revision", r.Revision))
	o.Set("missing", points(strings.Join(b.lacks, "\n"))).Set("designs", designs)
	if b.since == nil {
		return o.Set("changes", nil)
	}
	return o.Add(describe.Changes(b.since.shown(b.since.Name), b.sized.shown(b.Name), [2]string{}))
}

// points is never null in JSON.
func points(text string) []string { return append([]string{}, design.Points(text)...) }
