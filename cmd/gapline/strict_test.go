package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gapline/cabinet/section"
	"gapline/cabinet/sizing"
	"gapline/internal/bem"
	"gapline/internal/designfile"
	"gapline/internal/wavecache"
)

// storeRun stores a run that finds pattern control at a frequency, Hz, for a starter written
// to a folder, and returns the digest that stands in its file.
func storeRun(t *testing.T, name string, pattern float64) (digest string) {
	t.Helper()
	if code, _, errOut := gapline("new", name, "--quiet"); code != exitDone {
		t.Fatal(errOut)
	}
	file, err := designfile.Load(t.Context(), name, nil)
	if err != nil {
		t.Fatal(err)
	}
	plan, faults := section.PlanOf(&file.Design, section.ByHorn)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	w := sizing.AbsentWave
	w.Pattern = pattern
	if err := wavecache.Beside(name).Put(t.Context(), plan, section.Air(&file.Design), bem.LogFrequencies(250, 16000, 40), w); err != nil {
		t.Fatal(err)
	}
	stored, err := filepath.Glob(filepath.Join(filepath.Dir(name), wavecache.Folder, "*.json"))
	if err != nil || len(stored) != 1 {
		t.Fatal(stored, err)
	}
	data, err := os.ReadFile(stored[0])
	if err != nil {
		t.Fatal(err)
	}
	var e struct{ SHA256 string }
	if err := json.Unmarshal(data, &e); err != nil || len(e.SHA256) != 64 {
		t.Fatal(e, err)
	}
	return e.SHA256
}

// size --strict names the stored run that it goes by, and JSON holds it; where no run
// matches, neither does.
func TestStrictNamesItsRun(t *testing.T) {
	name := filepath.Join(t.TempDir(), "box.toml")
	digest := storeRun(t, name, 1055)
	code, _, errOut := gapline("size", name, "--strict")
	if line := "gapline: wave: by the stored run sha256 " + digest + "\n"; code != exitStrict || !strings.Contains(errOut, line) {
		t.Errorf("exit %d, %q, want %q", code, errOut, line)
	}
	wave := func(args ...string) any {
		o := object(t, append([]string{"size", name}, args...)...)
		return o["gap"].(map[string]any)["by_trust"].(map[string]any)["wave"]
	}
	if got, ok := wave().(map[string]any); !ok || got["run_sha256"] != digest {
		t.Errorf("run_sha256 %v, want %s", got, digest)
	}
	if _, _, errOut := gapline("size", name, "--strict", "--set", "cabinet.width=700mm"); strings.Contains(errOut, "sha256") {
		t.Errorf("a design without a run: %q", errOut)
	}
	if got := wave("--set", "cabinet.width=700mm"); got != nil {
		t.Errorf("a design without a run: %v", got)
	}
}
