package main

import (
	"encoding/json"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gapline/internal/designfile"
	"gapline/internal/figure"
)

// printer is a command line whose JSON is walked.
type printer struct {
	command string // stands before the paths of the command's own figures
	args    string // after the command; DESIGN is a file of a starter, DIR the folder of all files, MEASURED that of measurements
	// of are the objects in which figures of a sizing and keys of the design file stand
	// under their own names.
	of []string
}

// printers are the command lines that together print every number that there is.
var printers = []printer{
	{command: "size", args: "DESIGN"},
	{command: "compare", args: "DESIGN DIR/hatch-mids.toml", of: []string{"designs", "tradeoff"}},
	{command: "horn", args: "DESIGN --view map"},
	{command: "horn", args: "DESIGN --view rule --set horn.flare_length=80mm"},
	{command: "fold", args: "DESIGN"},
	{command: "fold", args: "DESIGN --part insert"},
	{command: "draw", args: "DESIGN"},
	{command: "box", args: "DESIGN --per-octave 3"},
	{command: "box", args: "DESIGN --drivers DIR/shelf"},
	{command: "box", args: "--fit DIR/free.txt --second DIR/loaded.txt --added-mass 15g --sd 330cm2"},
	{command: "line", args: "DESIGN --view all --frequencies octaves --ground 0.5 --point 5m,0m,1m"},
	{command: "line", args: "DESIGN --aim --shade"},
	{command: "crossover", args: "DESIGN"},
	{command: "listen", args: "DESIGN --other cabinet.gap=40mm --other-unlink --duration 100ms --rate 8000"},
	{command: "wave", args: "DESIGN --from 500Hz --to 1kHz --count 2 --check"},
	{command: "wave", args: "DESIGN --of fold --from 1kHz --to 4kHz --count 2"},
	{command: "wave", args: "DESIGN --of front --from 300Hz --to 400Hz --count 2"},
	{command: "wave", args: "DESIGN --of fold --view bend --from 2kHz --to 8kHz --count 2"},
	{command: "trace", args: "DESIGN --pair MEASURED/box-insert.txt,MEASURED/box-bare.txt --stacks MEASURED/line-spaced.txt,MEASURED/line-packed.txt"},
	{command: "tolerance", args: "DESIGN --samples 100", of: []string{"figures"}},
	{command: "tolerance", args: "DESIGN --samples 100 --vary cabinet.pitch=240mm:300mm:20mm", of: []string{"figures"}},
	{command: "search", args: "DESIGN --designs 100", of: []string{"best.values", "best.goals", "best.limits", "front.values", "front.goals", "front.limits"}},
	{command: "sweep", args: "DESIGN --vary cabinet.pitch=200mm:300mm:50mm --vary horn.coverage=80deg,90deg", of: []string{"rows", "skipped"}},
	{command: "report", args: "DESIGN --since DIR/hatch-mids.toml", of: []string{"designs", "changes.figures", "changes.keys"}},
}

// plain are numbers that need no entry.
var plain = map[string]bool{"schema_version": true, "designs.schema_version": true}

// renamed are figures of a sizing that a command prints under a name of its own.
var renamed = map[string]string{
	"fold.tolerance.axial_m":   figure.FoldToleranceAxial.Key,
	"fold.tolerance.lateral_m": figure.FoldToleranceLateral.Key,
	"fold.tolerance.profile_m": figure.FoldToleranceProfile.Key,

	"wave.turns.frequency_hz":    figure.WaveFrequency.Key,
	"wave.turns.power_imbalance": figure.WaveImbalance.Key,

	"box.drivers.f3_hz":           figure.BoxF3.Key,
	"box.drivers.gap_oct":         figure.GapOpen.Key,
	"box.drivers.max_spl_at_hz":   figure.BoxMaxSPLAt.Key,
	"box.drivers.max_spl_db":      figure.BoxMaxSPL.Key,
	"box.drivers.swept_volume_m3": figure.BoxSweptVolume.Key,
	"box.drivers.cost":            figure.BoxCost.Key,
}

// catalogue is what explain knows.
type catalogue map[string]bool

func newCatalogue() catalogue {
	c := catalogue{}
	for _, key := range explainable() {
		c[key] = true
	}
	return c
}

// has reports whether the number at a path of the command's JSON has an entry.
func (c catalogue) has(p *printer, path string) bool {
	own := p.command + "." + path
	// A figure beside a remark or with an interval is the value of an object, and the
	// interval's ends are of that figure.
	stem := own
	for _, of := range []string{".value", ".low", ".high"} {
		stem = strings.TrimSuffix(stem, of)
	}
	if plain[path] || c[path] || c[own] || c[stem] || c[renamed[own]] {
		return true
	}
	for _, of := range p.of {
		rest, inside := strings.CutPrefix(path, of+".")
		if !inside {
			continue
		}
		// A figure of two revisions is one figure.
		rest = strings.TrimSuffix(strings.TrimSuffix(rest, ".then"), ".now")
		if c[rest] {
			return true
		}
		// Several numbers of one figure, such as percentiles, have an entry each.
		i := strings.LastIndexByte(rest, '.')
		if i > 0 && c[rest[:i]] && c[p.command+"."+of+rest[i:]] {
			return true
		}
	}
	return false
}

// numbers adds the dotted paths at which v holds numbers, without the places in arrays. A
// number that names its figure beside it, as a cell of the document's tables does, stands
// under that name.
func numbers(found map[string]bool, path string, v any) {
	switch x := v.(type) {
	case float64:
		found[path] = true
	case []any:
		for _, item := range x {
			numbers(found, path, item)
		}
	case map[string]any:
		figure, named := x["key"].(string)
		for key, item := range x {
			if _, number := item.(float64); named && number && key == "value" {
				found[figure] = true
				continue
			}
			numbers(found, strings.TrimPrefix(path+"."+key, "."), item)
		}
	}
}

// catalogueFiles writes the starters, a driver and two impedance sweeps.
func catalogueFiles(t *testing.T) (dir string) {
	t.Helper()
	dir = t.TempDir()
	for _, s := range designfile.Starters {
		if code, _, errOut := gapline("new", filepath.Join(dir, s.Name+".toml"), "--starter", s.Name, "--quiet"); code != exitDone {
			t.Fatal(errOut)
		}
	}
	r := rand.New(rand.NewPCG(1, 2))
	for name, text := range map[string]string{
		"free.txt":   sweepText(48, 0.37, 5.5, 5.6, 0.004, false, r),
		"loaded.txt": sweepText(39.2, 0.453, 6.74, 5.6, 0.004, true, r), // 15 g on 30 g: fs/√1.5, Q·√1.5
		"shelf/one.toml": "title = \"One (invented)\"\nsize = \"150 mm\"\nfs = \"60 Hz\"\nqes = 0.4\nqms = 5\nvas = \"12 L\"\nre = \"5.6 ohm\"\n" +
			"sd = \"130 cm2\"\nxmax = \"5 mm\"\npower = \"150 W\"\nle = \"0.5 mH\"\n",
	} {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// explain knows every number that any command prints on the starters.
func TestEveryNumberIsInTheCatalogue(t *testing.T) {
	if testing.Short() {
		t.Skip("runs the program some hundred times")
	}
	dir, known := catalogueFiles(t), newCatalogue()
	for _, p := range printers {
		missing := map[string]bool{}
		for _, s := range designfile.Starters {
			words := strings.NewReplacer("DESIGN", filepath.Join(dir, s.Name+".toml"), "DIR", dir,
				"MEASURED", filepath.Join("..", "..", "testdata", "measured")).Replace(p.command + " " + p.args + " --json --quiet")
			code, out, errOut := gapline(strings.Fields(words)...)
			if code != exitDone {
				// Only one starter has a plate, and the smallest takes no driver of the shelf.
				if !strings.Contains(errOut, "needs [insert]") && !strings.Contains(errOut, "none of the driver files") {
					t.Errorf("gapline %s: exit %d, %s", words, code, errOut)
				}
				continue
			}
			var o map[string]any
			if err := json.Unmarshal([]byte(out), &o); err != nil {
				t.Fatalf("gapline %s: %v", words, err)
			}
			found := map[string]bool{}
			numbers(found, "", o)
			maps.DeleteFunc(found, func(path string, _ bool) bool { return known.has(&p, path) })
			maps.Copy(missing, found)
		}
		if len(missing) == 0 {
			continue
		}
		t.Errorf("gapline %s %s prints numbers that explain does not know:\n  %s", p.command, p.args, strings.Join(slices.Sorted(maps.Keys(missing)), "\n  "))
	}
}
