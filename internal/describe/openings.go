package describe

import (
	"math"

	"gapline/cabinet/sizing"
	"gapline/driver"
	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/box"
	"gapline/internal/study/fold"
	"gapline/internal/study/horn"
	"gapline/internal/study/line"
	"gapline/internal/study/size"
	"gapline/internal/study/space"
	"gapline/internal/study/trace"
)

// The sentences with which the sections of the review document open: what each shows for
// the question whether woofers and horn meet, and at what price.

// OpeningStrip is that of the frequency strip.
func OpeningStrip(s *sizing.Sizing, j *advice.Judgement) result.Text {
	var parts []result.Text
	for l := range sizing.LevelCount {
		g := &j.Levels[l]
		switch {
		case !g.Given || !numeric.Given(g.Gap):
		case math.IsInf(g.Gap, -1):
			parts = append(parts, result.Say("nothing ends the overlap %s", advice.By(l)))
		case g.Gap > 0:
			parts = append(parts, result.Say("%s lie open %s", hundredths(g.Gap), advice.By(l)))
		default:
			parts = append(parts, result.Say("%s overlap %s", hundredths(-g.Gap), advice.By(l)))
		}
	}
	if len(parts) == 0 {
		return result.Plain("Where the two bands end is not known: the file does not give enough.")
	}
	what := "woofers"
	if s.Coupling.HasMid {
		what = "mids"
	}
	return result.Say("Between %s and horn %s.", what, joined(", ", parts...))
}

// OpeningBox is that of the low end.
func OpeningBox(st *box.Study) result.Text {
	text := result.Text{}
	if f3 := st.Sizing.Box.F3; numeric.Given(f3) {
		text = result.Say("One box is half power down at %s", result.Fig(figure.BoxF3, f3))
	} else {
		text = result.Plain("The low end of one box is worked out")
	}
	if m := &st.MaxAt; numeric.Given(m.Level) {
		text = text.And(result.Say(" and plays at most %s at %s, where %s stops it", level(m.Level), hertz(m.Frequency), stopping[m.Limit]))
	}
	return text.And(result.Plain("."))
}

var stopping = map[driver.Limit]string{driver.NoLimit: "nothing given", driver.ExcursionLimit: "the cones' travel", driver.PowerLimit: "the coils' power",
	driver.RadiatorExcursion: "the passive radiator's travel"}

// OpeningInsert is that of the insert.
func OpeningInsert(st *box.Study) result.Text {
	k := &st.Sizing.Coupling
	text := result.Say("The insert brings the spacing's limit from %s to %s (half wave)", hertz(k.Open.HalfWave), hertz(k.Insert.HalfWave))
	if corner := least(k.Insert.Chamber, k.Insert.Coupled); numeric.Given(corner) {
		text = text.And(result.Say(", its chamber ends the band at %s", hertz(corner)))
	}
	if st.Insert != nil {
		e := &st.Insert.Effect
		text = text.And(result.Say("; the price is a peak of %s at %s", level(e.Peak), hertz(e.PeakFrequency)))
		if numeric.Given(e.LimitSpeed) {
			text = text.And(result.Say(" and air at %s in its mouths", result.Fig(figure.InsertLimitSpeed, e.LimitSpeed)))
		}
	}
	return text.And(result.Plain("."))
}

// OpeningHorn is that of the horn.
func OpeningHorn(st *horn.Study) result.Text {
	h := &st.Sizing.Horn
	var parts []result.Text
	for _, f := range []*figure.Def{figure.HornPatternRule, figure.HornPatternComputed, figure.HornPatternWave, figure.HornPatternMeasured} {
		if c := size.Cell(&st.Sizing, f); numeric.Given(c.SI) {
			parts = append(parts, result.Say("%s %s", c, byTrust(f.Trust)))
		}
	}
	if len(parts) == 0 {
		return result.Plain("From where the horn holds its coverage is not known.")
	}
	text := result.Say("The horn holds its %s from %s", angle(h.ExitCoverage), joined(", ", parts...))
	if numeric.Given(h.Narrowest) {
		text = text.And(result.Say("; above, it narrows to %s at %s", angle(h.Narrowest), hertz(h.NarrowestAt)))
	}
	return text.And(result.Plain("."))
}

// byTrust is "by rule" or "as measured".
func byTrust(t figure.Trust) string {
	if t == figure.Measured {
		return "as measured"
	}
	return "by " + t.String()
}

// OpeningFold is that of the folded path.
func OpeningFold(st *fold.Study) result.Text {
	s := &st.Sizing
	text := result.Say("The folded path is %s deep as built", size.Cell(s, figure.FoldBuiltDepth))
	if c := size.Cell(s, figure.FoldDepthSaved); numeric.Given(c.SI) {
		text = text.And(result.Say(", %s less than a straight one", c))
	}
	flat := size.Cell(s, figure.HornFlatTo)
	if math.IsInf(flat.SI, 1) {
		return text.And(result.Plain(", and its front is plane."))
	}
	return text.And(result.Say(", and its front is flat to a quarter wave up to %s.", flat))
}

// OpeningLine is that of the stack and its seats.
func OpeningLine(r *line.Result) result.Text {
	if r.Audience == nil {
		return result.Plain("What the stack radiates ahead; no seats are given.")
	}
	a := r.Audience
	text := result.Say("From the first row to the last the A-weighted level spreads over %s", level(a.Spread))
	if r.Maximum != nil && r.Maximum.Seats != nil {
		s := r.Maximum.Seats
		text = text.And(result.Say("; the largest programme gives the loudest seat, %s out, %s A-weighted", far(s.Seat[s.Loudest].X), level(s.LoudestLevel())))
	}
	return text.And(result.Plain("."))
}

// OpeningCrossover is that of the crossover.
func OpeningCrossover(c *line.Crossover) result.Text {
	text := result.Say("At %s, as given, the deepest notch within the coverage is %s", hertz(c.Crossing.Frequency), level(c.Given.Deepest.Loss))
	if c.Best == nil {
		return text.And(result.Plain("."))
	}
	what := "the best that was found"
	if c.LeastBad() {
		what = "the least bad that was found, in no band that both cover,"
	}
	return text.And(result.Say("; "+what+" leaves %s at %s.", level(c.Best.Sum.Deepest.Loss), hertz(c.Best.Frequency)))
}

// OpeningWave is that of the figures at the wave level.
func OpeningWave(s *sizing.Sizing, j *advice.Judgement) result.Text {
	g := &j.Levels[sizing.ByWave]
	if !g.Given || !numeric.Given(g.Gap) {
		return result.Plain("Whether the wave level bears the verdict out is not known: no run of this design is stored.")
	}
	below := &j.Levels[sizing.ByAperture]
	does := "bears the aperture level out"
	if g.Verdict != below.Verdict {
		does = "contradicts the aperture level"
	}
	text := result.Say("The wave level "+does+": the gap is %s by wave, %s by aperture", result.Fig(figure.GapByWave.Gap, g.Gap), result.Fig(figure.GapByAperture.Gap, below.Gap))
	if m := &j.Levels[sizing.ByMeasured]; m.Given && numeric.Given(m.Gap) {
		text = text.And(result.Say(", %s as measured", result.Fig(figure.GapByMeasured.Gap, m.Gap)))
	}
	return text.And(result.Plain("."))
}

// OpeningTolerance is that of the tolerances.
func OpeningTolerance(t *space.Tolerance, r *space.ToleranceResult) result.Text {
	v := tolerance{t, r}
	var parts []result.Text
	for l, f := range toleranceLevels {
		if share := v.closed(sizing.Level(l)); numeric.Given(share) {
			parts = append(parts, result.Say("%s close the gap %s", result.Fig(f, share), advice.By(sizing.Level(l))))
		}
	}
	text := result.Plain("What the tolerances do to the gap is not known")
	switch {
	case r.Samples > 0 && r.Fits == 0:
		return result.Plain("No box within the tolerances can be built.")
	case len(parts) > 0:
		text = result.Say("Of the boxes within the tolerances %s", joined(", ", parts...))
	}
	if len(r.Effects) > 0 && numeric.Given(r.Effects[0].Swing) && r.Effects[0].Swing > 0 {
		text = text.And(result.Say("; %s moves it most, by %s", r.Effects[0].Tolerance.Key.Path, result.Fig(figure.ToleranceMoves, r.Effects[0].Swing)))
	}
	return text.And(result.Plain("."))
}

// OpeningTrace is that of the measurements: how near each trace comes to its own
// prediction, and where pairs part.
func OpeningTrace(v *trace.Overlay) result.Text {
	var parts []result.Text
	for i := range v.Curves {
		c := &v.Curves[i]
		if c.Difference == nil || c.Octaves == nil || c.Prediction == nil {
			continue
		}
		whole := &c.Octaves[len(c.Octaves)-1]
		parts = append(parts, result.Say("%s keeps within %s of its prediction from %s to %s", c.Name, level(math.Abs(whole.Worst)), hertz(whole.Low), hertz(whole.High)))
	}
	if len(parts) == 0 {
		return result.Plain("What was measured, beside no prediction of its own.")
	}
	text := joined("; ", parts...)
	return text.And(result.Plain("."))
}

// Limiting says what pairs of traces say of an end of the gap, beside what is predicted for
// the design, and that none of it is in the verdict until it is kept.
func Limiting(v *trace.Overlay) []result.Text {
	var out []result.Text
	for i := range v.Pairs {
		p := &v.Pairs[i]
		var text result.Text
		switch {
		case p.Of == trace.OfStacks && numeric.Given(p.Parting.Limit):
			text = result.Say("%s and %s part at %s, where the one spaced wider ceases to couple", p.With, p.Without, hertz(p.Parting.Limit))
		case p.Of == trace.OfEdge && numeric.Given(p.Control):
			text = result.Say("By %s and %s the horn holds its pattern from %s", p.With, p.Without, hertz(p.Control))
		default:
			continue
		}
		var limits []result.Text
		for _, x := range p.Limits {
			limits = append(limits, result.Say("%s (%s)", hertz(x.Value), x.Trust.String()))
		}
		if len(limits) > 0 {
			text = text.And(result.Plain("; predicted for this design: ")).And(joined(", ", limits...))
		}
		out = append(out, text.And(result.Plain(". Not in the verdict: if it was taken on this design, gapline trace --write keeps it.")))
	}
	return out
}

// Turned says which tolerance by itself turns the verdict of a level of trust, and that
// none does.
func Turned(t *space.Tolerance, r *space.ToleranceResult) []result.Text {
	var out []result.Text
	for _, x := range t.Turns(r) {
		turns := "closes"
		if x.Opens {
			turns = "opens"
		}
		k := x.Tolerance.Key
		out = append(out, result.Say("%s at %s, within its tolerance, by itself "+turns+" the gap %s: %s.", k.Path, result.Num(x.At, k.Kind), advice.By(x.Level), result.Fig(gapLevels[x.Level].Gap, x.Gap)))
	}
	if len(out) == 0 && len(r.Effects) > 0 {
		out = append(out, result.Plain("No tolerance by itself turns the verdict by rule or by aperture."))
	}
	return out
}

// Swings says what each tolerance by itself makes of the gap, on its basis; empty where
// none moves it.
func Swings(t *space.Tolerance, r *space.ToleranceResult) result.Text {
	var parts []result.Text
	gap := space.GapFigure(t.Base)
	for i := range r.Effects {
		e := &r.Effects[i]
		if !numeric.Given(e.AtLow) || !numeric.Given(e.AtHigh) || !(e.Swing > 0) {
			continue
		}
		k := e.Tolerance.Key
		parts = append(parts, result.Say("%s %s to %s: %s", k.Path, result.Num(e.InLow, k.Kind), result.Num(e.InHigh, k.Kind), fromTo(gap, e.AtLow, e.AtHigh)))
	}
	if len(parts) == 0 {
		return result.Text{}
	}
	return result.Say("The gap is %s as designed; with one tolerance at a time, %s.", result.Fig(gap, r.Gap), joined("; ", parts...))
}

// fromTo names two gaps, and what they are once where both are the same.
func fromTo(gap *figure.Def, a, b float64) result.Text {
	if a > 0 != (b > 0) || math.IsInf(a, 0) || math.IsInf(b, 0) {
		return result.Say("%s to %s", result.Fig(gap, a), result.Fig(gap, b))
	}
	what := "overlap"
	if a > 0 {
		what = "open"
	}
	bare := result.Num(math.Abs(a), quantity.Octaves).As(quantity.Style{Bare: true, Verb: "%.2f"})
	return result.Say("%s to %s "+what, bare, hundredths(math.Abs(b)))
}

// WallTolerance says how far the wall of a folded path may be off; ok is false where the
// design asks for no flatness.
func WallTolerance(st *fold.Study) (text result.Text, ok bool) {
	f := &st.Sizing.Fold
	if !numeric.Given(f.ToleranceProfile) || !numeric.Given(f.ToleranceAxial) || !numeric.Given(f.ToleranceLateral) {
		return text, false
	}
	return result.Say("The folded path's wall within %s forward or back and %s up or down, its surface within %s, each by itself: the front's quarter wave allows no more.",
		result.Fig(figure.FoldToleranceAxial, f.ToleranceAxial), result.Fig(figure.FoldToleranceLateral, f.ToleranceLateral), result.Fig(figure.FoldToleranceProfile, f.ToleranceProfile)), true
}

// Held says which tolerance to hold.
func Held(r *space.ToleranceResult) result.Text {
	e := &r.Effects[0]
	k := e.Tolerance.Key
	return result.Say("%s within %s to %s: of all tolerances it moves the gap most, by %s.", k.Path, result.Num(e.InLow, k.Kind), result.Num(e.InHigh, k.Kind), result.Fig(figure.ToleranceMoves, e.Swing))
}
