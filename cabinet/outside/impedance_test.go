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

// With all of three boxes playing, far under their size, the resistance on the middle one is that
// of sources that act on each other: alone times 1 + 2·sinc(kp) (R. L. Pritchard, J. Acoust. Soc.
// Am. 32 (1960) 730; L. E. Kinsler et al., sec. 7.2).
func TestNeighboursRaiseTheLoad(t *testing.T) {
	d := starter(t, "hatch")
	f := []float64{70, 85}
	alone, three := solve(t, d, Task{Frequencies: f}).Felt(), solve(t, d, Task{Frequencies: f, Boxes: 3, Straight: true}).Felt()
	for i := range f {
		kp := 2 * math.Pi * f[i] / air.Of(d.Air).SoundSpeed * d.Pitch()
		want := 1 + 2*math.Sin(kp)/kp
		// Below, the solver's some 1e-4 of a reactance a hundred times as large get here: 7 % at 60 Hz.
		// Above, the front of three boxes works as a baffle, by the square of frequency: 13 % at 120 Hz.
		if got := real(three[i]) / real(alone[i]); math.Abs(got/want-1) > 0.07 {
			t.Errorf("%g Hz: resistance times %g, want %g", f[i], got, want)
		}
	}
	if even := solve(t, d, Task{Frequencies: f[:1], Boxes: 2, Straight: true}); even.Felt() != nil {
		t.Error("two boxes have a middle one")
	}
}
