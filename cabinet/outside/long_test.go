//go:build long

package outside

import (
	"math"
	"testing"

	"gapline/internal/bem3"
)

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

// inPlate is a lattice of 6 mm in the middle of the left plate of hatch-insert, 12 mm thick,
// between its edges and its mouths, of 50 by 104 mm and 68 mm above and below the middle.
func inPlate() (list []pointSource) {
	const step = 0.006
	for y := 0.163; y <= 0.287; y += step {
		for z := step / 2; z < 0.122; z += step {
			if math.Abs(y-0.225) > 0.025+step || math.Abs(z-0.068) > 0.052+step {
				list = append(list, pointSource{bem3.Vec{-0.006, y, z}, 1})
			}
		}
	}
	return list
}
