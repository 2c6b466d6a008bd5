package describe

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"gapline/internal/designfile"
	"gapline/internal/document"
	"gapline/internal/measured"
	"gapline/internal/quantity"
	"gapline/internal/render/page"
	"gapline/internal/render/picture"
	"gapline/internal/render/terminal"
	"gapline/internal/study/trace"
	"gapline/plots"
)

// straight is a trace of constant level.
func straight(name string, level, from, to float64) trace.Input {
	return trace.Input{Name: name, Trace: measured.Trace{Frequency: []float64{from, to}, Level: []float64{level, level}}}
}

func overlaid(t *testing.T, inputs []trace.Input, pairs []trace.PairInput, against string) string {
	t.Helper()
	file, err := designfile.LoadStarter("hatch-insert", nil)
	if err != nil {
		t.Fatal(err)
	}
	v, err := trace.Compare(&file.Design, inputs, pairs, trace.Options{
		Against: against, Volts: 2.83, Smoothing: measured.Smoothing{Fraction: 6}, PartLevel: 3,
	})
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	fig, err := picture.Of(Trace(v), quantity.Metric)
	if err != nil {
		t.Fatal(err)
	}
	if err := plots.WriteSVG(&b, "t", fig); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The picture says what it shows in words: model, trust, smoothing, alignment,
// where the pair parts.
func TestOverlayPictureSaysWhatItShows(t *testing.T) {
	a, b := straight("with", 90, 20, 20e3), straight("without", 90, 20, 20e3)
	bend := measured.Trace{Frequency: []float64{20, 500, 1000, 20e3}, Level: []float64{90, 90, 80, 80}}
	b.Trace = bend
	box := straight("box", 90, 20, 20e3)
	svg := overlaid(t, []trace.Input{box, a, b}, []trace.PairInput{{With: a, Without: b, Of: trace.OfStacks}}, trace.Auto)
	for _, want := range []string{
		"Measured and predicted", "half space", "1/6 octave", "aperture (predicted)",
		"predicted by gapline", "within ±3 dB", "parts by ±3 dB at", "cones, half-wave (rule)", "measured coupling limit",
	} {
		if !strings.Contains(svg, want) {
			t.Errorf("the picture does not say %q", want)
		}
	}
	// Of one box the same pair is a change of level, and no limit of coupling.
	svg = overlaid(t, []trace.Input{a, b}, []trace.PairInput{{With: a, Without: b}}, trace.Auto)
	for _, want := range []string{"parts by ±3 dB at", "parts by prediction", "chamber corner (rule)", "change the level of the box", "dotted: predicted of bare"} {
		if !strings.Contains(svg, want) {
			t.Errorf("the picture of one box does not say %q", want)
		}
	}
	for _, not := range []string{"cones, half-wave", "measured coupling limit"} {
		if strings.Contains(svg, not) {
			t.Errorf("the picture of one box says %q", not)
		}
	}
}

func TestOverlayPictureWithoutPrediction(t *testing.T) {
	svg := overlaid(t, []trace.Input{straight("one", 90, 20, 20e3)}, nil, trace.None)
	if strings.Contains(svg, "predicted by gapline") || !strings.Contains(svg, "no prediction: not asked for") {
		t.Error("a picture without prediction speaks of one, or does not say why there is none")
	}
	// Traces that share nothing with the prediction or each other still draw.
	overlaid(t, []trace.Input{straight("low", 3, 1, 12), straight("high", 90, 30e3, 60e3)}, nil, trace.Auto)
	overlaid(t, []trace.Input{straight("far", -94, 20, 20e3), straight("near", 90, 25, 19e3)}, nil, trace.None)
}

func TestAxisEnds(t *testing.T) {
	for _, c := range []struct{ f, down, up float64 }{
		{20, 20, 20}, {20.5, 20, 50}, {117, 100, 200}, {1000, 1000, 1000}, {20159, 20000, 20000}, {9.9, 5, 10},
	} {
		if d, u := roundDown(c.f), roundUp(c.f); math.Abs(d/c.down-1) > 1e-9 || math.Abs(u/c.up-1) > 1e-9 {
			t.Errorf("%g lies within %g and %g, want %g and %g", c.f, d, u, c.down, c.up)
		}
	}
}

// What traces far apart ask for stands on the screen, and where a pair parts among the
// findings of the document.
func TestTraceInWords(t *testing.T) {
	near, far := straight("near", 90, 20, 20e3), straight("far", 60, 20, 20e3)
	file, err := designfile.LoadStarter("hatch-insert", nil)
	if err != nil {
		t.Fatal(err)
	}
	v, err := trace.Compare(&file.Design, []trace.Input{near, far}, []trace.PairInput{{With: near, Without: far}}, trace.Options{
		Against: trace.None, Volts: 2.83, Smoothing: measured.Smoothing{Fraction: 6}, PartLevel: 3,
	})
	if err != nil {
		t.Fatal(err)
	}
	var screen strings.Builder
	if err := terminal.Write(&screen, Trace(v), quantity.Metric); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"\nlaid over no prediction: not asked for\nsmoothing: 1/6 octave, mean power over log frequency\nlevels: as measured\n\nTRACE near\n  level, octave",
		"\nTRACE far\n  levels far apart: --align LOW:HIGH brings them together\n  minus near, octave",
		"\nPAIR near minus far\n  Nowhere within ±3 dB over an octave or more",
		"\n  1 kHz                  +30.0     0.0     +30.0",
	} {
		if !strings.Contains(screen.String(), want) {
			t.Errorf("the screen does not say %q:\n%s", want, screen.String())
		}
	}
	var s document.Section
	page.Add(&s, Trace(v), quantity.Metric, page.Options{Cite: func(string) string { return "1" }})
	last, ok := s.Blocks[len(s.Blocks)-1].(document.List)
	if !ok || len(last.Items) != 1 || !strings.HasPrefix(last.Items[0], "near minus far: Nowhere within ±3 dB") {
		t.Errorf("the document ends in %+v", s.Blocks[len(s.Blocks)-1])
	}
}
