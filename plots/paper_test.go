package plots

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// paperExample has every part, over several pages.
func paperExample() *Paper {
	p := NewPaper(PaperInfo{Title: "A review", Author: "nobody", Lang: "en", Footer: "invented"})
	p.Heading(1, "A review")
	p.List([]string{"File", "Units"}, []string{"invented.toml", "metric"})
	p.Contents([]string{"Section 1", "Section 2", "Section 3", "Section 4", "Section that is not there"})
	for s := range 4 {
		p.Note(s == 2)
		p.Heading(2, fmt.Sprintf("Section %d", s+1))
		p.Lead("What it shows.")
		small := PaperTable{Caption: "Few numbers", Head: []string{"figure", "value"}, Rows: [][]string{{"a", "1 Hz"}, {"b", "2 Hz"}}, Dense: true}
		if err := p.Beside(leverExample(), "beside", func(p *Paper) error { p.Table(small); p.Paragraph(strings.Repeat("said ", 60), Soft); return nil }); err != nil {
			panic(err)
		}
		if err := p.Row([2]Figure{manyCurvesExample(), stripCompareExample()}, [2]string{"left", "right"}); err != nil {
			panic(err)
		}
		p.Heading(3, "Findings")
		p.Paragraph(strings.Repeat("Nothing that is said here is meant. ", 20), Body)
		rows := [][]string{}
		for i := range 40 {
			rows = append(rows, []string{fmt.Sprintf("row %d", i+1), "12.5 Hz", "rule"})
		}
		p.Table(PaperTable{Caption: "Numbers", Head: []string{"figure", "value", "trust"}, Left: []bool{true, false, true}, Rows: rows})
		if err := p.Figure(stripExample(), "A picture"); err != nil {
			panic(err)
		}
		p.List(nil, []string{"one", strings.Repeat("long ", 300)})
	}
	return p
}

func paperBytes(t *testing.T, p *Paper) []byte {
	t.Helper()
	var b bytes.Buffer
	if _, err := p.WritePDF(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// objects splits a PDF into its numbered objects.
func objects(t *testing.T, raw []byte) map[int]string {
	t.Helper()
	out := map[int]string{}
	for _, part := range regexp.MustCompile(`(?s)(?:^|\n)(\d+) 0 obj\n(.*?)\nendobj`).FindAllSubmatch(raw, -1) {
		n, _ := strconv.Atoi(string(part[1]))
		out[n] = string(part[2])
	}
	return out
}

// unpacked is the content of a stream object.
func unpacked(t *testing.T, object string) string {
	t.Helper()
	_, data, ok := strings.Cut(object, "stream\n")
	if !ok {
		t.Fatal("no stream")
	}
	z, err := zlib.NewReader(strings.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	b, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// Each mark on a page belongs to one element of the structure, by the tree of
// parents and by the elements themselves, and everything on a page is either
// marked or an artifact (ISO 32000-1, 14.7 and 14.8).
func TestPaperStructure(t *testing.T) {
	all := objects(t, paperBytes(t, paperExample()))
	marks := map[string]int{} // "page id" to the number of elements that hold it
	pages := 0
	for n, o := range all {
		for _, m := range regexp.MustCompile(`/Type /MCR /Pg (\d+) 0 R /MCID (\d+)`).FindAllStringSubmatch(o, -1) {
			marks[m[1]+" "+m[2]]++
		}
		if !strings.HasPrefix(o, "<< /Type /Page ") {
			continue
		}
		pages++
		content, _ := strconv.Atoi(regexp.MustCompile(`/Contents (\d+) 0 R`).FindStringSubmatch(o)[1])
		checkMarks(t, n, unpacked(t, all[content]), marks)
	}
	if pages < 4 {
		t.Errorf("%d pages: the example should take more", pages)
	}
	for key, count := range marks {
		if count != 11 { // 1 from the element, 10 from the page: see checkMarks
			t.Errorf("mark %s: elements and pages do not agree (%d)", key, count)
		}
	}
}

// checkMarks counts each mark of a page by 10 and wants all text within one.
func checkMarks(t *testing.T, page int, content string, marks map[string]int) {
	t.Helper()
	open := 0
	for _, line := range strings.Split(content, "\n") {
		switch {
		case strings.HasSuffix(line, "BDC"):
			id := regexp.MustCompile(`/MCID (\d+)`).FindStringSubmatch(line)[1]
			marks[fmt.Sprintf("%d %s", page, id)] += 10
			open++
		case strings.HasSuffix(line, "BMC"):
			open++
		case line == "EMC":
			open--
		case strings.HasPrefix(line, "BT ") && open != 1:
			t.Errorf("page %d: text outside of the structure: %.60s", page, line)
		}
		if open < 0 || open > 1 {
			t.Fatalf("page %d: marks are nested or end too early", page)
		}
	}
	if open != 0 {
		t.Errorf("page %d: a mark does not end", page)
	}
}

// A heading has what it heads on its own page.
func TestPaperKeepsHeadings(t *testing.T) {
	for lead := 30; lead < 60; lead += 2 {
		p := NewPaper(PaperInfo{})
		for range lead {
			p.Paragraph("line", Body)
		}
		p.Heading(2, "Heading")
		if err := p.Figure(stripExample(), "caption"); err != nil {
			t.Fatal(err)
		}
		heading, figure := p.root.kids[lead], p.root.kids[lead+1]
		if heading.kind != "H2" || figure.kind != "Figure" {
			t.Fatalf("parts are %s and %s", heading.kind, figure.kind)
		}
		if a, b := heading.marks[0].page, figure.marks[0].page; a != b {
			t.Fatalf("after %d lines the heading stands on page %d, its picture on %d", lead, a+1, b+1)
		}
	}
}

// The label of a point stands on the page on which its text begins, and a point of two or
// three lines on one page.
func TestPaperKeepsPoints(t *testing.T) {
	for lead := 30; lead < 60; lead++ {
		p := NewPaper(PaperInfo{})
		for range lead {
			p.Paragraph("line", Body)
		}
		p.List([]string{"One", "Two", "Three"}, []string{"short", strings.Repeat("words ", 25), strings.Repeat("words ", 40)})
		for i, item := range p.root.kids[lead].kids {
			mark, text := item.kids[0].marks, item.kids[1].marks
			if mark[0].page != text[0].page || text[0].page != text[len(text)-1].page {
				t.Fatalf("after %d lines the label of point %d stands on page %d, its text on %d to %d", lead, i+1, mark[0].page+1, text[0].page+1, text[len(text)-1].page+1)
			}
		}
	}
}

// Nothing stands outside the margins.
func TestPaperStaysWithinMargins(t *testing.T) {
	p := paperExample()
	long := strings.Repeat("word ", 2000)
	p.Table(PaperTable{Caption: long[:400], Head: []string{"a", "b"}, Rows: [][]string{{long, strings.Repeat("x", 3000)}}})
	for i, s := range p.pages {
		for _, l := range s.texts {
			if l.box.Min.X < paperSide-1 || l.box.Max.X > paperWidth-paperSide+1 || l.box.Min.Y < paperBottom-3 || l.box.Max.Y > paperHeight-paperTop+3 {
				t.Errorf("page %d: %.30q at %v is outside", i+1, l.text, l.box)
			}
		}
	}
}

func TestPaperIsDeterministic(t *testing.T) {
	if !bytes.Equal(paperBytes(t, paperExample()), paperBytes(t, paperExample())) {
		t.Error("two papers differ")
	}
}

func TestPaperNamesLettersThatItLacks(t *testing.T) {
	p := NewPaper(PaperInfo{})
	p.Paragraph("Ω θ √ ∫ − “quotes” 山 é", Body)
	var b bytes.Buffer
	lacks, err := p.WritePDF(&b)
	if err != nil || string(lacks) != "山" {
		t.Errorf("lacks %q, %v; want 山", string(lacks), err)
	}
}

func TestPaperRefusesBrokenFigures(t *testing.T) {
	p := NewPaper(PaperInfo{})
	wantErr(t, p.Figure(broken{}, "x"), "no data")
	wantErr(t, Check(broken{}), "no data")
	if err := Check(stripExample()); err != nil {
		t.Error(err)
	}
}

// No two texts of a page lie on each other, in columns and rows either.
func TestPaperTextsAreClear(t *testing.T) {
	p := paperExample()
	p.writeContents()
	for i, s := range p.pages {
		for j, a := range s.texts {
			for _, b := range s.texts[:j] {
				if meet(grow(a.box, -0.3), grow(b.box, -0.3)) {
					t.Errorf("page %d: %.40q and %.40q overlap", i+1, a.text, b.text)
				}
			}
		}
	}
}

// Every link of the contents is an annotation of its page that the structure holds.
func TestPaperLinks(t *testing.T) {
	all := objects(t, paperBytes(t, paperExample()))
	links := 0
	for n, o := range all {
		if !strings.HasPrefix(o, "<< /Type /Annot /Subtype /Link ") {
			continue
		}
		links++
		ref := fmt.Sprintf("%d 0 R", n)
		onPage, inStructure := false, false
		for _, x := range all {
			onPage = onPage || strings.HasPrefix(x, "<< /Type /Page ") && strings.Contains(x, "/Annots [") && strings.Contains(x, ref+" ")
			inStructure = inStructure || strings.HasPrefix(x, "<< /Type /StructElem /S /Link ") && strings.Contains(x, "/OBJR /Obj "+ref)
		}
		if !onPage || !inStructure {
			t.Errorf("link %d: on a page %v, in the structure %v", n, onPage, inStructure)
		}
	}
	if links != 4 {
		t.Errorf("%d links, want one for each of the 4 sections", links)
	}
}

// Pages with noted parts, and they alone, have the other foot.
func TestPaperNotes(t *testing.T) {
	p := NewPaper(PaperInfo{Footer: "usual", Noted: "other"})
	for i := range 5 {
		p.Note(i == 2)
		p.Paragraph("words", Body)
		p.Break()
	}
	p.Note(true)
	p.Paragraph("the last page", Body)
	p.feet()
	want := []string{"usual", "usual", "other", "usual", "usual", "other"}
	for i, s := range p.pages {
		if got := s.texts[len(s.texts)-2].text; got != want[i] {
			t.Errorf("page %d has the foot %q, want %q", i+1, got, want[i])
		}
	}
}
