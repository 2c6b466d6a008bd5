package describe

import (
	"math"
	"strings"
	"unicode/utf8"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/schema"
	"gapline/internal/study/size"
)

// columnCell is the value of a key as CSV holds it, in the unit that the head of its
// column names.
func columnCell(v schema.Value) result.Cell {
	c := wordOrNumber(v)
	if c.StateOf() == result.Value {
		c.SI, c.Kind = v.Key.InColumn(c.SI), quantity.Number
	}
	for i := range c.List { // keyCell made it
		c.List[i] = result.Num(v.Key.InColumn(c.List[i].SI), quantity.Number)
	}
	return c
}

// signed is a gap with its sign: above 0 open.
var signed = quantity.Style{Verb: "%+.2f"}

// gapCell is a gap, or an end of its band, with its sign.
func gapCell(f *figure.Def, octaves float64) result.Cell {
	c := result.Fig(f, octaves).As(signed)
	if math.IsInf(octaves, -1) {
		c.Words = "closed"
	}
	return c
}

// figureCell is a figure of one of many designs: gaps with their sign, so that those
// of neighbouring designs compare.
func figureCell(f *figure.Def, si float64) result.Cell {
	if f.Kind == quantity.Octaves {
		return gapCell(f, si)
	}
	return result.Fig(f, si)
}

// limitText is a limit as a person would write it.
func limitText(l schema.Limit) result.Text {
	return result.Say("%s %s %s", l.Of.Name(), l.Sign(), limitValue(l))
}

// limitValue is the value of a limit.
func limitValue(l schema.Limit) result.Cell {
	if l.Of.Kind() == quantity.Octaves {
		return hundredths(l.Value)
	}
	return result.Num(l.Value, l.Of.Kind())
}

// toleranceText is a tolerance as a person would write it: "± 2 mm".
func toleranceText(t *schema.Tolerance) result.Text {
	amount := result.Num(t.Amount, t.Key.Kind).As(quantity.Style{Difference: true})
	if t.Share {
		amount = result.Num(t.Amount, quantity.Fraction)
	}
	if t.Normal {
		return result.Say("sigma %s", amount)
	}
	return result.Say("± %s", amount)
}

// share is a part of a whole with one decimal.
func share(part, of int) result.Cell {
	return result.Num(float64(part)/float64(of), quantity.Fraction).As(quantity.Style{Verb: "%.1f", Unit: "%"})
}

// gapAxis is the axis of a gap.
var gapAxis = result.Axis{Label: "Gap, above 0 open", Kind: quantity.Octaves, Unit: "oct"}

// keyAxis is an axis along a key.
func keyAxis(k *schema.Key) result.Axis {
	return result.Axis{Label: capital(k.Label()), Kind: k.Kind, Suited: true}
}

// capital starts a label with a capital letter.
func capital(s string) string {
	_, n := utf8.DecodeRuneInString(s)
	return strings.ToUpper(s[:n]) + s[n:]
}

// onLever marks the present design on a chart of the gap over a key; nil where there
// is nothing to mark.
func onLever(k *schema.Key, d *design.Design, s *sizing.Sizing) *result.Mark {
	at, gap := k.Number(d), s.Gap.AsGiven()
	if !numeric.Given(at) || !isFinite(gap) {
		return nil
	}
	return &result.Mark{X: at, Y: gap, Text: thisDesign}
}

var thisDesign = result.Plain("this design")

// gapTrust is the level of trust of the gap.
func gapTrust(s *sizing.Sizing) string { return size.Trust(s, figure.GapOpen).String() }

// isFinite reports whether x is a number.
func isFinite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// apart sets a table apart on the screen, with columns of its own width.
func apart(t result.Table) result.Section {
	return result.Section{Shown: t.Shown, Spaced: true, Parts: []result.Part{t}}
}

// belowCautions sets cautions below a result; programs find their texts under a key of their
// own.
func belowCautions(cautions []result.Finding) result.Section {
	shown := result.At(result.Screen | result.Data)
	return result.Section{Shown: shown, Spaced: true, Parts: []result.Part{
		result.Findings{Shown: shown, Key: "cautions", List: cautions, Bare: true}}}
}

// columns are columns of values under heads, for people.
func columns(heads ...string) []result.Column {
	out := make([]result.Column, len(heads))
	for i, h := range heads {
		out[i] = headed(value, h)
	}
	return out
}

// keys are columns under keys, for programs.
func keys(names ...string) []result.Column {
	out := make([]result.Column, len(names))
	for i, n := range names {
		out[i] = result.Column{Key: n}
	}
	return out
}
