package main

import (
	"strings"
	"testing"

	"gapline/cabinet"
	"gapline/internal/designfile"
	"gapline/internal/quantity"
)

// Every figure is documented: a key of its own, formula, source, level of trust,
// and inputs that are keys of the design file or other figures.
func TestFiguresAreDocumented(t *testing.T) {
	known := map[string]bool{}
	for i := range cabinet.Figures {
		f := &cabinet.Figures[i]
		if known[f.Key] {
			t.Errorf("%s stands twice", f.Key)
		}
		known[f.Key] = true
	}
	for i := range designfile.Keys {
		k := &designfile.Keys[i]
		if known[k.Path] {
			t.Errorf("%s is both a figure and a key of the design file: explain cannot tell them apart", k.Path)
		}
		known[k.Path] = true
	}
	for i := range cabinet.Figures {
		f := &cabinet.Figures[i]
		for what, text := range map[string]string{
			"name": f.Name, "symbol": f.Symbol, "formula": f.Formula, "source": f.Source, "level of trust": f.Level.Meaning(),
		} {
			if strings.TrimSpace(text) == "" {
				t.Errorf("%s has no %s", f.Key, what)
			}
		}
		if len(f.Inputs) == 0 {
			t.Errorf("%s names no inputs", f.Key)
		}
		for _, in := range f.Inputs {
			if !known[in] {
				t.Errorf("%s: input %s is neither a figure nor a key", f.Key, in)
			}
			if in == f.Key {
				t.Errorf("%s is an input of itself", f.Key)
			}
		}
		if f.Value == nil {
			t.Errorf("%s has no value", f.Key)
		}
	}
}

// The unit in a figure's key is that of its kind.
func TestFigureKeysNameTheirUnit(t *testing.T) {
	suffix := map[quantity.Kind]string{
		quantity.Length: "_m", quantity.Frequency: "_hz", quantity.Angle: "_deg", quantity.Level: "_db",
		quantity.Octaves: "_oct", quantity.Speed: "_m_s", quantity.Density: "_kg_m3", quantity.Number: "", quantity.Fraction: "",
		quantity.Volume: "_m3",
	}
	for i := range cabinet.Figures {
		f := &cabinet.Figures[i]
		want, ok := suffix[f.Kind]
		if !ok || !strings.HasSuffix(f.Key, want) {
			t.Errorf("%s measures a %v, want the ending %q", f.Key, f.Kind, want)
		}
		for kind, s := range suffix {
			if kind != f.Kind && s != "" && want == "" && strings.HasSuffix(f.Key, s) {
				t.Errorf("%s has the unit %s but measures a %v", f.Key, s, f.Kind)
			}
		}
	}
}

// Figures without a value say so: a design in which nothing is given yields no
// number but the air's.
func TestFiguresOfAnEmptyDesign(t *testing.T) {
	d := cabinet.New()
	s := cabinet.Size(&d)
	for i := range cabinet.Figures {
		f := &cabinet.Figures[i]
		if v, ok := f.JSON(&s); ok && f.Group() != "air" {
			t.Errorf("%s is %v in an empty design", f.Key, v)
		}
	}
}

// explain knows every figure and every key, whole and as JSON.
func TestExplainEverything(t *testing.T) {
	for i := range cabinet.Figures {
		f := &cabinet.Figures[i]
		code, out, errOut := gapline("explain", f.Key)
		if code != exitDone || errOut != "" || !strings.HasPrefix(out, f.Key+": "+f.Name) {
			t.Errorf("explain %s: exit %d, %s%s", f.Key, code, errOut, out)
		}
		for _, label := range []string{"  formula  ", "  inputs   ", "  measures ", "  trust    ", "  source   "} {
			if !strings.Contains(out, label) {
				t.Errorf("explain %s lacks %q:\n%s", f.Key, label, out)
			}
		}
		if o := object(t, "explain", f.Key); o["key"] != f.Key || o["formula"] != f.Formula || len(o["inputs"].([]any)) != len(f.Inputs) {
			t.Errorf("explain %s --json = %v", f.Key, o)
		}
	}
	for i := range designfile.Keys {
		k := &designfile.Keys[i]
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
	if got := len(o["figures"].([]any)); got != len(cabinet.Figures) {
		t.Errorf("%d figures in JSON, want %d", got, len(cabinet.Figures))
	}
	if got := len(o["keys"].([]any)); got != len(designfile.Keys) {
		t.Errorf("%d keys in JSON, want %d", got, len(designfile.Keys))
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
	for i := range cabinet.Figures {
		if n := strings.Count("\n"+out, "\n"+cabinet.Figures[i].Key+","); n != 1 {
			t.Errorf("%s stands %d times in the CSV", cabinet.Figures[i].Key, n)
		}
	}
}
