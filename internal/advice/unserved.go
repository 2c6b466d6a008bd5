package advice

import (
	"slices"

	"gapline/cabinet/sizing"
	"gapline/internal/result"
)

// unserved says which frequencies neither side serves, at each level that decides; levels
// that agree on an end, or on both, share it.
func (j *Judgement) unserved() result.Text {
	low := j.ends(func(l sizing.Level) sizing.Bound { return j.Levels[l].Low })
	high := j.ends(func(l sizing.Level) sizing.Bound { return j.Levels[l].High })
	if len(low) == 1 || len(high) == 1 {
		return result.Say(": neither serves %s to %s", byLevel(low), byLevel(high))
	}
	text := result.Plain(": neither serves ")
	for i, l := range j.Decides {
		g := &j.Levels[l]
		text = text.And(result.Say(listed(i, len(j.Decides))+"%s to %s by "+LevelNames[l], boundText(g.Low), boundText(g.High)))
	}
	return text
}

// listed is what joins item i of n to those before it.
func listed(i, n int) string {
	switch {
	case i == 0:
		return ""
	case i == n-1:
		return " and "
	}
	return ", "
}

// levelEnd is an end of the gap with the levels that see it there.
type levelEnd struct {
	sizing.Bound
	who string
}

// ends lists one end of the gap at the levels that decide.
func (j *Judgement) ends(of func(sizing.Level) sizing.Bound) []levelEnd {
	var out []levelEnd
	for _, l := range j.Decides {
		b := of(l)
		same := func(e levelEnd) bool { return e.Hz == b.Hz && LimitWords[e.By] == LimitWords[b.By] }
		if at := slices.IndexFunc(out, same); at >= 0 {
			out[at].who += " and " + LevelNames[l]
			continue
		}
		out = append(out, levelEnd{b, LevelNames[l]})
	}
	return out
}

// byLevel lists ends with who sees them there: of one that all share nobody is named, and
// one limit of all is named once.
func byLevel(ends []levelEnd) result.Text {
	if len(ends) == 1 {
		return boundText(ends[0].Bound)
	}
	word := LimitWords[ends[0].By]
	same := !slices.ContainsFunc(ends, func(e levelEnd) bool { return LimitWords[e.By] != word })
	var text result.Text
	for i, e := range ends {
		what := boundText(e.Bound)
		if same {
			what = result.Say("%s", hertz(e.Hz))
		}
		text = text.And(result.Say(listed(i, len(ends))+"%s by "+e.who, what))
	}
	if same {
		text = text.And(result.Say(" (%s)", word))
	}
	return text
}

func boundText(b sizing.Bound) result.Text {
	return result.Say("%s (%s)", hertz(b.Hz), LimitWords[b.By])
}
