package plots

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"gonum.org/v1/plot/vg"
)

// invented is the caption of all gallery pictures.
func invented(title, subtitle string) Caption {
	return Caption{Title: title, Subtitle: subtitle, Design: "Lantern touring rig (invented)",
		Air: "20 °C, 50 % RH, 101.3 kPa", Trust: "rule"}
}

// gallery holds one of each chart with invented data.
func gallery() map[string]Figure {
	return map[string]Figure{
		"strip":         stripExample(),
		"strip-compare": stripCompareExample(),
		"lever":         leverExample(),
		"contour":       contourExample(),
	}
}

func stripExample() Strip {
	return Strip{
		Caption: invented("Where the woofers couple and where the horn holds its pattern", "half-wave rule and pattern rule, 4 boxes at 331 mm pitch"),
		Groups: []StripGroup{
			{Title: "Without insert", Rows: []StripRow{
				{Label: "woofers couple", From: 259, To: 518},
				{Label: "horn holds 90°", From: 1420, To: math.Inf(1), Colour: 2},
			}, Window: &StripWindow{Low: 518, High: 1420, Label: "gap 1.45 oct"}},
			{Title: "With insert, 2 mouths per box", Rows: []StripRow{
				{Label: "woofers couple", From: 259, To: 1036, Fill: HatchedBar, Note: "ceiling: spacing"},
				{Label: "horn holds 90°", From: 1420, To: math.Inf(1), Colour: 2},
			}, Window: &StripWindow{Low: 1036, High: 1420, Label: "gap 0.45 oct"}},
		},
	}
}

func stripCompareExample() Strip {
	return Strip{
		Caption: invented("Three designs side by side", "lobe criterion and aperture integral; a very long subtitle that says under which conditions these figures hold, so that it has to wrap into a second line of the head"),
		Groups: []StripGroup{
			{Title: "A  Lantern: open gap", Rows: []StripRow{
				{Label: "woofers couple", From: 259, To: 518, Fill: LightBar},
				{Label: "woofers and the insert with its long label that wraps", From: 500, To: 518, Note: "chamber corner", Fill: HatchedBar, Colour: 1},
				{Label: "horn", From: 1420, To: 16000, Colour: 2, Note: "flat to 16 kHz"},
			}, Window: &StripWindow{Low: 518, High: 1420, Label: "gap 1.45 oct"}},
			{Title: "B  Lantern: insert", Rows: []StripRow{
				{Label: "woofers couple", From: 259, To: 1730},
				{Label: "horn", From: 1310, To: 25000, Colour: 2},
			}, Window: &StripWindow{Low: 1310, High: 1730, Label: "overlap 0.40 oct", Overlap: true}},
			{Title: "C  Lantern: mid band", Rows: []StripRow{
				{Label: "woofers", From: 0, To: 40, Note: "note to a bar at the very left edge of the axis, longer than any place beside it could hold it in one single line of the strip"},
				{Label: "mids", From: 15000, To: 19900, Fill: HatchedBar, Colour: 3},
				{Label: "horn", Missing: "not computed: the file gives no [horn] mouth_width", Colour: 2},
			}, Window: &StripWindow{Low: 19000, High: 19100, Label: "overlap 0.01 oct, at the right edge", Overlap: true}},
		},
	}
}

// TestGalleryTextsAreClear checks every example: no text meets another one and
// none leaves the sheet.
func TestGalleryTextsAreClear(t *testing.T) {
	for name, fig := range gallery() {
		s, err := fig.layout()
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		checkTexts(t, name, s)
	}
}

// checkTexts fails if texts of a sheet overlap or run off it.
func checkTexts(t interface{ Errorf(string, ...any) }, name string, s *sheet) {
	whole := rect(0, 0, s.width, s.height)
	for i, a := range s.texts {
		if !within(a.box, whole) {
			t.Errorf("%s: %q runs off the sheet: %v not in %v", name, a.text, a.box, whole)
		}
		for _, b := range s.texts[:i] {
			// Boxes of neighbouring lines may touch by a rounding error.
			if meet(grow(a.box, -0.05), grow(b.box, -0.05)) {
				t.Errorf("%s: %q and %q overlap", name, a.text, b.text)
			}
		}
	}
}

// TestGalleryRender writes the examples to the folder named in
// GAPLINE_PLOTS_OUT, for looking at.
func TestGalleryRender(t *testing.T) {
	dir := os.Getenv("GAPLINE_PLOTS_OUT")
	if dir == "" {
		t.Skip("set GAPLINE_PLOTS_OUT to a folder to render the examples")
	}
	for name, fig := range gallery() {
		for _, ext := range Formats() {
			if err := Save(filepath.Join(dir, name+ext), fig); err != nil {
				t.Errorf("%s%s: %v", name, ext, err)
			}
		}
	}
}

var _ = vg.Inch

func leverExample() Lever {
	x := even(250, 450, 41)
	gap := func(n, shift, slope float64) []float64 {
		y := make([]float64, len(x))
		for i, p := range x {
			y[i] = math.Log2(1420/(343000/(2*p))*math.Pow(331/p, slope)/n) + shift
		}
		return y
	}
	one, two, three := gap(1, 0, 0), gap(2, 0, 0), gap(3, 0.25, 0)
	two[12], two[13] = math.NaN(), math.NaN()
	low, high := gap(2, -0.12, 0), gap(2, 0.15, 0)
	return Lever{
		Caption: invented("Gap against pitch", "half-wave rule; mouth width follows the pitch on the dashed line"),
		Lever:   Axis{Label: "Pitch", Unit: "mm"},
		Curves: []Curve{
			{Label: "1 mouth", X: x, Y: one},
			{Label: "2 mouths (5–95 %)", X: x, Y: two, Low: low, High: high},
			{Label: "3 mouths, chamber corner caps", X: x, Y: three},
			{Label: "1 mouth, mouth width follows", X: x, Y: gap(1, 0, 1), Colour: 1, Dash: Dashed},
		},
		Present: &Mark{X: 331, Y: math.Log2(1420 / (343000 / (2 * 331.0)) / 2), Text: "present design 0.45 oct"},
	}
}

func contourExample() GapMap {
	x, y := even(250, 450, 21), even(150, 400, 26)
	var z [][]float64
	for _, w := range y {
		row := make([]float64, len(x))
		for i, p := range x {
			row[i] = math.Log2(25400 / (w / 1000 * 90) / 25.4 * 25.4 / (343000 / p))
			if p < 290 && w > 340 {
				row[i] = math.NaN()
			}
		}
		z = append(z, row)
	}
	return GapMap{Caption: invented("Gap over pitch and horn mouth width", "half-wave rule, 2 mouths per box; white: mouth wider than the box allows"),
		X: Axis{Label: "Pitch", Unit: "mm"}, Y: Axis{Label: "Horn mouth width", Unit: "mm"},
		XValues: x, YValues: y, Octaves: z, Present: &Mark{X: 331, Y: 210, Text: "present design"}}
}
