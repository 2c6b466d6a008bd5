package plots

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
	"pgregory.net/rapid"
)

// Thinning keeps points of the line only, in their order, and every point that
// it leaves out lies in a column whose first, lowest, highest and last are kept:
// within half a pixel to the side, and no farther up or down than they reach.
func TestThinKeepsTheShape(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := []vg.Point{{}}
		for range rapid.IntRange(0, 400).Draw(t, "points") {
			last := line[len(line)-1]
			line = append(line, vg.Point{
				X: last.X + thinTo*vg.Length(rapid.Float64Range(-1, 1.5).Draw(t, "dx")),
				Y: vg.Length(rapid.Float64Range(-50, 50).Draw(t, "y")),
			})
		}
		got := thin(line)
		if got[0] != line[0] || got[len(got)-1] != line[len(line)-1] {
			t.Fatal("an end is lost")
		}
		next := 0
		for i := 0; i < len(line); {
			if next < len(got) && line[i] == got[next] {
				next++
				i++
				continue
			}
			// A lost point: its neighbours kept in the same column bracket it.
			column := func(p vg.Point) float64 { return math.Floor(float64(p.X / thinTo)) }
			low, high := vg.Length(math.Inf(1)), vg.Length(math.Inf(-1))
			for _, p := range got {
				if column(p) == column(line[i]) {
					low, high = min(low, p.Y), max(high, p.Y)
				}
			}
			if line[i].Y < low || line[i].Y > high {
				t.Fatalf("point %d, %v, stands out of %g to %g that are kept", i, line[i], low, high)
			}
			i++
		}
		if next != len(got) {
			t.Fatal("a point is not of the line, or out of order")
		}
	})
}

// Of a curve of 100 000 points no more is written than columns can hold, and its
// one spike stays.
func TestLongCurvesAreThinned(t *testing.T) {
	const n = 100_000
	c := Curve{Label: "long", X: make([]float64, n), Y: make([]float64, n), Dash: Solid}
	for i := range n {
		c.X[i], c.Y[i] = float64(i)/n, math.Sin(float64(i)/900)
	}
	c.Y[n/3] = 7
	var b bytes.Buffer
	if err := WriteSVG(&b, "p", Chart{X: Axis{Label: "x"}, Panels: []Panel{{Y: Axis{Label: "y"}, Curves: []Curve{c}}}}); err != nil {
		t.Fatal(err)
	}
	if b.Len() > 200_000 {
		t.Errorf("%d bytes", b.Len())
	}
	if points := thin(c.runs(panel{rect: rect(0, 0, 400, 200), x: scale{high: 1}, y: scale{low: -1, high: 7}})[0]); !hasY(points, 200) {
		t.Error("the spike is lost")
	}
}

func hasY(points []vg.Point, y vg.Length) bool {
	for _, p := range points {
		if math.Abs(float64(p.Y-y)) < 1e-9 {
			return true
		}
	}
	return false
}

// A curve that ends within the panel has a dotted leader there: a solid line in
// its colour would look like data.
func TestLeaderWithinThePanelIsDotted(t *testing.T) {
	dotted := `stroke-dasharray="1.6 2.2"`
	for _, c := range []struct {
		curve Curve
		want  bool
	}{
		{Curve{Label: "whole", X: []float64{0, 1}, Y: []float64{0, 1}, Dash: Solid}, false},
		{Curve{Label: "short", X: []float64{0, 0.5, 1}, Y: []float64{0, 1, math.NaN()}, Dash: Solid}, true},
	} {
		var b bytes.Buffer
		if err := WriteSVG(&b, "p", Chart{X: Axis{Label: "x"}, Panels: []Panel{{Y: Axis{Label: "y"}, Curves: []Curve{c.curve}}}}); err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(b.String(), dotted); got != c.want {
			t.Errorf("%s: dotted leader %v, want %v", c.curve.Label, got, c.want)
		}
	}
}

// A viewer whose font is wider by fontReserve still keeps subtitle and footer on
// the sheet, and the footer's two texts apart.
func TestWordsLeaveRoomForOtherFonts(t *testing.T) {
	long := strings.Repeat("half-wave basis; one curve for each number of mouths ", 4)
	s, _ := newSheet(Caption{Title: long, Subtitle: long, Design: long, Air: "20 °C", Trust: "rule"}, 100)
	var footEnd, originStart vg.Length
	for _, l := range s.texts {
		if l.alignX == 0 && l.origin.X+l.width*fontReserve > s.width-sheetMargin+0.1 {
			t.Errorf("%q would leave the sheet", l.text)
		}
		if l.size != footerSize {
			continue
		}
		if l.alignX == 1 {
			originStart = l.at.X - l.width*fontReserve
		} else {
			footEnd = max(footEnd, l.origin.X+l.width*fontReserve)
		}
	}
	if footEnd == 0 || originStart == 0 || footEnd+5 > originStart {
		t.Errorf("footer ends at %g, who says so starts at %g", footEnd, originStart)
	}
}
