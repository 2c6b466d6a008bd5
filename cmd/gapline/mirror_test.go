package main

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gapline/internal/designfile"
	"gapline/internal/schema"
)

// jsonOf runs a command and returns what it prints in JSON.
func jsonOf(t *testing.T, args ...string) map[string]any {
	t.Helper()
	code, out, errOut := gapline(append(args, "--json", "--quiet")...)
	if code != 0 {
		t.Fatalf("gapline %s: exit %d, %s", strings.Join(args, " "), code, errOut)
	}
	var o map[string]any
	if err := json.Unmarshal([]byte(out), &o); err != nil {
		t.Fatal(err)
	}
	return o
}

// under goes down the keys of an object; numbers of a list come back as they stand.
func under(t *testing.T, o any, keys ...string) any {
	t.Helper()
	for _, k := range keys {
		m, ok := o.(map[string]any)
		if !ok || m[k] == nil {
			t.Fatalf("no %s in %v", strings.Join(keys, "."), keys)
		}
		o = m[k]
	}
	return o
}

func numbersOf(list any) []float64 {
	var out []float64
	for _, x := range list.([]any) {
		v, ok := x.(float64)
		if !ok {
			v = math.NaN()
		}
		out = append(out, v)
	}
	return out
}

func alike(a, b []float64) bool {
	return slices.EqualFunc(a, b, func(x, y float64) bool {
		return math.IsNaN(x) && math.IsNaN(y) || math.Abs(x-y) <= 1e-6*math.Max(1, math.Abs(x))
	})
}

func negated(v []float64) []float64 {
	out := make([]float64, len(v))
	for i, x := range v {
		out[i] = -x
	}
	return out
}

// mirrored are the settings that turn a design's left and right round.
func mirrored(t *testing.T, name string) []string {
	t.Helper()
	f, err := designfile.LoadStarter(name, nil)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, path := range []string{"woofer.offset", "mid.offset", "horn.offset", "enclosure.vent_offset"} {
		k := schema.FindKey(path)
		if x := k.Number(&f.Design); !math.IsNaN(x) {
			out = append(out, "--set", path+"="+strconv.FormatFloat(-1000*x, 'f', -1, 64)+"mm")
		}
	}
	return out
}

// A box and its mirror image have the same figures, mirrored patterns and mirrored places,
// in every command.
func TestMirroredBoxHasMirroredResults(t *testing.T) {
	if testing.Short() {
		t.Skip("runs the program some hundred times")
	}
	for _, name := range []string{"hatch", "hatch-mids"} {
		file := filepath.Join(t.TempDir(), name+".toml")
		if code, _, errOut := gapline("new", file, "--starter", name, "--quiet"); code != 0 {
			t.Fatal(errOut)
		}
		set := mirrored(t, name)
		both := func(args ...string) (a, b map[string]any) {
			args = slices.Insert(args, 1, file)
			return jsonOf(t, args...), jsonOf(t, append(args, set...)...)
		}
		a, b := both("size")
		for _, keys := range [][]string{{"gap"}, {"woofers"}, {"box"}, {"fold"}} {
			x, _ := json.Marshal(under(t, a, keys...))
			y, _ := json.Marshal(under(t, b, keys...))
			if keys[0] == "woofers" { // the angle of the worst dip is one of two alike, or changes side
				continue
			}
			if string(x) != string(y) {
				t.Errorf("%s size %v: %s, mirrored %s", name, keys, x, y)
			}
		}
		a, b = both("draw")
		ps, qs := under(t, a, "parts").([]any), under(t, b, "parts").([]any)
		count := map[string]int{}
		key := func(p any, side float64) string {
			m := p.(map[string]any)
			y, turn := 0.0, 0.0
			if v, ok := m["y_m"].(float64); ok {
				y = side * v
			}
			if v, ok := m["turn_deg"].(float64); ok && math.Abs(v) < 180 {
				turn = side * v
			}
			return strings.Join([]string{m["kind"].(string), strconv.FormatFloat(y+0, 'f', 6, 64), strconv.FormatFloat(turn+0, 'f', 6, 64)}, " ")
		}
		for _, p := range ps {
			count[key(p, 1)]++
		}
		for _, q := range qs {
			count[key(q, -1)]--
		}
		for k, n := range count {
			if n != 0 {
				t.Errorf("%s: part %s stands %d times more in the box than in its mirror image", name, k, n)
			}
		}
		a, b = both("wave", "--from", "800Hz", "--to", "1250Hz", "--count", "2")
		if l, r := numbersOf(under(t, a, "left_edge_deg")), numbersOf(under(t, b, "right_edge_deg")); !alike(l, negated(r)) {
			t.Errorf("%s wave: left edges %v, mirrored right edges %v", name, l, r)
		}
		a, b = both("crossover", "--without-best")
		if x, y := numbersOf(under(t, a, "given", "on_axis_db")), numbersOf(under(t, b, "given", "on_axis_db")); !alike(x, y) {
			t.Errorf("%s crossover on axis: %v, mirrored %v", name, x, y)
		}
		x, y := under(t, a, "given", "horizontal", "level_db").([]any), under(t, b, "given", "horizontal", "level_db").([]any)
		for i := range x {
			row, other := numbersOf(x[i]), numbersOf(y[i])
			slices.Reverse(other)
			if !alike(row, other) {
				t.Fatalf("%s crossover, frequency %d: horizontal levels are not mirrored", name, i+1)
			}
		}
	}
}

// A box said by other keys is the same box: the same bytes.
func TestOneBoxInOtherWords(t *testing.T) {
	if testing.Short() {
		t.Skip("runs the program some hundred times")
	}
	dir := t.TempDir()
	for name, words := range map[string]string{"hatch-insert": "columns = 2", "hatch-mids": "columns = 2"} {
		text, err := designfile.StarterText(name)
		if err != nil {
			t.Fatal(err)
		}
		said := writeFile(t, dir, name+".toml", string(text))
		other := writeFile(t, dir, name+"-other.toml", strings.Replace(string(text), words+"\n", "rise = \"0 mm\"\n", 1))
		for _, args := range [][]string{{"size"}, {"draw"}, {"line"}, {"crossover", "--without-best"}, {"box"}} {
			run := func(file string) string {
				code, out, errOut := gapline(append(slices.Insert(slices.Clone(args), 1, file), "--json", "--quiet")...)
				if code != 0 {
					t.Fatal(errOut)
				}
				return out
			}
			a, b := run(said), run(other)
			if args[0] == "size" { // a note says that two woofers without a word count as side by side
				a, b = a[:strings.Index(a, `"findings"`)], b[:strings.Index(b, `"findings"`)]
			}
			if a != b {
				t.Errorf("%s of %s without %q differs", args[0], name, words)
			}
		}
	}
}

func writeFile(t *testing.T, dir, name, text string) string {
	t.Helper()
	path := filepath.Join(dir, name)
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}
