// Package page renders results as blocks of the review document: tables, findings
// and the conditions that they stand under.
package page

import (
	"strings"
	"unicode"

	"gapline/internal/document"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
)

// Blocks returns the parts of r that the document shows.
func Blocks(r *result.Result, sys quantity.System) []document.Block {
	p := setter{sys: sys}
	p.parts(r.Chosen(result.Choice{Place: result.Page}))
	return p.out
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
	sys quantity.System
	out []document.Block
}

func (p *setter) parts(parts []result.Part) {
	for _, part := range parts {
		switch x := part.(type) {
		case result.Section:
			p.parts(titled(&x))
		case result.Table:
			if t := p.table(&x); len(t.Rows) > 0 {
				p.out = append(p.out, t)
			}
		case result.Prose:
			for _, t := range x.Texts {
				p.out = append(p.out, document.Text{Tone: document.Remark, Text: terminal.Text(t, p.sys)})
			}
		}
	}
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
	for _, c := range t.Columns {
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
	frequencies := true
	for row := range t.Rows {
		texts := terminal.RowTexts(t, row, p.sys)
		frequencies = frequencies && strings.HasSuffix(texts[0], "Hz")
		out.Rows = append(out.Rows, document.Cells(texts...))
	}
	if frequencies {
		out.Head[0] = "frequency"
	}
	return out
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
