package advice

import (
	"math"
	"slices"

	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/trace"
)

// levelsApart is a mean difference in dB from which a hint at the alignment is given.
const levelsApart = 20

// PartingRule says what counts as parting.
const PartingRule = "It is the upper end of the lowest range at least an octave wide in which the pair agrees; partings narrower than 1/6 octave are set aside."

// ControlRule says what counts as holding a pattern.
const ControlRule = "It is the lowest frequency from which that holds for half an octave or to the end of the data, as wave reads it off a run."

// Apart is the hint beside a trace whose level lies far from what it is laid over;
// empty where it does not, or where levels were moved.
func Apart(v *trace.Overlay, c *trace.Curve) result.Text {
	if v.Band[1] > 0 || c.Difference == nil || c.Octaves == nil {
		return result.Text{}
	}
	if whole := c.Octaves[len(c.Octaves)-1]; math.Abs(whole.Mean) <= levelsApart {
		return result.Text{}
	}
	return result.Plain("levels far apart: --align LOW:HIGH brings them together")
}

// Parting says in one sentence where a pair parts, and what that means: of stacks an end of
// coupling, of one box a change of its level.
func Parting(v *trace.Overlay, p *trace.Pair) result.Text {
	db := result.Num(v.Options.PartLevel, quantity.Level).As(quantity.Style{Verb: "±%.14g"})
	if p.Of == trace.OfEdge {
		return control(p)
	}
	switch q := p.Parting; {
	case !numeric.Given(q.From) && p.Of == trace.OfStacks:
		return result.Say("Nowhere within %s over an octave or more: no coupling limit can be read.", db)
	case !numeric.Given(q.From):
		return result.Say("Nowhere within %s over an octave or more: the level changes throughout.", db)
	case !numeric.Given(q.Limit):
		return result.Say("Within %s from %s to the end of the data at %s: the pair does not part.", db, hertz(q.From), hertz(q.Until))
	case p.Of == trace.OfStacks:
		return result.Say("Within %s from %s to %s: measured coupling limit %s.", db, hertz(q.From), hertz(q.Limit), hertz(q.Limit))
	default:
		return result.Say("Within %s from %s to %s, where the insert begins to change the level of the box. That is no coupling limit: one is read from stacks (--stacks).",
			db, hertz(q.From), hertz(q.Limit))
	}
}

// control says from where a horn holds its pattern.
func control(p *trace.Pair) result.Text {
	if !numeric.Given(p.Control) {
		return result.Plain("The level at the edge stays 6 dB under the axis nowhere for half an octave: no pattern control can be read.")
	}
	return result.Say("From %s on the level at the edge lies 6 dB or more under the axis: measured pattern control %s.", hertz(p.Control), hertz(p.Control))
}

// Rule says what was read off a pair, and how.
func Rule(p *trace.Pair) string {
	if p.Of == trace.OfEdge {
		return ControlRule
	}
	return PartingRule
}

// TraceFindings say where each pair parts.
func TraceFindings(v *trace.Overlay) []result.Finding {
	var l list
	for i := range v.Pairs {
		p := &v.Pairs[i]
		l.add(result.Note, "trace", "%s minus %s: %s", p.With, p.Without, Parting(v, p))
	}
	return l.out
}

// TraceCautions stand beside measured responses, and beside what pairs of them say of
// a stack.
func TraceCautions(v *trace.Overlay) []result.Finding {
	var l list
	l.add(result.Caution, "trace", MeasuringCaution)
	if slices.ContainsFunc(v.Pairs, func(p trace.Pair) bool { return p.Of == trace.OfStacks }) {
		l.add(result.Caution, "line.boxes", SuspensionCaution)
	}
	return l.out
}
