// Package describe turns what a study found into a result: which figures stand in
// which table, which curves in which chart, and in which words. Each study is
// described once, in the file of its name; the terminal, JSON, CSV, the review
// document and pictures are rendered from that one description. It computes no
// physics and knows no units, files or flags.
package describe

import (
	"fmt"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/size"
)

// Air describes the air in one line.
func Air(d *design.Design, s *sizing.Sizing) result.Text { return airOf(d, s.Air.SoundSpeed) }

func airOf(d *design.Design, speed float64) result.Text {
	return result.Say("%s, %s RH, c = %s", result.Num(d.Air.Temperature, quantity.Temperature),
		result.Num(d.Air.Humidity, quantity.Fraction), result.Fig(figure.AirSoundSpeed, speed))
}

// stackText describes the stack in words.
func stackText(d *design.Design, s *sizing.Sizing) result.Text {
	k := &s.Coupling
	switch {
	case numeric.Given(k.Length):
		return result.Say(fmt.Sprintf("%d boxes at %%s pitch, a line of %%s", d.Line.Boxes), length(k.Pitch), length(k.Length))
	case numeric.Given(k.Pitch):
		return result.Say("boxes at %s pitch", length(k.Pitch))
	}
	return result.Plain("stack unknown")
}

// length, hertz, angle and level are numbers of a kind that stand in texts.
func length(m float64) result.Cell  { return result.Num(m, quantity.Length) }
func hertz(f float64) result.Cell   { return result.Num(f, quantity.Frequency) }
func angle(rad float64) result.Cell { return result.Num(rad, quantity.Angle) }
func level(db float64) result.Cell  { return result.Num(db, quantity.Level) }

// short is a frequency as charts write it.
func short(f float64) result.Cell { return hertz(f).As(quantity.Style{Short: true}) }

// captioned adds the design and its air to a caption.
func captioned(c result.Caption, d *design.Design, s *sizing.Sizing) result.Caption {
	if c.Design = d.Title; c.Design == "" {
		c.Design = result.Untitled
	}
	c.Air = Air(d, s)
	return c
}

// value and trust are the columns of a table of figures.
var (
	value = result.Column{Key: "value"}
	trust = result.Column{Key: "trust", Trust: true}
)

// headed returns a column under a head.
func headed(c result.Column, head string) result.Column {
	c.Head = result.Plain(head)
	return c
}

// figureRows are figures of a sizing, a row each.
func figureRows(s *sizing.Sizing, figures ...*figure.Def) []result.Row {
	out := make([]result.Row, len(figures))
	for i, f := range figures {
		out[i] = result.FigureRow(size.Cell(s, f))
	}
	return out
}

// given makes a row of each figure that exists.
func given(cells ...result.Cell) []result.Row {
	var out []result.Row
	for _, c := range cells {
		if c.Given() {
			out = append(out, result.FigureRow(c))
		}
	}
	return out
}

// facts is a table for programs: cells under the last part of their figures' keys.
func facts(cells ...result.Cell) result.Table { return object(leaves(cells...)...) }

// leaves are rows for programs: cells under the last part of their figures' keys.
func leaves(cells ...result.Cell) []result.Row {
	out := make([]result.Row, len(cells))
	for i, c := range cells {
		out[i] = entry(c.Fig.Leaf(), c)
	}
	return out
}

// entry is a row for programs: a cell under a key.
func entry(key string, c result.Cell) result.Row {
	return result.Row{Key: key, Cells: []result.Cell{c}}
}

// object is a table for programs of one value under each key.
func object(rows ...result.Row) result.Table {
	return result.Table{Shown: result.At(result.Data), Columns: []result.Column{value}, Rows: result.Rows(rows...)}
}

// group is an object of the JSON under a key.
func group(key string, parts ...result.Part) result.Section {
	return result.Section{Shown: result.At(result.Data), Key: key, Parts: parts}
}

// groupIf is a group that is null where there is none.
func groupIf(there bool, key string, parts ...result.Part) result.Section {
	s := group(key, parts...)
	s.Null = !there
	return s
}

// named is a table of one cell for programs, under a key of its own.
func named(key string, c result.Cell) result.Table {
	return result.Table{Shown: result.At(result.Data), Columns: []result.Column{value}, Rows: result.Rows(result.Row{Key: key, Cells: []result.Cell{c}})}
}
