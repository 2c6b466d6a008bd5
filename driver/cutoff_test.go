package driver

import (
	"math"
	"testing"

	"gapline/internal/reftable"
)

// A closed box is a high-pass of second order, |H|² = x⁴/((x² − 1)² + x²/Q²) with x = f/fc.
// It is at half power where x⁴ + (2 − 1/Q²)·x² − 1 = 0. Where Q is far under 1 that lies near
// 1/Q resonances, and one of such a driver's frequencies is as legal as any.
func TestHalfPowerOfAnOverdampedBox(t *testing.T) {
	for _, qms := range []float64{0.1, 0.02, 0.004} {
		const fs, vas = 60, 0.1
		s := circuit(t, Setup{Driver: small(t, fs, 50, qms, vas), Enclosure: closedBox(vas / 3)}).Summary()
		b := 1/(s.Qtc*s.Qtc) - 2
		want := math.Sqrt((b + math.Sqrt(b*b+4)) / 2)
		reftable.Near(t, "f3/fc", s.F3/s.Fc, want, 1e-9)
	}
}
