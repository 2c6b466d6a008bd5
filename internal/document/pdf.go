package document

import (
	"fmt"
	"io"
	"strings"

	"gapline/plots"
)

// WritePDF writes the document as a tagged PDF of A4 pages. lacks are letters that
// its font does not have; the HTML page shows them.
func (d *Document) WritePDF(w io.Writer) (lacks []rune, err error) {
	p := plots.NewPaper(plots.PaperInfo{Title: d.Title, Subject: "design review", Author: d.Author, Lang: "en", Footer: d.Footer})
	p.Heading(1, d.Title)
	lead := List{}
	for _, x := range d.Lead {
		lead.Labels, lead.Items = append(lead.Labels, x.Name), append(lead.Items, x.Text)
	}
	p.List(lead.Labels, lead.Items)
	for _, s := range d.Sections {
		p.Heading(2, s.Title)
		for _, b := range s.Blocks {
			if err := set(p, b); err != nil {
				return nil, err
			}
		}
	}
	return p.WritePDF(w)
}

// styles are the tones as the paper sets them.
var styles = map[Tone]plots.Style{Plain: plots.Body, Remark: plots.Soft, Missing: plots.Soft, Good: plots.Strong, Bad: plots.Strong}

func set(p *plots.Paper, b Block) error {
	switch x := b.(type) {
	case Heading:
		p.Heading(3, string(x))
	case Text:
		p.Paragraph(x.Text, styles[x.Tone])
	case List:
		p.List(x.Labels, x.Items)
	case Table:
		p.Table(paperTable(x))
	case Picture:
		if err := p.Figure(x.Figure, x.Caption); err != nil {
			return fmt.Errorf("picture %s: %w", x.ID, err)
		}
	}
	return nil
}

// proportional stands for a sign of the formulas that the font does not have.
var proportional = strings.NewReplacer("∝", "~")

func paperTable(t Table) plots.PaperTable {
	out := plots.PaperTable{Caption: t.Caption, Head: t.Head, Left: t.Left}
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
