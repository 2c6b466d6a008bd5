package advice

import (
	"math"
	"strings"
	"testing"

	"gapline/cabinet/sizing"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
)

// judgedAt is a judgement on a target of no gap, of levels whose horn serves from the given
// frequencies, what meets it always to 1 kHz; 0: the level has no figures.
func judgedAt(horn [sizing.LevelCount]float64) *Judgement {
	j := &Judgement{}
	for l, hz := range horn {
		g := sizing.LevelGap{Given: hz > 0, Low: sizing.Bound{Hz: 1000, By: sizing.HalfWave, From: 1000, To: 1000}, High: sizing.Bound{Hz: hz, By: sizing.PatternRule, From: hz, To: hz}}
		g.Gap = math.Log2(hz / 1000)
		g.Range = [2]float64{g.Gap, g.Gap}
		j.Levels[l] = JudgedLevel{g, judgeLevel(&g, 0)}
	}
	j.decide(0)
	j.Verdict = j.overall(false)
	return j
}

func saidAll(list []result.Text) string {
	var out []string
	for _, t := range list {
		out = append(out, terminal.Text(t, quantity.Metric))
	}
	return strings.Join(out, "\n")
}

// Levels contradict each other where they judge differently, or put a side more than a
// third of an octave apart; each is held against the next lower one that is given.
func TestContradictions(t *testing.T) {
	for _, c := range []struct {
		horn [sizing.LevelCount]float64
		want string
	}{
		{[sizing.LevelCount]float64{800, 850}, ""},
		// log2(900/600) = 0.585
		{[sizing.LevelCount]float64{600, 900}, "The horn serves from 900 Hz (pattern) by aperture, 0.58 oct above what holds by rule: 600 Hz."},
		// log2(1100/950) = 0.211: the verdicts differ
		{[sizing.LevelCount]float64{950, 0, 1100}, "The horn serves from 1100 Hz (pattern) by wave, 0.21 oct above what holds by rule: 950 Hz. The two levels judge the gap differently."},
		// log2(1300/900) = 0.531
		{[sizing.LevelCount]float64{900, 900, 1300, 900}, "The horn serves from 1300 Hz (pattern) by wave, 0.53 oct above what holds by aperture: 900 Hz. The two levels judge the gap differently.\n" +
			"The horn serves from 900 Hz (pattern) as measured, 0.53 oct below what holds by wave: 1300 Hz. The two levels judge the gap differently."},
	} {
		if got := saidAll(judgedAt(c.horn).Contradictions()); got != c.want {
			t.Errorf("%v:\n%s\nwant\n%s", c.horn, got, c.want)
		}
	}
}

// Only levels that are given and close the gap speak for a design.
func TestSupports(t *testing.T) {
	got := saidAll(judgedAt([sizing.LevelCount]float64{500, 1100}).Supports())
	if want := "Closed by rule, 1.00 oct of overlap: what meets the horn serves to 1000 Hz (half wave), the horn from 500 Hz (pattern)."; got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
}

// A level that leaves the gap open, of a divided verdict, says what holds if it is right;
// where all agree there is nothing to ask.
func TestIfs(t *testing.T) {
	for _, c := range []struct {
		horn [sizing.LevelCount]float64
		want string
	}{
		{[sizing.LevelCount]float64{800, 850}, ""},
		{[sizing.LevelCount]float64{1200, 1300}, ""},
		{[sizing.LevelCount]float64{800, 850, 1100}, "If the wave level is right, nothing serves 1000 Hz to 1100 Hz: what meets the horn would have to serve to 1100 Hz, or the horn from 1000 Hz."},
		{[sizing.LevelCount]float64{800, 850, 0, 1250}, "If the measurements are right, nothing serves 1000 Hz to 1250 Hz: what meets the horn would have to serve to 1250 Hz, or the horn from 1000 Hz."},
	} {
		if got := saidAll(judgedAt(c.horn).Ifs()); got != c.want {
			t.Errorf("%v:\n%s\nwant\n%s", c.horn, got, c.want)
		}
	}
}
