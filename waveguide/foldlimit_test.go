package waveguide

import (
	"testing"

	"gapline/internal/wordset"
)

func TestEveryFoldLimitIsWhole(t *testing.T) {
	if err := wordset.Check(foldLimitCount); err != nil {
		t.Error(err)
	}
}
