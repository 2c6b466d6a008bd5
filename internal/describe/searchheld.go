package describe

import (
	"fmt"
	"math"

	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/schema"
	"gapline/internal/study/space"
	"gapline/waveguide"
)

// easedBy is how far things are eased, in words.
var easedBy = fmt.Sprintf("%g %%", 100*space.EasedBy)

// heldRule says how what holds a design back is found.
var heldRule = "Found by easing each limit, end of a range and side of the gap in turn, by " + easedBy +
	" of its range or frequency or one step of its list, and searching again. In brackets: eased to what, and what that gives."

// heldBack says what holds each design back.
func (v search) heldBack() result.Section {
	p := result.Prose{Shown: result.At(result.Screen), Indent: "  "}
	for i := range v.found.Best {
		c := &v.found.Best[i]
		text := joined("; ", v.holdTexts(c)...)
		switch {
		case len(c.Held) > 0:
		case !c.Asked:
			text = result.Plain("not asked: the search was stopped")
		case c.Beaten:
			text = result.Plain("nothing: better designs lie beside it, within the same ranges and limits")
		case len(v.Table.Goals) > 1:
			text = result.Plain("its other goals: no limit, range or side of the gap binds")
		default:
			text = result.Plain("nothing: no limit, range or side of the gap binds")
		}
		p.Marks, p.Texts = append(p.Marks, c.Label), append(p.Texts, text)
	}
	rule := result.Prose{Shown: p.Shown, Indent: "  ", Texts: []result.Text{result.Plain(heldRule)}}
	return result.Section{Shown: p.Shown, Spaced: true, Title: result.Plain("HELD BACK BY"), Parts: []result.Part{p, rule}}
}

// holdTexts says in words what holds a design back, and what it gives.
func (v search) holdTexts(c *space.Candidate) []result.Text {
	out := make([]result.Text, len(c.Held))
	for i := range c.Held {
		h := &c.Held[i]
		what, eased := v.hold(c, h)
		out[i] = result.Say("%s (%s: %s)", what, eased, v.gains(h))
	}
	return out
}

// hold says what holds a design back, and how it was eased.
func (v search) hold(c *space.Candidate, h *space.Hold) (what, eased result.Text) {
	switch h.By {
	case space.ByLimit:
		to := h.Limit
		to.Value = h.To
		return result.Say("the limit %s", limitText(h.Limit)), result.Say("%s", limitValue(to))
	case space.ByLowEnd:
		return v.end(h, "low")
	case space.ByHighEnd:
		return v.end(h, "high")
	case space.ByGap:
		way := " higher"
		if h.Gap.Above() {
			way = " lower"
		}
		return v.gapSide(c, h.Gap), result.Plain(easedBy + way)
	}
	return refusals(h.Refused), result.Plain("let pass within " + easedBy + " of the ranges")
}

// refusals say what designs beside one are refused for: the first reason, and how many
// more there are.
func refusals(list []*space.Refusal) result.Text {
	text := result.Plain(refusalText(list[0]))
	if n := len(list) - 1; n > 0 {
		text = text.And(result.Say(" and %s more", result.Count(n)))
	}
	return text
}

// refusalText says what designs beside one are refused for.
func refusalText(r *space.Refusal) string {
	if len(r.Keys) == 0 {
		return r.Text
	}
	return "a contradiction: " + r.Text
}

func (v search) end(h *space.Hold, which string) (what, eased result.Text) {
	what = result.Say("%s at its "+which+" end, %s", h.Value.Key.Path, keyCell(h.Value))
	eased = result.Say("%s", keyCell(schema.NumberValue(h.Value.Key, h.To)))
	if h.Refused != nil {
		return result.Say("%s, and beyond it %s", what, refusals(h.Refused)), result.Say("%s let pass", eased)
	}
	return what, eased
}

// gapSide names a limit of the gap by its figure or key, with its value.
func (v search) gapSide(c *space.Candidate, l sizing.GapLimit) result.Text {
	if path := space.GapKeys[l]; path != "" {
		k := schema.FindKey(path)
		return result.Say("%s, %s", path, result.Num(k.Number(&c.Design), k.Kind))
	}
	f := v.gapFigure(c, l)
	value := result.Fig(f, space.Value(schema.Measure{Figure: f}, &c.Design, &c.Sizing))
	if l == sizing.GapFlare {
		return result.Say("%s, %s, of which the horn needs %s times", f.Key, value, result.Num(waveguide.FlareMargin, quantity.Number))
	}
	return result.Say("%s, %s", f.Key, value)
}

// gapFigures are the figures of the limits of the gap that one figure stands for, whatever
// the criterion.
var gapFigures = map[sizing.GapLimit]*figure.Def{
	sizing.GapChamber: figure.CouplingInsertChamber, sizing.GapCoupled: figure.CouplingInsertCoupled,
	sizing.GapInPhase: figure.CouplingInsertInPhase, sizing.GapPart: figure.CouplingInsertPart,
	sizing.GapPattern: figure.HornPatternRule, sizing.GapPatternComputed: figure.HornPatternComputed, sizing.GapFlare: figure.HornCutoff,
}

// gapFigure is the figure of a limit of the gap that is worked out.
func (v search) gapFigure(c *space.Candidate, l sizing.GapLimit) *figure.Def {
	if f := gapFigures[l]; f != nil {
		return f
	}
	line := figure.CouplingOpen
	switch {
	case l == sizing.GapSpacing && c.Design.HasMid():
		line = figure.CouplingMid
	case c.Design.HasInsert() && !v.isGoal(schema.Measure{Figure: figure.GapOpen}):
		line = figure.CouplingInsert
	}
	if c.Design.Basis().Computed() {
		return line.Lobe
	}
	return line.HalfWave
}

// gains says by how much each goal then changes.
func (v search) gains(h *space.Hold) result.Text {
	var out []result.Text
	for i, g := range v.Table.Goals {
		d := h.Change[i]
		if d == 0 {
			continue
		}
		sign := "+"
		if d < 0 {
			sign = "−"
		}
		size := result.Num(math.Abs(d), g.Of.Kind())
		if size.Kind == quantity.Octaves {
			size = size.As(quantity.Style{Verb: "%.3f"}) // finer than a gap is shown
		}
		out = append(out, result.Say(g.Of.Name()+" "+sign+"%s", size))
	}
	return joined(", ", out...)
}
