package review

import (
	"context"
	"slices"
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

// What is said of the job names what the file gives, and the keys of what it does
// not.
func TestJob(t *testing.T) {
	for text, want := range map[string]string{
		"[woofer]\nsize = \"10 in\"\n": "A stack of boxes whose pitch is not given (cabinet.height), each with one woofer 208 mm across the piston and a horn whose coverage or mouth is not given (horn.coverage, horn.mouth_width). Asked for: no crossover gap on the half-wave basis.",
		"[cabinet]\nheight = \"250 mm\"\n[line]\nboxes = 4\n[insert]\nmouths = 2\n[targets]\ngap = \"0.5 oct\"\nlowest = \"200 Hz\"\n": "4 boxes at 250 mm pitch make a line of 1000 mm, each with woofers whose size is not given (woofer.size), an insert with 2 mouths and a horn whose coverage or mouth is not given (horn.coverage, horn.mouth_width). Asked for: a crossover gap of at most 0.50 oct on the half-wave basis and a line that couples from 200 Hz.",
	} {
		r, err := New(context.Background(), []Design{parsed(t, text)}, Options{})
		if err != nil {
			t.Fatal(err)
		}
		job := slices.IndexFunc(r.Document.Sections, func(s document.Section) bool { return s.ID == "job" })
		if got := r.Document.Sections[job].Blocks[0].(document.Text).Text; got != want {
			t.Errorf("the job is\n%s\nwant\n%s", got, want)
		}
	}
}

// The document opens with the box and its stack, drawn.
func TestOpensWithTheDrawing(t *testing.T) {
	r, err := New(context.Background(), []Design{parsed(t, "[cabinet]\nheight = \"250 mm\"\n[line]\nboxes = 4\n[woofer]\nsize = \"8 in\"\n")}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, b := range r.Document.Sections[0].Blocks {
		if f, ok := b.(document.Picture); ok {
			ids = append(ids, f.ID)
		}
	}
	if !slices.Equal(ids, []string{"picture-box-front", "picture-stack-side"}) {
		t.Errorf("it opens with the pictures %v", ids)
	}
}

// The sections have unique ids, and each writes something even for an empty file.
func TestPartsAreSound(t *testing.T) {
	seen := map[string]bool{}
	for _, p := range parts {
		if seen[p.id] || p.id == "" || p.title == "" {
			t.Errorf("section %q %q is not sound", p.id, p.title)
		}
		seen[p.id] = true
	}
	r, err := New(context.Background(), []Design{parsed(t, "title = \"x\"\n")}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range r.Document.Sections {
		if len(s.Blocks) == 0 {
			t.Errorf("section %s is empty", s.ID)
		}
	}
}
