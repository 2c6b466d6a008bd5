package main

import (
	"encoding/csv"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gapline/internal/designfile"
	"gapline/internal/study/size"
)

// Every figure of a sizing is worked in every starter, with the value that size --csv
// prints, and its steps come each once.
func TestWorkedFiguresAreThoseOfSize(t *testing.T) {
	for _, s := range designfile.Starters {
		file := starterFile(t, s.Name)
		code, out, errOut := gapline("size", file, "--csv", "--quiet")
		if code != exitDone {
			t.Fatal(errOut)
		}
		rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		printed := map[string]string{}
		for _, r := range rows {
			printed[r[0]] = r[1]
		}
		given := 0
		for _, f := range size.Table {
			o := object(t, "explain", f.Key, file)
			want, known := printed[f.Key]
			if !known {
				t.Fatalf("size --csv has no %s", f.Key)
			}
			got, isNumber := o["value"].(float64)
			if x, err := strconv.ParseFloat(want, 64); (err == nil) != isNumber || isNumber && got != x {
				t.Errorf("%s: explain %s says %v, size %q", s.Name, f.Key, o["value"], want)
			}
			if isNumber {
				given++
			}
			seen := map[string]bool{f.Key: true}
			for _, step := range o["steps"].([]any) {
				key := step.(map[string]any)["key"].(string)
				if seen[key] {
					t.Errorf("%s: %s has the step %s twice", s.Name, f.Key, key)
				}
				seen[key] = true
			}
			for _, in := range f.Inputs() {
				if !seen[in] {
					t.Errorf("%s: %s lacks the step %s", s.Name, f.Key, in)
				}
			}
			code, text, errOut := gapline("explain", f.Key, file)
			if code != exitDone || errOut != "" || !strings.Contains(text, "\n  result    ") {
				t.Errorf("%s: explain %s: exit %d, %s%s", s.Name, f.Key, code, errOut, text)
			}
		}
		if given < 30 {
			t.Errorf("%s: only %d figures have a value", s.Name, given)
		}
	}
}

// A figure can be done again from the text alone: the numbers behind the names in it, put
// into the formula as it stands in a textbook.
func TestWorkedFiguresByHand(t *testing.T) {
	file := starterFile(t, "hatch-insert")
	for _, c := range []struct {
		key  string
		hand func(value func(key string) float64) float64
	}{
		{"coupling.lower_hz", func(v func(string) float64) float64 {
			return v("air.sound_speed_m_s") / (v("line.boxes") * v("cabinet.pitch") / 1000)
		}},
		{"coupling.insert.half_wave_hz", func(v func(string) float64) float64 {
			return v("air.sound_speed_m_s") / (2 * v("coupling.insert.spacing_m") / 1000)
		}},
		{"horn.pattern_rule_hz", func(v func(string) float64) float64 {
			return 1e6 / (v("horn.exit_width_m") / 25.4 * v("horn.exit_coverage_deg"))
		}},
		{"gap.by_trust.rule.oct", func(v func(string) float64) float64 {
			return math.Log2(v("gap.by_trust.rule.high_hz") / v("gap.by_trust.rule.low_hz"))
		}},
		{"box.swept_volume_m3", func(v func(string) float64) float64 { // cm² and mm to L
			return v("woofer.per_box") * v("woofer.sd") * v("woofer.xmax") / 1e4
		}},
	} {
		_, text, _ := gapline("explain", c.key, file)
		want := number(t, text, `\n  result    .*, in full (\S+)`)
		got := c.hand(func(key string) float64 { return number(t, text, regexp.QuoteMeta(key)+` = (-?[0-9.]+)`) })
		// Six digits are off by up to 5e-6 each: three factors by 1.5e-5, and an interval of
		// two frequencies by 2·5e-6/ln 2 oct.
		if math.Abs(got-want) > 1.5e-5*max(1, math.Abs(want)) {
			t.Errorf("%s is %g by hand, explain says %g", c.key, got, want)
		}
	}
}

// number is the first number in a text that a pattern finds.
func number(t *testing.T, text, pattern string) float64 {
	t.Helper()
	m := regexp.MustCompile(pattern).FindStringSubmatch(text)
	if m == nil {
		t.Fatalf("no %s in\n%s", pattern, text)
	}
	x, err := strconv.ParseFloat(strings.TrimRight(m[1], "°,"), 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}
