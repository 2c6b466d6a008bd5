package document

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"testing"

	"gapline/plots"
)

func written(t *testing.T, d Document) string {
	t.Helper()
	var b bytes.Buffer
	if err := d.WriteHTML(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func wants(t *testing.T, text string, parts ...string) {
	t.Helper()
	for _, p := range parts {
		if !strings.Contains(text, p) {
			t.Errorf("the page lacks %q", p)
		}
	}
}

// strip is some picture.
var strip = plots.Strip{Groups: []plots.StripGroup{{Rows: []plots.StripRow{{Label: "bar", From: 100, To: 1000}}}}}

func TestPageOfEveryBlock(t *testing.T) {
	d := Document{Title: "A <review>", Author: "x", Sections: []Section{{ID: "zero", Title: "Zero"}, {ID: "one", Title: "One", Part: Case, Blocks: []Block{
		Heading("Below"), Beside{Blocks: []Block{Text{Tone: Lead, Text: "first"}}, Picture: Picture{ID: "picture-a", Figure: strip, Caption: "a & b"}},
		Gallery{{ID: "picture-b", Figure: strip, Caption: "b"}}, Text{Tone: Bad, Text: "open", Key: "gap.open_oct"}, List{Labels: []string{"Note"}, Items: []string{"a point"}},
		Table{Caption: "Numbers", Head: []string{"figure", "value", "source"}, Left: []bool{true, false, true}, Rows: []Row{
			{ID: "row-1", Cells: []Cell{{Text: "gap", Note: "gap.open_oct"}, {Text: "0.5 oct", Key: "gap.open_oct", Value: "0.5", In: "size-1"}, {Text: "1", Link: "row-1"}}}}},
	}}}, Data: []Data{{"size-1", []byte(`{"a":"\u003c/script\u003e"}`)}}}
	wants(t, written(t, d), "<title>A &lt;review&gt;</title>", "<figcaption>a &amp; b</figcaption>", `<li><a href="#one">One</a></li>`,
		`<section class="part-1" aria-labelledby="one">`, `<p class="lead">first</p>`, `aria-labelledby="picture-a-title picture-a-desc"`, `aria-labelledby="picture-a-narrow-title picture-a-narrow-desc"`, `<figure id="picture-b">`, "<h3>Below</h3>", `<p class="bad" data-about="gap.open_oct">open</p>`, "<li><strong>Note</strong> a point</li>",
		`<th scope="col">figure</th><th scope="col" class="num">value</th><th scope="col">source</th>`,
		`<tr id="row-1"><th scope="row">gap <small>gap.open_oct</small></th><td class="num" data-key="gap.open_oct" data-value="0.5" data-in="size-1">0.5 oct</td><td><a href="#row-1">1</a></td></tr>`,
		`<script type="application/json" id="size-1">{"a":"\u003c/script\u003e"}</script>`)
}

// Data that could end their element are refused rather than written.
func TestPageRefusesBareMarkupInData(t *testing.T) {
	d := Document{Data: []Data{{"x", []byte(`"</script>"`)}}}
	if err := d.WriteHTML(io.Discard); err == nil || !strings.Contains(err.Error(), "data x") {
		t.Errorf("error %v, want one about data x", err)
	}
}

// A picture that cannot be drawn is an error with its name in both formats.
func TestBrokenPicture(t *testing.T) {
	d := Document{Sections: []Section{{ID: "s", Title: "S", Blocks: []Block{Picture{ID: "picture-x", Figure: plots.Strip{}}}}}}
	if err := d.WriteHTML(io.Discard); err == nil || !strings.Contains(err.Error(), "picture-x") {
		t.Errorf("page: error %v, want one about picture-x", err)
	}
	if _, err := d.WritePDF(io.Discard); err == nil || !strings.Contains(err.Error(), "picture-x") {
		t.Errorf("PDF: error %v, want one about picture-x", err)
	}
}

// The list of contents gives the page on which each section begins, as the outline does,
// and leads there.
func TestContentsOfPaper(t *testing.T) {
	d := Document{Title: "Title", Sections: []Section{{ID: "q", Title: "Question"}}}
	for i := range 6 {
		s := Section{ID: fmt.Sprint("s", i), Title: fmt.Sprint("Section ", i), Part: Part(1 + i/2)}
		for range 3 {
			s.Add(Picture{ID: "p", Figure: strip, Caption: "c"})
		}
		s.Add(Text{Tone: Plain, Text: strings.Repeat("words ", 900)})
		d.Sections = append(d.Sections, s)
	}
	p := plots.NewPaper(plots.PaperInfo{})
	if err := d.set(p); err != nil {
		t.Fatal(err)
	}
	listed, outlined := p.Listed(), p.Outlined()
	if len(listed) != 6 || len(outlined) != 7 {
		t.Fatalf("%d sections listed, %d outlined", len(listed), len(outlined))
	}
	last := 1
	for i, l := range listed {
		if o := outlined[i+1]; l != o {
			t.Errorf("the contents say %v, the outline %v", l, o)
		}
		if l.Page < last {
			t.Errorf("%q begins on page %d, before the one above", l.Title, l.Page)
		}
		last = l.Page
	}
	if last < 4 {
		t.Errorf("all is on %d pages: nothing was tried", last)
	}
}

// Page one takes one page where a smaller picture makes it: of texts of growing length
// beside and below a picture, more fit on it than at its usual size.
func TestPageOneShrinksItsPicture(t *testing.T) {
	pages := func(lines int) (of, usual int) {
		d := Document{Title: "T", Sections: []Section{{ID: "q", Title: "Q", Blocks: []Block{Beside{Blocks: []Block{Text{Tone: Plain, Text: "few words"}}, Picture: Picture{ID: "p", Figure: strip, Caption: "c"}}}}}}
		for range lines {
			d.Sections[0].Add(Text{Tone: Plain, Text: "line"})
		}
		p, err := d.Paper()
		if err != nil {
			t.Fatal(err)
		}
		fits, err := d.front()
		if err != nil {
			t.Fatal(err)
		}
		if usual = 2; fits {
			usual = 1
		}
		return p.Pages(), usual
	}
	saved := false
	for lines := range 60 {
		of, usual := pages(lines)
		saved = saved || of < usual
		if of > usual {
			t.Errorf("%d lines take %d pages, at the usual size %d", lines, of, usual)
		}
	}
	if !saved {
		t.Error("no length of page one is saved by a smaller picture")
	}
}
