//go:build long

package outside

import "testing"

// The table of the package comment; run with -tags long.
func TestSourcesInTheSolidTable(t *testing.T) {
	body := bounds{3: {0.006, 0.008, 0.004, 0.0016}, 4: {0.0035, 0.004, 0.003, 0.0007}, 6: {0.0013, 0.005, 0.0015, 0.0002}, 8: {0.0007, 0.002, 0.0007, 0.0001}}
	for _, c := range []exactCase{
		{"body", "hatch", inBody, body},
		{"body", "hatch-insert", inBody, body},
		{"body", "hatch-mids", inBody, body},
		{"panel", "hatch-insert", besideChamber, bounds{3: {0.008, 0.03, 0.03, 0.006}, 4: {0.008, 0.03, 0.03, 0.01}, 6: {0.0012, 0.0035, 0.004, 0.0008}, 8: {0.0006, 0.0012, 0.0025, 0.0001}}},
		{"plate", "hatch-insert", inPlate(), bounds{3: {0.03, 0.09, 0.08, 0.015}, 4: {0.015, 0.03, 0.03, 0.008}, 6: {0.015, 0.06, 0.04, 0.015}, 8: {0.01, 0.035, 0.02, 0.008}}},
	} {
		c.check(t, 1000)
	}
}

// Finer elements than the default come no nearer to the table, whose own error is about as
// large.
func TestInsertAgainstFiniteElementsFine(t *testing.T) { againstFinite(t, 9, 0.3, 2) }
