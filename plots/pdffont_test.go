package plots

import (
	"bytes"
	"testing"

	"golang.org/x/image/font/sfnt"
)

// TestSubsetKeepsOutlines: glyphs in use keep their bytes, parts of composite
// glyphs come along, all others are empty.
func TestSubsetKeepsOutlines(t *testing.T) {
	f, err := newPDFFont(false)
	if err != nil {
		t.Fatal(err)
	}
	const text = "é−ΩA" // é is built of e and an accent in most fonts
	f.encode(text)
	var used []sfnt.GlyphIndex
	for g := range f.used {
		used = append(used, g)
	}
	small, err := subset(f.raw, used)
	if err != nil {
		t.Fatal(err)
	}
	if len(small) > len(f.raw)/4 {
		t.Errorf("subset of %d glyphs has %d of %d bytes", len(used), len(small), len(f.raw))
	}
	whole, cut := fontTables(f.raw), fontTables(small)
	from, to := locations(whole), locations(cut)
	if len(from) != len(to) {
		t.Fatalf("%d glyphs, want %d", len(to), len(from))
	}
	kept := 0
	for g := range len(from) - 1 {
		old, new := whole["glyf"][from[g]:from[g+1]], cut["glyf"][to[g]:to[g+1]]
		if len(new) == 0 {
			continue
		}
		kept++
		if !bytes.Equal(old, new[:len(old)]) {
			t.Errorf("outline of glyph %d changed", g)
		}
	}
	if kept < len(used)+1 { // and the missing-glyph box
		t.Errorf("%d outlines kept, want %d or more", kept, len(used)+1)
	}
	for _, name := range []string{"hmtx", "hhea", "maxp"} {
		if !bytes.Equal(whole[name], cut[name]) {
			t.Errorf("table %s changed", name)
		}
	}
}

func TestSubsetOfBrokenFont(t *testing.T) {
	f, err := newPDFFont(true)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := subset(f.raw[:2000:2000], []sfnt.GlyphIndex{36}); err == nil {
		t.Error("no error for a font that was cut off")
	}
}
