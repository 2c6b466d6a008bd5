//go:build long

package bem

import (
	"testing"
	"time"
)

func TestEightThousandUnknowns(t *testing.T) {
	// The exact cabinet case at a frequency that fills a gigabyte; run with
	// -tags long.
	p := exterior(Mirror{}, cabinetOutline(imposed(solidSources...)))
	f := 16000.0
	for {
		n, _, err := p.Unknowns(f, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if n >= 8000 {
			break
		}
		f *= 1.01
	}
	start := time.Now()
	sol := mustSolve(t, p, f, Options{})
	largest, rms := errorsOn(mustTrace(t, sol, "wall"), exactPressure(f))
	t.Logf("%.0f Hz: %d unknowns, %d bytes, %v, greatest error %.2g, rms %.2g",
		f, sol.Unknowns, memory(sol.Unknowns), time.Since(start), largest, rms)
	if largest > sizeRule {
		t.Errorf("greatest error %.2g, want below %g", largest, sizeRule)
	}
}

func TestSharpScattering(t *testing.T) {
	// The rigid cylinder at ka = 150, with about (ka)²/4 = 5,600 inside modes
	// below (H. Weyl, 1911).
	sol := mustSolve(t, scattered(0.1, Mirror{}), frequencyOf(1500), Options{})
	if e := seriesError(sol, 150, 0.1); e > sizeRule {
		t.Errorf("error %.2g", e)
	}
}
