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

// air describes the air in one line.
func air(d *design.Design, s *sizing.Sizing) result.Text {
	return result.Say("%s, %s RH, c = %s", result.Num(d.Air.Temperature, quantity.Temperature),
		result.Num(d.Air.Humidity, quantity.Fraction), result.Fig(figure.AirSoundSpeed, s.Air.SoundSpeed))
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
	c.Design, c.Air = d.Title, air(d, s)
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

// facts is a table for programs: cells under the last part of their figures' keys.
func facts(cells ...result.Cell) result.Table {
	var rows result.List
	for _, c := range cells {
		rows.Add(result.Row{Key: c.Fig.Leaf(), Cells: []result.Cell{c}})
	}
	return result.Table{Shown: result.At(result.Data), Columns: []result.Column{value}, Rows: rows.Rows()}
}

// named is a table of one cell for programs, under a key of its own.
func named(key string, c result.Cell) result.Table {
	return result.Table{Shown: result.At(result.Data), Columns: []result.Column{value}, Rows: result.Rows(result.Row{Key: key, Cells: []result.Cell{c}})}
}
