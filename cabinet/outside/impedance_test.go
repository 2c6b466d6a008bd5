package outside

import (
	"math"
	"testing"

	"gapline/internal/air"
)

// Far under its size what a box radiates with all cones alike is that of a simple source: the
// resistance on each of N cones of area S is k²NS/(4π) (L. E. Kinsler et al., Fundamentals of
// Acoustics, 4th ed. 2000, sec. 7.2: power ρω²U²/(4πc)).
func TestImpedanceOfASimpleSource(t *testing.T) {
	d := starter(t, "hatch")
	r := solve(t, d, Task{Frequencies: []float64{40, 80, 160}})
	c := air.Of(d.Air).SoundSpeed
	for i, f := range r.Frequency {
		k := 2 * math.Pi * f / c
		z := r.Impedance()[i]
		sum := complex128(0) // on a cone of the first set, all alike
		for _, x := range z[0] {
			sum += x
		}
		want := k * k * float64(d.WoofersPerBox()) * r.Area[0] / (4 * math.Pi)
		// The next term is of second order in the size of the box, 0.3 m to either side; and of the
		// reactance, which is up to forty times as much, the solver's some tenths of a per cent get here.
		if got := real(sum); math.Abs(got-want) > 0.3*(k*0.3)*(k*0.3)*want+2e-3*imag(sum) {
			t.Errorf("%g Hz: %v, want a resistance of %g", f, sum, want)
		}
	}
}
