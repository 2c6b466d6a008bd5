package advice

import (
	"math"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/result"
	"gapline/internal/schema"
	"gapline/internal/study/fit"
	"gapline/waveguide"
)

// gap gives the verdict, and the levers when it is bad.
func (f *finder) gap() {
	g := &f.s.Gap
	key := figure.GapOpen.Key
	if f.s.Coupling.HasInsert {
		key = figure.GapInsert.Key
	}
	if math.IsNaN(g.AsGiven()) {
		return // missing says what is needed
	}
	j := &f.judged
	sev := verdictSeverity[j.Verdict]
	f.add(sev, key, "%s", j.line(f.s))
	if j.Verdict == GapMet {
		return
	}
	for _, l := range j.Proposes(f.d, f.links, f.s) {
		f.out = append(f.out, result.Finding{Severity: result.Try, Key: l.Key, Text: l.Text})
	}
	if j.Levels[j.Decides[0]].Verdict == GapMissed {
		f.hornFloor(j.Target)
	}
}

// Proposes lists the changes that would close the gap, where rule or aperture leaves it open
// and decides.
func (j *Judgement) Proposes(d *design.Design, links []schema.Link, s *sizing.Sizing) []Lever {
	for _, l := range j.Decides {
		if l < sizing.ByWave && j.Levels[l].Verdict == GapMissed { // levers aim at rule and aperture
			return leversFor(d, links, s, j.Target, j.runs)
		}
	}
	return nil
}

// hornFloor says when no horn change alone can close the gap, and why.
func (f *finder) hornFloor(target float64) {
	need := f.s.Gap.Low * math.Exp2(target)
	switch {
	case f.d.Horn.Lowest.Value() > need:
		f.add(result.Note, "horn.lowest", "No change of the horn alone closes it: the compression driver goes no lower than %s.", hertz(f.d.Horn.Lowest.Value()))
	case waveguide.FlareMargin*f.s.Horn.Cutoff > need:
		f.add(result.Note, figure.HornCutoff.Key, "No change of the mouth's pattern alone closes it: the flare carries only from %s.", hertz(waveguide.FlareMargin*f.s.Horn.Cutoff))
	}
}

// handover judges the crossover between woofers and mids. Nothing above aperture knows it, so
// that a file that lets a higher level decide leaves it to what there is.
func (f *finder) handover() {
	if !f.s.Coupling.HasMid {
		return
	}
	lowest := f.d.Mid.Lowest.Value()
	if !numeric.Given(lowest) {
		f.add(result.Note, "mid.lowest", "mid.lowest, the mids' lowest crossover frequency, is not given: the hand-over from woofers to mids is not judged.")
		return
	}
	d := *f.d
	if d.Targets.Trust > design.ApertureDecides {
		d.Targets.Trust = 0
	}
	j := JudgeMids(&d, f.s, &fit.Fit{})
	f.add(verdictSeverity[j.Verdict], figure.GapWooferMid.Key, "Woofers to mids, which start at %s: %s.", hertz(lowest), j.said(f.s, strings.ToLower))
}

// missing says which keys the gap still needs.
func (f *finder) missing() {
	if !math.IsNaN(f.s.Gap.AsGiven()) {
		return
	}
	f.add(result.Note, figure.GapOpen.Key, "The gap needs %s.", f.lacking("cabinet.height", "horn.coverage", "horn.mouth_width"))
}

// lacking lists those of the keys that the design does not give.
func (f *finder) lacking(keys ...string) string {
	given := map[string]bool{
		"cabinet.height":        numeric.Given(f.d.Pitch()),
		"line.boxes":            f.d.Line.Boxes > 0,
		"horn.coverage":         f.d.Horn.Coverage.Given(),
		"horn.mouth_width":      f.d.Horn.MouthWidth.Given(),
		"insert.mouth_height":   f.d.Insert.MouthHeight.Given(),
		"insert.mouth_width":    f.d.Insert.MouthWidth.Given(),
		"insert.slot_depth":     f.d.Insert.SlotDepth.Given(),
		"insert.chamber_volume": f.d.Insert.ChamberVolume.Given(),
	}
	var out []string
	for _, k := range keys {
		if !given[k] {
			out = append(out, k)
		}
	}
	if len(out) == 0 {
		return "nothing more"
	}
	return strings.Join(out, ", ")
}
