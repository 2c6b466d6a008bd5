package main

import (
	"math"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"gapline/internal/figure"
)

// What explain prints of a figure and its inputs is enough to work it out again, to the
// digits printed: by a script that reads nothing else and shares no code with the program.
func TestFiguresAreWorkedOutAgainFromTheirText(t *testing.T) {
	python, err := exec.LookPath("python3")
	if err != nil {
		t.Skip("python3 is not here to work the figures out again")
	}
	// Those that the fold, the chamber and the alignment make worth the paper.
	must := map[string]bool{}
	for _, key := range []string{
		"air.sound_speed_m_s", "coupling.lower_hz", "coupling.open.half_wave_hz", "coupling.open.lobe_hz", "coupling.insert.lobe_hz",
		"coupling.insert.chamber_hz", "horn.pattern_rule_hz", "horn.cutoff_hz", "horn.flat_to_hz", "fold.path_spread_m", "fold.fan_deg",
		"gap.open_oct", "gap.insert_oct", "box.f3_hz", "box.max_spl_db", "box.swept_volume_m3",
		"box.enclosure.vent_length_m", "box.max_vent_speed_m_s", "box.driver.level_1w_1m_db",
	} {
		must[key] = true
	}
	var texts []string
	for _, c := range []struct {
		starter string
		set     []string
	}{
		{"hatch", []string{"--set", "fold.virtual_path=1.5m"}},
		{"hatch", []string{"--set", "fold.virtual_path=0.9m", "--set", "fold.throat_height=15mm", "--set", "targets.coupling=lobe", "--set", "enclosure.kind=closed"}},
		{"hatch-insert", nil},
		{"hatch-mids", []string{"--set", "air.temperature=8degC", "--set", "horn.profile=hyperbolic"}},
	} {
		file := starterFile(t, c.starter)
		for _, f := range figure.All() {
			if len(f.Hand) == 0 {
				continue
			}
			code, text, errOut := gapline(append([]string{"explain", f.Key, file}, c.set...)...)
			if code != exitDone {
				t.Fatal(errOut)
			}
			if strings.Contains(text, ", in full ") && strings.Contains(text, "what each line gives") {
				texts = append(texts, text)
			}
		}
	}
	script := exec.Command(python, filepath.Join("testdata", "byhand", "byhand.py"))
	script.Stdin = strings.NewReader(strings.Join(texts, "\f"))
	out, err := script.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	rows := strings.Split(strings.TrimSpace(string(out)), "\n")
	for _, row := range rows {
		key, _, _ := strings.Cut(row, "\t")
		delete(must, key)
		if !strings.Contains(row, "\tagrees\t") {
			t.Error(row)
		}
	}
	if len(rows) != len(texts) || len(rows) < 100 || len(must) > 0 {
		t.Errorf("%d of %d worked out again; missing %v", len(rows), len(texts), must)
	}
}

// Figures that no sizing holds and whose lines give a value have the one that gapline box
// prints.
func TestFiguresInFullAreThoseOfBox(t *testing.T) {
	for _, settings := range [][]string{nil, {"--set", "enclosure.kind=closed"}, {"--set", "enclosure.vent_inner=flanged", "--set", "enclosure.vent_q=30"},
		{"--set", "enclosure.vent_width=none", "--set", "enclosure.vent_height=none", "--set", "enclosure.vent_diameter=90mm"}} {
		for _, starter := range []string{"hatch", "hatch-mids"} { // without an insert, which box counts in
			file := starterFile(t, starter)
			box := object(t, append([]string{"box", file, "--from", "60Hz", "--to", "120Hz", "--per-octave", "1"}, settings...)...)
			found := 0
			for _, f := range figure.All() {
				if len(f.Hand) == 0 || figure.FindSized(f.Key) == f {
					continue
				}
				value, ok := object(t, append([]string{"explain", f.Key, file}, settings...)...)["value"].(float64)
				if !ok {
					continue
				}
				want, there := at(box, strings.TrimPrefix(f.Key, "box."))
				if !there && (f == figure.EnclosureTuningRatio || f == figure.DriverEfficiencyBandwidth) {
					continue // on the screen alone
				}
				if sub, isObject := want.(map[string]any); isObject {
					want = sub["value"]
				}
				if list, isCurve := want.([]any); isCurve {
					want = list[0] // 60 Hz is targets.level_at of the starters
				}
				if want, _ := want.(float64); !(math.Abs(value-want) <= 1e-9*math.Abs(want)) {
					t.Errorf("%s %v: explain %s says %v, box %v", starter, settings, f.Key, value, want)
				}
				found++
			}
			if found < 6 {
				t.Errorf("%s %v: only %d figures", starter, settings, found)
			}
		}
	}
}
