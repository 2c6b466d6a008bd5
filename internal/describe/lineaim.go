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
	"gapline/internal/study/line"
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
	if c.Delays != nil {
		out = append(out, PasteLine{"line.delays", quotedList(c.Delays, 1e3, "ms")})
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
		Parts: []result.Part{paste, t, result.Section{Shown: shown, Parts: []result.Part{v.byOctave()}}, result.Prose{Shown: shown, Indent: "  ", Texts: []result.Text{v.aimNote()}}}}
}

// aimNote says what the search was allowed and what the curve takes from the back.
func (v lineParts) aimNote() result.Text {
	a := v.r.Aimed
	text := result.Say("%s stacks tried. Curvature costs %s at the back against the straight line. ",
		result.Fig(figure.AimTried, float64(a.Evaluations)), result.Fig(figure.AimCost, a.CurvatureCost))
	text = text.And(v.evenNote())
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
	for _, end := range v.aimEnds() {
		text = text.And(result.Say("%s ", end))
	}
	text = text.And(result.Say("Sound over the last row counts from %s. ", level(a.Over).As(quantity.Style{Verb: "%+.1f"})))
	if numeric.Given(a.Floor) && a.Best.Back < a.Floor {
		text = text.And(result.Say("audience.back_level %s is not reached. ", level(a.Floor)))
	}
	return text.And(result.Plain("All below is for the best found."))
}

// aimEnds name what keeps the best stack from going further: a tilt or a splay at the end
// of what is allowed.
func (v lineParts) aimEnds() (out []result.Text) {
	a := v.r.Aimed
	which := map[line.AtEnd]string{line.LowEnd: "low", line.HighEnd: "high"}
	if end := a.TiltEnd(); end != line.Inside {
		out = append(out, result.Say("The tilt stands at the "+which[end]+" end of line.tilt_range, %s: beyond it may lie a better one.", angle(0-a.Best.Tilt)))
	}
	switch end, n := a.SplayEnd(); {
	case end == line.LowEnd:
		out = append(out, result.Say("%s at the least of line.splay_steps, %s: a smaller step may do better.", joints(n), angle(slices.Min(a.Steps))))
	case end == line.HighEnd && len(a.Collide) > 0 && slices.Max(a.Collide) > slices.Max(a.Steps):
		out = append(out, result.Say("%s at %s, the most that the boxes' taper lets in: a lower cabinet.rear_height or a wider cabinet.gap may do better.",
			joints(n), angle(slices.Max(a.Steps))))
	case end == line.HighEnd:
		out = append(out, result.Say("%s at the largest of line.splay_steps, %s: a larger step may do better.", joints(n), angle(slices.Max(a.Steps))))
	}
	if n := a.GainEnd(a.Gains); n > 0 {
		out = append(out, result.Say("%s at the least of line.gain_steps, %s: a lower one may do better.", counted(n, "box stands", "boxes stand"), level(slices.Min(a.Gains))))
	}
	if n := a.DelayEnd(); n > 0 {
		out = append(out, result.Say("%s at the largest of line.delay_steps, %s: a larger one may do better.", counted(n, "box stands", "boxes stand"),
			result.Num(slices.Max(a.Delays), quantity.Time)))
	}
	return out
}

// counted is a number of things that stand somewhere.
func counted(n int, one, many string) result.Text {
	if n == 1 {
		return result.Say("%s "+one, result.Count(n))
	}
	return result.Say("%s "+many, result.Count(n))
}

// joints counts joints that stand somewhere.
func joints(n int) result.Text {
	return counted(n, "joint stands", "joints stand")
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
			under("even", result.Word(map[bool]string{true: "octaves", false: "dba"}[a.Even.Octaves > 0])), fact(figure.AimOctaves, a.Even.From),
			list(figure.AimSteps, a.Steps), list(figure.AimTilts, up), entry("held_back_by", result.Phrases(v.aimEnds()))))
	return s
}

func candidateData(key string, c *field.Candidate, f figure.Candidate) result.Section {
	rows := []result.Row{list(f.Splay, c.Splay), fact(f.Tilt, 0-c.Tilt)}
	if c.Shading != nil {
		rows = append(rows, list(f.Shading, c.Shading))
	}
	if c.Delays != nil {
		rows = append(rows, list(f.Delays, c.Delays))
	}
	rows = append(rows, fact(f.Spread, c.Spread), fact(f.Back, c.Back), fact(f.OverRow, c.OverRow), fact(f.Cost, c.Cost),
		fact(f.Octaves, c.Octaves), list(f.Bands, c.Bands), fact(f.Zone, c.Zone))
	return group(key, object(rows...))
}
