package plots

import (
	"math"
	"testing"
)

func TestBrokenInput(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	two := []float64{1, 2}
	oneCurve := func(c Curve) Figure { return Lever{Lever: Axis{Label: "Pitch"}, Curves: []Curve{c}} }
	oneRow := func(r StripRow) Figure { return Strip{Groups: []StripGroup{{Rows: []StripRow{r}}}} }
	oneMap := func(x, y []float64, z [][]float64) Figure { return GapMap{XValues: x, YValues: y, Octaves: z} }
	for name, c := range map[string]struct {
		fig   Figure
		words []string
	}{
		"empty strip":          {Strip{}, []string{"without rows"}},
		"strip NaN":            {oneRow(StripRow{Label: "woofers", From: nan, To: 5}), []string{"woofers", "from < to"}},
		"strip turned":         {oneRow(StripRow{Label: "woofers", From: 500, To: 300}), []string{"woofers", "500", "300"}},
		"strip colour":         {oneRow(StripRow{Label: "w", From: 50, To: 300, Colour: 9}), []string{"colour 9"}},
		"strip window":         {Strip{Groups: []StripGroup{{Rows: []StripRow{{From: 1, To: 2}}, Window: &StripWindow{Low: nan, High: 1, Label: "gap"}}}}, []string{"window", "gap"}},
		"strip axis":           {Strip{Low: 100, High: 50, Groups: []StripGroup{{Rows: []StripRow{{From: 1, To: 2}}}}}, []string{"axis", "low < high"}},
		"empty lever":          {Lever{}, []string{"without data"}},
		"empty curve":          {oneCurve(Curve{Label: "1 mouth"}), []string{"1 mouth", "no points"}},
		"lengths":              {oneCurve(Curve{Label: "1 mouth", X: two, Y: []float64{1}}), []string{"2 x values", "1 y values"}},
		"all NaN":              {oneCurve(Curve{Label: "a", X: two, Y: []float64{nan, nan}}), []string{"no valid values"}},
		"infinite":             {oneCurve(Curve{Label: "a", X: two, Y: []float64{1, inf}}), []string{"value 2", "x = 2"}},
		"NaN in x":             {oneCurve(Curve{Label: "a", X: []float64{nan, 1}, Y: two}), []string{"x value 1"}},
		"half a band":          {oneCurve(Curve{Label: "a", X: two, Y: two, Low: two}), []string{"band"}},
		"mark":                 {Lever{Curves: []Curve{{X: two, Y: two}}, Present: &Mark{X: nan, Y: 1, Text: "present"}}, []string{"present"}},
		"zero on log axis":     {Chart{X: Axis{Kind: Frequency}, Panels: []Panel{LogPanel("Z", "Ω", Curve{Label: "z", X: []float64{20, 30}, Y: []float64{0, 1}})}}, []string{"value 1", "x = 20"}},
		"zero frequency":       {Response{Curves: []Curve{{Label: "a", X: []float64{0, 30}, Y: two}}}, []string{"x value 1"}},
		"outside":              {Response{Curves: []Curve{{Label: "a", X: two, Y: two}}}, []string{"no data between 20 and 20000"}},
		"axis turned":          {Response{X: Axis{Low: 300, High: 200}, Curves: []Curve{{X: []float64{250, 260}, Y: two}}}, []string{"low < high"}},
		"no panels":            {Chart{}, []string{"without panels"}},
		"empty panel":          {Chart{X: Axis{Low: 1, High: 2}, Panels: []Panel{{Y: Axis{Label: "Level"}}}}, []string{"Level", "no curves"}},
		"empty response":       {Response{}, []string{"without curves"}},
		"empty beamwidth":      {Beamwidth{}, []string{"without curves"}},
		"map too small":        {oneMap([]float64{1}, two, [][]float64{{1}, {1}}), []string{"1 x values"}},
		"map rows":             {oneMap(two, two, [][]float64{{1, 2}}), []string{"1 rows for 2"}},
		"map columns":          {oneMap(two, two, [][]float64{{1, 2}, {1}}), []string{"row 2", "1 values for 2"}},
		"map not rising":       {oneMap([]float64{2, 2}, two, [][]float64{{1, 2}, {1, 2}}), []string{"x value 2", "increase"}},
		"map infinite":         {oneMap(two, two, [][]float64{{1, 2}, {1, inf}}), []string{"row 2, column 2"}},
		"map all NaN":          {oneMap(two, two, [][]float64{{nan, nan}, {nan, nan}}), []string{"all are NaN"}},
		"overlay":              {FieldMap{XValues: two, YValues: two, Level: [][]float64{{1, 2}, {1, 2}}, Overlays: []Overlay{{Label: "stalls", X: two}}}, []string{"overlay", "stalls"}},
		"angle map":            {AngleMap{}, []string{"0 x values"}},
		"empty bars":           {Bars{}, []string{"without bars"}},
		"bars NaN":             {Bars{Bars: []Bar{{Label: "pitch", AtLow: nan}}}, []string{"pitch", "finite"}},
		"empty scatter":        {Scatter{}, []string{"without points"}},
		"scatter NaN":          {Scatter{Points: []Point{{X: nan, Label: "design 1"}}}, []string{"point 1", "design 1"}},
		"empty polar":          {Polar{}, []string{"without curves"}},
		"polar angle":          {Polar{Curves: []PolarCurve{{Label: "1 kHz", AngleDeg: []float64{0, 720}, LevelDB: two}}}, []string{"1 kHz", "720"}},
		"polar infinite":       {Polar{Curves: []PolarCurve{{Label: "1 kHz", AngleDeg: two, LevelDB: []float64{0, -inf}}}}, []string{"1 kHz", "-Inf"}},
		"empty drawing":        {Drawing{}, []string{"without shapes"}},
		"drawing of one point": {Drawing{Shapes: []Shape{{X: []float64{1, 1}, Y: []float64{2, 2}}}}, []string{"without extent"}},
		"empty oblique":        {Oblique{}, []string{"without triangles"}},
		"oblique values":       {Oblique{Triangles: [][3]int32{{0, 0, 0}}, Corners: make([][3]float64, 2)}, []string{"0 values for 2"}},
		"oblique NaN":          {Oblique{Triangles: [][3]int32{{0, 0, 0}}, Corners: make([][3]float64, 1), Value: []float64{nan}}, []string{"corner 1", "NaN"}},
		"oblique corner":       {Oblique{Triangles: [][3]int32{{0, 1, 0}}, Corners: make([][3]float64, 1), Value: []float64{1}}, []string{"corner 2 of 1"}},
		"oblique point":        {Oblique{Triangles: [][3]int32{{0, 0, 0}}, Corners: make([][3]float64, 1), Value: []float64{1}}, []string{"without extent"}},
		"dimension":            {Drawing{Shapes: []Shape{{X: two, Y: two}}, Dimensions: []Dimension{{X0: inf, Text: "depth"}}}, []string{"depth", "not finite"}},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := c.fig.layout()
			wantErr(t, err, c.words...)
		})
	}
}

// TestEdgeCases are odd inputs that must still give a picture.
func TestEdgeCases(t *testing.T) {
	one := []float64{300}
	for name, fig := range map[string]Figure{
		"one point":       Lever{Lever: Axis{Label: "Pitch"}, Curves: []Curve{{Label: "a", X: one, Y: one}}},
		"constant":        Response{Curves: []Curve{{Label: "a", X: []float64{20, 200}, Y: []float64{90, 90}}}},
		"no title at all": Bars{Bars: []Bar{{}}},
		"tiny numbers":    Scatter{Points: []Point{{X: 1e-12, Y: 1e-9}, {X: 2e-12, Y: 3e-9}}},
		"constant map":    GapMap{XValues: []float64{1, 2}, YValues: []float64{1, 2}, Octaves: [][]float64{{0, 0}, {0, 0}}},
		"flat drawing":    Drawing{Shapes: []Shape{{X: []float64{0, 100}, Y: []float64{0, 0}}}},
		"polar above 0":   Polar{Curves: []PolarCurve{{AngleDeg: []float64{0, 10, 20}, LevelDB: []float64{7, math.NaN(), -80}}}},
		"bar off axis":    Strip{Groups: []StripGroup{{Rows: []StripRow{{Label: "a", From: 30000, To: 40000}, {Label: "b", From: 1, To: 2}}}}},
	} {
		t.Run(name, func(t *testing.T) {
			s, err := fig.layout()
			if err != nil {
				t.Fatal(err)
			}
			checkTexts(t, name, s)
		})
	}
}
