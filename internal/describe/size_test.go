package describe

import (
	"io"
	"math"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/optional"
	"gapline/internal/quantity"
	"gapline/internal/render/machine"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
	"gapline/internal/study/fit"
	"gapline/internal/study/size"
)

// squeeze turns runs of blanks into one, so that widths may change.
func squeeze(text string) string {
	var out []string
	for _, line := range strings.Split(text, "\n") {
		out = append(out, strings.Join(strings.Fields(line), " "))
	}
	return strings.Join(out, "\n")
}

// writeSize writes the screen of the size command.
func writeSize(w io.Writer, d *design.Design, s *sizing.Sizing, findings []result.Finding, sys quantity.System, all bool) error {
	return terminal.Write(w, Size(d, s, fit.Of(d, nil), findings, all), sys)
}

// The numbers on the screen are those of handDesign's comment.
func TestSizeScreen(t *testing.T) {
	d, s := handDesign()
	var b strings.Builder
	if err := writeSize(&b, &d, &s, advice.Findings(&d, &s, fit.Of(&d, nil)), quantity.Metric, false); err != nil {
		t.Fatal(err)
	}
	text := squeeze(b.String())
	for _, want := range []string{
		"By hand\n4 boxes at 250 mm pitch, a line of 1000 mm; air 20 °C, 50 % RH, c = 344 m/s\nMISSED Open by rule (0.45 oct)",
		"line starts to couple 344 Hz rule",           // 343.99/(4·0.25)
		"> couples up to, half-wave rule 688 Hz rule", // marked as the basis of the gap
		"HORN, 90° from a mouth 300 mm wide\n",
		"holds its coverage from, rule 941 Hz rule",
		"> lower limit of the horn 941 Hz rule",
		"GAP, woofers to 688 Hz (half wave), horn from 941 Hz (pattern) 0.45 oct open rule",
		"CAUTION Rigging is not computed",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in\n%s", want, b.String())
		}
	}
	for _, line := range strings.Split(b.String(), "\n") {
		if len([]rune(line)) > terminal.LineWidth {
			t.Errorf("line of %d characters: %q", len([]rune(line)), line)
		}
	}
}

// The basis marks its own limit and takes its own level of trust.
func TestSizeScreenOnTheLobeBasis(t *testing.T) {
	d, _ := handDesign()
	d.Targets.Coupling = design.Lobe
	s := sizing.Size(&d)
	var b strings.Builder
	if err := writeSize(&b, &d, &s, nil, quantity.Inch, false); err != nil {
		t.Fatal(err)
	}
	text := squeeze(b.String())
	for _, want := range []string{
		"4 boxes at 9.84 in pitch, a line of 39.4 in; air 68 °F, 50 % RH", // 250/25.4, 1000/25.4
		"\ncouples up to, half-wave rule 688 Hz rule",
		"> couples up to, lobe criterion 1376 Hz aperture", // points: first lobe at c/p
		"GAP, woofers to 1376 Hz (lobe), horn from 1025 Hz (pattern) 0.42 oct overlap aperture",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in\n%s", want, b.String())
		}
	}
	if strings.Contains(text, "> couples up to, half-wave") {
		t.Error("both limits are marked")
	}
}

// A design that gives next to nothing still gets a screen, and no invented
// numbers on it.
func TestSizeScreenOfAnEmptyDesign(t *testing.T) {
	d := design.New()
	s := sizing.Size(&d)
	var b strings.Builder
	if err := writeSize(&b, &d, &s, advice.Findings(&d, &s, fit.Of(&d, nil)), quantity.Metric, false); err != nil {
		t.Fatal(err)
	}
	for _, bad := range []string{"NaN", "Inf", "0 Hz", "0.00 oct"} {
		if strings.Contains(b.String(), bad) {
			t.Errorf("%q in\n%s", bad, b.String())
		}
	}
	for _, want := range []string{"untitled design", "stack unknown", "The gap needs"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("%q is missing in\n%s", want, b.String())
		}
	}
}

func TestFiguresInWords(t *testing.T) {
	var s sizing.Sizing
	s.Coupling.Open.Lobe = math.Inf(1)
	s.Coupling.Open.FirstLobe = -200
	s.Horn.Narrowest, s.Horn.NarrowestAt = 55*math.Pi/180, 1717
	s.Gap.Insert = math.NaN()
	s.Gap.WooferMid = -0.5
	for f, want := range map[*figure.Def]string{
		figure.CouplingOpen.Lobe:      "no limit",
		figure.CouplingOpen.FirstLobe: "no lobe",
		figure.HornNarrowest:          "55° at 1717 Hz",
		figure.HornSagitta:            "flat",
		figure.GapInsert:              "-",
		figure.GapWooferMid:           "0.50 oct overlap",
	} {
		if got := terminal.Cell(size.Cell(&s, f), quantity.Metric); got != want {
			t.Errorf("%s is shown as %q, want %q", f.Key, got, want)
		}
	}
}

func TestOctavesInWords(t *testing.T) {
	for x, want := range map[float64]string{
		0.507: "0.51 oct open", -0.31: "0.31 oct overlap", math.Inf(-1): "unlimited overlap", 0: "0.00 oct overlap",
	} {
		if got := terminal.Cell(result.Fig(figure.GapOpen, x), quantity.Metric); got != want {
			t.Errorf("%v oct is shown as %q, want %q", x, got, want)
		}
	}
	if got := terminal.Cell(result.Fig(figure.GapOpen, math.NaN()), quantity.Metric); got != "-" {
		t.Errorf("NaN is shown as %q", got)
	}
}

// Groups that the design does not have are null as a whole; the keys of the
// others stand in the order of the table of figures.
func TestSizingObject(t *testing.T) {
	d, s := handDesign()
	var b strings.Builder
	if err := machine.JSON(&b, Size(&d, &s, fit.Of(&d, nil), nil, false)); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	last := -1
	for _, want := range []string{`"schema_version": 1`, `"title": "By hand"`, `"air": {`, `"coupling": {`, `"insert": null`,
		`"mid": null`, `"horn": {`, `"gap": {`, `"basis": "half-wave"`, `"open_oct": 0.4514`, `"insert_oct": null`} {
		at := strings.Index(text, want)
		if at <= last {
			t.Errorf("%s is missing or out of order in\n%s", want, text)
		}
		last = at
	}
}

// handDesign is a box with a pitch of 250 mm and a mouth of 300 mm for 90 degrees.
func handDesign() (design.Design, sizing.Sizing) {
	d := design.New()
	d.Title = "By hand"
	d.Cabinet.Height, d.Cabinet.Gap = optional.Of(0.24), optional.Of(0.01)
	d.Line.Boxes = 4
	d.Horn.Coverage, d.Horn.MouthWidth = optional.Of(math.Pi/2), optional.Of(0.3)
	return d, sizing.Size(&d)
}
