package plots

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
)

// tag is one element of a document's structure (ISO 32000-1, 14.7 and 14.8).
type tag struct {
	kind   string
	alt    string // of a Figure
	scope  string // of a TH: Row or Column
	kids   []*tag
	marks  []markedContent
	link   *paperLink // of a Link
	object int        // of a Link in the file
}

// markedContent is a stretch of a page that belongs to a tag.
type markedContent struct{ page, id int }

func (t *tag) add(kind string) *tag {
	kid := &tag{kind: kind}
	t.kids = append(t.kids, kid)
	return kid
}

// addHead adds a table's head for a Column or a Row.
func (t *tag) addHead(scope string) *tag {
	kid := t.add("TH")
	kid.scope = scope
	return kid
}

// bookmark is an entry of the list of sections beside the pages.
type bookmark struct {
	text string
	page int
	top  vg.Length
}

// mark starts content of a tag on the present page; call what it returns at its
// end.
func (p *Paper) mark(t *tag) func() {
	n := len(p.pages) - 1
	p.notes[n] = p.notes[n] || p.noted
	return p.markOn(n, t)
}

// markOn is mark on another page.
func (p *Paper) markOn(n int, t *tag) func() {
	id := p.marked[n]
	p.marked[n]++
	t.marks = append(t.marks, markedContent{n, id})
	return p.encloseOn(n, fmt.Sprintf("/%s <</MCID %d>> BDC\n", t.kind, id))
}

// artifact starts content without meaning, such as a rule or a page number.
func (p *Paper) artifact() func() { return p.encloseOn(len(p.pages)-1, "/Artifact BMC\n") }

func (p *Paper) encloseOn(page int, begin string) func() {
	s := p.pages[page]
	s.parts = append(s.parts, raw(begin))
	return func() { s.parts = append(s.parts, raw("EMC\n")) }
}

// raw writes an operator of the PDF page.
func raw(text string) func(writer) {
	return func(w writer) {
		if pdf, ok := w.(*pdfWriter); ok {
			pdf.page.WriteString(text)
		}
	}
}

// WritePDF writes the document. lacks are the letters that the font does not have
// and that stand as boxes.
func (p *Paper) WritePDF(w io.Writer) (lacks []rune, err error) {
	p.writeContents()
	p.feet()
	pw := &pdfWriter{}
	contents := make([][]byte, len(p.pages))
	for i, s := range p.pages {
		pw.page.Reset()
		s.render(pw)
		contents[i] = bytes.Clone(pw.page.Bytes())
	}
	if pw.err != nil {
		return nil, pw.err
	}
	for _, font := range pw.fonts {
		if font != nil {
			lacks = append(lacks, font.lack...)
		}
	}
	slices.Sort(lacks)
	f := &paperFile{pdfDocument: &pdfDocument{}, paper: p}
	catalog := f.reserve()
	f.writePages(pw.resources(f.pdfDocument), contents)
	f.structure()
	f.bookmarks()
	f.set(catalog, fmt.Sprintf("<< /Type /Catalog /Pages %d 0 R /Lang %s /MarkInfo << /Marked true >> /ViewerPreferences << /DisplayDocTitle true >> /StructTreeRoot %d 0 R /Outlines %d 0 R >>",
		f.tree, pdfString(p.info.Lang), f.root, f.outlines))
	info := f.add(fmt.Sprintf("<< /Title %s /Subject %s /Author %s /Producer (gapline) >>",
		pdfString(clean(p.info.Title)), pdfString(clean(p.info.Subject)), pdfString(clean(p.info.Author))))
	_, err = w.Write(f.bytes(catalog, info))
	return slices.Compact(lacks), err
}

// feet writes footer and page number on every page.
func (p *Paper) feet() {
	for i, s := range p.pages {
		number := fmt.Sprintf("%d of %d", i+1, len(p.pages))
		foot := p.info.Footer
		if p.notes[i] && p.info.Noted != "" {
			foot = p.info.Noted
		}
		foot = cut(clean(foot), footerSize, false, sheetWidth-textWidth(number, footerSize, false)-20)
		s.parts = append(s.parts, raw("/Artifact BMC\n"))
		at := vg.Point{X: paperSide, Y: paperBottom - 18}
		s.line(stroke{color: gridMajor, width: 0.6}, paperSide, at.Y+12, paperSide+sheetWidth, at.Y+12)
		s.text(label{text: foot, at: at, size: footerSize, color: inkSoft})
		s.text(label{text: number, at: vg.Point{X: paperSide + sheetWidth, Y: at.Y}, alignX: 1, size: footerSize, color: inkSoft})
		s.parts = append(s.parts, raw("EMC\n"))
	}
}

// paperFile is the file while it is put together.
type paperFile struct {
	*pdfDocument
	paper                *Paper
	tree, root, outlines int
	pages                []int
}

// writePages adds the pages, which share one set of fonts and images.
func (f *paperFile) writePages(resources string, contents [][]byte) {
	f.tree = f.reserve()
	shared := f.add("<< " + resources + " >>")
	annots := make([]string, len(contents))
	for i := range f.paper.links {
		l := &f.paper.links[i]
		l.object, l.tag.link = f.reserve(), l
		annots[l.page] += fmt.Sprintf("%d 0 R ", l.object)
	}
	var kids strings.Builder
	for i, c := range contents {
		content := f.stream("", c)
		n := f.add(fmt.Sprintf("<< /Type /Page /Parent %d 0 R /MediaBox [0 0 %s %s] /Resources %d 0 R /Contents %d 0 R /StructParents %d /Tabs /S%s >>",
			f.tree, number(paperWidth), number(paperHeight), shared, content, i, annotations(annots[i])))
		f.pages = append(f.pages, n)
		fmt.Fprintf(&kids, "%d 0 R ", n)
	}
	f.set(f.tree, fmt.Sprintf("<< /Type /Pages /Kids [%s] /Count %d >>", kids.String(), len(f.pages)))
	for i := range f.paper.links {
		l := &f.paper.links[i]
		b := f.paper.outline[l.target]
		f.set(l.object, fmt.Sprintf("<< /Type /Annot /Subtype /Link /Rect [%s %s %s %s] /Border [0 0 0] /Contents %s /Dest [%d 0 R /XYZ null %s null] /StructParent %d >>",
			number(l.at.Min.X), number(l.at.Min.Y), number(l.at.Max.X), number(l.at.Max.Y), pdfString(b.text), f.pages[b.page], number(b.top), len(f.pages)+i))
	}
}

func annotations(refs string) string {
	if refs == "" {
		return ""
	}
	return " /Annots [" + refs + "]"
}

// structure adds the tags and the way back from each page's marks to them.
func (f *paperFile) structure() {
	f.root = f.reserve()
	owner := make([][]int, len(f.pages))
	for i := range owner {
		owner[i] = make([]int, f.paper.marked[i])
	}
	top := f.tag(f.paper.root, f.root, owner)
	var nums strings.Builder
	for i, refs := range owner {
		fmt.Fprintf(&nums, "%d [", i)
		for _, r := range refs {
			fmt.Fprintf(&nums, "%d 0 R ", r)
		}
		nums.WriteString("] ")
	}
	for i := range f.paper.links {
		fmt.Fprintf(&nums, "%d %d 0 R ", len(f.pages)+i, f.paper.links[i].tag.object)
	}
	parents := f.add("<< /Nums [" + nums.String() + "] >>")
	f.set(f.root, fmt.Sprintf("<< /Type /StructTreeRoot /K [%d 0 R] /ParentTree %d 0 R /ParentTreeNextKey %d >>", top, parents, len(f.pages)+len(f.paper.links)))
}

// tag adds one element with all below it and returns its number.
func (f *paperFile) tag(t *tag, parent int, owner [][]int) int {
	n := f.reserve()
	var kids strings.Builder
	for _, m := range t.marks {
		owner[m.page][m.id] = n
		fmt.Fprintf(&kids, "<< /Type /MCR /Pg %d 0 R /MCID %d >> ", f.pages[m.page], m.id)
	}
	if t.link != nil {
		t.object = n
		fmt.Fprintf(&kids, "<< /Type /OBJR /Obj %d 0 R /Pg %d 0 R >> ", t.link.object, f.pages[t.link.page])
	}
	for _, kid := range t.kids {
		fmt.Fprintf(&kids, "%d 0 R ", f.tag(kid, n, owner))
	}
	more := ""
	if t.alt != "" {
		more += " /Alt " + pdfString(t.alt)
	}
	if t.scope != "" {
		more += " /A << /O /Table /Scope /" + t.scope + " >>"
	}
	f.set(n, fmt.Sprintf("<< /Type /StructElem /S /%s /P %d 0 R%s /K [%s] >>", t.kind, parent, more, kids.String()))
	return n
}

// bookmarks adds the list of sections.
func (f *paperFile) bookmarks() {
	f.outlines = f.reserve()
	first := len(f.objects) + 1
	list := f.paper.outline
	for i, b := range list {
		links := ""
		if i > 0 {
			links += fmt.Sprintf(" /Prev %d 0 R", first+i-1)
		}
		if i < len(list)-1 {
			links += fmt.Sprintf(" /Next %d 0 R", first+i+1)
		}
		f.add(fmt.Sprintf("<< /Title %s /Parent %d 0 R /Dest [%d 0 R /XYZ null %s null]%s >>", pdfString(b.text), f.outlines, f.pages[b.page], number(b.top), links))
	}
	if len(list) == 0 {
		f.set(f.outlines, "<< /Type /Outlines /Count 0 >>")
		return
	}
	f.set(f.outlines, fmt.Sprintf("<< /Type /Outlines /First %d 0 R /Last %d 0 R /Count %d >>", first, first+len(list)-1, len(list)))
}
