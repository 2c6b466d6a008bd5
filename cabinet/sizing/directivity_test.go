package sizing

import (
	"math"
	"testing"

	"gapline/internal/reftable"

	"pgregory.net/rapid"
)

// N points half a wave apart have the directivity factor N exactly (Kinsler et
// al., chapter on arrays: every sinc term vanishes).
func TestPointLineAtHalfWave(t *testing.T) {
	for _, n := range []int{1, 2, 5, 12, 40} {
		reftable.Near(t, "Q", PointLineFactor(n, 0.5, 1), float64(n), 1e-12)
	}
}

// Two routes to one number: closed form of points and pattern integral.
func TestPatternIntegralEqualsClosedForm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 24).Draw(t, "boxes")
		lambda := rapid.Float64Range(0.2, 8).Draw(t, "λ/p")
		got := evenly(1, 0, Point, 0).LineFactor(n, 1, lambda)
		want := PointLineFactor(n, 1, lambda)
		if math.Abs(got-want) > 1e-6*want {
			t.Fatalf("integral %.9g, closed form %.9g", got, want)
		}
	})
}

// A gapless line of strips is a continuous line.
func TestGaplessStripsAreAContinuousLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 16).Draw(t, "boxes")
		lambda := rapid.Float64Range(0.2, 8).Draw(t, "λ/p")
		got := evenly(1, 0, Strip, 1).LineFactor(n, 1, lambda)
		want := ContinuousLineFactor(float64(n), lambda)
		if math.Abs(got-want) > 1e-6*want {
			t.Fatalf("strips %.9g, continuous %.9g", got, want)
		}
	})
}

// For a long line Q tends to 2L/λ (the integral of sinc² over all u is π/(kL/2);
// e.g. C. A. Balanis, Antenna Theory, ch. 2, from memory).
func TestLongContinuousLine(t *testing.T) {
	reftable.Near(t, "Q of 400 wavelengths", ContinuousLineFactor(400, 1), 800, 2e-3)
}
