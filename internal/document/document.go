// Package document holds a document as sections of paragraphs, lists, tables and
// pictures, and writes it as one self-contained HTML page or as a tagged PDF. It
// knows nothing of designs: texts come ready made. Same document, same bytes.
package document

import (
	"gapline/plots"
)

// Document is what is written.
type Document struct {
	Title    string
	Author   string
	Footer   string // of every page: program, file, units
	Noted    string // of pages with a section that is Noted
	Sections []Section
	Data     []Data // machine-readable copies; in the HTML page only
}

// Data is a JSON value that the page carries in an element of its own.
type Data struct {
	ID   string
	JSON []byte
}

// Section is a part of the document under one heading.
type Section struct {
	ID, Title string
	Part      Part
	Noted     bool // its pages have the other foot
	Blocks    []Block
}

// Part is what a section is there for.
type Part uint8

// The parts, in the order of the document.
const (
	PageOne  Part = iota
	Case          // for and against
	Evidence      // what the case rests on
	Appendix
	partCount
)

// partNames are the headings of the contents.
var partNames = [partCount]string{"Page one", "The case", "The evidence", "Appendix"}

// String returns the part's name.
func (p Part) String() string { return partNames[p] }

// Add appends blocks.
func (s *Section) Add(blocks ...Block) { s.Blocks = append(s.Blocks, blocks...) }

// Block is one part of a section: a Heading, a Text, a List, a Table, a Picture, a Beside
// or a Gallery.
type Block interface{ block() }

// Heading is a heading below the section's own.
type Heading string

// Tone says what a paragraph is.
type Tone string

// The tones.
const (
	Plain   Tone = "plain"
	Lead    Tone = "lead"    // the sentence that a section opens with
	Caution Tone = "caution" // what can hurt people, in a line
	Remark  Tone = "remark"  // conditions and remarks
	Missing Tone = "missing" // says what is not there, and why
	Good    Tone = "good"    // a target is met
	Bad     Tone = "bad"     // a target is missed
)

// Text is a paragraph.
type Text struct {
	Tone Tone
	Text string
	Key  string // of what it speaks about, for programs; may be empty
}

// List is a list of points. Labels, where given, name each.
type List struct {
	Labels []string
	Items  []string
}

// Table is a table with a caption, a head for each column and rows that their
// first cell names.
type Table struct {
	Caption string
	Head    []string
	Left    []bool // columns set left; the first one always is
	Rows    []Row
	Dense   bool // set small on paper
	Alone   bool // in its section, whose title does for a caption on paper
}

// Row is a row of a table.
type Row struct {
	ID    string // to be linked to; may be empty
	Cells []Cell
}

// Cell is one cell. A cell that shows a number carries its key and its value as
// JSON writes it, and the id of the data that hold it.
type Cell struct {
	Text  string
	Note  string // small, behind the text
	Key   string
	Value string
	In    string // id of Data
	Link  string // id of a row
}

// Cells makes plain cells.
func Cells(texts ...string) Row {
	r := Row{}
	for _, t := range texts {
		r.Cells = append(r.Cells, Cell{Text: t})
	}
	return r
}

// Picture is a figure with a caption.
type Picture struct {
	ID      string // unique, a letter first
	Figure  plots.Figure
	Caption string
}

// Beside is blocks with a picture beside them, where there is room.
type Beside struct {
	Blocks  []Block
	Picture Picture
}

// Gallery is pictures that stand two in a row, where there is room.
type Gallery []Picture

func (Beside) block()  {}
func (Gallery) block() {}
func (Heading) block() {}
func (Text) block()    {}
func (List) block()    {}
func (Table) block()   {}
func (Picture) block() {}

// left reports whether a column is set left.
func (t *Table) left(i int) bool { return i == 0 || i < len(t.Left) && t.Left[i] }
