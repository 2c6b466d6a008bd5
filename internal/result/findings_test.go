package result

import "testing"

// Every severity has a name for programs, a sign for the screen and a label for
// documents, and no two share one.
func TestEverySeverityIsWhole(t *testing.T) {
	seen := map[string]Severity{}
	for s := range severityCount {
		for _, word := range []string{"name " + s.String(), "sign " + s.Sign(), "label " + s.Label()} {
			if word == "name " || word == "sign " || word == "label " {
				t.Errorf("severity %d has no %s", s, word)
			}
			if other, ok := seen[word]; ok {
				t.Errorf("severities %d and %d share the %s", other, s, word)
			}
			seen[word] = s
		}
	}
}
