package main

import (
	"strings"
	"testing"

	"gapline/internal/figure"
	"gapline/internal/schema"
)

// Each term is found by each of its spellings, with blanks or hyphens and in capitals, and
// explained in one to three sentences; what it refers to exists.
func TestGlossary(t *testing.T) {
	terms := figure.Glossary()
	if len(terms) < 60 {
		t.Errorf("%d terms", len(terms))
	}
	for _, e := range terms {
		if sentences := strings.Count(e.Text+" ", ". "); !strings.HasSuffix(e.Text, ".") || sentences < 1 || sentences > 3 {
			t.Errorf("%s has %d sentences: %s", e.Name, sentences, e.Text)
		}
		if e.Formula != "" && e.Source == "" {
			t.Errorf("%s has a formula without a source", e.Name)
		}
		if len(e.Keys) == 0 {
			t.Errorf("%s belongs to no figure and no key", e.Name)
		}
		for _, key := range e.Keys {
			if !isExplained(key) {
				t.Errorf("%s belongs to %q, which explain does not know", e.Name, key)
			}
		}
		for _, spelling := range e.Spellings() {
			for _, s := range []string{spelling, strings.ToUpper(spelling), strings.ReplaceAll(spelling, " ", "-"), strings.ReplaceAll(spelling, "-", " ")} {
				if got := figure.FindEntry(s); got != e {
					t.Errorf("%q is not found as %s", s, e.Name)
				}
			}
			if isExplained(strings.ToLower(spelling)) {
				t.Errorf("the term %s is hidden by a figure or key of that name", spelling)
			}
		}
		code, out, errOut := gapline(append([]string{"explain"}, strings.Fields(e.Name)...)...)
		if code != exitDone || errOut != "" || !strings.HasPrefix(out, e.Name+" (term)\n") {
			t.Errorf("explain %s: exit %d, %s%s", e.Name, code, errOut, out)
		}
		if o := object(t, "explain", e.Name); o["term"] != e.Name || o["text"] != e.Text || len(o["keys"].([]any)) != len(e.Keys) {
			t.Errorf("explain %s --json = %v", e.Name, o)
		}
	}
}

// isExplained reports whether a name is exactly that of a figure, of a key or of what is
// said in words.
func isExplained(name string) bool {
	f := figure.Find(name)
	return f != nil && f.Key == name || figure.FindSpoken(name) != nil || schema.FindKey(name) != nil
}

// The full list has every term, on the screen and in JSON.
func TestExplainListsTheTerms(t *testing.T) {
	_, out, _ := gapline("explain")
	_, section, found := strings.Cut(out, "\nTerms\n")
	if !found {
		t.Fatal("no section of terms")
	}
	for _, e := range figure.Glossary() {
		if !strings.Contains("\n"+section, "\n  "+e.Name+" ") {
			t.Errorf("%s is not listed", e.Name)
		}
	}
	if got := len(object(t, "explain")["terms"].([]any)); got != len(figure.Glossary()) {
		t.Errorf("%d terms in JSON, want %d", got, len(figure.Glossary()))
	}
}

// A misspelt name offers the nearest among figures, keys, verdicts and terms.
func TestNearestNames(t *testing.T) {
	for name, want := range map[string]string{
		"gap.open_otc": "gap.open_oct", "cabinet.hight": "cabinet.height", "gap.verdcit": "gap.verdict",
		"saggita": "sagitta", "half-wvae": "half-wave", "crossover gpa": "crossover gap", "passive radiatr": "passive radiator", "thiele-smal": "Thiele-Small",
	} {
		if got := nearestName(name); got != want {
			t.Errorf("%s offers %q, want %q", name, got, want)
		}
	}
}
