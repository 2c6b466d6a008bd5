package figure

import "testing"

// Every level of trust has a name and a meaning of its own.
func TestEveryLevelOfTrustIsWhole(t *testing.T) {
	seen := map[string]bool{}
	for level := NoTrust + 1; level < trustCount; level++ {
		if level.String() == "" || level.Meaning() == "" {
			t.Errorf("level %d has no name or no meaning", level)
		}
		if seen[level.String()] {
			t.Errorf("two levels are called %q", level)
		}
		seen[level.String()] = true
	}
}
