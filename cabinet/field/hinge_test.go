package field

import (
	"testing"

	"gapline/internal/wordset"
)

func TestEveryHingeIsWhole(t *testing.T) {
	if err := wordset.Check(hingeCount); err != nil {
		t.Fatal(err)
	}
	for _, h := range append(wordset.All[Hinge](), 0) {
		if x := h.along(0.4); x > 0 || x < -0.4 || (x != 0) != h.NeedsDepth() {
			t.Errorf("%s: %g m from the front of a box 0.4 m deep, needs depth: %t", h, x, h.NeedsDepth())
		}
	}
}
