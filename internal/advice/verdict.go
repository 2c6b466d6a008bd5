package advice

import (
	"math"
	"slices"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/result"
	"gapline/internal/study/fit"
)

// Verdict is the judgement of the gap.
type Verdict uint8

// The verdicts, in the order in which one goes before another.
const (
	GapMisfit  Verdict = iota // the box cannot be built as it is given
	GapDivided                // one level of trust closes the gap, another leaves it open
	GapUnknown                // the design does not give enough
	GapMissed                 // the gap is wider than allowed
	GapMet
	verdictCount
)

var verdicts = [verdictCount]string{"misfit", "divided", "unknown", "missed", "met"}

// String returns the word in JSON.
func (v Verdict) String() string { return verdicts[v] }

// LevelNames are the words of the levels of trust.
var LevelNames = [sizing.LevelCount]string{sizing.ByRule: "rule", sizing.ByAperture: "aperture", sizing.ByWave: "wave", sizing.ByMeasured: "measured"}

// By names a level of trust in a sentence: "by rule", "as measured".
func By(l sizing.Level) string {
	if l == sizing.ByMeasured {
		return "as measured"
	}
	return "by " + LevelNames[l]
}

// Judgement is the verdict on the gap with what each level of trust says of it.
type Judgement struct {
	Verdict Verdict
	Levels  [sizing.LevelCount]JudgedLevel
	Target  float64 // widest gap allowed, octaves
	Decides []sizing.Level

	runs func(*design.Design) sizing.WaveSizing // of changed designs; nil: none
}

// JudgedLevel is one level's gap and verdict.
type JudgedLevel struct {
	sizing.LevelGap
	Verdict Verdict
}

// Judge gives the verdict on a design's gap.
func Judge(d *design.Design, s *sizing.Sizing, fits *fit.Fit) Judgement {
	return judge(d, sizing.Levels(d, s), fits)
}

// JudgeMids gives the verdict on the gap between woofers and mids.
func JudgeMids(d *design.Design, s *sizing.Sizing, fits *fit.Fit) Judgement {
	return judge(d, sizing.MidLevels(d, s), fits)
}

func judge(d *design.Design, levels [sizing.LevelCount]sizing.LevelGap, fits *fit.Fit) Judgement {
	j := Judgement{Target: d.Targets.Gap.Or(0), runs: fits.Runs}
	for l, g := range levels {
		j.Levels[l] = JudgedLevel{g, judgeLevel(&g, j.Target)}
	}
	j.decide(d.Targets.Trust)
	j.Verdict = j.overall(len(fits.Misfits) > 0)
	return j
}

// judgeLevel judges one level. What is not known could only widen the gap; a gap whose own
// uncertainty spans the target is not known.
func judgeLevel(g *sizing.LevelGap, target float64) Verdict {
	switch {
	case !numeric.Given(g.Gap):
		return GapUnknown
	case g.Range[0] > target:
		return GapMissed
	case len(g.Unknown) > 0 || g.Range[1] > target:
		return GapUnknown
	}
	return GapMet
}

// decide chooses the levels whose verdicts count: the one that the file names, or all that
// have figures of their own.
func (j *Judgement) decide(by design.Deciding) {
	if by != 0 {
		j.Decides = []sizing.Level{sizing.Level(by - 1)}
		return
	}
	for l := range sizing.LevelCount {
		if j.Levels[l].Given {
			j.Decides = append(j.Decides, l)
		}
	}
}

func (j *Judgement) overall(misfit bool) Verdict {
	var yes, no, open bool
	for _, l := range j.Decides {
		switch v := j.Levels[l].Verdict; {
		case !j.Levels[l].Given:
			open = true
		case v == GapMet:
			yes = true
		case v == GapMissed:
			no = true
		default:
			open = true
		}
	}
	switch {
	case misfit:
		return GapMisfit
	case yes && no:
		return GapDivided
	case open:
		return GapUnknown
	case no:
		return GapMissed
	}
	return GapMet
}

// Below is the line of mouths that meets the horn.
func Below(s *sizing.Sizing) figure.Line {
	if s.Coupling.HasMid {
		return figure.CouplingMid
	}
	return WoofersLine(s)
}

// WoofersLine is the line of mouths through which the woofers radiate.
func WoofersLine(s *sizing.Sizing) figure.Line {
	if s.Coupling.HasInsert {
		return figure.CouplingInsert
	}
	return figure.CouplingOpen
}

// LimitFigure is the figure or key of a limit, of a line of mouths where it is the criterion.
func LimitFigure(line figure.Line, by sizing.Limit) string {
	return [sizing.LimitCount]string{
		sizing.HalfWave: line.HalfWave.Key, sizing.Lobe: line.Lobe.Key,
		sizing.ChamberRule: figure.CouplingInsertChamber.Key, sizing.ChamberCoupled: figure.CouplingInsertCoupled.Key,
		sizing.InPhaseRule: figure.CouplingInsertInPhase.Key, sizing.MouthsPart: figure.CouplingInsertPart.Key, sizing.CouplingMeasured: figure.CouplingMeasured.Key,
		sizing.LobeWave: figure.CouplingLobeWave.Key, sizing.ChamberWave: figure.CouplingInsertChamberWave.Key, sizing.MouthsPartWave: figure.CouplingInsertPartWave.Key,
		sizing.PatternRule: figure.HornPatternRule.Key, sizing.PatternComputed: figure.HornPatternComputed.Key, sizing.PatternWave: figure.HornPatternWave.Key, sizing.PatternMeasured: figure.HornPatternMeasured.Key,
		sizing.FlareCutoff: figure.HornCutoff.Key, sizing.DriverLowest: "horn.lowest", sizing.MidsLowest: "mid.lowest",
	}[by]
}

// LimitWords say what a limit is.
var LimitWords = [sizing.LimitCount]string{
	sizing.HalfWave: "half wave", sizing.Lobe: "lobe", sizing.ChamberRule: "chamber corner", sizing.ChamberCoupled: "chamber corner",
	sizing.InPhaseRule: "mouths in phase", sizing.MouthsPart: "mouths in phase", sizing.CouplingMeasured: "stacks part",
	sizing.LobeWave: "lobe", sizing.ChamberWave: "chamber corner", sizing.MouthsPartWave: "mouths in phase",
	sizing.PatternRule: "pattern", sizing.PatternComputed: "pattern", sizing.PatternWave: "pattern", sizing.PatternMeasured: "pattern",
	sizing.FlareCutoff: "1.2 × flare cutoff", sizing.DriverLowest: "driver's lowest", sizing.MidsLowest: "mids' lowest",
}

// Window is the range of frequencies that both sides serve at every level that decides, Hz.
func (j *Judgement) Window() (from, to float64) {
	from, to = 0, math.Inf(1)
	for _, l := range j.Decides {
		g := &j.Levels[l]
		from, to = math.Max(from, g.High.Hz), math.Min(to, g.Low.Hz)
	}
	return from, to
}

// severities of the verdicts.
var verdictSeverity = [verdictCount]result.Severity{GapMisfit: result.Note, GapDivided: result.Divided, GapUnknown: result.Unknown, GapMissed: result.Missed, GapMet: result.Met}

// line is the verdict in a sentence: what each level that decides says, what the others
// contradict, and what a closed gap's window is.
func (j *Judgement) line(s *sizing.Sizing) result.Text {
	text := j.said(s, capital)
	if !slices.Contains(j.Decides, sizing.ByWave) {
		if w := &j.Levels[sizing.ByWave]; w.Given {
			text = text.And(result.Say("; by wave %s", gapIn(w.Gap)))
		} else {
			text = text.And(result.Plain("; wave not run (gapline wave)"))
		}
	}
	if m := &j.Levels[sizing.ByMeasured]; m.Given && !slices.Contains(j.Decides, sizing.ByMeasured) {
		text = text.And(result.Say("; as measured %s", gapIn(m.Gap)))
	}
	switch v := j.Verdict; {
	case v == GapMet:
		if from, to := j.Window(); math.IsInf(to, 1) {
			text = text.And(result.Say(". The horn may take over anywhere above %s", hertz(from)))
		} else if from <= to {
			text = text.And(result.Say(": cross over between %s and %s, say at %s", hertz(from), hertz(to), hertz(math.Sqrt(from*to))))
		}
	case v == GapMissed:
		text = text.And(j.unserved())
	}
	return text.And(result.Plain("."))
}

// said is what the levels that decide say: "Closed by rule (0.25 oct of overlap) and …";
// begin sets its first word.
func (j *Judgement) said(s *sizing.Sizing, begin func(string) string) result.Text {
	var text result.Text
	last := verdictCount
	for i, l := range j.Decides {
		g := &j.Levels[l]
		v := g.Verdict
		if !g.Given && l >= sizing.ByWave {
			v = GapUnknown
		}
		word, join := "", ", "
		if v != last {
			word = [verdictCount]string{GapMissed: "open", GapMet: "closed", GapUnknown: "not known"}[v] + " "
		} else {
			join = " and "
		}
		if i == 0 {
			word, join = begin(word), ""
		}
		last = v
		text = text.And(result.Say("%s%s%s (%s)", join, word, By(l), j.levelWords(s, l)))
	}
	return text
}

// levelWords is a level's gap with what binds it, or what it would take to close it.
func (j *Judgement) levelWords(s *sizing.Sizing, l sizing.Level) result.Text {
	g := &j.Levels[l]
	switch {
	case l == sizing.ByWave && !g.Given:
		return result.Plain("no run: gapline wave")
	case l == sizing.ByMeasured && !g.Given:
		return result.Plain("no traces that count: gapline trace --write")
	case !numeric.Given(g.Gap):
		return result.Plain("a side is missing")
	case g.Verdict == GapUnknown && g.Range[1] > j.Target:
		return result.Say("between %s and %s, as near as %s can tell", gapIn(g.Range[0]), gapIn(g.Range[1]), tellers[l])
	case g.Verdict == GapUnknown:
		return result.Say("closed if the %s is above %s: %s", LimitWords[g.Unknown[0]], hertz(g.High.Hz/math.Exp2(j.Target)), LimitFigure(Below(s), g.Unknown[0]))
	}
	switch gap := g.Gap; {
	case gap > j.Target:
		return result.Say("%s", octaves(gap))
	case gap > 0:
		return result.Say("%s open, within the %s allowed", octaves(gap), octaves(j.Target))
	}
	return gapIn(g.Gap)
}

// tellers are what a level's figures are read off.
var tellers = [sizing.LevelCount]string{sizing.ByRule: "the rule", sizing.ByAperture: "the integral", sizing.ByWave: "the run", sizing.ByMeasured: "the traces"}

// gapIn is a gap in words.
func gapIn(gap float64) result.Text {
	switch {
	case math.IsInf(gap, -1):
		return result.Plain("no limit")
	case gap > 0:
		return result.Say("%s open", octaves(gap))
	}
	return result.Say("%s of overlap", octaves(gap))
}
