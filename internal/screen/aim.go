package screen

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gapline/cabinet/field"
	"gapline/internal/numeric"
)

// PasteSplay returns the lines of a design file that hang the stack so.
func PasteSplay(c *field.Candidate) []PasteLine {
	var out []PasteLine
	if len(c.Splay) > 0 {
		out = append(out, PasteLine{"line.splay", quotedList(c.Splay, degrees, "deg")})
	}
	out = append(out, PasteLine{"line.tilt", strconv.Quote(plainNumber(-c.Tilt*degrees) + " deg")})
	if c.Shading != nil {
		out = append(out, PasteLine{"line.shading", quotedList(c.Shading, 1, "dB")})
	}
	return out
}

// PasteLine is one key of a design file with its value as TOML.
type PasteLine struct{ Key, Value string }

const degrees = 180 / math.Pi

func quotedList(xs []float64, scale float64, unit string) string {
	parts := make([]string, len(xs))
	for i, x := range xs {
		parts[i] = strconv.Quote(plainNumber(x*scale) + " " + unit)
	}
	return "[" + strings.Join(parts, ", ") + "]"
}

// plainNumber writes a number to a thousandth without trailing zeros.
func plainNumber(x float64) string {
	s := strings.TrimRight(strings.TrimRight(strconv.FormatFloat(x, 'f', 3, 64), "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// aimed says what the search found and what it cost.
func (v *lineView) aimed() string {
	a := v.r.Aimed
	var b strings.Builder
	b.WriteString("AIM: the splay that spreads the sound most evenly over the seats (dBA)\n")
	for _, p := range PasteSplay(&a.Best) {
		fmt.Fprintf(&b, "  %s = %s\n", strings.TrimPrefix(p.Key, "line."), p.Value)
	}
	t := &Table{}
	t.Row("", "spread", "back seat", "over last row", "tilt", "splay")
	row := func(name string, c *field.Candidate) {
		turn := 0.0
		for _, x := range c.Splay {
			turn += x
		}
		over := "-"
		if numeric.Given(c.OverRow) {
			over = fmt.Sprintf("%+.1f dB", c.OverRow)
		}
		t.Row("  "+name, dB(c.Spread)+" dB", dB(c.Back), over, v.tilt(c.Tilt), v.angle(turn))
	}
	if a.Before != nil {
		row("as the file hangs it", a.Before)
	}
	row("best found", &a.Best)
	row("best uniform arc", &a.BestArc)
	row("straight, most at the back", &a.Straight)
	_, _ = t.WriteTo(&b) // a Builder does not fail
	b.WriteString(Wrap(v.aimNote(), lineWidth, "  ", "  "))
	return b.String()
}

// aimNote says what the search was allowed and what the curve takes from the
// back.
func (v *lineView) aimNote() string {
	a := v.r.Aimed
	text := fmt.Sprintf("%d stacks tried. Curvature costs %.1f dB at the back against the straight line. ", a.Evaluations, a.CurvatureCost)
	if a.Rising {
		text += "Each joint turns at least as much as the one above (--any-order lifts this). "
	}
	if a.TiltStays {
		text += "The tilt stays: line.tilt_range lets it move. "
	}
	text += fmt.Sprintf("Sound over the last row counts from %+.1f dB. ", a.Over)
	if numeric.Given(a.Floor) && a.Best.Back < a.Floor {
		text += fmt.Sprintf("audience.back_level %.1f dB is not reached. ", a.Floor)
	}
	return text + "All below is for the best found."
}
