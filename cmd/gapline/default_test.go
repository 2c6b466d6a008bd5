package main

import (
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gapline/internal/designfile"
	"gapline/internal/quantity"
	"gapline/internal/schema"
)

// What help calls a key's default is what the program takes: stating it changes nothing
// that the commands print of a design that does not.
func TestStatedDefaultsChangeNothing(t *testing.T) {
	if testing.Short() {
		t.Skip("runs the program some hundred times")
	}
	dir := t.TempDir()
	for _, s := range designfile.Starters {
		path := filepath.Join(dir, s.Name+".toml")
		if code, _, errOut := gapline("new", path, "--starter", s.Name, "--quiet"); code != exitDone {
			t.Fatal(errOut)
		}
		f, err := designfile.LoadStarter(s.Name, nil)
		if err != nil {
			t.Fatal(err)
		}
		// ok is false where the design cannot be with the settings, which then need others.
		printed := func(commands []string, set ...string) (all string, ok bool) {
			for _, command := range commands {
				code, out, _ := gapline(append(append(strings.Fields(command), path, "--quiet"), set...)...)
				if code == exitUsage {
					return "", false
				}
				all += out
			}
			return all, true
		}
		const quick, field = 0, 1
		// A stack of two has every sum that one of seven has.
		commands := [][]string{quick: {"size --json", "box --csv", "fold --json"}, field: {"line --csv --set line.boxes=2", "crossover --without-best --csv --set line.boxes=2", "horn --csv"}}
		var want [2]string
		for i := range commands {
			want[i], _ = printed(commands[i])
		}
		for i := range schema.Keys {
			k := &schema.Keys[i]
			if k.Default == "" {
				continue
			}
			taken, err := k.FromText(k.Default)
			if err != nil {
				t.Fatalf("%s: the default %s: %v", k.Path, k.Default, err)
			}
			if v := k.ValueIn(&f.Design); v.Show(quantity.Metric) != taken.Show(quantity.Metric) && (v.Text != "" || !math.IsNaN(v.Number) && k.Numeric()) {
				continue // the starter gives another
			}
			kind := quick
			if slices.Contains([]string{"air", "line", "audience", "crossover", "horn", "mid"}, k.Table()) {
				kind = field
			}
			if got, ok := printed(commands[kind], "--set", k.Path+"="+k.Default); ok && got != want[kind] {
				t.Errorf("%s: --set %s=%s prints something else", s.Name, k.Path, k.Default)
			}
		}
	}
}
