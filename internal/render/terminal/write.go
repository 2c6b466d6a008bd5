package terminal

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"gapline/internal/cleantext"
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/result"
)

// Write writes r as it shows on the screen, or the views asked for.
func Write(w io.Writer, r *result.Result, sys quantity.System, views ...string) error {
	p := printer{sys: sys}
	p.heading(r)
	p.parts(r.Chosen(result.Choice{Place: result.Screen, Views: views}))
	_, err := io.WriteString(w, p.String())
	return err
}

type printer struct {
	strings.Builder
	sys quantity.System
}

func (p *printer) heading(r *result.Result) {
	if r.Untitled {
		return
	}
	title := cleantext.Line(r.Title)
	if title == "" {
		title = result.Untitled
	}
	p.WriteString(title + "\n")
	for _, line := range r.Head {
		set := Text(line, p.sys)
		indent := set[:len(set)-len(strings.TrimLeft(set, " "))]
		p.WriteString(Wrap(set, LineWidth, indent, indent))
	}
}

// parts writes parts in order; neighbouring tables share their columns' widths.
func (p *printer) parts(parts []result.Part) {
	var t columns
	flush := func() {
		t.write(&p.Builder)
		t = columns{}
	}
	for _, part := range parts {
		if x, ok := part.(result.Table); ok {
			p.table(&t, &x)
			continue
		}
		flush()
		switch x := part.(type) {
		case result.Section:
			p.section(&x)
		case result.Findings:
			p.WriteString(Findings(x.List, p.sys))
		case result.Prose:
			p.prose(&x)
		}
	}
	flush()
}

func (p *printer) section(s *result.Section) {
	if s.Spaced {
		p.WriteByte('\n')
	}
	if !s.Title.Empty() {
		p.WriteString(Text(s.Title, p.sys) + "\n")
	}
	p.parts(s.Parts)
}

func (p *printer) prose(x *result.Prose) {
	for i, text := range x.Texts {
		set, mark := Text(text, p.sys), ""
		if i < len(x.Marks) {
			mark = x.Marks[i] + "  "
		}
		if x.AsIs {
			p.WriteString(x.Indent + mark + set + "\n")
			continue
		}
		rest := x.Indent + strings.Repeat(" ", utf8.RuneCountInString(mark)) + x.Hang
		p.WriteString(Wrap(set, LineWidth, x.Indent+mark, rest))
	}
}

// table adds a table's title and rows to the columns.
func (p *printer) table(t *columns, x *result.Table) {
	titled := !x.Title.Empty()
	if x.Spaced {
		t.row()
	}
	heads := make([]string, 1, len(x.Columns)+1)
	heads[0] = Text(x.Title, p.sys)
	last := 0
	for i, c := range x.Columns {
		head := ""
		if !x.Continued {
			head = starred(Text(c.Head, p.sys), c.Stars, false)
		}
		heads = append(heads, head)
		if head != "" {
			last = i + 1
		}
		if c.Left {
			t.left = append(t.left, make([]bool, max(0, i+2-len(t.left)))...)
			t.left[i+1] = true
		}
	}
	if titled || last > 0 {
		t.row(heads[:last+1]...)
	}
	for row := range x.Rows {
		t.row(p.row(x, row)...)
	}
}

func (p *printer) row(x *result.Table, row result.Row) []string {
	out := RowTexts(x, row, p.sys)
	next := 0
	for i, c := range x.Columns {
		if !c.Trust && next < len(row.Cells) {
			out[i+1] = starred(out[i+1], c.Stars, row.Cells[next].Star)
			next++
		}
	}
	switch {
	case row.Marked:
		out[0] = "> " + out[0]
	case !row.Flush:
		out[0] = "  " + out[0]
	}
	return out
}

// starred adds a star, or the room of one, in a column that has stars.
func starred(text string, room, star bool) string {
	switch {
	case !room:
		return text
	case star:
		return text + "*"
	}
	return text + " "
}

// RowTexts sets a row: its label and a text for each column.
func RowTexts(x *result.Table, row result.Row, sys quantity.System) []string {
	out := []string{cleantext.Line(Text(row.Label, sys))}
	next := 0
	for _, c := range x.Columns {
		switch {
		case c.Trust:
			out = append(out, row.Trust.String())
		case next < len(row.Cells):
			out = append(out, shortened(cleantext.Line(Cell(row.Cells[next], sys)), c.Most))
			next++
		default:
			out = append(out, "")
		}
	}
	return out
}

// shortened keeps a text on one line of at most that many characters, 0 for any, so
// that it does not fill a table.
func shortened(text string, most int) string {
	if most == 0 {
		return text
	}
	r := []rune(strings.Join(strings.Fields(text), " "))
	if len(r) <= most {
		return string(r)
	}
	return string(r[:most-1]) + "…"
}

// signWidth is the room for the sign of a finding.
const signWidth = 8

// Findings sets findings, a paragraph each behind the sign of its severity.
func Findings(list []result.Finding, sys quantity.System) string {
	var b strings.Builder
	for _, f := range list {
		b.WriteString(Wrap(Text(f.Text, sys), LineWidth, fmt.Sprintf("%-*s", signWidth, f.Severity.Sign()), strings.Repeat(" ", signWidth)))
	}
	return b.String()
}

// TrustsOf names the levels of trust of the figures, lowest first, each once.
func TrustsOf(defs ...*figure.Def) string {
	var levels []figure.Trust
	for _, d := range defs {
		if !slices.Contains(levels, d.Trust) {
			levels = append(levels, d.Trust)
		}
	}
	slices.Sort(levels)
	names := make([]string, len(levels))
	for i, l := range levels {
		names[i] = l.String()
	}
	return strings.Join(names, ", ")
}
