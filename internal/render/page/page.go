// Package page renders results as blocks of the review document: tables, findings
// and the conditions that they stand under.
package page

import (
	"slices"
	"strings"
	"unicode"

	"gapline/internal/document"
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/render/machine"
	"gapline/internal/render/picture"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
	"gapline/plots"
)

// Add adds a result to a section of the document: its pictures, the conditions, its
// tables and prose, and its findings but the cautions, which have a section of their
// own.
func Add(s *document.Section, r *result.Result, sys quantity.System, o Options) {
	p := setter{Options: o, sys: sys, Section: s}
	chosen := flat(r.Chosen(result.Choice{Place: result.Page}))
	for _, part := range chosen {
		p.picture(part)
	}
	if text := Conditions(r, sys); text != "" {
		s.Add(document.Text{Tone: document.Remark, Text: text})
	}
	for _, part := range chosen {
		switch x := part.(type) {
		case result.Table:
			if t := p.table(&x); len(t.Rows) > 0 {
				s.Add(t)
			}
		case result.Prose:
			for _, t := range x.Texts {
				s.Add(document.Text{Tone: document.Remark, Text: terminal.Text(t, sys)})
			}
		case result.Findings:
			AddFindings(s, x.List, sys)
		}
	}
}

// worded are the severities of a section's own findings, in the order of their
// weight.
var worded = []result.Severity{result.Divided, result.Unknown, result.Missed, result.Met, result.Contradiction, result.Try, result.Note}

// AddFindings adds findings under a heading, without the cautions.
func AddFindings(s *document.Section, all []result.Finding, sys quantity.System) {
	if l := Findings(all, sys, worded...); len(l.Items) > 0 {
		s.Add(document.Heading("Findings"), l)
	}
}

// Findings lists findings of the given severities, one severity after the other.
func Findings(all []result.Finding, sys quantity.System, of ...result.Severity) document.List {
	var l document.List
	for _, want := range of {
		for _, f := range all {
			if f.Severity == want {
				l.Labels, l.Items = append(l.Labels, want.Label()), append(l.Items, terminal.Text(f.Text, sys))
			}
		}
	}
	return l
}

// flat takes parts out of their sections, the first table of a titled section with
// its title.
func flat(parts []result.Part) []result.Part {
	var out []result.Part
	for _, part := range parts {
		if s, ok := part.(result.Section); ok {
			out = append(out, flat(titled(&s))...)
			continue
		}
		out = append(out, part)
	}
	return out
}

// picture adds a part that can be drawn, or says why it cannot.
func (p *setter) picture(part result.Part) {
	fig := picture.Figure(part, p.sys)
	if fig == nil {
		return
	}
	c := result.CaptionOf(part)
	text := c.Page
	if text == "" {
		text = c.Title
	}
	if err := plots.Check(fig); err != nil {
		p.Add(document.Text{Tone: document.Missing, Text: text + ": not drawn, " + err.Error() + "."})
		return
	}
	p.Add(document.Picture{ID: "picture-" + c.ID, Figure: plots.Within(fig, p.Design, p.Air, p.Shorter), Caption: text})
}

// Conditions are the lines under the title of r in one.
func Conditions(r *result.Result, sys quantity.System) string {
	var lines []string
	for _, t := range r.Head {
		for _, line := range strings.Split(terminal.Text(t, sys), "\n") {
			if line = strings.Join(strings.Fields(line), " "); line != "" {
				lines = append(lines, line)
			}
		}
	}
	return strings.Join(lines, "; ")
}

type setter struct {
	*document.Section
	Options
	sys quantity.System
}

// Options are what a result is told of the document.
type Options struct {
	Cite        func(source string) string // the number of a source there
	Design, Air string                     // that its pages name already
	Shorter     func(string) string        // the conditions of a picture beside what its pages say; may be nil
}

// titled hands the section's title to its first table.
func titled(s *result.Section) []result.Part {
	if s.Title.Empty() {
		return s.Parts
	}
	out := append([]result.Part{}, s.Parts...)
	for i, part := range out {
		if t, ok := part.(result.Table); ok {
			t.Title = s.Title
			out[i] = t
			break
		}
	}
	return out
}

func (p *setter) table(t *result.Table) document.Table {
	out := document.Table{Caption: sentence(terminal.Text(t.Title, p.sys)), Head: []string{"figure"}}
	for i, c := range t.Columns {
		if c.Left {
			out.Left = append(out.Left, make([]bool, i+2-len(out.Left))...)
			out.Left[i+1] = true
		}
		head := terminal.Text(c.Head, p.sys)
		switch {
		case head != "":
		case c.Trust:
			head = "trust"
		default:
			head = "value"
		}
		out.Head = append(out.Head, head)
	}
	if t.Labels != "" {
		out.Head[0] = t.Labels
	}
	rests := based{}
	frequencies := t.Labels == ""
	for row := range t.Rows {
		texts := terminal.RowTexts(t, row, p.sys)
		texts[0] = strings.TrimSpace(texts[0])
		frequencies = frequencies && strings.HasSuffix(texts[0], "Hz")
		r := document.Cells(texts...)
		keyed(&r, t, &row)
		rests.take(t, &row)
		out.Rows = append(out.Rows, r)
	}
	if frequencies {
		out.Head[0] = "frequency"
	}
	if out.Caption != "" {
		out.Caption += rests.words(t, p.Cite)
	}
	return out
}

// based is what the figures of a table rest on.
type based struct {
	trusts  []figure.Trust
	sources []string
}

func (x *based) take(t *result.Table, row *result.Row) {
	next := 0
	for _, c := range t.Columns {
		if c.Trust || next == len(row.Cells) {
			continue
		}
		cell := &row.Cells[next]
		next++
		f := cell.Fig
		if f == nil {
			f = c.Fig
		}
		if f == nil || !cell.Given() {
			continue
		}
		if trust := (&result.Cell{Fig: f, Trust: cell.Trust}).TrustOf(); !slices.Contains(x.trusts, trust) {
			x.trusts = append(x.trusts, trust)
		}
		if !slices.Contains(x.sources, f.Source) {
			x.sources = append(x.sources, f.Source)
		}
	}
}

// words are the trust and the sources behind a caption, of a table that has no columns of
// them.
func (x *based) words(t *result.Table, cite func(string) string) string {
	var out []string
	has := func(head string) bool {
		return slices.ContainsFunc(t.Columns, func(c result.Column) bool {
			return c.Trust && head == "trust" || c.Head.Form == "%s" && len(c.Head.Args) == 1 && c.Head.Args[0] == head
		})
	}
	title := ""
	if !t.Title.Empty() {
		title = t.Title.Form
	}
	if len(x.trusts) > 0 && !has("trust") && t.Labels != "trust" && !strings.Contains(title, "trust") && !strings.Contains(title, "aperture") {
		var names []string
		for _, l := range x.trusts {
			names = append(names, l.String())
		}
		out = append(out, "trust: "+strings.Join(names, ", "))
	}
	if len(x.sources) > 0 && !has("source") {
		what := "source "
		if len(x.sources) > 1 {
			what = "sources "
		}
		var numbers []string
		for _, s := range x.sources {
			numbers = append(numbers, cite(s))
		}
		out = append(out, what+strings.Join(numbers, ", "))
	}
	if len(out) == 0 {
		return ""
	}
	return " · " + strings.Join(out, "; ")
}

// keyed sets links and tells programs which figures a row shows, and their values, in the columns
// whose figures the document holds as JSON.
func keyed(r *document.Row, t *result.Table, row *result.Row) {
	next := 0
	for i, c := range t.Columns {
		if c.Trust || next == len(row.Cells) {
			continue
		}
		cell := &row.Cells[next]
		next++
		r.Cells[i+1].Link = cell.Link
		if c.Data == "" || cell.Fig == nil {
			continue
		}
		r.Cells[0].Note = row.Key
		r.Cells[i+1].Key, r.Cells[i+1].Value, r.Cells[i+1].In = cell.Fig.Key, machine.Text(cell), c.Data
	}
}

// sentence turns "LOWER LIMIT, set by" into "Lower limit, set by".
func sentence(title string) string {
	words := strings.Fields(title)
	for i, w := range words {
		if strings.IndexFunc(w, unicode.IsLower) >= 0 {
			break
		}
		words[i] = strings.ToLower(w)
	}
	text := []rune(strings.Join(words, " "))
	if len(text) > 0 {
		text[0] = unicode.ToUpper(text[0])
	}
	return string(text)
}
