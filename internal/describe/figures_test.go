package describe

import (
	"testing"

	"gapline/internal/figure"
)

// Every figure has a group of its own in the document.
func TestGroupsHoldEveryFigure(t *testing.T) {
	known := map[string]bool{}
	for _, g := range groups {
		known[g.group] = true
	}
	for _, f := range figure.Sized() {
		if !known[f.Group()] {
			t.Errorf("%s stands in no table", f.Key)
		}
	}
}
