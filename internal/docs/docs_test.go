package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestDocumentsOfTheTree checks what can be checked without running commands; the
// step of .ci/run that runs them checks the rest.
func TestDocumentsOfTheTree(t *testing.T) {
	root, err := findRoot()
	if err != nil {
		t.Fatal(err)
	}
	docs, err := readDocuments(root)
	if err != nil {
		t.Fatal(err)
	}
	if len(docs) < 2 {
		t.Fatalf("%d documents, want README.md and those of docs/", len(docs))
	}
	for _, d := range docs {
		for _, im := range d.images {
			if _, err := os.Stat(filepath.Join(root, d.target(im))); err != nil {
				t.Errorf("%s:%d: %v", d.path, im.line+1, err)
			}
		}
	}
	for _, err := range append(checkStill(docs), checkFolder(root, docs, false)...) {
		t.Error(err)
	}
}

// program stands in for gapline: it prints three lines and draws.
const program = `#!/usr/bin/env bash
[ "$1" = fail ] && exit 3
printf 'head\nspacing 272 mm\nlimit 637 Hz\n'
cat sketch.toml
[ -d measured ] && echo traces
[ "$2" = -o ] && printf '<svg><text x="1.5">637 Hz</text></svg>' > "$3"
exit 0
`

const page = "# Page\n" +
	"<!-- file: sketch.toml -->\n```toml\nsize = 9\n```\n\n" +
	"```sh\ngapline size -o a.svg   # draws\n# not a command\n```\n\n" +
	"<!-- output: gapline size -o a.svg :: /limit/ -->\n```\nlimit 1 Hz\n```\n\n" +
	"<!-- output: gapline size -o a.svg -->\n```\n```\n\n" +
	"![A picture](docs/pictures/a.svg) of 637 Hz and `4 kHz`, 135 mm more.\n" +
	"<!-- derived: 135 mm = 272 mm - 137 mm -->\n<!-- known: 137 mm: half of it -->\n"

// newTree writes a tree with a page and the stand-in program, and returns the
// tree's root and the program's folder.
func newTree(t *testing.T, text string) (root, bin string) {
	t.Helper()
	root, bin = t.TempDir(), t.TempDir()
	for _, folder := range []string{"docs", traces} {
		if err := os.MkdirAll(filepath.Join(root, folder), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	for path, content := range map[string]string{
		filepath.Join(root, "README.md"): text,
		filepath.Join(bin, "gapline"):    program,
	} {
		if err := os.WriteFile(path, []byte(content), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	return root, bin
}

func messages(errs []error) string {
	var all strings.Builder
	for _, err := range errs {
		all.WriteString(err.Error() + "\n")
	}
	return all.String()
}

// TestUpdateMendsBlocksAndPictures: what was wrong is named without -update,
// mended with it, and found right afterwards.
func TestUpdateMendsBlocksAndPictures(t *testing.T) {
	root, bin := newTree(t, page)
	run := func(update bool) string {
		d, err := readDocument(root, "README.md")
		if err != nil {
			t.Fatal(err)
		}
		return messages(append(checkStill([]*document{d}), checkRun(d, bin, update)...))
	}
	got := run(false)
	for _, want := range []string{"README.md:12: gapline size -o a.svg prints something else now", "docs/pictures/a.svg is not what"} {
		if !strings.Contains(got, want) {
			t.Errorf("before the update: %q, want %q in it", got, want)
		}
	}
	if got := run(true); got != "" {
		t.Errorf("update: %s", got)
	}
	if got := run(false); got != "" {
		t.Errorf("after the update: %s", got)
	}
	text, err := os.ReadFile(filepath.Join(root, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"```\nlimit 637 Hz\n```", "```\nhead\nspacing 272 mm\nlimit 637 Hz\nsize = 9\ntraces\n```"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("the page after the update lacks %q:\n%s", want, text)
		}
	}
}

// TestFaultsAreNamed gives each kind of fault once.
func TestFaultsAreNamed(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"stale prose", "```sh\ngapline size\n```\nUp to 638 Hz.\n", "README.md:4: 638 Hz is in nothing"},
		{"same number, other unit", "```sh\ngapline size\n```\nUp to 637 kHz.\n", "637 kHz is in nothing"},
		{"wrong difference", "```sh\ngapline size\n```\n<!-- derived: 364 Hz = 637 Hz - 272 mm -->\n", "is 365, not 364 Hz"},
		{"difference of unknowns", "```sh\ngapline size\n```\n<!-- derived: 1 Hz = 639 Hz - 638 Hz -->\n", "639 Hz is in nothing"},
		{"no such command", "<!-- output: gapline horn -->\n```\n```\n", `no sh block above holds "gapline horn"`},
		{"no such line", "```sh\ngapline size\n```\n<!-- output: gapline size :: /horn/ -->\n```\n```\n", "/horn/ matches no line"},
		{"failing command", "```sh\ngapline fail\n```\n", "gapline fail: exit status 3"},
		{"picture nobody draws", "![words](docs/pictures/b.svg)\n", "no command of this document writes b.svg"},
		{"picture without words", "![](docs/pictures/b.svg)\n", "no words for those who cannot see it"},
		{"dead link", "See [there](docs/none.md).\n", "docs/none.md is not there"},
	} {
		t.Run(c.name, func(t *testing.T) {
			root, bin := newTree(t, c.text)
			d, err := readDocument(root, "README.md")
			if err != nil {
				t.Fatal(err)
			}
			if got := messages(append(checkStill([]*document{d}), checkRun(d, bin, false)...)); !strings.Contains(got, c.want) {
				t.Errorf("got %q, want %q in it", got, c.want)
			}
		})
	}
}

func TestMarksWithoutBlocksAreErrors(t *testing.T) {
	for _, text := range []string{
		"```sh\ngapline size\n",
		"<!-- output: gapline size -->\nprose\n",
		"<!-- output: gapline size -->\n",
		"<!-- output: gapline size :: limit -->\n```\n```\n",
	} {
		root, _ := newTree(t, text)
		if _, err := readDocument(root, "README.md"); err == nil || !strings.HasPrefix(err.Error(), "README.md:") {
			t.Errorf("readDocument of %q: %v, want an error with a line", text, err)
		}
	}
}

func TestSelectLines(t *testing.T) {
	lines := []string{"a 1", "b 1", "a 2", "c", "d", "e"}
	for _, c := range []struct{ selectors, want string }{
		{"", "a 1|b 1|a 2|c|d|e"},
		{"/^a/", "a 1|a 2"},
		{"/c/+1 /^b/", "b 1|c|d"},
		{"/^a/../c/", "a 1|b 1|a 2"},
		{"/d/../none/", "d|e"},
		{"/b 1/+0", "b 1"},
	} {
		selectors, err := parseSelectors(c.selectors)
		if err != nil {
			t.Fatal(err)
		}
		got, err := selectLines(lines, selectors)
		if err != nil || strings.Join(got, "|") != c.want {
			t.Errorf("%s takes %q, %v, want %q", c.selectors, got, err, c.want)
		}
	}
}

func TestSamePicture(t *testing.T) {
	base := `<svg><text x="10.02">637 Hz</text><image href="data:image/png;base64,AAAA"/></svg>`
	for _, c := range []struct {
		name, other string
		same        bool
	}{
		{"a hair apart", strings.Replace(base, "10.02", "10.05", 1), true},
		{"moved", strings.Replace(base, "10.02", "12.02", 1), false},
		{"other number", strings.Replace(base, "637", "638", 1), false},
		{"other word", strings.Replace(base, "Hz", "kHz", 1), false},
		{"embedded pixels", strings.Replace(base, "AAAA", "AAAB", 1), true},
		{"not a picture", "PNG", false},
	} {
		if got := samePicture([]byte(base), []byte(c.other)); got != c.same {
			t.Errorf("%s: same is %v, want %v", c.name, got, c.same)
		}
	}
}
