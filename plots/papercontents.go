package plots

import (
	"fmt"

	"gonum.org/v1/plot/vg"
)

// contents is a list of sections with their pages, which are known once all is set.
type contents struct {
	tag     *tag
	page    int
	top     vg.Length // from the top of the page
	entries []string
}

// paperLink is a place on a page that leads to a section.
type paperLink struct {
	page   int
	at     vg.Rectangle
	target int // of the outline
	tag    *tag
	object int // of the file
}

// contentsColumns is in how many columns a list of contents stands.
const contentsColumns = 2

// Contents adds a list of the sections of the given titles with the pages on which they
// begin. Sections are headings of level 2.
func (p *Paper) Contents(titles []string) {
	rows := (len(titles) + contentsColumns - 1) / contentsColumns
	height := vg.Length(rows)*cellSize*contentsPitch + paraGap
	p.start(height)
	p.toc = &contents{tag: p.root.add("TOC"), page: len(p.pages) - 1, top: p.y, entries: titles}
	p.y += height
}

// Place is a section with the page on which it begins, counted from 1.
type Place struct {
	Title string
	Page  int
}

// Outlined are the sections as readers show them beside the pages.
func (p *Paper) Outlined() []Place {
	var out []Place
	for _, b := range p.outline {
		out = append(out, Place{b.text, b.page + 1})
	}
	return out
}

// Listed are the sections that the contents lead to.
func (p *Paper) Listed() []Place {
	var out []Place
	for _, t := range p.targets() {
		if t >= 0 {
			out = append(out, Place{p.outline[t].text, p.outline[t].page + 1})
		}
	}
	return out
}

// targets are the places in the outline of the entries of the contents; −1: none.
func (p *Paper) targets() []int {
	if p.toc == nil {
		return nil
	}
	var out []int
	next := 0
	for _, title := range p.toc.entries {
		target := -1
		for i := next; i < len(p.outline) && target < 0; i++ {
			if p.outline[i].text == clean(title) {
				target, next = i, i+1
			}
		}
		out = append(out, target)
	}
	return out
}

const contentsPitch = 1.35 // of lines, over their size

// writeContents fills the list once the pages are known.
func (p *Paper) writeContents() {
	c := p.toc
	if c == nil {
		return
	}
	rows := (len(c.entries) + contentsColumns - 1) / contentsColumns
	const width = (sheetWidth - columnGap) / contentsColumns
	for i, target := range p.targets() {
		title := c.entries[i]
		if target < 0 {
			continue
		}
		x := paperSide + vg.Length(i/rows)*(width+columnGap)
		y := paperHeight - c.top - vg.Length(i%rows)*cellSize*contentsPitch
		number := fmt.Sprint(p.outline[target].page + 1)
		room := width - textWidth(number, cellSize, false) - 10
		link := c.tag.add("TOCI").add("Link")
		done := p.markOn(c.page, link)
		s := p.pages[c.page]
		box := s.text(label{text: cut(clean(title), cellSize, false, room), at: vg.Point{X: x, Y: y}, alignY: 1, size: cellSize, color: ink, runsOn: true})
		end := s.text(label{text: number, at: vg.Point{X: x + width, Y: y}, alignX: 1, alignY: 1, size: cellSize, color: ink})
		done()
		lead := p.encloseOn(c.page, "/Artifact BMC\n")
		s.line(stroke{color: gridMajor, width: 0.5, dash: dashPatterns[Dotted]}, box.Max.X+4, box.Min.Y+1, end.Min.X-4, box.Min.Y+1)
		lead()
		p.links = append(p.links, paperLink{page: c.page, at: rect(x, box.Min.Y, x+width, box.Max.Y), target: target, tag: link})
	}
}
