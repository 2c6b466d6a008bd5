package advice

import (
	"math"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/designtest"
	"gapline/internal/optional"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/study/fit"
)

// Where the levels that decide leave another window than the basis, a crossover that lies
// in one of them alone is told with both, and one that lies in both or in none is not.
func TestCrossoverBetweenTheWindows(t *testing.T) {
	d := designtest.Box()
	s := sizing.Size(&d)
	rule, aperture := s.Level(sizing.ByRule), s.Level(sizing.ByAperture)
	from, to := math.Max(rule.High.Hz, aperture.High.Hz), math.Min(rule.Low.Hz, aperture.Low.Hz)
	if !(rule.High.Hz < 0.98*from && from < to) {
		t.Fatalf("rule %+v, aperture %+v: want the basis's window to begin under the other", rule, aperture)
	}
	show := func(hz float64) string { return quantity.Format(hz, quantity.Frequency, quantity.Metric) }
	both := "On the half-wave basis both bands cover " + show(rule.High.Hz) + " to " + show(rule.Low.Hz) +
		"; by rule and aperture, which decide the gap, " + show(from) + " to " + show(to) + "."
	for _, x := range []struct {
		name  string
		hz    float64
		trust design.Deciding
		want  string // empty: nothing is said
	}{
		{"in the first alone", math.Sqrt(rule.High.Hz * from), 0, both},
		{"in both", math.Sqrt(from * to), 0, ""},
		{"in none", rule.High.Hz / 2, 0, ""},
		{"where the basis's level decides", math.Sqrt(rule.High.Hz * from), design.RuleDecides, ""},
	} {
		d.Crossover.Frequency, d.Targets.Trust = optional.Of(x.hz), x.trust
		s := sizing.Size(&d)
		got := ""
		for _, f := range about(Findings(&d, &s, fit.Of(&d, nil)), "gap.window.low_hz") {
			got += terminal.Text(f.Text, quantity.Metric)
		}
		if x.want == "" && got != "" || !strings.HasPrefix(got, x.want) {
			t.Errorf("%s: %q, want %q", x.name, got, x.want)
		}
	}
}

// The window is the greatest lower and the least upper end over the levels that decide, and
// none where one of them leaves the gap open or knows none.
func TestWindowServed(t *testing.T) {
	level := func(low, high float64) JudgedLevel {
		g := sizing.LevelGap{Given: true, Low: sizing.Bound{Hz: low, By: sizing.HalfWave}, High: sizing.Bound{Hz: high, By: sizing.PatternRule}, Gap: math.Log2(high / low)}
		return JudgedLevel{g, judgeLevel(&g, 0)}
	}
	for _, x := range []struct {
		name     string
		levels   []JudgedLevel
		trust    design.Deciding
		from, to float64
	}{
		{"two", []JudgedLevel{level(1300, 1000), level(1200, 1100)}, 0, 1100, 1200},
		{"one of them decides", []JudgedLevel{level(1300, 1000), level(1200, 1100)}, design.RuleDecides, 1000, 1300},
		{"one is open", []JudgedLevel{level(1300, 1000), level(1200, 1250)}, 0, math.NaN(), math.NaN()},
		{"they do not meet", []JudgedLevel{level(1300, 1200), level(1100, 1000)}, 0, math.NaN(), math.NaN()},
		{"wave decides without a run", []JudgedLevel{level(1300, 1000), level(1200, 1100)}, design.WaveDecides, math.NaN(), math.NaN()},
	} {
		var j Judgement
		copy(j.Levels[:], x.levels)
		j.decide(x.trust)
		same := func(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }
		if from, to := j.Serves(); !same(from, x.from) || !same(to, x.to) {
			t.Errorf("%s: %g to %g, want %g to %g", x.name, from, to, x.from, x.to)
		}
	}
}
