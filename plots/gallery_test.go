package plots

import (
	"math"
	"os"
	"path/filepath"
	"testing"
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
		"response":      responseExample(), "impedance": impedanceExample(), "many-curves": manyCurvesExample(),
		"beamwidth": beamwidthExample(), "bars": barsExample(), "scatter": scatterExample(),
		"polar": polarExample(false), "polar-half": polarExample(true), "field": fieldExample(),
		"angle-map": angleMapExample(), "drawing": drawingExample(), "oblique": obliqueExample(),
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
				{Label: "woofers couple", From: 259, To: 1730, Was: [2]float64{259, 1200}},
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
			if err := Save(filepath.Join(dir, name+"-narrow"+ext), Narrow(fig)); err != nil {
				t.Errorf("%s-narrow%s: %v", name, ext, err)
			}
		}
	}
}

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

// logSpace returns n frequencies from a to b in equal ratios.
func logSpace(a, b float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = a * math.Pow(b/a, float64(i)/float64(n-1))
	}
	return out
}

func apply(x []float64, f func(float64) float64) []float64 {
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = f(v)
	}
	return out
}

func responseExample() Response {
	f := logSpace(20, 20000, 400)
	highPass := func(f, f0, q float64) float64 {
		r := f / f0
		return 20 * math.Log10(r*r/math.Hypot(1-r*r, r/q))
	}
	lowPass := func(f, f0, q float64) float64 {
		r := f / f0
		return -20 * math.Log10(math.Hypot(1-r*r, r/q))
	}
	without := apply(f, func(f float64) float64 { return 98 + highPass(f, 55, 0.8) + lowPass(f, 6500, 0.6) })
	with := apply(f, func(f float64) float64 { return 97.6 + highPass(f, 53, 0.8) + lowPass(f, 1150, 1.6) })
	diff := make([]float64, len(f))
	for i := range f {
		without[i], with[i] = math.Max(without[i], 62), math.Max(with[i], 62)
		diff[i] = math.Max(with[i]-without[i], -20)
	}
	return Response{
		Caption: invented("Level with and without the insert", "lumped circuit, half space, 1 m, 2.83 V, no smoothing"),
		Level:   Axis{Label: "Level", Unit: "dB re 20 µPa"},
		Curves:  []Curve{{Label: "without insert", X: f, Y: without}, {Label: "with insert, 2 mouths", X: f, Y: with}},
		Marks:   []Mark{{X: 1040, Y: 101.9, Text: "chamber peak 4.3 dB at 1.04 kHz"}},
		Guides:  []Guide{{Value: 1150, Vertical: true, Text: "chamber corner 1.15 kHz"}},
		Below:   []Panel{DifferencePanel("Difference", Curve{Label: "with − without", X: f, Y: diff, Colour: 3})},
	}
}

func impedanceExample() Chart {
	f := logSpace(10, 20000, 400)
	z := apply(f, func(f float64) float64 {
		r := f / 55
		res := complex(38, 0) / complex(1, 5*(r-1/r))
		return math.Hypot(6.2+real(res), imag(res)+2*math.Pi*f*0.0006)
	})
	x := apply(f, func(f float64) float64 { r := f / 55; return 3.1 / math.Hypot(1-r*r, r/0.8) })
	var cut []float64
	for _, v := range x {
		cut = append(cut, math.Max(v, 0.01))
	}
	return Chart{
		Caption: invented("Impedance and excursion", "lumped circuit, 2.83 V"),
		X:       Axis{Kind: Frequency, Low: 20, High: 20000},
		Panels: []Panel{
			LogPanel("Impedance", "Ω", Curve{Label: "one box", X: f, Y: z}),
			LogPanel("Peak excursion", "mm", Curve{Label: "closed", X: f, Y: cut},
				Curve{Label: "limit xmax", X: []float64{20, 20000}, Y: []float64{5, 5}, Dash: ShortDash, Thin: true}),
		},
	}
}

func manyCurvesExample() Response {
	f := logSpace(20, 20000, 200)
	var curves []Curve
	for n := range 14 {
		curves = append(curves, Curve{Label: "boxes in the stack, number " + plain(float64(n+1)), X: f,
			Y: apply(f, func(f float64) float64 {
				return 80 + 6*math.Log2(float64(n+1))/(1+f/900) + 3*math.Sin(math.Log(f)*float64(n+2)/3)
			})})
	}
	return Response{Caption: invented("Level of 1 to 14 boxes", "more curves than labels fit beside the panel: the key stands below"), Curves: curves}
}

func beamwidthExample() Beamwidth {
	f := logSpace(200, 20000, 120)
	width := func(w, wobble float64) []float64 {
		return apply(f, func(f float64) float64 {
			b := math.Min(360, 2*180/math.Pi*math.Asin(math.Min(1, 0.6*343/(f*w))))
			if b >= 180 {
				return math.NaN()
			}
			return math.Max(b, 90-wobble*math.Exp(-math.Pow(math.Log(f/3000), 2)*4))
		})
	}
	return Beamwidth{Caption: invented("Horizontal beamwidth", "aperture integral, mouth 210 mm, front curved to 90°"), X: Axis{Low: 200, High: 20000},
		Curves: []Curve{{Label: "horizontal", X: f, Y: width(0.21, 12)}, {Label: "with flares", X: f, Y: width(0.3, 8)}}, Nominal: 90,
		Marks: []Mark{{X: 1420, Y: 90, Text: "control from 1.42 kHz"}, {X: 3000, Y: 78, Text: "narrowest 78° at 3 kHz"}}}
}

func barsExample() Bars {
	return Bars{Caption: invented("What moves the gap most", "one tolerance at a time"), Value: Axis{Label: "Gap", Unit: "octaves"}, Base: 0.45,
		Bars: []Bar{
			{Label: "horn mouth width", AtLow: 0.52, AtHigh: 0.38, LowText: "−10 mm", HighText: "+10 mm"},
			{Label: "coverage", AtLow: 0.50, AtHigh: 0.40, LowText: "−3°", HighText: "+3°"},
			{Label: "pitch", AtLow: 0.44, AtHigh: 0.46, LowText: "−2 mm", HighText: "+2 mm"},
			{Label: "insert mouth spacing", AtLow: 0.49, AtHigh: 0.48, LowText: "−5 mm", HighText: "+5 mm"},
			{Label: "air temperature and a name too long to stand here", AtLow: 0.45, AtHigh: 0.45, LowText: "−10 °C", HighText: "+10 °C"},
		}}
}

func scatterExample() Scatter {
	c := Scatter{Caption: invented("Designs within the limits", "gap against maximum level at 50 Hz; each point is one design"),
		X: Axis{Label: "Gap", Unit: "octaves"}, Y: Axis{Label: "Maximum level at 50 Hz", Unit: "dB re 20 µPa at 1 m"}}
	for i := range 90 {
		a, b := math.Mod(float64(i)*0.618034, 1), math.Mod(float64(i)*0.7548777, 1)
		c.Points = append(c.Points, Point{X: -0.4 + 1.8*a, Y: 96 + 22*b*math.Sqrt(a+0.05)})
	}
	for i := range 9 {
		t := float64(i) / 8
		c.Points = append(c.Points, Point{X: -0.5 + 1.8*t*t, Y: 104 + 16*math.Sqrt(t), Front: true, Label: "design " + plain(float64(i+1))})
	}
	c.Points = append(c.Points, Point{X: 0.45, Y: 108, Present: true, Label: "present design"})
	return c
}

func polarExample(half bool) Polar {
	limit := 180.0
	if half {
		limit = 90
	}
	angle := even(-limit, limit, int(limit*2)+1)
	line := func(n, spacing float64) []float64 {
		return apply(angle, func(a float64) float64 {
			x := math.Pi * spacing * math.Sin(a*math.Pi/180)
			if math.Abs(math.Sin(x)) < 1e-9 {
				return 0
			}
			return math.Max(-60, 20*math.Log10(math.Abs(math.Sin(n*x)/(n*math.Sin(x)))))
		})
	}
	return Polar{Caption: invented("Vertical polar", "free field, normalised to 0° on axis"), Curves: []PolarCurve{
		{Label: "400 Hz", AngleDeg: angle, LevelDB: line(4, 0.38)},
		{Label: "800 Hz", AngleDeg: angle, LevelDB: line(4, 0.77)},
		{Label: "1.6 kHz with the insert that doubles the sources", AngleDeg: angle, LevelDB: line(8, 0.77)},
	}}
}

func fieldExample() FieldMap {
	x, y := even(0, 30, 61), even(0, 9, 28)
	var z [][]float64
	for _, h := range y {
		row := make([]float64, len(x))
		for i, d := range x {
			var re, im float64
			for n := range 8 {
				r := math.Hypot(d-0.3, h-6+0.33*float64(n)-1.2) + 0.3
				re, im = re+math.Cos(7.3*r)/r, im+math.Sin(7.3*r)/r
			}
			row[i] = 100 + 20*math.Log10(math.Hypot(re, im))
		}
		z = append(z, row)
	}
	return FieldMap{Caption: invented("Level over the hall, side view", "400 Hz, free field, 8 boxes; the program computes no rigging"),
		X: Axis{Label: "Distance", Unit: "m"}, Y: Axis{Label: "Height", Unit: "m"}, XValues: x, YValues: y, Level: z,
		Value: Axis{Label: "Level", Unit: "dB re 20 µPa"},
		Overlays: []Overlay{{Label: "stalls", X: []float64{4, 18}, Y: []float64{1.2, 1.8}}, {Label: "balcony", X: []float64{20, 28}, Y: []float64{4, 6}},
			{Label: "boxes", X: []float64{0.1, 0.6, 0.6, 0.1, 0.1}, Y: []float64{4.9, 4.9, 7.4, 7.4, 4.9}, Thin: true}},
	}
}

func angleMapExample() AngleMap {
	f, a := logSpace(100, 10000, 120), even(-90, 90, 91)
	var z [][]float64
	for _, deg := range a {
		z = append(z, apply(f, func(f float64) float64 {
			x := math.Pi * f * 0.33 / 343 * math.Sin(deg*math.Pi/180)
			if math.Abs(math.Sin(x)) < 1e-9 {
				return 0
			}
			return math.Max(-60, 20*math.Log10(math.Abs(math.Sin(4*x)/(4*math.Sin(x)))))
		}))
	}
	return AngleMap{Caption: invented("Vertical pattern over frequency", "4 boxes at 331 mm, free field, normalised to 0° on axis"), FrequencyHz: f, AngleDeg: a, Level: z}
}

func drawingExample() Drawing {
	d := Drawing{Caption: invented("Folded path, side view", "parabola, flat front; both layers laid over each other"),
		X: Axis{Label: "z (forward)", Unit: "mm"}, Y: Axis{Label: "y (up)", Unit: "mm"}}
	const a = 70.0
	var wx, wy []float64
	for _, t := range even(-84, 84, 81) {
		r := 2 * a / (1 + math.Cos(t*math.Pi/180))
		wx, wy = append(wx, -r*math.Cos(t*math.Pi/180)), append(wy, r*math.Sin(t*math.Pi/180))
	}
	d.Shapes = append(d.Shapes, Shape{Label: "cabinet", Kind: Hidden, Closed: true, X: []float64{-95, 150, 150, -95}, Y: []float64{-150, -150, 150, 150}})
	d.Shapes = append(d.Shapes, Shape{Label: "wall", Kind: Wall, X: wx, Y: wy})
	for i := 0; i < 81; i += 8 {
		d.Shapes = append(d.Shapes, Shape{Kind: Ray, X: []float64{0, wx[i], 130}, Y: []float64{0, wy[i], wy[i]}})
	}
	d.Shapes = append(d.Shapes, Shape{Label: "axis", Kind: CentreLine, X: []float64{-110, 165}, Y: []float64{0, 0}})
	d.Shapes = append(d.Shapes, Shape{Label: "mouth", X: []float64{130, 130}, Y: []float64{wy[0], wy[80]}})
	d.Dimensions = []Dimension{
		{X0: 130, Y0: wy[0], X1: 130, Y1: wy[80], Offset: -34, Text: "mouth 252 mm"},
		{X0: -70, Y0: 0, X1: 0, Y1: 0, Offset: -14, Text: "a = 70 mm"},
		{X0: -95, Y0: -150, X1: 150, Y1: -150, Offset: -22, Text: "depth 245 mm"},
		{X0: 130, Y0: -150, X1: 150, Y1: -150, Offset: 12, Text: "20 mm"},
	}
	d.Notes = []Mark{{X: 0, Y: 0, Text: "throat F"}}
	return d
}

// even returns n evenly spaced values from a to b, both included.
func even(a, b float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = a + (b-a)*float64(i)/float64(n-1)
	}
	out[n-1] = b
	return out
}
