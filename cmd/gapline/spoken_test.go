package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gapline/internal/advice"
	"gapline/internal/designfile"
	"gapline/internal/figure"
	"gapline/internal/result"
	"gapline/internal/schema"
)

// words adds the dotted paths at which v holds words, with the words, without the places in
// arrays. A list or an object is at its path too.
func words(found map[string][]string, path string, v any) {
	switch x := v.(type) {
	case string:
		found[path] = append(found[path], x)
	case []any:
		found[path] = append(found[path], "")
		for _, item := range x {
			words(found, path, item)
		}
	case map[string]any:
		for key, item := range x {
			words(found, strings.TrimPrefix(path+"."+key, "."), item)
		}
	}
}

// All that explain tells in words size prints under that key, in the words that explain
// names; and what size prints in words of the gap, its misfits, levers and findings explain
// knows.
func TestExplainKnowsTheVerdicts(t *testing.T) {
	dir := t.TempDir()
	misfit := filepath.Join(dir, "misfit.toml")
	text := "[cabinet]\nheight = \"300 mm\"\nwidth = \"500 mm\"\n[line]\nboxes = 6\n[woofer]\nsize = \"240 mm\"\n[horn]\ncoverage = \"90 deg\"\nmouth_width = \"280 mm\"\nmouth_height = \"280 mm\"\n"
	if err := os.WriteFile(misfit, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	printed := map[string][]string{}
	files := []string{misfit}
	for _, s := range designfile.Starters {
		file := filepath.Join(dir, s.Name+".toml")
		if code, _, errOut := gapline("new", file, "--starter", s.Name, "--quiet"); code != exitDone {
			t.Fatal(errOut)
		}
		files = append(files, file)
	}
	for _, file := range files {
		words(printed, "", any(object(t, "size", file)))
	}
	for _, s := range figure.AllSpoken() {
		if strings.HasPrefix(s.Key, "gap.by_trust.wave") || strings.HasPrefix(s.Key, "gap.by_trust.measured") {
			continue // no run is stored, no traces are kept
		}
		if len(printed[s.Key]) == 0 {
			t.Errorf("size --json has nothing under %s", s.Key)
		}
		for _, w := range printed[s.Key] {
			if len(s.Takes) > 0 && !slices.Contains(s.Takes, w) {
				t.Errorf("%s is %q: explain tells of %v", s.Key, w, s.Takes)
			}
		}
		code, out, errOut := gapline("explain", s.Key)
		if code != exitDone || errOut != "" || !strings.HasPrefix(out, s.Key+": "+s.Name) {
			t.Errorf("explain %s: exit %d, %s%s", s.Key, code, errOut, out)
		}
		if o := object(t, "explain", s.Key); o["key"] != s.Key || o["rule"] != s.Rule {
			t.Errorf("explain %s --json = %v", s.Key, o)
		}
		for _, in := range s.Inputs() {
			if figure.Find(in) == nil && figure.FindSpoken(in) == nil && schema.FindKey(in) == nil {
				t.Errorf("%s follows from %q, which explain does not know", s.Key, in)
			}
		}
	}
	for path := range printed {
		part, _, _ := strings.Cut(path, ".")
		if slices.Contains([]string{"gap", "misfits", "levers", "findings"}, part) && figure.FindSpoken(path) == nil && figure.Find(path) == nil {
			t.Errorf("size prints words under %s that explain does not know", path)
		}
	}
}

// The words of the closed sets are those of the code that gives the verdicts.
func TestWordsOfVerdicts(t *testing.T) {
	var verdicts, severities []string
	for v := advice.GapMisfit; v <= advice.GapMet; v++ {
		verdicts = append(verdicts, v.String())
	}
	for s := result.Misfit; s <= result.Caution; s++ {
		severities = append(severities, s.String())
	}
	for key, want := range map[string][]string{"gap.verdict": verdicts, "findings.severity": severities} {
		if got := figure.FindSpoken(key).Takes; !slices.Equal(got, want) {
			t.Errorf("%s: explain tells of %v, the code of %v", key, got, want)
		}
	}
}

// A name that is not known offers what is nearest: a key, its beginning, or its table.
func TestUnknownNamesOfferTheNearest(t *testing.T) {
	for name, want := range map[string]string{
		"gap.verdcit": "gap.verdict", "misfit.fits": "misfits.fits", "horn.pattren": "horn.pattern", "horn.xyzzyxy": "horn",
		"gap.by_trust.xyzzyxyzzyxyzzyxyzzy": "gap.by_trust", "quux": "",
	} {
		code, _, errOut := gapline("explain", name)
		if offer := "(did you mean " + want + "?)"; code != exitUsage || want != "" && !strings.Contains(errOut, offer) || want == "" && strings.Contains(errOut, "did you mean") {
			t.Errorf("explain %s: exit %d, %s, want %q offered", name, code, errOut, want)
		}
	}
}
