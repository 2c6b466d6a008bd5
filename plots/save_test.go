package plots

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"encoding/xml"
	"errors"
	"fmt"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// broken is a figure that cannot be drawn.
type broken struct{}

func (broken) layout() (*sheet, error)             { return nil, errors.New("no data") }
func (b broken) recaptioned(func(*Caption)) Figure { return b }

// wantErr fails unless err has all the given words.
func wantErr(t *testing.T, err error, words ...string) {
	t.Helper()
	if err == nil {
		t.Errorf("no error, want one with %q", words)
		return
	}
	for _, w := range words {
		if !strings.Contains(err.Error(), w) {
			t.Errorf("error %q lacks %q", err, w)
		}
	}
}

func wantFiles(t *testing.T, dir string, want ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	if strings.Join(got, " ") != strings.Join(want, " ") {
		t.Errorf("folder holds %q, want %q", got, want)
	}
}

func TestSaveByEnding(t *testing.T) {
	dir := t.TempDir()
	for name, magic := range map[string]string{"a.png": "\x89PNG", "b.SVG": "<?xml", "c.pdf": "%PDF-"} {
		path := filepath.Join(dir, name)
		if err := Save(path, stripExample()); err != nil {
			t.Fatal(err)
		}
		raw, err := os.ReadFile(path)
		if err != nil || !strings.HasPrefix(string(raw), magic) {
			t.Errorf("%s starts with %.8q (%v), want %q", name, raw, err, magic)
		}
	}
	wantFiles(t, dir, "a.png", "b.SVG", "c.pdf")
}

func TestSaveErrorsLeaveNothing(t *testing.T) {
	dir := t.TempDir()
	wantErr(t, Save(filepath.Join(dir, "a.jpeg"), stripExample()), ".jpeg", ".png, .svg, .pdf")
	wantErr(t, Save(filepath.Join(dir, "plain"), stripExample()), "no ending", ".png, .svg, .pdf")
	wantErr(t, Save(filepath.Join(dir, "a.png"), broken{}), "a.png", "no data")
	wantErr(t, Save(filepath.Join(dir, "none", "a.png"), stripExample()), "cannot write in folder", "none")
	wantFiles(t, dir)

	if err := os.Mkdir(filepath.Join(dir, "d.svg"), 0o755); err != nil {
		t.Fatal(err)
	}
	wantErr(t, Save(filepath.Join(dir, "d.svg"), stripExample()), "is a folder, not a file")
	wantFiles(t, dir, "d.svg")
	wantErr(t, Save(filepath.Join(dir, "d.svg", "..", "file.png", "a.png"), stripExample()), "cannot write in folder")
}

func TestSaveKeepsOldFileOnFailure(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.svg")
	if err := os.WriteFile(path, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	wantErr(t, Save(path, broken{}), "no data")
	if raw, _ := os.ReadFile(path); string(raw) != "old" {
		t.Errorf("old file now reads %.20q", raw)
	}
	if err := Save(path, stripExample()); err != nil {
		t.Fatal(err)
	}
	if raw, _ := os.ReadFile(path); !strings.HasPrefix(string(raw), "<?xml") {
		t.Error("old file was not replaced")
	}
}

func TestSaveFollowsLinks(t *testing.T) {
	dir := t.TempDir()
	target, link := filepath.Join(dir, "real.svg"), filepath.Join(dir, "link.svg")
	if err := os.WriteFile(target, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(target, link); err != nil {
		t.Skip("no symbolic links here:", err)
	}
	if err := Save(link, stripExample()); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Error("the link was replaced by a file")
	}
	if raw, _ := os.ReadFile(target); len(raw) == 0 {
		t.Error("the link's target was not written")
	}
}

func TestBytesRepeat(t *testing.T) {
	for _, ext := range Formats() {
		var a, b bytes.Buffer
		for _, w := range []io.Writer{&a, &b} {
			if err := write(w, ext, contourExample()); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("two writes of the same %s differ", ext)
		}
	}
}

func TestPNGStatesItsSize(t *testing.T) {
	var buf bytes.Buffer
	if err := write(&buf, ".png", stripExample()); err != nil {
		t.Fatal(err)
	}
	raw := buf.Bytes()
	// PNG: 8 bytes signature, 25 of IHDR, then our chunk: length, name, x, y, unit.
	if name := string(raw[37:41]); name != "pHYs" {
		t.Fatalf("second chunk is %q, want pHYs", name)
	}
	if x := binary.BigEndian.Uint32(raw[41:]); x != 10000 { // 254 per inch
		t.Errorf("%d pixels per metre, want 10000", x)
	}
	img, err := png.Decode(&buf) // checks the chunk's CRC
	if err != nil {
		t.Fatal(err)
	}
	if want := int(math.Round(510 / 72.0 * 254)); img.Bounds().Dx() != want {
		t.Errorf("%d pixels wide, want %d", img.Bounds().Dx(), want)
	}
}

// TestPDFStructure follows the cross-reference table and unpacks every stream, as
// a reader would (ISO 32000-1, 7.5).
func TestPDFStructure(t *testing.T) {
	var buf bytes.Buffer
	if err := write(&buf, ".pdf", contourExample()); err != nil { // has an image and two fonts
		t.Fatal(err)
	}
	raw := buf.Bytes()
	if len(raw) > 150e3 {
		t.Errorf("PDF has %d bytes: the fonts were not cut down", len(raw))
	}
	var start, size int
	tail := raw[bytes.LastIndex(raw, []byte("startxref")):]
	if _, err := fmt.Sscanf(string(tail), "startxref\n%d\n%%%%EOF", &start); err != nil {
		t.Fatal(err)
	}
	if _, err := fmt.Sscanf(string(raw[start:]), "xref\n0 %d\n", &size); err != nil {
		t.Fatal(err)
	}
	entries := raw[start+len(fmt.Sprintf("xref\n0 %d\n", size)):]
	streams := 0
	for n := 1; n < size; n++ {
		var at int
		if _, err := fmt.Sscanf(string(entries[20*n:20*n+20]), "%d 00000 n", &at); err != nil {
			t.Fatalf("entry %d: %v", n, err)
		}
		head := fmt.Sprintf("%d 0 obj\n", n)
		body := raw[at:]
		if !bytes.HasPrefix(body, []byte(head)) {
			t.Fatalf("object %d is not at its offset %d", n, at)
		}
		body = body[:bytes.Index(body, []byte("\nendobj"))]
		_, data, ok := bytes.Cut(body, []byte("stream\n"))
		if !ok {
			continue
		}
		streams++
		z, err := zlib.NewReader(bytes.NewReader(data))
		if err != nil {
			t.Fatalf("object %d: %v", n, err)
		}
		if _, err := io.Copy(io.Discard, z); err != nil {
			t.Errorf("object %d: %v", n, err)
		}
	}
	if want := 1 + 2 + 2*2; streams != want { // page, image and mask, two fonts and their maps
		t.Errorf("%d streams, want %d", streams, want)
	}
}

func TestWriteSVGInline(t *testing.T) {
	fig := stripExample()
	fig.Title = "Gap <of> \"A & B\"\x00\nsecond"
	var page bytes.Buffer
	page.WriteString("<page>")
	for _, id := range []string{"one", "two"} {
		if err := WriteSVG(&page, id, fig); err != nil {
			t.Fatal(err)
		}
	}
	page.WriteString("</page>")
	ids, tags := map[string]int{}, map[string]int{}
	d := xml.NewDecoder(&page)
	for {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("the page is not well-formed XML: %v", err)
		}
		el, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		tags[el.Name.Local]++
		for _, a := range el.Attr {
			if a.Name.Local == "id" {
				ids[a.Value]++
			}
			if a.Name.Local == "aria-labelledby" && len(strings.Fields(a.Value)) != 2 {
				t.Errorf("aria-labelledby names %q, want title and desc", a.Value)
			}
		}
	}
	for id, n := range ids {
		if n > 1 {
			t.Errorf("id %q occurs %d times", id, n)
		}
	}
	if tags["title"] != 2 || tags["desc"] != 2 || ids["one-title"] != 1 || ids["two-desc"] != 1 {
		t.Errorf("text alternatives missing: tags %v, ids %v", tags, ids)
	}
	wantErr(t, WriteSVG(io.Discard, "", fig), "picture id")
	wantErr(t, WriteSVG(io.Discard, "9 x", fig), "picture id")
}

func TestAltTextIsMadeOfTheData(t *testing.T) {
	s, err := stripExample().layout()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"woofers couple 259 Hz to 518 Hz", "gap 1.45 oct", "gapline predicted"} {
		if !strings.Contains(s.desc, want) {
			t.Errorf("text alternative %q lacks %q", s.desc, want)
		}
	}
	fig := stripExample()
	fig.Alt = "own words"
	if s, err = fig.layout(); err != nil || s.desc != "own words" {
		t.Errorf("text alternative %q (%v), want the caller's", s.desc, err)
	}
}
