package main

import (
	"strings"
	"testing"
)

// contractKeys are the keys of `size --json` that scripts rely on: the
// project's contract, written out so that none can go away unseen.
var contractKeys = strings.Fields(`
	air.sound_speed_m_s air.density_kg_m3
	coupling.lower_hz coupling.pitch_m coupling.length_m
	coupling.open.spacing_m coupling.open.half_wave_hz coupling.open.lobe_hz
	coupling.insert.spacing_m coupling.insert.half_wave_hz coupling.insert.lobe_hz
	coupling.insert.residual_lobe_db coupling.insert.chamber_hz
	horn.pattern_rule_hz horn.pattern_computed_hz horn.lower_hz horn.sagitta_m horn.flat_to_hz horn.flat_lobe_hz
	gap.basis gap.open_oct gap.insert_oct gap.low_hz gap.high_hz
	findings schema_version`)

const insertKey = "coupling.insert"

func starterFile(t *testing.T, starter string) string {
	t.Helper()
	name := t.TempDir() + "/" + starter + ".toml"
	if code, _, errOut := gapline("new", name, "--starter", starter, "--quiet"); code != exitDone {
		t.Fatal(errOut)
	}
	return name
}

// A design that gives everything has a value under every key.
func TestJSONOfAWholeDesign(t *testing.T) {
	o := object(t, "size", starterFile(t, "hatch-insert"))
	for _, key := range contractKeys {
		if v, ok := at(o, key); !ok || v == nil {
			t.Errorf("%s is %v, present %v; want a value", key, v, ok)
		}
	}
}

// Without an insert the group is null as a whole, and so is its gap.
func TestJSONWithoutInsert(t *testing.T) {
	o := object(t, "size", starterFile(t, "hatch"))
	if v, ok := at(o, insertKey); !ok || v != nil {
		t.Errorf("coupling.insert is %v, present %v; want null", v, ok)
	}
	if v, ok := at(o, "gap.insert_oct"); !ok || v != nil {
		t.Errorf("gap.insert_oct is %v, present %v; want null", v, ok)
	}
	if v, _ := at(o, "gap.open_oct"); v == nil {
		t.Error("gap.open_oct is null")
	}
}

// A file that gives next to nothing keeps every key: what cannot be computed is
// null, and what can be is not.
func TestJSONOfASparseDesign(t *testing.T) {
	o := object(t, "size", file(t, "[cabinet]\nheight = \"250 mm\"\n[insert]\nmouths = 2\n"))
	given := map[string]bool{}
	for _, key := range strings.Fields(`air.sound_speed_m_s air.density_kg_m3 coupling.pitch_m coupling.open.spacing_m
		coupling.open.half_wave_hz coupling.open.lobe_hz coupling.insert.spacing_m coupling.insert.half_wave_hz coupling.insert.lobe_hz
		coupling.insert.residual_lobe_db gap.basis gap.low_hz findings schema_version`) {
		given[key] = true
	}
	for _, key := range contractKeys {
		v, ok := at(o, key)
		if !ok || (v != nil) != given[key] {
			t.Errorf("%s is %v, present %v; want a value: %v", key, v, ok, given[key])
		}
	}
}

// Infinite limits, here of an insert without lobes, are null too.
func TestJSONOfALimitThatDoesNotExist(t *testing.T) {
	// Strips that fill the pitch have no lobes (sinc of whole numbers is 0).
	o := object(t, "size", file(t, "[cabinet]\nheight = \"250 mm\"\n[insert]\nmouths = 1\nmouth_height = \"250 mm\"\n[targets]\ncoupling = \"lobe\"\n"))
	if v, ok := at(o, "coupling.insert.lobe_hz"); !ok || v != nil {
		t.Errorf("coupling.insert.lobe_hz is %v, present %v; want null", v, ok)
	}
}

func TestJSONFindings(t *testing.T) {
	v, _ := at(object(t, "size", starterFile(t, "hatch")), "findings")
	list, ok := v.([]any)
	if !ok || len(list) == 0 {
		t.Fatalf("findings are %v", v)
	}
	severities := map[any]bool{"miss": true, "met": true, "advice": true, "note": true, "contradiction": true, "caution": true}
	for _, f := range list {
		o := f.(map[string]any)
		if !severities[o["severity"]] || o["key"] == "" || o["text"] == "" || len(o) != 3 {
			t.Errorf("finding %v", o)
		}
	}
	rigging := false
	for _, f := range list {
		o := f.(map[string]any)
		rigging = rigging || o["severity"] == "caution" && strings.Contains(o["text"].(string), "Rigging is not computed")
	}
	if !rigging {
		t.Error("no finding is the caution about rigging")
	}
}

// JSON is the same in either unit system: scripts do not see --units.
func TestJSONIgnoresUnits(t *testing.T) {
	_, metric, _ := gapline("size", "--json")
	_, inch, _ := gapline("size", "--json", "--units", "inch")
	if metric != inch {
		t.Error("--units changes the JSON")
	}
}
