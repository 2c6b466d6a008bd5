package design

import (
	"testing"

	"gapline/internal/wordset"
)

func TestEveryBasisAndSideWallIsWhole(t *testing.T) {
	if err := wordset.Check(basisCount); err != nil {
		t.Error(err)
	}
	if err := wordset.Check(SideWallsCount); err != nil {
		t.Error(err)
	}
	d := New()
	for _, b := range append(wordset.All[Basis](), 0) {
		d.Targets.Coupling = b
		want := 1.0
		if d.Basis() == Lobe {
			want = 2
		}
		if got := d.Basis().Choose(1, 2); got != want {
			t.Errorf("%s chooses %g of 1 by the rule and 2 computed", b, got)
		}
	}
}
