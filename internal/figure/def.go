// Package figure is the catalogue of every number that the program prints: key,
// symbol, kind, level of trust, formula with its terms, domain of validity and
// source stand here once, and the screen, the JSON, the CSV, explain and the review
// document read them here.
//
// A figure is a package variable, so that whoever prints it names it by a pointer
// that the compiler checks. A curve is a figure as well: its values stand under the
// key in a list. The package is a leaf: it knows kinds of quantities and nothing of
// designs; which study computes a figure is that study's to say.
package figure

import (
	"slices"
	"strings"

	"gapline/internal/quantity"
)

// Def describes one figure.
type Def struct {
	Key     string // as in JSON, dotted, with its unit: "coupling.lower_hz"
	Name    string // for people, as the label of a row
	Symbol  string // as in the formula; may be empty
	Kind    quantity.Kind
	Trust   Trust
	Formula string
	// Hand is the formula in full, line by line in SI units, as package formula reads it; the
	// last line gives the figure. Empty where Formula says all, or no few lines would do.
	Hand   []string
	Higher string // what a higher level of trust adds; empty: nothing, or there is none
	Terms  []Term // what the formula's symbols stand for
	Domain string // where it holds; empty: wherever it can be computed
	Source string
	Note   string
	Style  quantity.Style // how people read it; zero: as its kind
	Chosen bool           // set by whoever asks: it follows from nothing
	// Words returns words for values that a number would misrepresent, such as "flat"
	// for a sagitta of 0; empty: the number. Nil: there are none.
	Words func(si float64) string
}

// Term is one symbol of a formula and what it stands for.
type Term struct {
	Symbol string // may be empty where the formula names the key itself
	Key    string // a key of the design file or of a figure
}

// From makes terms of keys that the formula names themselves.
func From(keys ...string) []Term {
	out := make([]Term, len(keys))
	for i, k := range keys {
		out[i] = Term{Key: k}
	}
	return out
}

// Inputs lists the keys that the formula depends on.
func (d *Def) Inputs() []string {
	out := make([]string, len(d.Terms))
	for i, t := range d.Terms {
		out[i] = t.Key
	}
	return out
}

// Group returns the key without its last part.
func (d *Def) Group() string {
	if i := strings.LastIndexByte(d.Key, '.'); i >= 0 {
		return d.Key[:i]
	}
	return ""
}

// Leaf returns the last part of the key.
func (d *Def) Leaf() string { return d.Key[strings.LastIndexByte(d.Key, '.')+1:] }

// Machine converts a value from SI into the unit that the key names: angles are in
// degrees under a key that ends in _deg, to a billionth, which takes off the rounding
// of the conversion. NaN and infinities stay what they are.
func (d *Def) Machine(si float64) float64 {
	if !strings.HasSuffix(d.Key, "_deg") {
		return si
	}
	return quantity.InDegrees(si)
}

// units are the endings of keys, longest first.
var units = []string{"_db_per_doubling", "_kg_m3", "_kg_s", "_m3", "_m_s", "_m_n", "_tm", "_hz", "_dba", "_dbc", "_db", "_oct", "_deg", "_ohm", "_m2", "_kg", "_m", "_s", "_v", "_w", "_h"}

// cutUnit takes the unit off a key: "coupling.lower_hz" is "coupling.lower", and
// "line.distance.m" is "line.distance".
func cutUnit(key string) string {
	for _, u := range units {
		if stem, ok := strings.CutSuffix(key, u); ok {
			return stem
		}
		if stem, ok := strings.CutSuffix(key, "."+u[1:]); ok {
			return stem
		}
	}
	return key
}

// Find returns the figure with the given key, or whose key without its unit is the
// given one; nil when there is none.
func Find(key string) *Def { return find(catalogue, key) }

// FindSized is Find among the figures of a sizing, which any design can be judged by.
func FindSized(key string) *Def { return find(sized, key) }

func find(defs []*Def, key string) *Def {
	for _, d := range defs {
		if d.Key == key {
			return d
		}
	}
	for _, d := range defs {
		if cutUnit(d.Key) == key {
			return d
		}
	}
	return nil
}

// All lists the catalogue in the order in which it is printed.
func All() []*Def { return slices.Clone(catalogue) }
