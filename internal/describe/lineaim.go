package describe

import (
	"slices"
	"strconv"
	"strings"

	"gapline/cabinet/field"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
)

// PasteLine is one key of a design file with its value as TOML.
type PasteLine struct{ Key, Value string }

// PasteSplay returns the lines of a design file that hang the stack so.
func PasteSplay(c *field.Candidate) []PasteLine {
	var out []PasteLine
	if len(c.Splay) > 0 {
		out = append(out, PasteLine{"line.splay", quotedList(c.Splay, 1/degree, "deg")})
	}
	out = append(out, PasteLine{"line.tilt", quoted(-c.Tilt/degree, "deg")})
	if c.Shading != nil {
		out = append(out, PasteLine{"line.shading", quotedList(c.Shading, 1, "dB")})
	}
	return out
}

func quotedList(xs []float64, scale float64, unit string) string {
	parts := make([]string, len(xs))
	for i, x := range xs {
		parts[i] = quoted(x*scale, unit)
	}
	return "[" + strings.Join(parts, ", ") + "]"
}

// quoted writes a number to a thousandth without trailing zeros, as TOML.
func quoted(x float64, unit string) string {
	s := strings.TrimRight(strings.TrimRight(strconv.FormatFloat(x, 'f', 3, 64), "0"), ".")
	if s == "-0" {
		s = "0"
	}
	return strconv.Quote(s + " " + unit)
}

// aimed says what the search found and what it cost.
func (v lineParts) aimed() result.Section {
	a, shown := v.r.Aimed, result.At(result.Screen)
	paste := result.Prose{Shown: shown, Indent: "  ", AsIs: true}
	for _, p := range PasteSplay(&a.Best) {
		paste.Texts = append(paste.Texts, result.Plain(strings.TrimPrefix(p.Key, "line.")+" = "+p.Value))
	}
	t := result.Table{Shown: shown, Columns: []result.Column{headed(value, "spread"), headed(value, "back seat"), headed(value, "over last row"),
		headed(value, "tilt"), headed(value, "splay")}}
	var rows result.List
	stack := func(name string, c *field.Candidate, f figure.Candidate) {
		turn := 0.0
		for _, x := range c.Splay {
			turn += x
		}
		rows.Row(result.Plain(name), result.Fig(f.Spread, c.Spread), result.Fig(f.Back, c.Back), result.Fig(f.OverRow, c.OverRow), downward(c.Tilt), angle(turn))
	}
	if a.Before != nil {
		stack("as the file hangs it", a.Before, figure.AimBefore)
	}
	stack("best found", &a.Best, figure.AimBest)
	stack("best uniform arc", &a.BestArc, figure.AimArc)
	stack("straight, most at the back", &a.Straight, figure.AimStraight)
	t.Rows = rows.Rows()
	return result.Section{Shown: shown, Title: result.Plain("AIM: the splay that spreads the sound most evenly over the seats (dBA)"),
		Parts: []result.Part{paste, t, result.Prose{Shown: shown, Indent: "  ", Texts: []result.Text{v.aimNote()}}}}
}

// aimNote says what the search was allowed and what the curve takes from the back.
func (v lineParts) aimNote() result.Text {
	a := v.r.Aimed
	text := result.Say("%s stacks tried. Curvature costs %s at the back against the straight line. ",
		result.Fig(figure.AimTried, float64(a.Evaluations)), result.Fig(figure.AimCost, a.CurvatureCost))
	if a.Rising {
		text = text.And(result.Plain("Each joint turns at least as much as the one above (--any-order lifts this). "))
	}
	if len(a.Collide) > 0 {
		text = text.And(result.Say("Splay from %s on is left out: there neighbouring boxes run into each other (cabinet.rear_height, cabinet.gap). ",
			result.Num(slices.Min(a.Collide), quantity.Angle)))
	}
	if a.TiltStays {
		text = text.And(result.Plain("The tilt stays: line.tilt_range lets it move. "))
	}
	text = text.And(result.Say("Sound over the last row counts from %s. ", level(a.Over).As(quantity.Style{Verb: "%+.1f"})))
	if numeric.Given(a.Floor) && a.Best.Back < a.Floor {
		text = text.And(result.Say("audience.back_level %s is not reached. ", level(a.Floor)))
	}
	return text.And(result.Plain("All below is for the best found."))
}

// aimData is the search for programs.
func (v lineParts) aimData() result.Section {
	a := v.r.Aimed
	s := group("aim")
	if a.Before != nil {
		s.Parts = append(s.Parts, candidateData("before", a.Before, figure.AimBefore))
	}
	up := each(a.Tilts, func(down float64) float64 { return 0 - down })
	s.Parts = append(s.Parts, candidateData("best", &a.Best, figure.AimBest), candidateData("best_arc", &a.BestArc, figure.AimArc),
		candidateData("straight", &a.Straight, figure.AimStraight),
		object(fact(figure.AimCost, a.CurvatureCost), fact(figure.AimTried, float64(a.Evaluations)), under("rising", result.Yes(a.Rising)),
			list(figure.AimSteps, a.Steps), list(figure.AimTilts, up)))
	return s
}

func candidateData(key string, c *field.Candidate, f figure.Candidate) result.Section {
	rows := []result.Row{list(f.Splay, c.Splay), fact(f.Tilt, 0-c.Tilt)}
	if c.Shading != nil {
		rows = append(rows, list(f.Shading, c.Shading))
	}
	rows = append(rows, fact(f.Spread, c.Spread), fact(f.Back, c.Back), fact(f.OverRow, c.OverRow), fact(f.Cost, c.Cost))
	return group(key, object(rows...))
}
