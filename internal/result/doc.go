// Package result is what a study found, ready to be shown: sections of parts, with
// the numbers as numbers. Whoever describes a study builds one Result; the terminal,
// JSON, CSV, the review document and pictures are renderers of it and know nothing
// of studies.
//
// Numbers stand in cells with the figure that they are, in SI. Units, digits and
// words for what does not exist are the renderer's: texts are forms with cells in
// them, never strings with numbers already set.
//
// The parts are a closed set: Section, Table, Series, Grid, Shape, Strip, Ranking,
// Scatter, Findings and
// Prose. A part says where it shows, since a screen samples what JSON
// holds in full.
package result

// Result is everything one command found.
type Result struct {
	Title string // of the design; empty: "untitled design" for people
	Head  []Text // the conditions, a line each
	Parts []Part
	// Untitled leaves title and conditions off the screen.
	Untitled bool
}

// Part is one piece of a result.
type Part interface {
	// In reports whether the part shows at a place.
	In(Place) bool
}

// Place is where parts show, as a set.
type Place uint8

// The places.
const (
	Screen  Place = 1 << iota // the terminal
	Data                      // JSON
	Listing                   // CSV
	Page                      // the review document
	Drawn                     // pictures
)

// People read it on the terminal and in the document.
const People = Screen | Page

// Shown is embedded in every part.
type Shown struct{ Places Place }

// In reports whether the part shows at p.
func (s Shown) In(p Place) bool { return s.Places&p != 0 }

// Only makes the set of places of a part.
func Only(p Place) Shown { return Shown{p} }

// Section is a group of parts. On the terminal the tables of a section share their
// columns' widths. In JSON a section with a Key is an object under it; the sections
// of a List are the objects of an array.
type Section struct {
	Shown
	Key   string
	Title Text
	Parts []Part
	List  bool
	Null  bool // the design has no such part: null in JSON
	// Spaced sets a blank line before it on the terminal.
	Spaced bool
}
