package describe

import (
	"testing"

	"gapline/internal/figure"
)

// Every figure has a group of its own in the document, or stands in the table of levels.
func TestGroupsHoldEveryFigure(t *testing.T) {
	known := map[string]bool{}
	for _, g := range groups {
		known[g.group] = true
	}
	for _, g := range gapLevels {
		known[g.Gap.Group()] = true
	}
	for _, f := range figure.Sized() {
		if !known[f.Group()] {
			t.Errorf("%s stands in no table", f.Key)
		}
	}
}
