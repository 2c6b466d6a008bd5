package result

import (
	"math"

	"gapline/internal/figure"
	"gapline/internal/quantity"
)

// Cell is one value in a table or a text.
type Cell struct {
	Fig   *figure.Def   // what the number is; nil for words and numbers of no figure
	Kind  quantity.Kind // where Fig is nil
	SI    float64
	State State
	Trust figure.Trust    // where it differs from the figure's
	Style *quantity.Style // where it differs from the figure's
	Words string          // in place of the number, for people; the whole cell where State is Wording
	At    *Cell           // "55° at 1717 Hz"
	// Phrase stands in place of all else for people: words with numbers in them.
	Phrase *Text
	List   []Cell // an array in JSON, joined by ", " for people
	Truth  bool   // where State is Truth
	Blank  bool   // words that may be empty: "" in JSON and not null
	Link   string // id of the row of the document that it refers to
	Star   bool   // stands out on the terminal, in a column with room for stars
}

// State says what a cell holds.
type State uint8

// The states. A number that is NaN is Absent, an infinite one NoLimit, without
// being told.
const (
	Value   State = iota
	Absent        // the design does not give enough
	NoLimit       // there is no such limit
	Beyond        // outside what the model covers; SI is the edge
	Wording       // words, no number
	Truth         // yes or no
	Many          // a list
)

// Fig is a figure with its value in SI.
func Fig(f *figure.Def, si float64) Cell { return Cell{Fig: f, SI: si} }

// FigAt is a figure with the value at which it stands: "55° at 1717 Hz".
func FigAt(f *figure.Def, si float64, at Cell) Cell { return Cell{Fig: f, SI: si, At: &at} }

// Num is a number of a kind that is no figure, such as a value of a key.
func Num(si float64, k quantity.Kind) Cell { return Cell{Kind: k, SI: si} }

// Word is a cell of words; empty words are null in JSON.
func Word(text string) Cell { return Cell{State: Wording, Words: text} }

// Name is a cell of words that are there even when empty.
func Name(text string) Cell { return Cell{State: Wording, Words: text, Blank: true} }

// Phrase is a cell of words with numbers in them, such as "2.1 to 2.4".
func Phrase(t Text) Cell { return Cell{State: Wording, Phrase: &t} }

// Phrases is a list of texts.
func Phrases(texts []Text) Cell {
	c := Cell{State: Many, List: make([]Cell, len(texts))}
	for i, t := range texts {
		c.List[i] = Phrase(t)
	}
	return c
}

// None is a cell that holds nothing: blank for people, null in JSON.
var None = Cell{State: Wording}

// Yes is a cell of yes or no.
func Yes(b bool) Cell { return Cell{State: Truth, Truth: b} }

// Count is a whole number.
func Count(n int) Cell { return Cell{Kind: quantity.Number, SI: float64(n)} }

// Figs is a list of values of one figure, SI.
func Figs(f *figure.Def, si []float64) Cell {
	c := Cell{Fig: f, State: Many, List: make([]Cell, len(si))}
	for i, x := range si {
		c.List[i] = Fig(f, x)
	}
	return c
}

// Words is a list of words.
func Words(texts []string) Cell {
	c := Cell{State: Many, List: make([]Cell, len(texts))}
	for i, t := range texts {
		c.List[i] = Word(t)
	}
	return c
}

// As returns the cell in another style.
func (c Cell) As(st quantity.Style) Cell { c.Style = &st; return c }

// Saying returns the cell with words that stand in place of the number for people.
func (c Cell) Saying(words string) Cell { c.Words = words; return c }

// Trusted returns the cell with a level of trust of its own.
func (c Cell) Trusted(t figure.Trust) Cell { c.Trust = t; return c }

// KindOf returns what the number measures.
func (c *Cell) KindOf() quantity.Kind {
	if c.Fig != nil {
		return c.Fig.Kind
	}
	return c.Kind
}

// TrustOf returns the cell's level of trust.
func (c *Cell) TrustOf() figure.Trust {
	if c.Trust == figure.NoTrust && c.Fig != nil {
		return c.Fig.Trust
	}
	return c.Trust
}

// StateOf returns the state with NaN and infinities told apart.
func (c *Cell) StateOf() State {
	switch {
	case c.State != Value:
		return c.State
	case math.IsNaN(c.SI):
		return Absent
	case math.IsInf(c.SI, 0):
		return NoLimit
	}
	return Value
}

// Given reports whether the cell holds something to show.
func (c *Cell) Given() bool {
	s := c.StateOf()
	return c.Words != "" || c.Phrase != nil || s != Absent && s != Wording
}
