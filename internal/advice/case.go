package advice

import (
	"math"

	"gapline/cabinet/sizing"
	"gapline/internal/numeric"
	"gapline/internal/result"
)

// Supports is what the levels of trust that decide say for a design: those that close its
// gap, with what ends either side.
func (j *Judgement) Supports() []result.Text {
	var out []result.Text
	for _, l := range j.Decides {
		if g := &j.Levels[l]; g.Given && g.Verdict == GapMet {
			out = append(out, result.Say("Closed %s, %s: %s.", By(l), gapIn(g.Gap), g.sides()))
		}
	}
	return out
}

// Ifs says, where the levels of trust that decide are divided, what holds if one that
// leaves the gap open is right, and what either side would have to do.
func (j *Judgement) Ifs() []result.Text {
	if j.Verdict != GapDivided {
		return nil
	}
	var out []result.Text
	for _, l := range j.Decides {
		if g := &j.Levels[l]; g.Given && g.Verdict == GapMissed && !math.IsInf(g.Gap, 0) {
			out = append(out, result.Say("If the "+levelWord(l)+" right, nothing serves %s to %s: what meets the horn would have to serve to %s, or the horn from %s.",
				hertz(g.Low.Hz), hertz(g.High.Hz), hertz(g.High.Hz), hertz(g.Low.Hz)))
		}
	}
	return out
}

// levelWord names a level as the subject of a sentence, with its verb.
func levelWord(l sizing.Level) string {
	if l == sizing.ByMeasured {
		return "measurements are"
	}
	return LevelNames[l] + " level is"
}

// sides are the two ends of a gap with what sets them.
func (g *JudgedLevel) sides() result.Text {
	return result.Say("what meets the horn serves to %s, the horn from %s", boundText(g.Low), boundText(g.High))
}

// unlikeOctaves is how far two levels of trust must put one limit apart, in octaves, to
// contradict each other: a third.
const unlikeOctaves = 1.0 / 3

// Contradictions says where levels of trust that are given part: over the verdict, or over
// one side by more than a third of an octave.
func (j *Judgement) Contradictions() []result.Text {
	var out []result.Text
	before := -1
	for l := range sizing.LevelCount {
		g := &j.Levels[l]
		if !g.Given || !numeric.Given(g.Gap) {
			continue
		}
		if before >= 0 {
			b := sizing.Level(before)
			h := &j.Levels[b]
			split := g.Verdict != h.Verdict
			out = append(out, parts(&g.High, &h.High, l, b, split, "the horn serves from %s")...)
			out = append(out, parts(&g.Low, &h.Low, l, b, split, "what meets the horn serves to %s")...)
		}
		before = int(l)
	}
	return out
}

// parts says where two levels put one side; nothing where they are near each other.
func parts(now, then *sizing.Bound, l, b sizing.Level, split bool, form string) []result.Text {
	by := math.Log2(now.Hz / then.Hz)
	if !(math.Abs(by) > unlikeOctaves) && !(split && math.Abs(by) > likePrinted) {
		return nil
	}
	side := "above"
	if by < 0 {
		side = "below"
	}
	text := result.Say(form+" %s, %s "+side+" what holds %s: %s.", boundText(*now), By(l), octaves(by), By(b), result.Say("%s", hertz(then.Hz)))
	if split {
		text = text.And(result.Plain(" The two levels judge the gap differently."))
	}
	return []result.Text{capitalized(text)}
}

// capitalized sets the first letter of a text's form large.
func capitalized(t result.Text) result.Text {
	t.Form = capital(t.Form)
	return t
}
