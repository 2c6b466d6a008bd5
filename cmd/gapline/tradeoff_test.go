package main

import (
	"path/filepath"
	"strings"
	"testing"

	"gapline/internal/designfile"
)

// pathIn is what stands at a dotted path; nil where nothing does.
func pathIn(o map[string]any, path string) any {
	head, rest, deeper := strings.Cut(path, ".")
	if !deeper {
		return o[head]
	}
	sub, _ := o[head].(map[string]any)
	return pathIn(sub, rest)
}

// The table by which compare --json weighs designs holds what size and box say of each of
// them by itself, and the depth of the file.
func TestTradeoffIsWhatEachDesignSays(t *testing.T) {
	dir := t.TempDir()
	args := []string{"compare"}
	for _, s := range designfile.Starters {
		name := filepath.Join(dir, s.Name+".toml")
		if code, _, errOut := gapline("new", name, "--starter", s.Name, "--quiet"); code != exitDone {
			t.Fatal(errOut)
		}
		args = append(args, name)
	}
	list, _ := object(t, args...)["tradeoff"].([]any)
	if len(list) != len(designfile.Starters) {
		t.Fatalf("%d designs in the table, want %d", len(list), len(designfile.Starters))
	}
	for i, name := range args[1:] {
		got := list[i].(map[string]any)
		sized, box := object(t, "size", name), object(t, "box", name)
		for _, path := range []string{
			"gap.verdict", "gap.by_trust.rule.oct", "gap.by_trust.rule.verdict", "gap.by_trust.rule.low_limit", "gap.by_trust.rule.high_limit",
			"gap.by_trust.aperture.oct", "gap.by_trust.aperture.low_limit", "gap.by_trust.aperture.high_limit", "gap.by_trust.wave.oct",
			"gap.window.low_hz", "gap.window.high_hz", "gap.window.crossover_hz",
			"box.max_spl_db", "woofers.covers_to_hz", "box.drivers", "box.crossovers", "box.cost",
		} {
			if x := pathIn(got, path); x != pathIn(sized, path) || x == nil && !strings.Contains(path, ".wave.") && !strings.Contains(path, ".window.") {
				t.Errorf("%s: %s is %v, size says %v", name, path, x, pathIn(sized, path))
			}
		}
		for _, leaf := range []string{"peak_db", "sensitivity_change_db", "limit_mouth_speed_m_s"} {
			if x, want := pathIn(got, "box.insert."+leaf), pathIn(box, "insert."+leaf); x != want {
				t.Errorf("%s: box.insert.%s is %v, box says %v", name, leaf, x, want)
			}
		}
		if x := pathIn(got, "cabinet.depth"); x != 0.43 || got["name"] != strings.TrimSuffix(filepath.Base(name), ".toml") {
			t.Errorf("%s: depth %v, name %v", name, x, got["name"])
		}
	}
}
