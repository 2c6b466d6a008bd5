package review

import (
	"context"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gapline/internal/designfile"
	"gapline/internal/document"
)

func parsed(t *testing.T, text string) Design {
	t.Helper()
	f, err := designfile.Parse("box.toml", []byte(text), nil)
	if err != nil {
		t.Fatal(err)
	}
	return Design{File: f, Name: "box"}
}

func reviewed(t *testing.T, text string) *Review {
	t.Helper()
	r, err := New(context.Background(), []Design{parsed(t, text)}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// texts are all texts of a section.
func texts(blocks []document.Block) (out []string) {
	for _, b := range blocks {
		switch x := b.(type) {
		case document.Text:
			out = append(out, x.Text)
		case document.List:
			out = append(out, x.Items...)
		case document.Beside:
			out = append(out, texts(x.Blocks)...)
		}
	}
	return out
}

// What is said of the job names what the file gives, and the keys of what it does
// not.
func TestJob(t *testing.T) {
	for text, want := range map[string]string{
		"[woofer]\nsize = \"10 in\"\n": "A stack of boxes whose pitch is not given (cabinet.height), each with one woofer 208 mm across the piston and a horn whose coverage or mouth is not given (horn.coverage, horn.mouth_width). Asked for: no crossover gap on the half-wave basis.",
		"[cabinet]\nheight = \"250 mm\"\n[line]\nboxes = 4\n[insert]\nmouths = 2\n[targets]\ngap = \"0.5 oct\"\nlowest = \"200 Hz\"\n": "4 boxes at 250 mm pitch make a line of 1 m, each with woofers whose size is not given (woofer.size), an insert with 2 mouths and a horn whose coverage or mouth is not given (horn.coverage, horn.mouth_width). Asked for: a crossover gap of at most 0.50 oct on the half-wave basis and a line that couples from 200 Hz.",
	} {
		if got := texts(reviewed(t, text).Document.Sections[0].Blocks); !slices.Contains(got, want) {
			t.Errorf("the job is not in %q\nwant\n%s", got, want)
		}
	}
}

// Page one opens with the box, drawn; the stack stands in the appendix.
func TestOpensWithTheBox(t *testing.T) {
	r := reviewed(t, "[cabinet]\nheight = \"250 mm\"\n[line]\nboxes = 4\n[woofer]\nsize = \"8 in\"\n")
	where := map[string]document.Part{}
	for _, s := range r.Document.Sections {
		for _, b := range s.Blocks {
			if x, ok := b.(document.Beside); ok {
				where[x.Picture.ID] = s.Part
			}
		}
	}
	if p, ok := where["picture-box-front"]; !ok || p != document.PageOne {
		t.Errorf("the box is drawn in %v, want page one", where)
	}
	if p, ok := where["picture-stack-side"]; !ok || p != document.Appendix {
		t.Errorf("the stack is drawn in %v, want the appendix", where)
	}
}

// The sections have unique ids and stand in the order of their parts; those that are
// left out are named, and all of page one is there even for an empty file.
func TestPartsAreSound(t *testing.T) {
	seen := map[string]bool{}
	last := document.PageOne
	for _, p := range parts {
		if seen[p.id] || p.id == "" || p.title == "" || p.of < last {
			t.Errorf("section %q %q is not sound", p.id, p.title)
		}
		seen[p.id], last = true, p.of
	}
	r := reviewed(t, "title = \"x\"\n")
	var one []string
	for _, s := range r.Document.Sections {
		if len(s.Blocks) == 0 {
			t.Errorf("section %s is empty", s.ID)
		}
		if s.Part == document.PageOne {
			one = append(one, s.ID)
		}
	}
	if want := []string{"question", "verdict", "tradeoff", "decision"}; !slices.Equal(one, want) {
		t.Errorf("page one holds %q, want %q", one, want)
	}
	at := slices.IndexFunc(r.Document.Sections, func(s document.Section) bool { return s.ID == "absent" })
	if at < 0 || len(texts(r.Document.Sections[at].Blocks)) < 8 {
		t.Error("an empty file lacks little, if its document is to be believed")
	}
}

// The PDF shows no number that the JSON does not hold, but for those of its pages.
func TestPaperShowsTheNumbersOfTheObject(t *testing.T) {
	r := reviewed(t, "title = \"x\"\n[cabinet]\nheight = \"250 mm\"\nwidth = \"600 mm\"\ndepth = \"400 mm\"\n[line]\nboxes = 4\n[woofer]\nsize = \"8 in\"\n[horn]\ncoverage = \"85 deg\"\nmouth_width = \"300 mm\"\n")
	text, err := r.Object.MarshalJSON()
	if err != nil {
		t.Fatal(err)
	}
	pattern := regexp.MustCompile(`\d+(?:[.,]\d+)*`)
	held := map[string]bool{}
	for _, n := range pattern.FindAllString(string(text), -1) {
		held[n] = true
	}
	p, err := r.Document.Paper()
	if err != nil {
		t.Fatal(err)
	}
	words := p.Words()
	count := 0
	for _, n := range pattern.FindAllString(strings.Join(words, "\n"), -1) {
		if count++; !held[n] {
			t.Errorf("the PDF shows %s, the JSON does not hold it", n)
		}
	}
	if count < 200 {
		t.Errorf("%d numbers in the PDF: where are the others?", count)
	}
}

// A command of the document is one that a shell takes as it stands, with the settings of
// the document.
func TestCommandsCanBePasted(t *testing.T) {
	b := builder{sized: sized{Design: Design{File: &designfile.File{Name: "folder/it's box.toml"}}}, o: Options{Settings: []string{"cabinet.width=400mm", "title=a b"}}}
	want := `gapline wave 'it'\''s box.toml' --of fold --set cabinet.width=400mm --set 'title=a b'`
	if got := b.command("wave", " --of fold"); got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
}

// tooNarrow is a box 400 mm wide, whose horn of 330 mm and woofer of 254 mm need 584 mm.
const tooNarrow = `[cabinet]
height = "268 mm"
width = "400 mm"
depth = "430 mm"
[line]
boxes = 4
[woofer]
size = "10 in"
[horn]
coverage = "85 deg"
mouth_width = "330 mm"
mouth_height = "252 mm"
[tolerance]
"horn.mouth_width" = "2 mm"
samples = 20
`

// A box that cannot be built is neither held nor measured, and no level of trust is said to
// be met by it.
func TestMisfitHasNothingToSettle(t *testing.T) {
	r := reviewed(t, tooNarrow)
	for _, s := range r.Document.Sections {
		for _, x := range s.Blocks {
			switch x := x.(type) {
			case document.List:
				for i, label := range x.Labels {
					if s.Part == document.Case && slices.Contains([]string{"Run", "Measure", "Hold", "Gap", "Sensitive"}, label) {
						t.Errorf("%s says %s: %s", s.ID, label, x.Items[i])
					}
				}
				if s.ID == "next" && (x.Labels[0] != "First" || !strings.Contains(x.Items[0], "fit")) {
					t.Errorf("next begins with %s: %s", x.Labels[0], x.Items[0])
				}
			case document.Table:
				for _, row := range x.Rows {
					if s.ID == "verdict" && (row.Cells[6].Text == "met" || row.Cells[6].Text == "missed") {
						t.Errorf("by %s the box that cannot be built is %s", row.Cells[0].Text, row.Cells[6].Text)
					}
				}
			}
		}
	}
}

// Page one says what the names of the alternatives stand for.
func TestTitlesOfAlternatives(t *testing.T) {
	other := parsed(t, "title = \"smaller woofers\"\n[cabinet]\nheight = \"250 mm\"\n")
	other.Name = "mids"
	r, err := New(context.Background(), []Design{parsed(t, "[cabinet]\nheight = \"250 mm\"\n"), other}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range r.Document.Sections {
		if s.ID == "tradeoff" && !slices.Contains(texts(s.Blocks), "mids: smaller woofers.") {
			t.Errorf("page one says %q", texts(s.Blocks))
		}
	}
}
