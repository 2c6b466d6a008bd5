package describe

import (
	"math"
	"strings"
	"testing"

	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/space"
	"gapline/plots"

	"github.com/google/go-cmp/cmp"
)

func axisOf(t *testing.T, text string) space.Axis {
	t.Helper()
	a, err := space.ParseAxis(text)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func leverOf(t *testing.T, r *result.Result, sys quantity.System) plots.Lever {
	t.Helper()
	return drawnOf(t, r, sys, "").(plots.Lever)
}

// An axis keeps one unit throughout, that of the system.
func TestAxesKeepOneUnit(t *testing.T) {
	sized := parse(t, boxText)
	for _, c := range []struct {
		vary string
		sys  quantity.System
		unit string
		want []float64
	}{
		{"fold.virtual_path=1m,20m", quantity.Metric, "mm", []float64{1000, 20000}},
		{"cabinet.pitch=9in,10in", quantity.Inch, "inches", []float64{9, 10}},
		{"horn.lowest=900Hz,12kHz", quantity.Metric, "Hz", []float64{900, 12000}},
		{"horn.coverage=60,90deg", quantity.Metric, "degrees", []float64{60, 90}},
		{"air.temperature=0,20degC", quantity.Inch, "°F", []float64{32, 68}},
		{"line.boxes=1,2", quantity.Metric, "", []float64{1, 2}},
	} {
		a := axisOf(t, c.vary)
		chart := leverOf(t, LeverChart(a, []space.Curve{{Gap: make([]float64, a.Len())}}, sized.Design, sized.Sizing), c.sys)
		got := chart.Curves[0].X
		for i := range got {
			if math.Abs(got[i]-c.want[i]) > 1e-9*c.want[i] {
				t.Errorf("%s is drawn at %v, want %v", c.vary, got, c.want)
				break
			}
		}
		if axis := chart.Lever; axis.Unit != c.unit || strings.Contains(axis.Label, ".") {
			t.Errorf("%s: axis %+v, want the unit %q", c.vary, axis, c.unit)
		}
	}
}

// The map's rows follow the second axis; a falling axis is turned round, and
// the values with it.
func TestMapTurnsFallingAxesRound(t *testing.T) {
	axes := []space.Axis{axisOf(t, "cabinet.pitch=300,200mm"), axisOf(t, "horn.coverage=90,75,60deg")}
	gap := []float64{1, 2, 3, 4, 5, math.Inf(-1)} // 300 mm: 1 2 3, 200 mm: 4 5 -Inf
	sized := parse(t, boxText)
	fits := []bool{true, true, true, true, false, false}
	m := drawnOf(t, GapMap(axes, gap, fits, sized.Design, sized.Sizing), quantity.Metric, "").(plots.GapMap)
	if d := cmp.Diff([][]bool{{true, false}, {true, false}, {false, false}}, m.Hollow); d != "" {
		t.Errorf("rings (-want +got):\n%s", d)
	}
	if !near(m.XValues, []float64{200, 300}) || !near(m.YValues, []float64{60, 75, 90}) {
		t.Fatalf("axes %v and %v", m.XValues, m.YValues)
	}
	want := [][]float64{{math.NaN(), 3}, {5, 2}, {4, 1}}
	for j := range want {
		if !near(m.Octaves[j], want[j]) {
			t.Errorf("row %d is %v, want %v", j, m.Octaves[j], want[j])
		}
	}
	if m.Present == nil || math.Abs(m.Present.X-250) > 1e-9 || math.Abs(m.Present.Y-90) > 1e-9 {
		t.Errorf("this design is marked at %+v", m.Present)
	}
}

func near(got, want []float64) bool {
	if len(got) != len(want) {
		return false
	}
	for i := range got {
		if math.IsNaN(got[i]) != math.IsNaN(want[i]) || math.Abs(got[i]-want[i]) > 1e-9 {
			return false
		}
	}
	return true
}

// The lever chart breaks where the gap is not a number, dashes what is not
// linked, and marks the present design.
func TestLeverChart(t *testing.T) {
	a := axisOf(t, "cabinet.pitch=200,250,300mm")
	curves := []space.Curve{{Label: "a", Gap: []float64{math.Inf(-1), 0.45, 1}}, {Label: "b", Gap: []float64{0, 0, 0}, Unlinked: true}}
	sized := parse(t, boxText)
	c := leverOf(t, LeverChart(a, curves, sized.Design, sized.Sizing), quantity.Metric)
	if !near(c.Curves[0].Y, []float64{math.NaN(), 0.45, 1}) || !near(c.Curves[0].X, []float64{200, 250, 300}) {
		t.Errorf("curve %+v", c.Curves[0])
	}
	if c.Curves[0].Dash == c.Curves[1].Dash || !strings.Contains(c.Subtitle, "dashed") {
		t.Errorf("the unlinked curve does not stand out: %+v, %q", c.Curves, c.Subtitle)
	}
	if c.Present == nil || math.Abs(c.Present.X-250) > 1e-9 || math.Abs(c.Present.Y-0.4514) > 1e-3 {
		t.Errorf("this design is marked at %+v", c.Present)
	}
}

// A curve without any value is left out beside one that has some: a plot refuses a curve of
// nothing but NaN, and with it the whole picture.
func TestLeverChartLeavesOutWhatHasNoGap(t *testing.T) {
	sized := parse(t, boxText)
	a := axisOf(t, "cabinet.pitch=200,250mm")
	nan := math.NaN()
	c := leverOf(t, LeverChart(a, []space.Curve{{Label: "with mids", Gap: []float64{1, 0.5}}, {Label: "without mids", Gap: []float64{nan, nan}}}, sized.Design, sized.Sizing), quantity.Metric)
	if len(c.Curves) != 1 || c.Curves[0].Label != "with mids" {
		t.Errorf("%d curves, want the one with values: %+v", len(c.Curves), c.Curves)
	}
}
