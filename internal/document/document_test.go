package document

import (
	"bytes"
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

func TestPageOfEveryBlock(t *testing.T) {
	d := Document{Title: "A <review>", Author: "x", Lead: []Pair{{"File", "a & b"}}, Sections: []Section{{ID: "one", Title: "One", Blocks: []Block{
		Heading("Below"), Text{Tone: Bad, Text: "open", Key: "gap.open_oct"}, List{Labels: []string{"Note"}, Items: []string{"a point"}},
		Table{Caption: "Numbers", Head: []string{"figure", "value", "source"}, Left: []bool{true, false, true}, Rows: []Row{
			{ID: "row-1", Cells: []Cell{{Text: "gap", Note: "gap.open_oct"}, {Text: "0.5 oct", Key: "gap.open_oct", Value: "0.5", In: "size-1"}, {Text: "1", Link: "row-1"}}}}},
	}}}, Data: []Data{{"size-1", []byte(`{"a":"\u003c/script\u003e"}`)}}}
	wants(t, written(t, d), "<title>A &lt;review&gt;</title>", "<dt>File</dt><dd>a &amp; b</dd>", `<li><a href="#one">One</a></li>`,
		`<section aria-labelledby="one">`, "<h3>Below</h3>", `<p class="bad" data-about="gap.open_oct">open</p>`, "<li><strong>Note</strong> a point</li>",
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
