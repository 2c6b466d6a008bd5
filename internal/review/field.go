package review

import (
	"math"
	"strings"

	"gapline/cabinet/source"
	"gapline/internal/advice"
	"gapline/internal/describe"
	"gapline/internal/document"
	"gapline/internal/numeric"
	"gapline/internal/render/page"
	"gapline/internal/study/line"
	"gapline/internal/study/stored"
)

// line is what the stack does in the hall.
func (b *builder) line(s *document.Section) error {
	study, problems := line.New(b.design, b.conditions())
	if problems != nil {
		missing(s, "The field is not worked out: "+strings.Join(problemTexts(problems), "; ")+".")
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
		return lacking(s, "The field", err)
	}
	if noSeats != nil {
		missing(s, "The seats are not heard: "+strings.Join(problemTexts(noSeats), "; ")+".")
	}
	page.Add(s, describe.Line(r, advice.LineFindings(r)), b.sys)
	return nil
}

// conditions are those of the line command without flags: the box by its own pattern where a run
// of it is stored.
func (b *builder) conditions() line.Conditions {
	if !b.hungRead {
		b.hung, b.hungRead = stored.Patterns(b.ctx, b.File.Name, b.design, false, b.o.Warn), true
	}
	return line.Conditions{Choice: source.Choice{Patterns: b.hung}}
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
	c, study, err := line.Crossovers(b.ctx, b.design, b.conditions(), request)
	if err != nil {
		return lacking(s, "The crossover", err)
	}
	page.Add(s, describe.Crossover(c, study, false, advice.CrossoverFindings(c, study)), b.sys)
	return nil
}
