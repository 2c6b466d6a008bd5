package document

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"gapline/plots"
)

// WritePDF writes the document as a tagged PDF of A4 pages. lacks are letters that
// its font does not have; the HTML page shows them.
func (d *Document) WritePDF(w io.Writer) (lacks []rune, err error) {
	p, err := d.Paper()
	if err != nil {
		return nil, err
	}
	return p.WritePDF(w)
}

// Paper sets the document on pages.
func (d *Document) Paper() (*plots.Paper, error) {
	p := plots.NewPaper(plots.PaperInfo{Title: d.Title, Subject: "design review", Author: d.Author, Lang: "en", Footer: d.Footer, Noted: d.Noted})
	return p, d.set(p)
}

// front sets page one by itself and reports whether it takes one page.
func (d *Document) front() (fits bool, err error) {
	p := plots.NewPaper(plots.PaperInfo{})
	p.Heading(1, d.Title)
	for _, s := range d.Sections {
		if s.Part != PageOne {
			break
		}
		p.Heading(2, s.Title)
		if err := setAll(p, s.Blocks, false); err != nil {
			return false, err
		}
	}
	return p.Pages() == 1, nil
}

// set sets all sections: the contents follow page one.
func (d *Document) set(p *plots.Paper) error {
	fits, err := d.front()
	if err != nil {
		return err
	}
	p.Tighten(!fits)
	p.Heading(1, d.Title)
	part := PageOne
	for _, s := range d.Sections {
		if s.Part != part {
			if part == PageOne {
				p.Tighten(false)
				if p.Pages() == 1 { // page one has spilled over else
					p.Break()
				}
				p.Heading(3, "Contents")
				p.Contents(d.titles())
			} else if s.Part == Appendix {
				p.Heading(1, "Appendix")
			}
			part = s.Part
		}
		p.Note(s.Noted)
		p.Heading(2, s.Title)
		if err := setAll(p, s.Blocks, s.Part == Appendix); err != nil {
			return err
		}
	}
	return nil
}

func (d *Document) titles() []string {
	var out []string
	for _, s := range d.Sections {
		if s.Part != PageOne {
			out = append(out, s.Title)
		}
	}
	return out
}

// worthFilling is the height, in points, that must be left on a page for a table to be put
// on it before the picture above it.
const worthFilling = 180

// setAll sets blocks one after the other. Where they float, tables and texts that follow a
// picture fill the page that the picture does not fit on.
func setAll(p *plots.Paper, blocks []Block, floating bool) error {
	queue := apart(blocks)
	for len(queue) > 0 {
		at := 0
		if floating && p.Room() > worthFilling && !holds(p, queue[0]) {
			at = max(0, slices.IndexFunc(queue, func(b Block) bool { return !pictured(b) }))
		}
		next := queue[at : at+1]
		if _, heads := next[0].(Heading); heads && at+1 < len(queue) {
			next = queue[at : at+2]
		}
		for _, b := range next {
			if err := set(p, b); err != nil {
				return err
			}
		}
		queue = slices.Delete(queue, at, at+len(next))
	}
	return nil
}

// apart takes galleries apart into their rows.
func apart(blocks []Block) []Block {
	var out []Block
	for _, b := range blocks {
		g, ok := b.(Gallery)
		if !ok {
			out = append(out, b)
			continue
		}
		for ; len(g) > 2; g = g[2:] {
			out = append(out, g[:2])
		}
		if len(g) > 0 {
			out = append(out, g)
		}
	}
	return out
}

// pictured reports whether a block is of pictures.
func pictured(b Block) bool {
	switch b.(type) {
	case Picture, Gallery, Beside:
		return true
	}
	return false
}

// holds reports whether the page in hand has room for a block, if it is of pictures.
func holds(p *plots.Paper, b Block) bool {
	switch x := b.(type) {
	case Picture:
		return p.HoldsFigure(x.Figure, x.Caption)
	case Gallery:
		if len(x) == 2 {
			return p.HoldsRow([2]plots.Figure{x[0].Figure, x[1].Figure}, [2]string{x[0].Caption, x[1].Caption})
		}
		return len(x) != 1 || p.HoldsFigure(x[0].Figure, x[0].Caption)
	}
	return true
}

// styles are the tones as the paper sets them.
var styles = map[Tone]plots.Style{Plain: plots.Body, Remark: plots.Soft, Missing: plots.Soft, Good: plots.Strong, Bad: plots.Strong, Caution: plots.Strong}

func set(p *plots.Paper, b Block) error {
	switch x := b.(type) {
	case Heading:
		p.Heading(3, string(x))
	case Text:
		if x.Tone == Lead {
			p.Lead(x.Text)
			return nil
		}
		p.Paragraph(x.Text, styles[x.Tone])
	case List:
		p.List(x.Labels, x.Items)
	case Table:
		p.Table(paperTable(x))
	case Beside:
		if err := p.Beside(x.Picture.Figure, x.Picture.Caption, func(p *plots.Paper) error { return setAll(p, x.Blocks, false) }); err != nil {
			return fmt.Errorf("picture %s: %w", x.Picture.ID, err)
		}
	case Gallery:
		return gallery(p, x)
	case Picture:
		if err := p.Figure(x.Figure, x.Caption); err != nil {
			return fmt.Errorf("picture %s: %w", x.ID, err)
		}
	}
	return nil
}

// gallery sets pictures in pairs; one that is left over takes the width.
func gallery(p *plots.Paper, g Gallery) error {
	for ; len(g) > 1; g = g[2:] {
		if err := p.Row([2]plots.Figure{g[0].Figure, g[1].Figure}, [2]string{g[0].Caption, g[1].Caption}); err != nil {
			return fmt.Errorf("pictures %s and %s: %w", g[0].ID, g[1].ID, err)
		}
	}
	if len(g) == 0 {
		return nil
	}
	return set(p, g[0])
}

// proportional stands for a sign of the formulas that the font does not have.
var proportional = strings.NewReplacer("∝", "~")

func paperTable(t Table) plots.PaperTable {
	out := plots.PaperTable{Caption: t.Caption, Head: t.Head, Left: t.Left, Dense: t.Dense}
	if t.Alone {
		out.Caption = ""
	}
	for _, r := range t.Rows {
		var cells []string
		for _, c := range r.Cells {
			text := proportional.Replace(c.Text)
			if c.Note != "" {
				text += " (" + c.Note + ")"
			}
			cells = append(cells, text)
		}
		out.Rows = append(out.Rows, cells)
	}
	return out
}
