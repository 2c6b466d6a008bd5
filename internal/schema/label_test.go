package schema

import (
	"strings"
	"testing"
)

// A label is for people: no path, no key's spelling, and no two keys share one.
func TestLabels(t *testing.T) {
	owner := map[string]string{}
	for i := range Keys {
		k := &Keys[i]
		label := k.Label()
		if label == "" || len(label) > 40 || strings.ContainsAny(label, "._") {
			t.Errorf("%s: label %q is empty, long or a key", k.Path, label)
		}
		if other, taken := owner[label]; taken {
			t.Errorf("%s and %s share the label %q", k.Path, other, label)
		}
		owner[label] = k.Path
	}
	if got := FindKey("horn.mouth_width").Label(); got != "horn mouth width" {
		t.Errorf("horn.mouth_width is called %q", got)
	}
}
