package terminal

import (
	"strings"
	"testing"
)

func TestShortened(t *testing.T) {
	long := strings.Repeat("é", 200)
	if got := []rune(shortened(long, 160)); len(got) != 160 || got[159] != '…' {
		t.Errorf("shortened to %d letters", len(got))
	}
	for _, most := range []int{0, 5} {
		if got := shortened("a b", most); got != "a b" {
			t.Errorf("%q, want %q", got, "a b")
		}
	}
}
