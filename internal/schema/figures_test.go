package schema

import (
	"testing"

	"gapline/internal/figure"
)

// What the formulas of the figures depend on is there: a key of the design file or
// another figure. No name is both, or explain could not tell them apart.
func TestTermsOfFiguresAreKnown(t *testing.T) {
	known := map[string]bool{}
	for i := range Keys {
		known[Keys[i].Path] = true
	}
	for _, f := range figure.All() {
		if known[f.Key] {
			t.Errorf("%s is both a figure and a key of the design file", f.Key)
		}
	}
	for _, f := range figure.All() {
		known[f.Key] = true
	}
	for _, f := range figure.All() {
		for _, in := range f.Inputs() {
			if !known[in] {
				t.Errorf("%s: its term %s is neither a figure nor a key", f.Key, in)
			}
		}
	}
}
