package main

import (
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
		for _, f := range figure.Sized() {
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
