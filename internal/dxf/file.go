package dxf

import (
	"bufio"
	"fmt"
)

// Handles of the objects that every R2000 file must have; entities and layers
// are numbered from firstFree.
const (
	hVport = 0x1 + iota
	hLtype
	hLayer
	hStyle
	hView
	hUcs
	hAppid
	hDimstyle
	hBlockRecord
	hByBlock
	hByLayer
	hContinuous
	hLayerZero
	hStandard
	hAcad
	hDimStandard
	hModelRecord
	hPaperRecord
	hModelBlock
	hModelEnd
	hPaperBlock
	hPaperEnd
	hRootDictionary
	hGroupDictionary
	firstFree = 0x100
)

// file counts handles while the document is written.
type file struct {
	w    *bufio.Writer
	next int
}

// group writes one group: its code and its value, each on a line.
func (f *file) group(code int, value string) {
	fmt.Fprintf(f.w, "%3d\n%s\n", code, value)
}

// groups writes pairs of code and value.
func (f *file) groups(pairs ...any) {
	for i := 0; i < len(pairs); i += 2 {
		f.group(pairs[i].(int), fmt.Sprint(pairs[i+1]))
	}
}

func hex(h int) string { return fmt.Sprintf("%X", h) }

func (f *file) section(name string, body func()) {
	f.groups(0, "SECTION", 2, name)
	body()
	f.group(0, "ENDSEC")
}

func (f *file) document(d *Drawing) {
	f.section("HEADER", func() { f.header(d) })
	f.section("CLASSES", func() {})
	f.section("TABLES", func() { f.tables(d) })
	f.section("BLOCKS", f.blocks)
	f.section("ENTITIES", func() { f.entities(d) })
	f.section("OBJECTS", f.objects)
	f.group(0, "EOF")
}

func (f *file) header(d *Drawing) {
	// The first free handle: layers and entities take one each.
	seed := hex(firstFree + len(d.layers) + len(d.entities))
	f.groups(
		9, "$ACADVER", 1, "AC1015",
		9, "$DWGCODEPAGE", 3, "ANSI_1252",
		9, "$INSBASE", 10, "0.0", 20, "0.0", 30, "0.0",
		9, "$EXTMIN", 10, number(d.low.X), 20, number(d.low.Y), 30, "0.0",
		9, "$EXTMAX", 10, number(d.high.X), 20, number(d.high.Y), 30, "0.0",
		9, "$HANDSEED", 5, seed,
		9, "$INSUNITS", 70, 4,
		9, "$MEASUREMENT", 70, 1,
	)
}

// table writes one symbol table with its records.
func (f *file) table(name string, handle, count int, records func()) {
	f.groups(0, "TABLE", 2, name, 5, hex(handle), 330, 0, 100, "AcDbSymbolTable", 70, count)
	if name == "DIMSTYLE" {
		f.group(100, "AcDbDimStyleTable")
	}
	records()
	f.group(0, "ENDTAB")
}

// record writes the groups that open a table record.
func (f *file) record(kind string, handle, owner int, class, name string) {
	code := 5
	if kind == "DIMSTYLE" {
		code = 105
	}
	f.groups(0, kind, code, hex(handle), 330, hex(owner), 100, "AcDbSymbolTableRecord", 100, class, 2, name)
}

func (f *file) tables(d *Drawing) {
	none := func() {}
	f.table("VPORT", hVport, 0, none)
	f.table("LTYPE", hLtype, 3, f.linetypes)
	f.table("LAYER", hLayer, len(d.layers)+1, func() { f.layers(d) })
	f.table("STYLE", hStyle, 1, func() {
		f.record("STYLE", hStandard, hStyle, "AcDbTextStyleTableRecord", "Standard")
		f.groups(70, 0, 40, "0.0", 41, "1.0", 50, "0.0", 71, 0, 42, "2.5", 3, "txt", 4, "")
	})
	f.table("VIEW", hView, 0, none)
	f.table("UCS", hUcs, 0, none)
	f.table("APPID", hAppid, 1, func() {
		f.record("APPID", hAcad, hAppid, "AcDbRegAppTableRecord", "ACAD")
		f.group(70, "0")
	})
	f.table("DIMSTYLE", hDimstyle, 1, func() {
		f.record("DIMSTYLE", hDimStandard, hDimstyle, "AcDbDimStyleTableRecord", "Standard")
		f.group(70, "0")
	})
	f.table("BLOCK_RECORD", hBlockRecord, 2, func() {
		f.record("BLOCK_RECORD", hModelRecord, hBlockRecord, "AcDbBlockTableRecord", "*Model_Space")
		f.record("BLOCK_RECORD", hPaperRecord, hBlockRecord, "AcDbBlockTableRecord", "*Paper_Space")
	})
}

func (f *file) linetypes() {
	for i, name := range []string{"ByBlock", "ByLayer", "Continuous"} {
		f.record("LTYPE", hByBlock+i, hLtype, "AcDbLinetypeTableRecord", name)
		f.groups(70, 0, 3, "", 72, 65, 73, 0, 40, "0.0")
	}
}

func (f *file) layers(d *Drawing) {
	write := func(handle int, name string, color int) {
		f.record("LAYER", handle, hLayer, "AcDbLayerTableRecord", name)
		f.groups(70, 0, 62, color, 6, "Continuous")
	}
	write(hLayerZero, "0", Black)
	for _, l := range d.layers {
		write(f.handle(), l.name, l.color)
	}
}

// handle returns the next free handle.
func (f *file) handle() int {
	h := f.next
	f.next++
	return h
}

func (f *file) blocks() {
	block := func(name string, record, begin, end int, paper bool) {
		space := func() {
			if paper {
				f.group(67, "1")
			}
		}
		f.groups(0, "BLOCK", 5, hex(begin), 330, hex(record), 100, "AcDbEntity")
		space()
		f.groups(8, "0", 100, "AcDbBlockBegin", 2, name, 70, 0, 10, "0.0", 20, "0.0", 30, "0.0", 3, name, 1, "")
		f.groups(0, "ENDBLK", 5, hex(end), 330, hex(record), 100, "AcDbEntity")
		space()
		f.groups(8, "0", 100, "AcDbBlockEnd")
	}
	block("*Model_Space", hModelRecord, hModelBlock, hModelEnd, false)
	block("*Paper_Space", hPaperRecord, hPaperBlock, hPaperEnd, true)
}

func (f *file) entities(d *Drawing) {
	for _, e := range d.entities {
		f.groups(0, e.kind, 5, hex(f.handle()), 330, hex(hModelRecord), 100, "AcDbEntity", 8, e.layer, 100, e.class)
		for _, t := range e.tags {
			f.group(t.code, t.value)
		}
	}
}

// objects writes the root dictionary with its one obligatory entry.
func (f *file) objects() {
	f.groups(0, "DICTIONARY", 5, hex(hRootDictionary), 330, 0, 100, "AcDbDictionary", 281, 1,
		3, "ACAD_GROUP", 350, hex(hGroupDictionary))
	f.groups(0, "DICTIONARY", 5, hex(hGroupDictionary), 330, hex(hRootDictionary), 100, "AcDbDictionary", 281, 1)
}
