//go:build long

package driver

import "testing"

// The stated coverage: 2000 sweeps of five kinds of driver, 400 of each, with 0.4 %
// of noise. Each estimate's share has a standard deviation of 0.5 % over all sweeps
// and of 1.1 % in one kind.
func TestCoverageOfTwoThousandSweeps(t *testing.T) {
	const each = 400
	for _, phase := range []bool{true, false} {
		total := make([]int, len(estimated))
		for i, kind := range coilKinds {
			held, systematic, width := coverage(t, kind, uint64(i), each, 0.004, phase)
			t.Logf("%-16s phases %-5t held of %d: %v, systematic %d, Re ±%.2f %%", kind.name, phase, each, held, systematic, 100*width)
			for k := range total {
				total[k] += held[k]
			}
		}
		for k, n := range total {
			share := 100 * float64(n) / float64(each*len(coilKinds))
			t.Logf("%-4s phases %-5t %.1f %%", estimated[k].name, phase, share)
			if phase && (share < 93 || share > 97) {
				t.Errorf("%s: %.1f %% of the intervals hold the truth, want 93 to 97 %%", estimated[k].name, share)
			}
		}
	}
}
