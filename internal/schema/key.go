package schema

import (
	"math"
	"strings"

	"gapline/cabinet/design"
	"gapline/internal/optional"
	"gapline/internal/quantity"
	"gapline/internal/wordset"
)

// Type is the form of a key's value in the file.
type Type int

// The forms of values.
const (
	Quantity Type = iota // a string with a unit, or a plain number for quantity.Number
	Count                // a whole number
	Choice               // one of a list of words
	Text                 // free text
	List                 // a list of quantities
)

// Key is one key of a design: all that is known of it stands here. Its unit, and the
// ending of its name in JSON and CSV, are those of its kind.
type Key struct {
	Path     string // "cabinet.height"
	Doc      string // what it is, in one sentence
	Type     Type
	Kind     quantity.Kind
	Min, Max float64 // inclusive, SI
	Choices  []string
	Words    map[string]float64 // words that stand for a value, such as "flat"
	Points   bool               // of a Text: one point a line
	File     bool               // of a Text: the name of a file, kept as it is for opening it
	Default  string             // what stands where the file does not give it, as the file would write it; empty: nothing, or what follows from other keys, as Doc says

	label string // its short name; empty: the words of the path say it

	float fl
	air   func(*design.Design) *float64 // of the air, which is always given
	count func(*design.Design) *int
	text  texts
	list  func(*design.Design) *[]float64

	perBox perBox // of a List
}

// Table returns the table that the key stands in; empty for the top.
func (k *Key) Table() string {
	if i := strings.LastIndexByte(k.Path, '.'); i >= 0 {
		return k.Path[:i]
	}
	return ""
}

// Label returns a short name of the key for people, such as "horn coverage".
func (k *Key) Label() string {
	if k.label != "" {
		return k.label
	}
	return strings.NewReplacer(".", " ", "_", " ").Replace(k.Path)
}

// called gives the key a short name where its path does not read as one.
func (k Key) called(label string) Key {
	k.label = label
	return k
}

// foreach says what the list has an entry for.
func (k Key) foreach(p perBox) Key {
	k.perBox = p
	k.Doc += "; " + RefitRule
	return k
}

// or says what stands where the file does not give the key, as the file would write it.
func (k Key) or(text string) Key {
	k.Default = text
	k.Doc += "; " + text + " unless given"
	return k
}

type fl = func(*design.Design) *optional.Float

func quantityKey(path string, kind quantity.Kind, lo, hi float64, at fl, doc string) Key {
	return Key{Path: path, Doc: doc, Type: Quantity, Kind: kind, Min: lo, Max: hi, float: at}
}

func airKey(path string, kind quantity.Kind, lo, hi float64, at func(*design.Design) *float64, doc string) Key {
	return Key{Path: path, Doc: doc, Type: Quantity, Kind: kind, Min: lo, Max: hi, air: at}
}

func lengthKey(path string, lo, hi float64, at fl, doc string) Key {
	return quantityKey(path, quantity.Length, lo, hi, at, doc)
}

func hertzKey(path string, lo, hi float64, at fl, doc string) Key {
	return quantityKey(path, quantity.Frequency, lo, hi, at, doc)
}

func countKey(path string, lo, hi int, at func(*design.Design) *int, doc string) Key {
	return Key{Path: path, Doc: doc, Type: Count, Kind: quantity.Number, Min: float64(lo), Max: float64(hi), count: at}
}

func listKey(path string, kind quantity.Kind, lo, hi float64, at func(*design.Design) *[]float64, doc string) Key {
	return Key{Path: path, Doc: doc, Type: List, Kind: kind, Min: lo, Max: hi, list: at}
}

// choiceKey is the key of a closed set: its words are those of the set.
func choiceKey[T wordset.Member](path string, at func(*design.Design) *T, doc string) Key {
	return Key{Path: path, Doc: doc, Type: Choice, Choices: wordset.Names[T](), text: word[T](at)}
}

// word is a choice as text.
type word[T wordset.Member] func(*design.Design) *T

func (w word[T]) get(d *design.Design) string { return (*w(d)).Name() }

func (w word[T]) set(d *design.Design, name string) { *w(d), _ = wordset.Parse[T](name) }

// texts is where a text of a design is: free, or the word of a choice.
type texts interface {
	get(*design.Design) string
	set(*design.Design, string)
}

// free is free text.
type free func(*design.Design) *string

func (f free) get(d *design.Design) string { return *f(d) }

func (f free) set(d *design.Design, s string) { *f(d) = s }

const degrees = math.Pi / 180
