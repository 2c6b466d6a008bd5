package describe

import (
	"bytes"
	"context"
	"math"
	"strings"
	"testing"

	"gapline/internal/designfile"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/render/picture"
	"gapline/internal/result"
	"gapline/internal/study/line"
	"gapline/plots"
)

// svg draws the picture of a view as text.
func svg(t *testing.T, r *result.Result, view string, sys quantity.System) string {
	t.Helper()
	fig, err := picture.Of(r, sys, view)
	if err != nil {
		t.Fatalf("%s: %v", view, err)
	}
	var b bytes.Buffer
	if err := plots.WriteSVG(&b, "p", fig); err != nil {
		t.Fatalf("%s: %v", view, err)
	}
	return b.String()
}

// cautioned fails unless a picture ends its caption with the whole caution: three
// lines are all that a caption has, and "…" stands where more was said.
func cautioned(t *testing.T, name, picture string) {
	t.Helper()
	if !strings.Contains(picture, "codes.") || strings.Contains(picture, "…") {
		t.Errorf("%s: the caption is cut, or says nothing of rigging", name)
	}
}

// few frequencies keep the test short.
func spectrum(t *testing.T, text string) line.Spectrum {
	t.Helper()
	s, err := line.ParseSpectrum(text, true)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestLinePicturesSayWhatTheyAre(t *testing.T) {
	request := line.Request{Few: spectrum(t, "octaves:250Hz:4kHz"), Dense: spectrum(t, "octaves:125Hz:8kHz"),
		SideSpectrum: line.Spectrum{Hz: []float64{1000}}, PolarDistance: math.Inf(1), From: 1, To: 64, PerDoubling: 4,
		MapAngles: math.Pi / 60, MapSpread: math.Pi}
	for _, v := range line.Views {
		request.Views = append(request.Views, v.View)
	}
	file, err := designfile.LoadStarter("hatch-insert", nil)
	if err != nil {
		t.Fatal(err)
	}
	s, problems := line.New(&file.Design, line.Conditions{})
	if problems != nil {
		t.Fatal(problems)
	}
	request.Frame = line.Frame{FromX: -1, ToX: 12, FromZ: 0, ToZ: 7}
	r, err := s.Hear(context.Background(), request)
	if err != nil {
		t.Fatal(err)
	}
	for i, v := range line.Views {
		cautioned(t, string(v.View), svg(t, Line(r, nil), string(v.View), quantity.System(i%2)))
	}
}

func TestCrossoverPicturesSayWhatTheyAre(t *testing.T) {
	for _, starter := range designfile.Starters {
		file, err := designfile.LoadStarter(starter.Name, nil)
		if err != nil {
			t.Fatal(err)
		}
		a := numeric.Absent
		c, s, err := line.Crossovers(context.Background(), &file.Design, line.Conditions{},
			line.CrossoverRequest{Vertical: a, Horizontal: a, From: a, To: a, Distance: math.Inf(1), Spectrum: line.Spectrum{Hz: []float64{500, 700, 1000, 1400, 2000}}})
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range line.CrossoverViews {
			for _, best := range []bool{false, true} {
				cautioned(t, starter.Name+" "+string(v), svg(t, Crossover(c, s, best, nil), string(v), quantity.Metric))
			}
		}
	}
}
