package filter

import (
	"testing"

	"gapline/internal/wordset"
)

// Every alignment has a name for people and orders; what they compute is in
// TestMagnitudes and TestSumsOfPairs, which walk all of them.
func TestEveryAlignmentIsWhole(t *testing.T) {
	if err := wordset.Check(alignmentCount); err != nil {
		t.Fatal(err)
	}
	for _, a := range wordset.All[Alignment]() {
		if len(a.Orders()) == 0 || a.String() == Alignment(alignmentCount).String() {
			t.Errorf("%s: orders %v", a, a.Orders())
		}
	}
	if err := wordset.Check(polarityCount); err != nil {
		t.Fatal(err)
	}
}
