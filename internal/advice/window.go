package advice

import (
	"math"

	"gapline/cabinet/source"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/result"
)

// Serves returns the window that both sides serve at every level of trust that decides, Hz;
// NaN where there is none. to is +Inf where nothing ends it.
func (j *Judgement) Serves() (from, to float64) {
	for _, l := range j.Decides {
		if g := &j.Levels[l]; !g.Given || !numeric.Given(g.Gap) {
			return numeric.Absent, numeric.Absent
		}
	}
	if from, to = j.Window(); !(from <= to) {
		return numeric.Absent, numeric.Absent
	}
	return from, to
}

// deciders names the levels that decide: "rule and aperture, which decide".
func (j *Judgement) deciders() string {
	text := ""
	for i, l := range j.Decides {
		text += listed(i, len(j.Decides)) + LevelNames[l]
	}
	if len(j.Decides) == 1 {
		return text + ", which decides"
	}
	return text + ", which decide"
}

// twoWindows tells where the levels that decide the gap leave another window to the horn's
// crossover than its basis does, which alone the window of a handover follows; without
// always only where the crossover lies in one of them and not in the other.
func (l *list) twoWindows(x handed, basis string, j *Judgement, always bool) {
	from, to := j.Serves()
	unlike := func(a, b float64) bool { return a != b && !(math.Abs(a-b) <= likePrinted*math.Abs(b)) }
	open := math.IsNaN(from)
	switch {
	case x.high != source.Horn || !x.Known() || open && x.Open:
		return
	case open == x.Open && !unlike(from, x.From) && !unlike(to, x.To):
		return
	}
	within := func(from, to float64) bool {
		return x.frequency >= from*(1-likePrinted) && x.frequency <= to*(1+likePrinted)
	}
	first, second := !x.Open && within(x.From, x.To), !open && within(from, to)
	if first == second && !always {
		return
	}
	where := result.Text{}
	if first != second {
		which := "first"
		if second {
			which = "second"
		}
		where = result.Say(" The crossover at %s lies within the "+which+" alone.", hertz(x.frequency))
	}
	on, by := result.Say("no frequency"), result.Say("no frequency")
	if !x.Open {
		on = spanText(x.From, x.To)
	}
	if !open {
		by = spanText(from, to)
	}
	l.add(result.Note, figure.GapWindowLow.Key, "On the "+basis+" basis both bands cover %s; by "+j.deciders()+" the gap, %s.%s", on, by, where)
}

// spanText is a range of frequencies.
func spanText(from, to float64) result.Text {
	if math.IsInf(to, 1) {
		return result.Say("all from %s", hertz(from))
	}
	return result.Say("%s to %s", hertz(from), hertz(to))
}
