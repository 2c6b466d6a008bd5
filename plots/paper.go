package plots

import (
	"image"
	"image/color"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
)

// Paper is a document on A4 pages: headings, paragraphs, lists, tables and
// figures, one below the other. Add parts in order and write it with WritePDF.
// The file is tagged, so that reading programs find headings, tables and the text
// alternatives of figures, and it depends on what was added only.
type Paper struct {
	info  PaperInfo
	pages []*sheet
	y     vg.Length // where the next part may start, from the top of the page down

	left, width vg.Length // of the column in hand
	bottom      vg.Length // down to where it may reach
	fixed       bool      // parts are known to fit: no new page
	noted       bool      // what is added is worth noting in the foot
	notes       []bool    // pages that hold such parts
	tight       bool      // pictures beside texts are drawn as small as may be

	root    *tag // of the whole document
	marked  []int
	outline []bookmark
	waiting []heading
	toc     *contents
	links   []paperLink
}

// PaperInfo is what a document says about itself.
type PaperInfo struct {
	Title, Subject, Author string
	Lang                   string // such as "en"
	Footer                 string // at the foot of every page, beside its number
	Noted                  string // there in its place on pages with parts added under Note
}

// Style is a way of setting a paragraph.
type Style int

// The styles of paragraphs.
const (
	Body   Style = iota
	Soft         // conditions, remarks
	Strong       // what must not be overlooked
)

// A4 with margins that leave the width of a picture.
const (
	paperWidth, paperHeight vg.Length = 595.28, 841.89
	paperSide                         = (paperWidth - sheetWidth) / 2
	paperTop, paperBottom   vg.Length = 40, 46

	bodySize  vg.Length = 9.5
	cellSize  vg.Length = 8.5
	paraGap   vg.Length = 5
	listInset vg.Length = 12
)

// headingSizes are the font sizes of headings by level, from 1; 0 is a Lead.
var headingSizes = []vg.Length{bodySize, 14.5, 11.5, 10}

// NewPaper starts an empty document.
func NewPaper(info PaperInfo) *Paper {
	p := &Paper{info: info, root: &tag{kind: "Document"}, left: paperSide, width: sheetWidth, bottom: paperHeight - paperBottom}
	p.turn()
	return p
}

// turn starts a new page.
func (p *Paper) turn() {
	s := &sheet{width: paperWidth, height: paperHeight}
	p.pages = append(p.pages, s)
	p.marked = append(p.marked, 0)
	p.notes = append(p.notes, false)
	p.y = paperTop
}

// Note begins or ends parts whose pages have the other foot.
func (p *Paper) Note(on bool) { p.noted = on }

// Tighten begins or ends parts that must keep to few pages: pictures beside texts are drawn
// as small as may be.
func (p *Paper) Tighten(on bool) { p.tight = on }

// Pages is how many pages there are so far.
func (p *Paper) Pages() int { return len(p.pages) }

// Break starts a new page for what comes next.
func (p *Paper) Break() {
	if !p.fresh() {
		p.turn()
	}
}

func (p *Paper) page() *sheet { return p.pages[len(p.pages)-1] }

// room is the height left on the page.
func (p *Paper) room() vg.Length { return p.bottom - p.y }

// Room is the height left on the page in hand, in points.
func (p *Paper) Room() float64 { return float64(p.room()) }

// fresh reports whether nothing stands on the page yet.
func (p *Paper) fresh() bool { return p.y == paperTop }

// need starts a new page unless height is left on this one.
func (p *Paper) need(height vg.Length) {
	if p.room() < height && !p.fresh() && !p.fixed {
		p.turn()
	}
}

// Lead adds a sentence that opens a section and never ends a page.
func (p *Paper) Lead(text string) {
	p.waiting = append(p.waiting, heading{0, wrap(text, bodySize, true, p.width, 0)})
}

// heading waits for what stands below it, so that it never ends a page.
type heading struct {
	level int
	lines []string
}

// height is that of the heading with the room about it.
func (h heading) height() vg.Length {
	size := headingSizes[h.level]
	return size*leadOf(h.level) + size*lineSpacing*vg.Length(len(h.lines)) + size*0.3
}

// headingLead is the room above a heading, over its size.
const headingLead = 0.7

func leadOf(level int) vg.Length {
	if level == 0 {
		return 0
	}
	return headingLead
}

// Heading adds a heading of level 1 to 3.
func (p *Paper) Heading(level int, text string) {
	p.waiting = append(p.waiting, heading{level, wrap(text, headingSizes[level], true, p.width, 0)})
}

// start sets the headings that wait above a part, on a page that has room for at
// least the given height of it.
func (p *Paper) start(height vg.Length) {
	waiting := p.waiting
	p.waiting = nil
	p.need(headingsHeight(waiting) + height)
	for _, h := range waiting {
		size := headingSizes[h.level]
		if !p.fresh() {
			p.y += size * leadOf(h.level)
		}
		if h.level == 2 {
			p.outline = append(p.outline, bookmark{strings.Join(h.lines, " "), len(p.pages) - 1, paperHeight - p.y + size})
		}
		p.setLines(p.root.add([]string{"P", "H1", "H2", "H3"}[h.level]), h.lines, p.left, label{size: size, bold: true, color: ink})
		p.y += size * 0.3
	}
}

func headingsHeight(list []heading) vg.Length {
	var sum vg.Length
	for _, h := range list {
		sum += h.height()
	}
	return sum
}

// Paragraph adds a block of text.
func (p *Paper) Paragraph(text string, style Style) {
	l := label{size: bodySize, color: ink}
	switch style {
	case Soft:
		l.size, l.color = cellSize, inkSoft
	case Strong:
		l.bold = true
	}
	lines := wrap(text, l.size, l.bold, p.width, 0)
	p.start(l.size * lineSpacing * vg.Length(min(len(lines), 2)))
	p.setLines(p.root.add("P"), lines, p.left, l)
	if style == Strong {
		p.y += paraGap / 2
		return
	}
	p.y += paraGap
}

// List adds a list of points; a label, where given, stands in bold before its
// point.
func (p *Paper) List(labels, items []string) {
	p.start(2 * bodySize * lineSpacing)
	list := p.root.add("L")
	inset := listInset
	if labels != nil {
		inset = widest(labels, bodySize, true) + 8
	}
	for i, text := range items {
		item := list.add("LI")
		l := label{size: bodySize, color: ink}
		lines := wrap(text, l.size, false, p.width-inset, 0)
		p.need(l.size * lineSpacing * vg.Length(together(len(lines))))
		top := p.y
		head := "•"
		if labels != nil {
			head = labels[i]
		}
		p.setLines(item.add("Lbl"), []string{head}, p.left, label{size: bodySize, bold: true, color: ink})
		p.y = top // its text stands beside it
		p.setLines(item.add("LBody"), lines, p.left+inset, l)
		p.y += 1.5
	}
	p.y += paraGap
}

// together is how many of so many lines stay with the first: as many as leave no line
// alone on either page.
func together(lines int) int {
	if lines > 3 {
		return 2
	}
	return lines
}

// setLines sets lines of text one below the other and over pages, as the content
// of a tag.
func (p *Paper) setLines(t *tag, lines []string, x vg.Length, l label) {
	pitch := l.size * lineSpacing
	for len(lines) > 0 {
		p.need(pitch)
		n := p.lines(len(lines), pitch)
		if n == 0 {
			p.turn()
			continue
		}
		done := p.mark(t)
		for i, text := range lines[:n] {
			l.text, l.at, l.alignY, l.runsOn = text, vg.Point{X: x, Y: paperHeight - p.y}, 1, i < len(lines)-1
			p.page().text(l)
			p.y += pitch
		}
		done()
		lines = lines[n:]
	}
}

// lines is how many of so many lines the page takes: no first and no last line of
// several stands alone.
func (p *Paper) lines(of int, pitch vg.Length) int {
	n := min(of, max(1, int(p.room()/pitch+1e-6)))
	switch {
	case p.fixed:
		return of
	case n == of || p.fresh():
	case n == 1:
		return 0
	case of-n == 1 && n > 2:
		n--
	}
	return n
}

// How large a picture is drawn: usual, and at least, where that saves a page.
const usualScale, leastScale = 0.88, 0.72

// Figure adds a picture and its caption.
func (p *Paper) Figure(fig Figure, caption string) error {
	s, err := fig.layout()
	if err != nil {
		return err
	}
	lines := wrap(caption, cellSize, false, p.width, 0)
	below := p.below(caption)
	scale := min(usualScale, p.width/s.width, (paperHeight-paperTop-paperBottom-headingsHeight(p.waiting)-below)/s.height)
	if left := (p.room() - headingsHeight(p.waiting) - below) / s.height; left >= leastScale {
		scale = min(scale, left)
	}
	p.start(s.height*scale + below)
	p.draw(s, scale, p.left+(p.width-s.width*scale)/2, lines)
	return nil
}

// below is the height of a caption under a picture of the full width.
func (p *Paper) below(caption string) vg.Length {
	return cellSize*lineSpacing*vg.Length(len(wrap(caption, cellSize, false, p.width, 0))) + paraGap
}

// draw draws a picture at the height reached, and its caption under it.
func (p *Paper) draw(s *sheet, scale, x vg.Length, caption []string) {
	t := p.root.add("Figure")
	t.alt = s.title + ". " + s.desc
	done := p.mark(t)
	dx, dy := x, paperHeight-p.y-s.height*scale
	parts := s.parts
	p.page().parts = append(p.page().parts, func(w writer) {
		m := moved{w, scale, dx, dy}
		for _, part := range parts {
			part(m)
		}
	})
	done()
	p.y += s.height * scale
	p.setLines(p.root.add("Caption"), caption, p.left, label{size: cellSize, color: inkSoft})
	p.y += paraGap
}

// Check returns what would keep fig from being drawn.
func Check(fig Figure) error {
	_, err := fig.layout()
	return err
}

// moved scales and shifts what is drawn through it.
type moved struct {
	w      writer
	k      vg.Length
	dx, dy vg.Length
}

func (m moved) point(p vg.Point) vg.Point { return vg.Point{X: m.k*p.X + m.dx, Y: m.k*p.Y + m.dy} }

func (m moved) points(ps []vg.Point) []vg.Point {
	out := make([]vg.Point, len(ps))
	for i, p := range ps {
		out[i] = m.point(p)
	}
	return out
}

func (m moved) lines(st stroke, lines [][]vg.Point) {
	st.width *= m.k
	st.dash = slices.Clone(st.dash)
	for i := range st.dash {
		st.dash[i] *= m.k
	}
	out := make([][]vg.Point, len(lines))
	for i, l := range lines {
		out[i] = m.points(l)
	}
	m.w.lines(st, out)
}

func (m moved) area(c color.NRGBA, pts []vg.Point) { m.w.area(c, m.points(pts)) }

func (m moved) picture(r vg.Rectangle, img image.Image) {
	m.w.picture(vg.Rectangle{Min: m.point(r.Min), Max: m.point(r.Max)}, img)
}

func (m moved) words(l placedLabel) {
	l.size *= m.k
	l.width *= m.k
	l.origin = m.point(l.origin)
	m.w.words(l)
}
