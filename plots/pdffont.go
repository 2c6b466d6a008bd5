package plots

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"

	xfont "golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"unicode/utf16"
)

// pdfFont is a TrueType font of which a PDF holds only the glyphs it uses.
type pdfFont struct {
	name string
	ttf  *opentype.Font
	raw  []byte
	used map[sfnt.GlyphIndex]rune
	lack []rune // that the font has no glyph for, as they came
	buf  sfnt.Buffer
}

func newPDFFont(bold bool) (*pdfFont, error) {
	f := face(10, bold)
	var raw bytes.Buffer
	if _, err := f.Face.WriteSourceTo(nil, &raw); err != nil {
		return nil, fmt.Errorf("font %s: %w", f.Name(), err)
	}
	return &pdfFont{name: f.Name(), ttf: f.Face, raw: raw.Bytes(), used: map[sfnt.GlyphIndex]rune{}}, nil
}

// encode returns the text as hexadecimal glyph numbers and marks them as used.
func (f *pdfFont) encode(s string) string {
	var b bytes.Buffer
	for _, r := range s {
		g, err := f.ttf.GlyphIndex(&f.buf, r)
		if err != nil {
			g = 0 // the font's "missing" box, as in the other formats
		}
		if g == 0 && !slices.Contains(f.lack, r) {
			f.lack = append(f.lack, r)
		}
		if _, ok := f.used[g]; !ok {
			f.used[g] = r
		}
		fmt.Fprintf(&b, "%04X", uint16(g))
	}
	return b.String()
}

// embed adds the font to the document: the glyph subset, the widths, and the
// map back to letters that lets readers search and copy (ISO 32000-1, 9.7, 9.10).
func (f *pdfFont) embed(doc *pdfDocument) int {
	program := f.raw
	if sub, err := subset(f.raw, slices.Sorted(maps.Keys(f.used))); err == nil {
		program = sub // a font of unexpected build is embedded whole
	}
	file := doc.stream(fmt.Sprintf("/Length1 %d", len(program)), program)
	name := "GAPLIN+" + f.name // six letters and a plus mark a subset
	desc := doc.add(f.descriptor(name, file))
	unicodeMap := doc.stream("", f.toUnicode())
	descendant := doc.add(fmt.Sprintf("<< /Type /Font /Subtype /CIDFontType2 /BaseFont /%s /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor %d 0 R /CIDToGIDMap /Identity /W [%s] >>",
		name, desc, f.widths()))
	return doc.add(fmt.Sprintf("<< /Type /Font /Subtype /Type0 /BaseFont /%s /Encoding /Identity-H /DescendantFonts [%d 0 R] /ToUnicode %d 0 R >>",
		name, descendant, unicodeMap))
}

func (f *pdfFont) descriptor(name string, file int) string {
	const em = 1000
	m, err := f.ttf.Metrics(&f.buf, fixed.I(em), xfont.HintingNone)
	if err != nil {
		m = xfont.Metrics{Ascent: fixed.I(905), Descent: fixed.I(212), CapHeight: fixed.I(688)}
	}
	return fmt.Sprintf("<< /Type /FontDescriptor /FontName /%s /Flags 32 /FontBBox [-544 -303 1302 980] /ItalicAngle 0 /Ascent %d /Descent %d /CapHeight %d /StemV 80 /FontFile2 %d 0 R >>",
		name, m.Ascent.Round(), -m.Descent.Round(), m.CapHeight.Round(), file)
}

// widths lists the advance of each used glyph in 1/1000 em.
func (f *pdfFont) widths() string {
	var b bytes.Buffer
	for _, g := range slices.Sorted(maps.Keys(f.used)) {
		adv, err := f.ttf.GlyphAdvance(&f.buf, g, fixed.I(1000), xfont.HintingNone)
		if err != nil {
			continue // the reader then takes the default width
		}
		fmt.Fprintf(&b, "%d [%.0f] ", g, math.Round(float64(adv)/64))
	}
	return b.String()
}

// toUnicode is the CMap from glyph numbers back to letters.
func (f *pdfFont) toUnicode() []byte {
	var b bytes.Buffer
	b.WriteString("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n")
	for chunk := range slices.Chunk(slices.Sorted(maps.Keys(f.used)), 100) {
		fmt.Fprintf(&b, "%d beginbfchar\n", len(chunk))
		for _, g := range chunk {
			fmt.Fprintf(&b, "<%04X> <", uint16(g))
			for _, u := range utf16.Encode([]rune{f.used[g]}) {
				fmt.Fprintf(&b, "%04X", u)
			}
			b.WriteString(">\n")
		}
		b.WriteString("endbfchar\n")
	}
	b.WriteString("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n")
	return b.Bytes()
}

var errFont = errors.New("font tables out of range")

// subset returns a TrueType font that keeps the outlines of the given glyphs
// (and of their components) under their old numbers; all other glyphs become
// empty. Only the tables that PDF asks for are kept (ISO 32000-1, 9.9).
func subset(raw []byte, glyphs []sfnt.GlyphIndex) (out []byte, err error) {
	defer func() {
		if recover() != nil { // a table pointed outside the file
			err = errFont
		}
	}()
	tables := fontTables(raw)
	glyf, offsets := tables["glyf"], locations(tables)
	keep := map[int]bool{0: true}
	for _, g := range glyphs {
		keepGlyph(int(g), glyf, offsets, keep)
	}
	var newGlyf []byte
	loca := make([]byte, 0, 4*len(offsets))
	for g := range len(offsets) - 1 {
		loca = binary.BigEndian.AppendUint32(loca, uint32(len(newGlyf)))
		if keep[g] {
			newGlyf = append(newGlyf, glyf[offsets[g]:offsets[g+1]]...)
			newGlyf = append(newGlyf, make([]byte, -len(newGlyf)&3)...)
		}
	}
	loca = binary.BigEndian.AppendUint32(loca, uint32(len(newGlyf)))
	head := slices.Clone(tables["head"])
	binary.BigEndian.PutUint16(head[50:], 1) // long offsets
	tables["head"], tables["glyf"], tables["loca"] = head, newGlyf, loca
	return joinTables(tables), nil
}

// fontTables splits a TrueType file into its tables.
func fontTables(raw []byte) map[string][]byte {
	tables := map[string][]byte{}
	for i := range int(binary.BigEndian.Uint16(raw[4:])) {
		entry := raw[12+16*i:]
		at, size := binary.BigEndian.Uint32(entry[8:]), binary.BigEndian.Uint32(entry[12:])
		tables[string(entry[:4])] = raw[at : at+size]
	}
	return tables
}

// locations reads where each glyph starts in the glyf table, and the end.
func locations(tables map[string][]byte) []int {
	loca, count := tables["loca"], int(binary.BigEndian.Uint16(tables["maxp"][4:]))
	long := binary.BigEndian.Uint16(tables["head"][50:]) == 1
	offsets := make([]int, count+1)
	for i := range offsets {
		if long {
			offsets[i] = int(binary.BigEndian.Uint32(loca[4*i:]))
		} else {
			offsets[i] = 2 * int(binary.BigEndian.Uint16(loca[2*i:]))
		}
	}
	return offsets
}

// keepGlyph marks a glyph and, if it is built of others, those too (OpenType
// specification, table glyf, composite glyph flags).
func keepGlyph(g int, glyf []byte, offsets []int, keep map[int]bool) {
	keep[g] = true
	outline := glyf[offsets[g]:offsets[g+1]]
	if len(outline) < 10 || int16(binary.BigEndian.Uint16(outline)) >= 0 {
		return
	}
	for p := 10; ; {
		flags, part := binary.BigEndian.Uint16(outline[p:]), int(binary.BigEndian.Uint16(outline[p+2:]))
		if !keep[part] {
			keepGlyph(part, glyf, offsets, keep)
		}
		p += 6
		if flags&0x1 != 0 { // arguments are words
			p += 2
		}
		switch {
		case flags&0x8 != 0: // one scale
			p += 2
		case flags&0x40 != 0: // x and y scale
			p += 4
		case flags&0x80 != 0: // matrix
			p += 8
		}
		if flags&0x20 == 0 { // no more parts
			return
		}
	}
}

// joinTables builds a TrueType file from the tables a PDF reader needs.
func joinTables(tables map[string][]byte) []byte {
	var names []string
	for _, n := range []string{"cvt ", "fpgm", "glyf", "head", "hhea", "hmtx", "loca", "maxp", "prep"} {
		if len(tables[n]) > 0 {
			names = append(names, n)
		}
	}
	n := len(names)
	power := int(math.Log2(float64(n)))
	out := []byte{0, 1, 0, 0}
	for _, v := range []int{n, 16 << power, power, 16*n - 16<<power} {
		out = binary.BigEndian.AppendUint16(out, uint16(v))
	}
	at := uint32(12 + 16*n)
	for _, name := range names {
		t := tables[name]
		out = append(out, name...)
		out = binary.BigEndian.AppendUint32(out, checksum(t))
		out = binary.BigEndian.AppendUint32(out, at)
		out = binary.BigEndian.AppendUint32(out, uint32(len(t)))
		at += uint32(len(t)+3) &^ 3
	}
	for _, name := range names {
		out = append(out, tables[name]...)
		out = append(out, make([]byte, -len(out)&3)...)
	}
	return out
}

// checksum adds up a table as big-endian words.
func checksum(t []byte) uint32 {
	var sum uint32
	t = append(slices.Clone(t), 0, 0, 0)
	for ; len(t) >= 4; t = t[4:] {
		sum += binary.BigEndian.Uint32(t)
	}
	return sum
}
