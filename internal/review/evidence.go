package review

import (
	"math"
	"strings"

	"gapline/internal/advice"
	"gapline/internal/check"
	"gapline/internal/describe"
	"gapline/internal/document"
	"gapline/internal/numeric"
	"gapline/internal/render/page"
	"gapline/internal/result"
	"gapline/internal/study/box"
	"gapline/internal/study/fold"
	"gapline/internal/study/horn"
	"gapline/internal/study/line"
)

// strip is the frequency strip of the design.
func (b *builder) strip(s *document.Section) error {
	var x document.Section
	b.addPart(&x, describe.Strip([]describe.Sized{b.sized.shown("")}))
	s.Add(document.Text{Tone: document.Lead, Text: b.text(describe.OpeningStrip(&b.sizing, &b.judged))})
	s.Add(x.Blocks...)
	return nil
}

// boxStudy studies the box of the design once, or remembers why it cannot.
func (b *builder) boxStudy(what string) (*box.Study, error) {
	if b.oneBox == nil {
		st, err := box.Run(b.ctx, b.design, box.Options{})
		if err != nil {
			return nil, b.lacking(what, err)
		}
		b.oneBox = st
	}
	return b.oneBox, nil
}

// box is the low end of one box and what a stack of them gains.
func (b *builder) box(s *document.Section) error {
	st, err := b.boxStudy("The low end of the box")
	if st == nil {
		return err
	}
	if st.Stack == nil {
		b.misses("The stack of boxes is not worked out: " + st.StackWhy + ".")
	}
	r := describe.Box(st, advice.BoxFindings(st))
	kept := pick{pictures: []string{"levels", "box"}, tables: []string{"Maximum level"}}
	if levels, ok := b.levelsOf(); ok {
		r.Add(levels)
	}
	b.evidence(s, describe.OpeningBox(st), r, kept)
	return nil
}

// insert compares the box with and without its insert.
func (b *builder) insert(s *document.Section) error {
	d := b.design
	if !d.HasInsert() {
		b.misses("The design has no insert.")
		return nil
	}
	if lacks := check.InsertLacks(d); len(lacks) > 0 {
		b.misses("The insert's filter is not worked out: it needs " + strings.Join(lacks, ", ") + ".")
	} else {
		st, err := b.boxStudy("What the insert does to the response")
		if err != nil {
			return err
		}
		if st != nil && st.Insert != nil {
			b.evidence(s, describe.OpeningInsert(st), describe.Insert(st), pick{pictures: []string{"insert"}, tables: []string{"Insert"}})
		}
	}
	if !d.Insert.MouthHeight.Given() || !d.Insert.MouthWidth.Given() {
		return nil // said above
	}
	plate, err := describe.Plate(d, &b.sizing)
	if err != nil {
		b.misses("The plate is not drawn: " + err.Error() + ".")
		return nil
	}
	var all document.Section
	b.add(&all, plate)
	b.detail(s.ID).Add(besides(all.Blocks)...)
	return nil
}

// horn is how low the horn holds its coverage and how it loads its driver.
func (b *builder) horn(s *document.Section) error {
	if faults := check.HornProblems(b.design); len(faults) > 0 {
		b.misses("The horn is not worked out: " + strings.Join(problemTexts(faults), "; ") + ".")
		return nil
	}
	st, err := horn.Run(b.design)
	if err != nil {
		b.misses("The horn is not worked out: " + err.Error() + ".")
		return nil
	}
	st.Sizing.Wave, st.Sizing.Measured = b.sizing.Wave, b.sizing.Measured
	if st.Vertical == nil && st.NoVertical != "" {
		b.misses("The vertical width is not worked out: " + strings.TrimSuffix(st.NoVertical, ".") + ".")
	}
	if st.Loading == nil {
		b.misses("The horn's loading is not worked out: " + strings.TrimSuffix(st.NoLoading, ".") + ".")
	}
	b.evidence(s, describe.OpeningHorn(st), describe.Horn(st, advice.HornFindings(st)), pick{pictures: []string{"beamwidth"}, tables: []string{"Pattern, horizontal", "Lower limit"}})
	return nil
}

// fold is the folded path: drawing, front, line of mouths.
func (b *builder) fold(s *document.Section) error {
	if !b.design.HasFold() {
		b.misses("The design has no folded path.")
		return nil
	}
	if faults := check.FoldProblems(b.design); len(faults) > 0 {
		b.misses("The folded path is not worked out: " + strings.Join(problemTexts(faults), "; ") + ".")
		return nil
	}
	st := b.folded()
	if st == nil {
		return nil
	}
	all := advice.FoldFindings(st)
	if !st.Fits {
		missing(s, "No wall fits. "+b.text(all[0].Text))
		b.addPart(s, result.Findings{Shown: result.At(result.Page), List: all[1:]})
		return nil
	}
	r, err := describe.Fold(st, all)
	if err != nil {
		b.misses("The folded path is not drawn: " + err.Error() + ".")
		return nil
	}
	b.evidence(s, describe.OpeningFold(st), r, pick{pictures: []string{"fold"}, tables: []string{"Fold"}})
	return nil
}

// folded studies the folded path once, or remembers why it cannot; nil where there is none
// or it cannot be studied.
func (b *builder) folded() *fold.Study {
	if b.oneFold != nil || !b.design.HasFold() || len(check.FoldProblems(b.design)) > 0 {
		return b.oneFold
	}
	st, err := fold.Run(b.design, fold.Options{Ribbon: true})
	if err != nil {
		b.misses("The folded path is not worked out: " + err.Error() + ".")
		return nil
	}
	st.Sizing.Wave, st.Sizing.Measured = b.sizing.Wave, b.sizing.Measured
	b.oneFold = st
	return st
}

// line is what the stack does in the hall.
func (b *builder) line(s *document.Section) error {
	study, problems := line.New(b.design, b.conditions(&b.sized))
	if problems != nil {
		b.misses("The field is not worked out: " + strings.Join(problemTexts(problems), "; ") + ".")
		return nil
	}
	request, err := lineRequest(study)
	if err != nil {
		return err
	}
	noSeats := study.SeatProblems()
	request.Views = []line.View{line.PolarView, line.SideView, line.DistanceView, line.MaximumView}
	if noSeats == nil {
		request.Views = append(request.Views, line.AudienceView, line.ProgrammeView)
	}
	r, err := study.Hear(b.ctx, request)
	if err != nil {
		return b.lacking("The field", err)
	}
	if noSeats != nil {
		b.misses("The seats are not heard: " + strings.Join(problemTexts(noSeats), "; ") + ".")
	}
	b.evidence(s, describe.OpeningLine(r), describe.Line(r, advice.LineFindings(r)), pick{pictures: []string{"maximum", "polar", "side"}, tables: []string{"Bands at"}})
	return nil
}

// lineRequest asks for what the line command shows without flags.
func lineRequest(study *line.Study) (line.Request, error) {
	r := line.Request{PolarDistance: math.Inf(1), From: line.NearestMetre, To: line.FarthestMetre,
		PerDoubling: line.PerDoubling, MapAngles: math.Pi / 360, MapSpread: math.Pi, Frame: study.Frame()}
	var err error
	if r.Few, err = line.ParseSpectrum("octaves:125Hz:8kHz", false); err != nil {
		return r, err
	}
	r.SideSpectrum, err = line.ParseSpectrum("1kHz", false)
	return r, err
}

// crossover sums the two bands below and above the crossover to the horn.
func (b *builder) crossover(s *document.Section) error {
	a := numeric.Absent
	request := line.CrossoverRequest{Vertical: a, Horizontal: a, Distance: math.Inf(1), From: a, To: a}
	c, study, err := line.Crossovers(b.ctx, b.design, b.conditions(&b.sized), request)
	if err != nil {
		return b.lacking("The crossover", err)
	}
	b.evidence(s, describe.OpeningCrossover(c), describe.Crossover(c, study, false, advice.CrossoverFindings(c, study)), pick{pictures: []string{"crossover-across", "crossover"}, tables: []string{"Crossover"}})
	return nil
}

// wave sets stored figures of the wave level beside rule and aperture.
func (b *builder) wave(s *document.Section) error {
	r, stored := describe.TrustLevels(&b.sizing, b.sized.data)
	s.Add(document.Text{Tone: document.Lead, Text: b.text(describe.OpeningWave(&b.sizing, &b.judged))})
	b.add(s, r)
	w := &b.sizing.Wave
	if !stored {
		missing(s, "No stored run of the wave level matches this design: gapline wave FILE solves the horn in its cabinet, gapline wave FILE --of fold the folded path.")
		return nil
	}
	for _, x := range []struct {
		there      bool
		what, flag string
	}{{numeric.Given(w.Pattern), "the horn in its cabinet", ""}, {numeric.Given(w.FrontTo), "the box's outside in space", " --of front"},
		{!b.design.HasFold() || numeric.Given(w.FlatTo) || numeric.Given(w.FlatBeyond), "the folded path", " --of fold"}} {
		if !x.there {
			b.misses("No stored run of " + x.what + " matches this design: gapline wave FILE" + x.flag + ".")
		}
	}
	return nil
}

// tolerance says how far a built box may be off and what that does.
func (b *builder) tolerance(s *document.Section) error {
	if t := b.File.Tolerances; t == nil || len(t.List) == 0 {
		b.misses("The file has no [tolerance] table: it names the keys that may be off, and by how much.")
		return nil
	}
	if b.spread == nil {
		b.misses("The spread within the tolerances is not worked out.")
		return nil
	}
	b.evidence(s, describe.OpeningTolerance(b.within, b.spread), describe.Tolerance(b.within, b.spread, nil), pick{pictures: []string{"tolerance"}, tables: []string{"Chance"}})
	return nil
}

// measured lays measured responses over their predictions.
func (b *builder) measured(s *document.Section) error {
	v := b.o.Traces
	if v == nil {
		b.misses("No measured response was given (--trace FILE).")
		return nil
	}
	b.evidence(s, describe.OpeningTrace(v), describe.Trace(v), pick{pictures: []string{"measured"}, tables: []string{"predicted limits"}, large: true})
	if l := page.Findings(advice.TraceFindings(v), b.sys, result.Note); len(l.Items) > 0 {
		s.Add(document.List{Items: l.Items})
	}
	return nil
}
