package main

import (
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// What crossover prints to paste, set, gives every figure of the answer to the last digit
// printed.
func TestPastedCrossoverHasThePrintedFigures(t *testing.T) {
	designs := [][]string{
		{"hatch"}, {"hatch-insert"}, {"hatch-mids"},
		{"hatch", "horn.lowest=500 Hz"}, {"hatch-insert", "crossover.order=2"}, {"hatch-mids", "horn.delay=0.3 ms", "crossover.order=2"},
	}
	if testing.Short() {
		designs = designs[:3]
	}
	for _, d := range designs {
		name := filepath.Join(t.TempDir(), "box.toml")
		if code, _, errOut := gapline("new", name, "--starter", d[0], "--quiet"); code != exitDone {
			t.Fatal(errOut)
		}
		args := []string{"crossover", name, "--quiet"}
		for _, set := range d[1:] {
			args = append(args, "--set", set)
		}
		_, promised, errOut := gapline(args...)
		settings := toPaste(promised)
		if len(settings) != 4 {
			t.Fatalf("%v: to paste %q, %s", d, settings, errOut)
		}
		for _, set := range settings {
			args = append(args, "--set", set)
		}
		_, given, _ := gapline(append(args, "--without-best")...)
		want, got := settingsTable(promised, 2), settingsTable(given, 1)
		if len(want) != 10 {
			t.Fatalf("%v: %d rows in\n%s", d, len(want), promised)
		}
		for label, figure := range want {
			if got[label] != figure {
				t.Errorf("%v: %s is %q as promised, %q as set", d, label, figure, got[label])
			}
		}
	}
}

// toPaste are the settings that a screen says to paste, as --set takes them.
func toPaste(screen string) []string {
	_, rest, _ := strings.Cut(screen, "to paste: ")
	rest, _, _ = strings.Cut(rest, "searched from")
	var out []string
	for _, part := range strings.Split(strings.Join(strings.Fields(rest), " "), "; ") {
		key, value, _ := strings.Cut(part, " = ")
		out = append(out, key+"="+strings.Trim(value, `"; `))
	}
	return out
}

// settingsTable is a column of the table that puts the file's crossover beside the one
// found, by label.
func settingsTable(screen string, column int) map[string]string {
	gap := regexp.MustCompile(`\s{2,}`)
	out := map[string]string{}
	_, rest, _ := strings.Cut(screen, "\nCROSSOVER ")
	for _, line := range strings.Split(rest, "\n")[1:] {
		fields := gap.Split(strings.TrimSpace(line), -1)
		if len(fields) <= column || strings.HasPrefix(fields[0], "to paste") {
			break
		}
		out[fields[0]] = fields[column]
	}
	return out
}
