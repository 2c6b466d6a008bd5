package advice

import (
	"context"
	"math"
	"strings"
	"testing"

	"gapline/internal/designfile"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
	"gapline/internal/study/box"
	"gapline/internal/study/horn"
	"gapline/internal/study/line"
)

// texts are the findings of a starter with settings, as every command that prints levels
// says them.
func texts(t *testing.T, starter string, settings ...string) map[string]string {
	t.Helper()
	file, err := designfile.LoadStarter(starter, settings)
	if err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	s, problems := line.New(&file.Design, line.Conditions{})
	if problems != nil {
		t.Fatal(problems)
	}
	r, err := s.Hear(ctx, line.Request{Views: []line.View{line.MaximumView, line.ProgrammeView}})
	if err != nil {
		t.Fatal(err)
	}
	a := math.NaN()
	c, cs, err := line.Crossovers(ctx, &file.Design, line.Conditions{}, line.CrossoverRequest{Vertical: a, Horizontal: a, Distance: math.Inf(1), From: a, To: a, WithoutBest: true})
	if err != nil {
		t.Fatal(err)
	}
	b, err := box.Run(ctx, &file.Design, box.Options{PerOctave: 2, Boxes: []int{1}})
	if err != nil {
		t.Fatal(err)
	}
	h, err := horn.Run(&file.Design)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for name, findings := range map[string][]result.Finding{"line": LineFindings(r), "crossover": CrossoverFindings(c, cs), "box": BoxFindings(b), "horn": HornFindings(h)} {
		for _, f := range findings {
			out[name] += f.Severity.String() + " " + f.Key + ": " + terminal.Text(f.Text, quantity.Metric) + "\n"
		}
	}
	return out
}

// 8 kW into woofers rated 500 W is said wherever levels are printed: 12.04 dB too much.
func TestTooMuchDriveIsSaid(t *testing.T) {
	for name, text := range texts(t, "hatch", "drive.power=8 kW", "woofer.power=500 W", "compression_driver.voltage=60 V") {
		want := "caution woofer.power: The drive is too much for the woofers: a tone of"
		if name == "horn" {
			want = "caution compression_driver.voltage: The drive is too much for the compression driver: 621 W" // 60²/5.8
		}
		if !strings.Contains(text, want) || name != "horn" && !strings.Contains(text, "8000 W into drivers rated 500 W in all, 12.0 dB too much") {
			t.Errorf("%s does not say that the drive is too much:\n%s", name, text)
		}
	}
	for name, text := range texts(t, "hatch") {
		if strings.Contains(text, "too much") {
			t.Errorf("%s says that 2.83 V are too much:\n%s", name, text)
		}
	}
}

// What stops the programme, and what it does to people.
func TestLargestProgrammeInWords(t *testing.T) {
	got := texts(t, "hatch-mids")["line"]
	for _, want := range []string{"First the woofers stop, by vent air. Next, ", "the mids, by power", "no driver is harmed for another", "NIOSH recommended limit of 85 dBA, after",
		"EU exposure limit of 87 dBA, after", "over the venue limit of 100 dB LAeq,15min", "Local rules decide", "can kill"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not said:\n%s", want, got)
		}
	}
	got = texts(t, "hatch", "compression_driver.power=none", "compression_driver.xmax=none")["line"]
	if !strings.Contains(got, "What the horn can give is not known") || strings.Contains(got, "Largest programme") {
		t.Errorf("a horn without limits:\n%s", got)
	}
}
