package advice

import (
	"math"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/designtest"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/study/fit"
)

// The truth table of the issue: an open gap is missed whatever is unknown, a closed one with
// something unknown is unknown, one certain yes and one certain no is divided, and the order
// is misfit, divided, unknown, missed or met.
func TestVerdictsAgainstTheTable(t *testing.T) {
	const open, closed = 0.3, -0.3
	within := func(gap, from, to float64) JudgedLevel {
		g := sizing.LevelGap{Given: true, Gap: gap, Range: [2]float64{from, to}}
		return JudgedLevel{g, judgeLevel(&g, 0)}
	}
	level := func(gap float64, unknown bool) JudgedLevel {
		g := sizing.LevelGap{Given: true, Gap: gap, Range: [2]float64{gap, gap}}
		if unknown {
			g.Unknown = []sizing.Limit{sizing.ChamberRule}
		}
		return JudgedLevel{g, judgeLevel(&g, 0)}
	}
	for _, c := range []struct {
		name   string
		levels []JudgedLevel // rule, aperture and, where there is a run, wave
		by     design.Deciding
		misfit bool
		want   Verdict
	}{
		{"all closed", []JudgedLevel{level(closed, false), level(closed, false)}, 0, false, GapMet},
		{"all open", []JudgedLevel{level(open, false), level(open, false)}, 0, false, GapMissed},
		{"open whatever is unknown", []JudgedLevel{level(open, true), level(open, true)}, 0, false, GapMissed},
		{"closed but for what is unknown", []JudgedLevel{level(closed, true), level(closed, true)}, 0, false, GapUnknown},
		{"one unknown", []JudgedLevel{level(closed, false), level(closed, true)}, 0, false, GapUnknown},
		{"unknown goes before missed", []JudgedLevel{level(closed, true), level(open, false)}, 0, false, GapUnknown},
		{"yes and no", []JudgedLevel{level(closed, false), level(open, false)}, 0, false, GapDivided},
		{"yes and no goes before unknown", []JudgedLevel{level(closed, false), level(closed, true), level(open, false)}, 0, false, GapDivided},
		{"wave says no", []JudgedLevel{level(closed, false), level(closed, false), level(open, false)}, 0, false, GapDivided},
		{"wave says yes", []JudgedLevel{level(closed, false), level(closed, false), level(closed, false)}, 0, false, GapMet},
		{"a side is missing", []JudgedLevel{level(math.NaN(), false), level(math.NaN(), false)}, 0, false, GapUnknown},
		{"rule decides", []JudgedLevel{level(closed, false), level(open, false), level(open, false)}, design.RuleDecides, false, GapMet},
		{"wave decides without a run", []JudgedLevel{level(closed, false), level(closed, false)}, design.WaveDecides, false, GapUnknown},
		{"wave decides", []JudgedLevel{level(closed, false), level(closed, false), level(open, false)}, design.WaveDecides, false, GapMissed},
		{"a run too coarse to tell", []JudgedLevel{level(closed, false), level(closed, false), within(-0.02, -0.05, 0.03)}, 0, false, GapUnknown},
		{"a coarse run that tells closed", []JudgedLevel{level(closed, false), level(closed, false), within(-0.1, -0.2, 0)}, 0, false, GapMet},
		{"a coarse run that tells open", []JudgedLevel{level(open, false), level(open, false), within(0.1, 0.05, 0.2)}, 0, false, GapMissed},
		{"a coarse run beside a yes and a no", []JudgedLevel{level(closed, false), level(open, false), within(0.02, -0.1, 0.2)}, 0, false, GapDivided},
		{"nothing that cannot be built", []JudgedLevel{level(closed, false), level(closed, false)}, 0, true, GapMisfit},
	} {
		var j Judgement
		copy(j.Levels[:], c.levels)
		j.decide(c.by)
		if got := j.overall(c.misfit); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// On the lobe basis no rule level exists, and without a run no wave level.
func TestLevelsThatExist(t *testing.T) {
	d := designtest.Box()
	s := sizing.Size(&d)
	given := func() (out [sizing.LevelCount]bool) {
		for l, g := range sizing.Levels(&d, &s) {
			out[l] = g.Given
		}
		return out
	}
	if got := given(); got != [sizing.LevelCount]bool{true, true, false} {
		t.Errorf("half-wave: levels %v", got)
	}
	d.Targets.Coupling = design.Lobe
	s = sizing.Size(&d)
	s.Wave.Pattern = 1000
	if got := given(); got != [sizing.LevelCount]bool{false, true, true} {
		t.Errorf("lobe, with a run: levels %v", got)
	}
}

// The gap of the basis is that of its level: by rule on half-wave, by aperture on lobe.
func TestGapIsThatOfItsLevel(t *testing.T) {
	d := designtest.Box()
	for basis, l := range map[design.Basis]sizing.Level{design.HalfWave: sizing.ByRule, design.Lobe: sizing.ByAperture} {
		d.Targets.Coupling = basis
		s := sizing.Size(&d)
		g := sizing.Levels(&d, &s)[l]
		if g.Low.Hz != s.Gap.Low || g.High.Hz != s.Gap.High || math.Abs(g.Gap-s.Gap.AsGiven()) > 1e-12 {
			t.Errorf("%s: level %v to %v, gap %v to %v", basis, g.Low, g.High, s.Gap.Low, s.Gap.High)
		}
	}
}

// A chamber that is not given could open a closed gap; a driver's lowest that is not given
// is no limit.
func TestWhatIsUnknown(t *testing.T) {
	d := designtest.Box()
	d.Insert.ChamberVolume, d.Horn.Lowest = optional.Float{}, optional.Float{}
	s := sizing.Size(&d)
	j := Judge(&d, &s, &fit.Fit{})
	if g := &j.Levels[sizing.ByRule]; !numeric.Given(g.Gap) || g.Gap > 0 || g.Verdict != GapUnknown {
		t.Errorf("without a chamber: gap %g, %s, want a closed one that is not certain", g.Gap, g.Verdict)
	}
	d = designtest.Box()
	d.Horn.Lowest = optional.Float{}
	s = sizing.Size(&d)
	if j = Judge(&d, &s, &fit.Fit{}); j.Levels[sizing.ByRule].Verdict != GapMet {
		t.Errorf("without a driver's lowest: %s", j.Levels[sizing.ByRule].Verdict)
	}
}

// The verdict line of an open gap names each level's own span, and once what levels share.
func TestMissedNamesEachLevelsSpan(t *testing.T) {
	level := func(low, high float64, by sizing.Limit) JudgedLevel {
		g := sizing.LevelGap{Given: true, Low: sizing.Bound{Hz: low, By: sizing.HalfWave}, High: sizing.Bound{Hz: high, By: by}, Gap: math.Log2(high / low)}
		return JudgedLevel{g, judgeLevel(&g, 0)}
	}
	for _, c := range []struct {
		levels []JudgedLevel
		want   string
	}{
		{[]JudgedLevel{level(500, 1000, sizing.PatternRule), level(510, 1500, sizing.PatternComputed)},
			": neither serves 500 Hz (half wave) to 1000 Hz (pattern) by rule and 510 Hz (half wave) to 1500 Hz (pattern) by aperture."},
		{[]JudgedLevel{level(500, 1000, sizing.PatternRule), level(500, 1500, sizing.PatternComputed)},
			": neither serves 500 Hz (half wave) to 1000 Hz by rule and 1500 Hz by aperture (pattern)."},
		{[]JudgedLevel{level(500, 1000, sizing.DriverLowest), level(500, 1000, sizing.DriverLowest)},
			": neither serves 500 Hz (half wave) to 1000 Hz (driver's lowest)."},
		{[]JudgedLevel{level(500, 1000, sizing.DriverLowest), level(500, 1000, sizing.DriverLowest), level(500, 2000, sizing.PatternWave)},
			": neither serves 500 Hz (half wave) to 1000 Hz (driver's lowest) by rule and aperture and 2000 Hz (pattern) by wave."},
		{[]JudgedLevel{level(500, 1000, sizing.DriverLowest), level(510, 1000, sizing.DriverLowest), level(520, 1000, sizing.DriverLowest)},
			": neither serves 500 Hz by rule, 510 Hz by aperture and 520 Hz by wave (half wave) to 1000 Hz (driver's lowest)."},
	} {
		j := Judgement{Verdict: GapMissed}
		copy(j.Levels[:], c.levels)
		j.decide(0)
		if got := terminal.Text(j.line(nil), quantity.Metric); !strings.HasSuffix(got, c.want) {
			t.Errorf("%q, want it to end in %q", got, c.want)
		}
	}
}
