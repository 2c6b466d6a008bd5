package plots

import (
	"flag"
	"image"
	"image/color"
	"math"
	"os"
	"testing"

	"gonum.org/v1/plot/vg"
	"pgregory.net/rapid"
)

// Generators of charts as wild as a caller could make them: long and empty
// texts, foreign letters, control characters, gaps, spikes and huge ranges.

func words() *rapid.Generator[string] {
	return rapid.OneOf(
		rapid.SampledFrom([]string{"", "gap", "1 mouth", "with insert, 2 mouths", "Ω − θ → ≤ µ é", "line\nbreak\ttab\x00", "\xff\xfe broken",
			"a label that goes on and on, far longer than any place there is for it on a sheet of this width, whatever one does",
			"Unbreakableunbreakableunbreakableunbreakableunbreakableunbreakableunbreakable"}),
		rapid.StringN(0, 40, -1),
	)
}

func numbers(low, high float64) *rapid.Generator[float64] {
	return rapid.OneOf(rapid.Float64Range(low, high), rapid.Just(math.NaN()), rapid.SampledFrom([]float64{low, high}))
}

func randomCaption(t *rapid.T) Caption {
	return Caption{Title: words().Draw(t, "title"), Subtitle: words().Draw(t, "subtitle"), Design: words().Draw(t, "design"),
		Air: words().Draw(t, "air"), Trust: words().Draw(t, "trust")}
}

func randomStrip(t *rapid.T) Figure {
	c := Strip{Caption: randomCaption(t)}
	hz := rapid.Custom(func(t *rapid.T) float64 { return math.Pow(10, rapid.Float64Range(0, 5).Draw(t, "log hz")) })
	for range rapid.IntRange(1, 4).Draw(t, "groups") {
		g := StripGroup{Title: words().Draw(t, "group")}
		for range rapid.IntRange(1, 4).Draw(t, "rows") {
			from := hz.Draw(t, "from")
			r := StripRow{Label: words().Draw(t, "label"), From: from, To: from * math.Pow(2, rapid.Float64Range(1e-4, 8).Draw(t, "octaves")),
				Fill: BarStyle(rapid.IntRange(0, 2).Draw(t, "fill")), Note: words().Draw(t, "note")}
			if rapid.IntRange(0, 5).Draw(t, "missing") == 0 {
				r.Missing = words().Draw(t, "why")
			}
			g.Rows = append(g.Rows, r)
		}
		low := hz.Draw(t, "low")
		g.Window = &StripWindow{Low: low, High: low * math.Pow(2, rapid.Float64Range(0, 5).Draw(t, "window")), Label: words().Draw(t, "window label"), Overlap: rapid.Bool().Draw(t, "overlap")}
		c.Groups = append(c.Groups, g)
	}
	return c
}

func randomCurve(t *rapid.T, x []float64, low, high float64) Curve {
	return Curve{Label: words().Draw(t, "curve"), X: x, Y: append(rapid.SliceOfN(numbers(low, high), len(x)-1, len(x)-1).Draw(t, "y"), (low+high)/2)}
}

func randomMarks(t *rapid.T, xl, xh, yl, yh float64) []Mark {
	var marks []Mark
	for range rapid.IntRange(0, 4).Draw(t, "marks") {
		marks = append(marks, Mark{X: rapid.Float64Range(xl, xh).Draw(t, "mark x"), Y: rapid.Float64Range(yl, yh).Draw(t, "mark y"), Text: words().Draw(t, "mark")})
	}
	return marks
}

func randomChart(t *rapid.T) Figure {
	f := logSpace(20, 20e3, rapid.IntRange(2, 30).Draw(t, "points"))
	low := rapid.Float64Range(-200, 200).Draw(t, "low")
	high := low + rapid.Float64Range(0, 300).Draw(t, "range")
	r := Response{Caption: randomCaption(t), Level: Axis{Label: words().Draw(t, "axis"), Unit: words().Draw(t, "unit")}}
	for range rapid.IntRange(1, 16).Draw(t, "curves") {
		r.Curves = append(r.Curves, randomCurve(t, f, low, high))
	}
	r.Marks = randomMarks(t, 20, 20e3, low, high)
	r.Guides = []Guide{{Value: rapid.Float64Range(low, high).Draw(t, "guide"), Text: words().Draw(t, "guide text")},
		{Value: 1000, Vertical: true, Text: words().Draw(t, "guide text")}}
	if rapid.Bool().Draw(t, "second") {
		r.Below = []Panel{DifferencePanel("Difference", randomCurve(t, f, -20, 20)), LogPanel("Z", "Ω", randomCurve(t, f, 1, 1e5))}
	}
	return r
}

func randomLever(t *rapid.T) Figure {
	x := even(0, math.Pow(10, rapid.Float64Range(-9, 9).Draw(t, "log lever")), rapid.IntRange(2, 20).Draw(t, "points"))
	l := Lever{Caption: randomCaption(t), Lever: Axis{Label: words().Draw(t, "lever")}}
	for range rapid.IntRange(1, 8).Draw(t, "curves") {
		l.Curves = append(l.Curves, randomCurve(t, x, -3, 3))
	}
	l.Present = &Mark{X: x[1], Y: 1, Text: words().Draw(t, "present")}
	return l
}

func randomMap(t *rapid.T) Figure {
	nx, ny := rapid.IntRange(2, 12).Draw(t, "nx"), rapid.IntRange(2, 12).Draw(t, "ny")
	m := Map{Caption: randomCaption(t), X: Axis{Label: words().Draw(t, "x")}, Y: Axis{Label: words().Draw(t, "y")}, Value: Axis{Label: words().Draw(t, "value")},
		XValues: even(0, 10, nx), YValues: even(-5, 5, ny), EqualAxes: rapid.Bool().Draw(t, "equal"), Scheme: GapScheme,
		Bold: []BoldLevel{{Value: 0, Text: words().Draw(t, "bold")}}, Marks: randomMarks(t, 0, 10, -5, 5),
		Overlays: []Overlay{{Label: words().Draw(t, "overlay"), X: []float64{0, 20}, Y: []float64{-4, 8}}}}
	for range ny {
		m.Z = append(m.Z, rapid.SliceOfN(numbers(-100, 100), nx, nx).Draw(t, "row"))
	}
	m.Z[0][0] = 1
	return m
}

func randomBars(t *rapid.T) Figure {
	b := Bars{Caption: randomCaption(t), Value: Axis{Label: words().Draw(t, "value")}, Base: rapid.Float64Range(-10, 10).Draw(t, "base")}
	for range rapid.IntRange(1, 9).Draw(t, "bars") {
		b.Bars = append(b.Bars, Bar{Label: words().Draw(t, "bar"), AtLow: b.Base + rapid.Float64Range(-2, 2).Draw(t, "low"),
			AtHigh: b.Base + rapid.Float64Range(-2, 2).Draw(t, "high"), LowText: words().Draw(t, "low text"), HighText: words().Draw(t, "high text")})
	}
	return b
}

func randomScatter(t *rapid.T) Figure {
	c := Scatter{Caption: randomCaption(t), X: Axis{Label: words().Draw(t, "x")}, Y: Axis{Label: words().Draw(t, "y")}}
	for range rapid.IntRange(1, 40).Draw(t, "points") {
		c.Points = append(c.Points, Point{X: rapid.Float64Range(-1, 1).Draw(t, "x"), Y: rapid.Float64Range(-1e6, 1e6).Draw(t, "y"),
			Label: words().Draw(t, "label"), Front: rapid.Bool().Draw(t, "front")})
	}
	return c
}

func randomPolar(t *rapid.T) Figure {
	c := Polar{Caption: randomCaption(t)}
	limit := rapid.SampledFrom([]float64{30, 90, 180}).Draw(t, "limit")
	for range rapid.IntRange(1, 9).Draw(t, "curves") {
		curve := randomCurve(t, even(-limit, limit, 37), -50, 12)
		c.Curves = append(c.Curves, PolarCurve{Label: curve.Label, AngleDeg: curve.X, LevelDB: curve.Y})
	}
	return c
}

func randomDrawing(t *rapid.T) Figure {
	at := rapid.Float64Range(-300, 300)
	d := Drawing{Caption: randomCaption(t), X: Axis{Label: "z", Unit: "mm"}, Y: Axis{Label: words().Draw(t, "y")},
		Shapes: []Shape{{X: []float64{0, 100}, Y: []float64{0, rapid.Float64Range(0, 2000).Draw(t, "height")}}}}
	for range rapid.IntRange(0, 8).Draw(t, "shapes") {
		d.Shapes = append(d.Shapes, Shape{Label: words().Draw(t, "shape"), X: rapid.SliceOfN(at, 3, 3).Draw(t, "xs"), Y: rapid.SliceOfN(at, 3, 3).Draw(t, "ys"),
			Kind: ShapeKind(rapid.IntRange(0, 5).Draw(t, "kind")), Closed: rapid.Bool().Draw(t, "closed")})
	}
	for range rapid.IntRange(0, 8).Draw(t, "dimensions") {
		d.Dimensions = append(d.Dimensions, Dimension{X0: at.Draw(t, "x0"), Y0: at.Draw(t, "y0"), X1: at.Draw(t, "x1"), Y1: at.Draw(t, "y1"),
			Offset: rapid.Float64Range(-40, 40).Draw(t, "offset"), Text: words().Draw(t, "measure")})
	}
	d.Notes = randomMarks(t, -300, 300, -300, 300)
	return d
}

// finiteWriter fails on coordinates that are not finite.
type finiteWriter struct{ t *rapid.T }

func (w finiteWriter) check(pts ...vg.Point) {
	for _, p := range pts {
		if !finite(float64(p.X)) || !finite(float64(p.Y)) {
			w.t.Fatalf("coordinate (%g, %g) is not finite", p.X, p.Y)
		}
	}
}

func (w finiteWriter) area(_ color.NRGBA, pts []vg.Point)    { w.check(pts...) }
func (w finiteWriter) picture(r vg.Rectangle, _ image.Image) { w.check(r.Min, r.Max) }
func (w finiteWriter) words(l placedLabel)                   { w.check(l.origin) }
func (w finiteWriter) lines(_ stroke, lines [][]vg.Point) {
	for _, l := range lines {
		w.check(l...)
	}
}

// TestMain runs fewer random cases than rapid's 100 unless told otherwise: each
// lays out a whole chart.
func TestMain(m *testing.M) {
	flag.Parse()
	if f := flag.Lookup("rapid.checks"); f.Value.String() == f.DefValue {
		if err := f.Value.Set("20"); err != nil {
			panic(err)
		}
	}
	os.Exit(m.Run())
}

// TestTextsNeverCollide draws random charts of each kind: none may fail, and no
// text may meet another or leave the sheet.
func TestTextsNeverCollide(t *testing.T) {
	for name, random := range map[string]func(*rapid.T) Figure{
		"strip": randomStrip, "chart": randomChart, "lever": randomLever, "map": randomMap, "bars": randomBars,
		"scatter": randomScatter, "polar": randomPolar, "drawing": randomDrawing,
	} {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				s, err := random(t).layout()
				if err != nil {
					t.Fatal(err)
				}
				checkTexts(t, name, s)
				s.render(finiteWriter{t})
			})
		})
	}
}
