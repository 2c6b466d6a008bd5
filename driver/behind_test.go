package driver

import (
	"math"
	"math/cmplx"
	"testing"
)

// With the exact radiation of its pistons put in front of it, what stands behind the cones
// gives the circuit's own excursion: two ways to the same network.
func TestBehindAndFrontMakeTheCircuit(t *testing.T) {
	s := Setup{Driver: small(t, 45, 0.35, 6, 0.08), Enclosure: closedBox(0.05)}
	for _, count := range []int{1, 2} {
		s.Count, s.Loading = count, FullRadiation
		c, err := NewCircuit(s)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range []float64{30, 100, 400, 1500} {
			k := 2 * math.Pi * f / c.air.SoundSpeed
			z := c.front.piston.Impedance(k)
			for i, pair := range c.front.pairs {
				z += complex(c.front.weights[i], 0) * pair.Impedance(k)
			}
			z *= complex(c.air.Impedance()/c.sd, 0) // of each cone, all moving alike
			b := c.Behind(f)
			u := b.Source / (b.Own + complex(c.count, 0)*b.Box + z)
			got := math.Sqrt2 * cmplx.Abs(u) / (2 * math.Pi * f * c.sd)
			if want := c.At(f, 1).Excursion; math.Abs(got/want-1) > 1e-12 {
				t.Errorf("%d drivers, %g Hz: excursion %g, want %g", count, f, got, want)
			}
		}
	}
}

// All of a closed box's sound comes from its cones; of a vented one without losses the cones are 1 − (f_b/f)²
// of it, since the vent moves 1/((f/f_b)² − 1) against them (R. H. Small, JAES 21, 1973). A leakage Q of 1e5
// leaves 0.1 %.
func TestFrontShare(t *testing.T) {
	s := Setup{Driver: small(t, 45, 0.35, 6, 0.08), Enclosure: closedBox(0.05)}
	if got := circuit(t, s).FrontShare(80); cmplx.Abs(got-1) > 1e-12 {
		t.Errorf("closed: %v", got)
	}
	s.Enclosure = ventedBox(0.05, 50, 1e5)
	for _, f := range []float64{30, 70, 100, 400} {
		want := complex(1-50*50/(f*f), 0)
		if got := circuit(t, s).FrontShare(f); cmplx.Abs(got/want-1) > 1e-3 {
			t.Errorf("vented, %g Hz: %v, want %v", f, got, want)
		}
	}
}
