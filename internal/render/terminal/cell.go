package terminal

import (
	"fmt"
	"math"
	"strings"

	"gapline/internal/quantity"
	"gapline/internal/result"
)

// Cell returns a cell as people read it, with its unit.
func Cell(c result.Cell, sys quantity.System) string {
	text := value(c, sys)
	if c.At != nil && c.StateOf() == result.Value && c.Words == "" {
		text += " at " + Cell(*c.At, sys)
	}
	return text
}

func value(c result.Cell, sys quantity.System) string {
	state := c.StateOf()
	switch {
	case c.Phrase != nil:
		return Text(*c.Phrase, sys)
	case state == result.Wording || c.Words != "":
		return c.Words
	case state == result.Truth:
		return map[bool]string{true: "yes", false: "no"}[c.Truth]
	case state == result.Many:
		parts := make([]string, len(c.List))
		for i := range c.List {
			parts[i] = Cell(c.List[i], sys)
		}
		return strings.Join(parts, ", ")
	case state == result.Absent:
		return "-"
	}
	if c.Fig != nil && c.Fig.Words != nil && c.Style == nil {
		if words := c.Fig.Words(c.SI); words != "" {
			return words
		}
	}
	number := quantity.FormatAs(c.SI, c.KindOf(), style(&c), sys)
	switch {
	case state == result.Beyond:
		return "beyond " + number
	case state == result.NoLimit && c.KindOf() == quantity.Frequency && c.SI > 0:
		return "no limit"
	case c.KindOf() == quantity.Octaves && style(&c) == (quantity.Style{}):
		return octaves(c.SI, sys)
	case number == "-0.0 dB":
		return number[1:]
	}
	return number
}

func style(c *result.Cell) quantity.Style {
	switch {
	case c.Style != nil:
		return *c.Style
	case c.Fig != nil:
		return c.Fig.Style
	}
	return quantity.Style{}
}

// octaves says whether a gap is open or closed: "0.51 oct open".
func octaves(x float64, sys quantity.System) string {
	switch {
	case math.IsInf(x, -1):
		return "unlimited overlap"
	case x > 0:
		return quantity.Format(x, quantity.Octaves, sys) + " open"
	}
	return quantity.Format(math.Abs(x), quantity.Octaves, sys) + " overlap"
}

// Text sets a text.
func Text(t result.Text, sys quantity.System) string {
	args := make([]any, len(t.Args))
	for i, a := range t.Args {
		switch x := a.(type) {
		case result.Cell:
			args[i] = Cell(x, sys)
		case result.Text:
			args[i] = Text(x, sys)
		case result.Unit:
			args[i] = x.Metric
			if sys == quantity.Inch {
				args[i] = x.Inch
			}
		default:
			args[i] = x
		}
	}
	return fmt.Sprintf(t.Form, args...)
}
