package main

import (
	"strings"
	"testing"

	"gapline/internal/figure"
	"gapline/internal/schema"
	"gapline/internal/study/size"
)

// explain knows every figure and every key, whole and as JSON.
func TestExplainEverything(t *testing.T) {
	for _, f := range figure.All() {
		code, out, errOut := gapline("explain", f.Key)
		if code != exitDone || errOut != "" || !strings.HasPrefix(out, f.Key+": "+f.Name) {
			t.Errorf("explain %s: exit %d, %s%s", f.Key, code, errOut, out)
		}
		for _, label := range []string{"  formula  ", "  inputs   ", "  measures ", "  trust    ", "  source   "} {
			if !strings.Contains(out, label) {
				t.Errorf("explain %s lacks %q:\n%s", f.Key, label, out)
			}
		}
		if o := object(t, "explain", f.Key); o["key"] != f.Key || o["formula"] != f.Formula || len(o["inputs"].([]any)) != len(f.Inputs()) {
			t.Errorf("explain %s --json = %v", f.Key, o)
		}
	}
	for i := range schema.Keys {
		k := &schema.Keys[i]
		code, out, errOut := gapline("explain", k.Path)
		if code != exitDone || errOut != "" || !strings.HasPrefix(out, k.Path+" (key of the design file)\n") || !strings.Contains(out, "  takes    ") {
			t.Errorf("explain %s: exit %d, %s%s", k.Path, code, errOut, out)
		}
		if o := object(t, "explain", k.Path); o["key"] != k.Path || o["takes"] == "" {
			t.Errorf("explain %s --json = %v", k.Path, o)
		}
	}
}

// The full list names everything that can be asked about.
func TestExplainListsEverything(t *testing.T) {
	_, out, _ := gapline("explain")
	o := object(t, "explain")
	if got := len(o["figures"].([]any)); got != len(figure.All()) {
		t.Errorf("%d figures in JSON, want %d", got, len(figure.All()))
	}
	if got := len(o["keys"].([]any)); got != len(schema.Keys) {
		t.Errorf("%d keys in JSON, want %d", got, len(schema.Keys))
	}
	for _, key := range explainable() {
		if !strings.Contains(out, "\n  "+key+" ") {
			t.Errorf("%s is not listed", key)
		}
	}
}

// The CSV of size has each figure once, with its value where there is one.
func TestFiguresInCSV(t *testing.T) {
	_, out, _ := gapline("size", "--csv")
	for _, f := range size.Table {
		if n := strings.Count("\n"+out, "\n"+f.Key+","); n != 1 {
			t.Errorf("%s stands %d times in the CSV", f.Key, n)
		}
	}
}
