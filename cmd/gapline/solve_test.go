package main

import (
	"bytes"
	"context"
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/designfile"
	"gapline/internal/study/fit"
)

// size --solve tells of every lever what gap it leaves by wave: exactly that of the design
// with the lever's settings, whose run is stored. Asked again without solving, size says the
// same.
func TestSolveFillsTheLevers(t *testing.T) {
	if testing.Short() {
		t.Skip("solves the wave equation at some seventy frequencies")
	}
	name := filepath.Join(t.TempDir(), "box.toml")
	if code, _, errOut := gapline("new", name, "--quiet"); code != exitDone {
		t.Fatal(errOut)
	}
	waves := func(o map[string]any) (out []any) {
		for _, l := range o["levers"].([]any) {
			out = append(out, l.(map[string]any)["gap_oct"].(map[string]any)["wave"])
		}
		return out
	}
	for _, w := range waves(object(t, "size", name)) {
		if w != nil {
			t.Fatalf("a lever leaves %v oct by wave before any run", w)
		}
	}
	code, solved, errOut := gapline("size", name, "--solve", "--json")
	if code != exitDone || errOut != "" {
		t.Fatalf("exit %d, %s", code, errOut)
	}
	o := object(t, "size", name)
	levers := o["levers"].([]any)
	if len(levers) == 0 {
		t.Fatal("no lever")
	}
	for i, w := range waves(o) {
		l := levers[i].(map[string]any)
		args := []string{"size", name}
		for _, s := range l["set"].([]any) {
			args = append(args, "--set", s.(string))
		}
		changed := object(t, args...)["gap"].(map[string]any)["by_trust"].(map[string]any)["wave"].(map[string]any)
		if w == nil || changed["oct"] != w {
			t.Errorf("%v: promised %v oct by wave, with --set it is %v", l["set"], w, changed["oct"])
		}
		if text := l["text"].(string); strings.Contains(text, "not checked by wave") || w.(float64) > 0 != strings.HasPrefix(text, "Narrows") {
			t.Errorf("%v oct by wave: %s", w, text)
		}
	}
	if _, again, _ := gapline("size", name, "--json"); again != solved {
		t.Error("size says something else once the runs are stored")
	}
}

// Where the work is stopped the levers left are not checked, and nothing is solved.
func TestSolveStops(t *testing.T) {
	file, err := designfile.LoadStarter(designfile.Starters[0].Name, nil)
	if err != nil {
		t.Fatal(err)
	}
	var messages bytes.Buffer
	a := &app{err: &messages}
	ctx, stop := context.WithCancel(t.Context())
	stop()
	r := a.leverRuns(file)
	s := sizing.Size(&file.Design)
	fits := fit.Of(&file.Design, file.Links)
	fits.Runs = func(d *design.Design) sizing.WaveSizing { return r.of(ctx, d) }
	if err := r.solve(ctx, &file.Design, &s, fits); !errors.Is(err, context.Canceled) || !strings.Contains(messages.String(), "not checked by wave") {
		t.Errorf("error %v, %q", err, messages.String())
	}
	if code, _, errOut := gapline("size", "--solve"); code != exitUsage || !strings.Contains(errOut, "--solve needs a FILE") {
		t.Errorf("without a file: exit %d, %s", code, errOut)
	}
}
