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

import "slices"

// Result is everything one command found.
type Result struct {
	Title string // of the design; empty: the constant Untitled for people
	Head  []Text // the conditions, a line each
	Parts []Part
	// Untitled leaves the title out of JSON and title and conditions off the screen.
	Untitled bool
}

// Add appends parts.
func (r *Result) Add(parts ...Part) { r.Parts = append(r.Parts, parts...) }

// Untitled stands for the title of a design without one.
const Untitled = "untitled design"

// Part is one piece of a result.
type Part interface{ shown() Shown }

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

// Shown says where a part shows; every part embeds it. A part of a View shows only
// where that view is asked for, but in JSON and in the document, which hold all.
type Shown struct {
	Places Place
	View   string
}

func (s Shown) shown() Shown { return s }

// At makes the places of a part.
func At(p Place) Shown { return Shown{Places: p} }

// View makes the places of a part of a view.
func View(name string, p Place) Shown { return Shown{p, name} }

// Choice is what a renderer is asked for: a place and, there, some of the views. No
// view stands for the parts that belong to none.
type Choice struct {
	Place Place
	Views []string
}

// Has reports whether the part is chosen.
func (c Choice) Has(p Part) bool {
	s := p.shown()
	switch {
	case s.Places&c.Place == 0:
		return false
	case c.Place == Data || c.Place == Page:
		return true
	case len(c.Views) == 0:
		return s.View == ""
	}
	return slices.Contains(c.Views, s.View)
}

// Chosen returns the parts that are chosen, those within sections too where the
// section shows at the place. Where no part is of the views asked for, the parts of
// no view stand in: a screen is whole unless a view has one of its own.
func (r *Result) Chosen(c Choice) []Part {
	if out := choose(r.Parts, c); len(out) > 0 || len(c.Views) == 0 {
		return out
	}
	return choose(r.Parts, Choice{Place: c.Place})
}

func choose(parts []Part, c Choice) []Part {
	var out []Part
	for _, p := range parts {
		s, section := p.(Section)
		switch {
		case section && s.Places&c.Place != 0:
			if s.Parts = choose(s.Parts, c); len(s.Parts) > 0 || s.Null || s.List && c.Place == Data {
				out = append(out, s)
			}
		case !section && c.Has(p):
			out = append(out, p)
		}
	}
	return out
}

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
