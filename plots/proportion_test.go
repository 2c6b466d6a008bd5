package plots

import (
	"math"
	"testing"
)

// textAt returns the middle of the box of the one text that reads want.
func textAt(t *testing.T, s *sheet, want string) (x, y float64) {
	t.Helper()
	found := 0
	for _, l := range s.texts {
		if l.text == want {
			x, y = float64(l.box.Min.X+l.box.Max.X)/2, float64(l.box.Min.Y+l.box.Max.Y)/2
			found++
		}
	}
	if found != 1 {
		t.Fatalf("%d texts %q, want one", found, want)
	}
	return x, y
}

// TestLevelProportion measures on the finished sheet, between tick labels: one
// decade of frequency must be as long as 50, 25 or 10 dB (IEC 60263), within
// 0.1 %.
func TestLevelProportion(t *testing.T) {
	for _, c := range []struct{ low, high, perDecade float64 }{
		{75, 95, 10}, {60, 100, 25}, {-30, 80, 50},
	} {
		f := []float64{20, 100, 1000, 20000}
		r := Response{Curves: []Curve{{X: f, Y: []float64{c.low, c.high, c.high, c.low}}}}
		s, err := r.layout()
		if err != nil {
			t.Fatal(err)
		}
		x0, _ := textAt(t, s, "200")
		x1, _ := textAt(t, s, "2k")
		_, y0 := textAt(t, s, plain(c.low))
		_, y1 := textAt(t, s, plain(c.low+20))
		got := 20 / (math.Abs(y1-y0) / math.Abs(x1-x0))
		if math.Abs(got/c.perDecade-1) > 1e-3 {
			t.Errorf("%g to %g dB: %.4f dB per decade, want %g", c.low, c.high, got, c.perDecade)
		}
	}
}

// TestLogProportion checks log-log panels: 0.5, 1, 1.25 or 2.5 decades of the
// quantity per decade of frequency (IEC 60263).
func TestLogProportion(t *testing.T) {
	for _, c := range []struct{ low, high, want float64 }{{5, 50, 1}, {1, 5000, 1.25}, {2, 10, 1}, {5, 10, 0.5}} {
		chart := Chart{X: Axis{Kind: Frequency}, Panels: []Panel{LogPanel("Z", "Ω", Curve{X: []float64{20, 20000}, Y: []float64{c.low, c.high}})}}
		plan := planPanel(chart.Panels[0], Caption{})
		if err := plan.settleY(scale{low: 20, high: 20e3, log: true}); err != nil {
			t.Fatal(err)
		}
		const width = 400
		plan.settle(plan.x, width, 1)
		got := math.Log10(plan.y.high/plan.y.low) / float64(plan.height) * width / 3
		if math.Abs(got/c.want-1) > 1e-3 {
			t.Errorf("%g to %g: %.4f decades per decade, want %g", c.low, c.high, got, c.want)
		}
	}
}

// TestEqualAxes: on a drawing a square is a square.
func TestEqualAxes(t *testing.T) {
	s, err := Drawing{X: Axis{Label: "z"}, Y: Axis{Label: "y"},
		Shapes: []Shape{{X: []float64{0, 100, 100, 0}, Y: []float64{0, 0, 300, 300}, Closed: true}}}.layout()
	if err != nil {
		t.Fatal(err)
	}
	var xs, ys []float64
	for _, l := range s.texts {
		switch {
		case l.text == "z" || l.text == "y":
		case l.alignX == 0.5 && l.alignY == 1 && l.size == tickSize:
			xs = append(xs, float64(l.at.X))
		case l.alignX == 1 && l.alignY == 0.5:
			ys = append(ys, float64(l.at.Y))
		}
	}
	// Both axes carry labels of the same step; compare the pitch of the labels.
	if len(xs) < 2 || len(ys) < 2 {
		t.Fatalf("%d and %d tick labels, want two or more of each", len(xs), len(ys))
	}
	px, py := smallestStep(xs), smallestStep(ys)
	if math.Abs(px/py-1) > 1e-9 {
		t.Errorf("label pitch %g along x, %g along y: want the same", px, py)
	}
}

func smallestStep(v []float64) float64 {
	least := math.Inf(1)
	for i := range v {
		for j := range i {
			least = math.Min(least, math.Abs(v[i]-v[j]))
		}
	}
	return least
}
