package describe

import (
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/optional"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/study/size"
)

// Halving the pitch doubles the half-wave limit, brings the gap down by one octave
// and leaves the horn: c/(2·p), log2, and 25 400/(W·θ) with W = 0.3 m, θ = 90°.
func TestChangeText(t *testing.T) {
	boxOf := func(height float64) sizing.Sizing {
		d := design.New()
		d.Cabinet.Height = optional.Of(height)
		d.Horn.Coverage, d.Horn.MouthWidth = optional.Of(90*quantity.Degree), optional.Of(0.3)
		return sizing.Size(&d)
	}
	then, now := boxOf(0.4), boxOf(0.2)
	for f, want := range map[*figure.Def]string{
		figure.CouplingPitch:      "−200 mm (−50 %)",
		figure.GapOpen:            "−1.00 oct",
		figure.HornPatternRule:    "none",
		figure.CouplingOpen.Share: "none",
		figure.GapInsert:          "none",
		figure.CouplingOpen.Lobe:  "(+100 %)",
	} {
		if got := terminal.Text(change(f, size.Of(&then, f), size.Cell(&now, f)), quantity.Metric); !strings.HasSuffix(got, want) {
			t.Errorf("%s: %q, want %q", f.Key, got, want)
		}
	}
}
