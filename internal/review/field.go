package review

import (
	"math"
	"strings"

	"gapline/internal/document"
	"gapline/internal/numeric"
	"gapline/internal/picture"
	"gapline/internal/screen"
	"gapline/internal/study/line"
)

// lineViews are the views of the stack in the document, with their captions.
var lineViews = []struct {
	view    line.View
	caption string
}{
	{line.PolarView, "Level against angle up and down"},
	{line.SideView, "The hall from the side"},
	{line.DistanceView, "Level against distance along the axis"},
	{line.AudienceView, "Level along the seats"},
}

// line is what the stack does in the hall.
func (b *builder) line(s *document.Section) error {
	study, problems := line.New(b.design, line.Conditions{})
	if problems != nil {
		missing(s, "The field is not worked out: "+strings.Join(problemTexts(problems), "; ")+".")
		return nil
	}
	request, err := lineRequest(study)
	if err != nil {
		return err
	}
	noSeats := study.SeatProblems()
	for _, v := range lineViews {
		if v.view != line.AudienceView || noSeats == nil {
			request.Views = append(request.Views, v.view)
		}
	}
	r, err := study.Hear(b.ctx, request)
	if err != nil {
		return lacking(s, "The field", err)
	}
	for _, v := range lineViews {
		if request.Has(v.view) {
			addPicture(s, string(v.view), picture.Line(r, v.view, b.sys), v.caption)
		}
	}
	if noSeats != nil {
		missing(s, "The seats are not heard: "+strings.Join(problemTexts(noSeats), "; ")+".")
	}
	conditions, blocks := screen.LineBlocks(r, b.sys)
	addBlocks(s, conditions, blocks)
	addFindings(s, screen.LineFindings(r, b.sys))
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
	c, study, err := line.Crossovers(b.ctx, b.design, line.Conditions{}, request)
	if err != nil {
		return lacking(s, "The crossover", err)
	}
	addPicture(s, "crossover", picture.Crossover(c, study, line.ResponseView, false, b.sys), "Both ways and their sum on axis")
	addPicture(s, "crossover-across", picture.Crossover(c, study, line.AcrossView, false, b.sys), "Level through the crossover over frequency and horizontal angle, as given")
	conditions, settings, paste, response := screen.CrossoverBlocks(c, study, b.sys)
	addBlocks(s, conditions, settings)
	for _, text := range paste {
		s.Add(document.Text{Tone: document.Remark, Text: text})
	}
	addBlocks(s, "", response)
	addFindings(s, screen.CrossoverFindings(c, study, b.sys))
	return nil
}
