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
	"gapline/internal/result"
	"gapline/internal/schema"
	"gapline/internal/study/fit"

	"pgregory.net/rapid"
)

// twins are two woofers 470 mm apart that hand over at 891 Hz to a horn of 90°.
func twins() design.Design {
	d := designtest.Box()
	d.Insert, d.Cabinet.Width = design.Insert{}, optional.Of(0.95)
	d.Woofer.PerBox, d.Bands.Woofer.Lateral = 2, optional.Of(0.47)
	d.Horn.Coverage, d.Crossover.Frequency = optional.Of(math.Pi/2), optional.Of(891)
	return d
}

// about keeps the findings about a key.
func about(findings []result.Finding, keys ...string) []result.Finding {
	var out []result.Finding
	for _, f := range findings {
		for _, k := range keys {
			if f.Key == k {
				out = append(out, f)
			}
		}
	}
	return out
}

// mended sizes a design with the first number of a finding, as a system of units prints
// it, times a factor in place of its key.
func mended(t *rapid.T, d design.Design, f result.Finding, sys quantity.System, factor float64) sizing.Sizing {
	cell, ok := f.Text.Args[0].(result.Cell)
	k := schema.FindKey(f.Key)
	if !ok || k == nil {
		t.Fatalf("no value or no key: %s, %q", f.Key, f.Text.Form)
	}
	x, err := quantity.Parse(terminal.Cell(cell, sys), cell.Kind)
	if err != nil {
		t.Fatal(err)
	}
	k.SetNumber(&d, x*factor)
	if f.Key == "insert.mouth_width" && !d.HasInsert() {
		d.Insert.Mouths = 2
	}
	return sizing.Size(&d)
}

// Each change that is proposed mends what it is proposed for, as printed in either system
// of units; 3 % further it does not.
func TestAcrossMends(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := designtest.Random(t)
		between := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		if rapid.Bool().Draw(t, "without insert") {
			d.Insert = design.New().Insert
		}
		d.Woofer.PerBox = rapid.IntRange(1, 3).Draw(t, "woofers")
		d.Bands.Woofer.Lateral = optional.Of(d.Woofer.Diameter() * between("apart", 1, 3))
		d.Crossover.Frequency = optional.Of(between("crossover", 200, 3000))
		s := sizing.Size(&d)
		for _, f := range about(Findings(&d, &s, fit.Of(&d, nil)), "woofer.lateral_spacing", "insert.mouth_width", "crossover.frequency") {
			if f.Severity != result.Try {
				continue
			}
			for _, sys := range []quantity.System{quantity.Metric, quantity.Inch} {
				if after := mended(t, d, f, sys, 1); !(after.Woofers.CoversTo >= after.Woofers.Crossover) {
					t.Fatalf("%s: covers to %g Hz, crossover at %g Hz", terminal.Text(f.Text, sys), after.Woofers.CoversTo, after.Woofers.Crossover)
				}
			}
			if after := mended(t, d, f, quantity.Metric, 1.03); after.Woofers.Covers() {
				t.Fatalf("%s: 3 %% more still covers", terminal.Text(f.Text, quantity.Metric))
			}
		}
	})
}

// What is proposed is what closed forms give, rounded to the side that mends: mouths at
// most 1.892746·c/(π·f·sin(θ/2)) wide (testdata/reference/rect_angles.csv), two cones small
// against the wave at most c·acos(10^(−6/20))/(π·f·sin(θ/2)) apart.
func TestAcrossProposesTheClosedForms(t *testing.T) {
	proposed := func(d design.Design, key string) float64 {
		s := sizing.Size(&d)
		for _, f := range about(Findings(&d, &s, fit.Of(&d, nil)), key) {
			if cell, ok := f.Text.Args[0].(result.Cell); ok && f.Severity == result.Try {
				return cell.SI
			}
		}
		t.Errorf("%s is not proposed", key)
		return math.NaN()
	}
	d := twins()
	c := sizing.Size(&d).Air.SoundSpeed
	d.Woofer.PerBox, d.Crossover.Frequency = 1, optional.Of(2400)
	mouth := 1.89274622095 * c / (math.Pi * 2400 * math.Sin(math.Pi/4))
	if got := proposed(d, "insert.mouth_width"); !(got <= mouth && got > mouth-0.002) { // inches print half a millimetre
		t.Errorf("insert mouths of %g m, want %g or a little less", got, mouth)
	}
	d = twins()
	d.Woofer.Size, d.Woofer.EffectiveDiameter, d.Crossover.Frequency = optional.Of(0.1), optional.Of(1e-3), optional.Of(500)
	apart := c * math.Acos(math.Pow(10, -6.0/20)) / (math.Pi * 500 * math.Sin(math.Pi/4))
	if got := proposed(d, "woofer.lateral_spacing"); !(got <= apart && got > apart-0.004) { // inches print 2.5 mm
		t.Errorf("columns %g m apart, want %g or a little less", got, apart)
	}
	reach := c * math.Acos(math.Pow(10, -6.0/20)) / (math.Pi * 0.47 * math.Sin(math.Pi/4))
	if got := proposed(d, "crossover.frequency"); !(got <= reach && got > reach-1) {
		t.Errorf("crossover at %g Hz, want %g or a little less", got, reach)
	}
}

// The price of the twins in numbers, which the closed forms of two points bear out: a null
// at asin(λ/2s) = 24°; with 90° to cover, cones that are small against the wave reach
// 0.333·c/(s·sin 45°) = 344 Hz at 20 °C, and these 197 mm across a little less.
func TestPriceOfTwins(t *testing.T) {
	d := twins()
	s := sizing.Size(&d)
	list := Findings(&d, &s, fit.Of(&d, nil))
	notes := about(list, "woofers.covers_to_hz")
	if len(notes) != 1 || notes[0].Severity != result.Note {
		t.Fatalf("%d findings about what the twins cover", len(notes))
	}
	text := terminal.Text(notes[0].Text, quantity.Metric)
	for _, want := range []string{"Side by side, 470 mm apart", "at 891 Hz", "a null 24.2° off the axis", "They cover the horn's 90° only up to 34"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in %q", want, text)
		}
	}
	if Unmet(about(list, "woofers.covers_to_hz", "crossover.frequency")) {
		t.Error("the price of twins counts as a target that is missed")
	}
	// Cones that touch reach 0.333·c/(0.24·sin 45°) = 675 Hz at most: no spacing will do.
	if f := about(list, "woofer.lateral_spacing"); len(f) != 0 {
		t.Errorf("proposed: %s", terminal.Text(f[0].Text, quantity.Metric))
	}
	if f := about(list, "crossover.frequency"); len(f) != 1 || !strings.Contains(terminal.Text(f[0].Text, quantity.Metric), "(now 891 Hz). Cost: the horn is good only from") {
		t.Errorf("lower crossover: %v", f)
	}
}

// Where the coverage is covered one column is no news, and two are one for those who ask.
func TestCoveredIsADetail(t *testing.T) {
	d := twins()
	d.Crossover.Frequency = optional.Of(300)
	s := sizing.Size(&d)
	if f := about(Findings(&d, &s, fit.Of(&d, nil)), "woofers.covers_to_hz"); len(f) != 1 || !f[0].Detail {
		t.Errorf("two columns that cover: %v", f)
	}
	d.Woofer.PerBox = 1
	s = sizing.Size(&d)
	if f := about(Findings(&d, &s, fit.Of(&d, nil)), "woofers.covers_to_hz"); len(f) != 0 {
		t.Errorf("one column that covers: %v", f)
	}
}

// Woofers under a mid band have its crossover, and its price.
func TestMidsAcross(t *testing.T) {
	d := twins()
	d.Mid.Size, d.Mid.PerBox, d.Mid.Lowest = optional.Of(0.1), 2, optional.Of(500)
	d.Bands.Mid.Lateral, d.Crossover.Frequency = optional.Of(0.3), optional.Of(1800)
	s := sizing.Size(&d)
	list := Findings(&d, &s, fit.Of(&d, nil))
	for key, want := range map[string]string{
		"woofers.covers_to_hz":    "the woofers hand over at 500 Hz",
		"mids.covers_to_hz":       "the mids hand over at 1800 Hz",
		"crossover.low_frequency": "Cost: the mid band is good only from 500 Hz",
		"crossover.frequency":     "Crossover of the mids at",
		"mid.lateral_spacing":     "",
	} {
		f := about(list, key)
		if want == "" && len(f) == 0 {
			continue
		}
		if len(f) != 1 || want == "" || !strings.Contains(terminal.Text(f[0].Text, quantity.Metric), want) {
			t.Errorf("%s: want %q in %v", key, want, f)
		}
	}
}

// What a lower crossover costs the horn is told by the level that asks most of those that
// decide: here the integral's pattern, which begins above the rule's, unless the rule alone
// decides or the driver's own limit lies above both.
func TestLowerCrossoverCitesTheLevelThatBinds(t *testing.T) {
	for _, x := range []struct {
		trust  design.Deciding
		lowest float64 // Hz; 0: none
		want   func(h *sizing.HornSizing) (hz float64, by string)
	}{
		{0, 0, func(h *sizing.HornSizing) (float64, string) { return h.PatternComputed, " by aperture" }},
		{design.RuleDecides, 0, func(h *sizing.HornSizing) (float64, string) { return h.PatternRule, "" }},
		{0, 2000, func(*sizing.HornSizing) (float64, string) { return 2000, "" }},
	} {
		d := twins()
		d.Targets.Trust = x.trust
		if x.lowest > 0 {
			d.Horn.Lowest = optional.Of(x.lowest)
		}
		s := sizing.Size(&d)
		if !(s.Horn.PatternComputed > s.Horn.PatternRule) {
			t.Fatalf("pattern %g by rule, %g computed: want them apart", s.Horn.PatternRule, s.Horn.PatternComputed)
		}
		hz, by := x.want(&s.Horn)
		want := "the horn is good only from " + quantity.Format(hz, quantity.Frequency, quantity.Metric) + by + "."
		f := about(Findings(&d, &s, fit.Of(&d, nil)), "crossover.frequency")
		if len(f) == 0 || !strings.Contains(terminal.Text(f[len(f)-1].Text, quantity.Metric), want) {
			t.Errorf("trust %v, driver from %g Hz: %v, want %q", x.trust, x.lowest, f, want)
		}
	}
}
