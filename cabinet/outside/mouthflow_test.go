package outside

import (
	"math"
	"math/cmplx"
	"testing"

	"gapline/internal/air"
	"gapline/internal/numeric"
)

// pairsUp are probes over two mouths of a height h at ±d, of unit area each.
func pairsUp(h, d float64) *probes {
	p := &probes{}
	rule := numeric.Legendre(acrossMouth)
	for _, side := range []float64{-1, 1} {
		for i, z := range rule.X {
			p.across, p.up = append(p.across, rule.W[i]/2), append(p.up, side*d+z*h/2)
		}
	}
	return p
}

// Two mouths of even flow have the pattern cos(κd)·sinc(κh/2), κ = k·sin θ (L. E. Kinsler et al.,
// Fundamentals of Acoustics, 4th ed. 2000, sec. 7.9, 7.11). The rule's six points take 10 rad over
// a mouth to 1e-4.
func TestEvenFlowInABaffle(t *testing.T) {
	const h, d = 0.104, 0.068
	p := pairsUp(h, d)
	falls := make([]complex128, len(p.across))
	for i, w := range p.across {
		falls[i] = complex(w, 0)
	}
	for _, k := range []float64{1, 30, 90} {
		got := p.baffled(falls, k)
		for i, a := range angles {
			kappa := k * math.Sin(a)
			want := 2 * math.Cos(kappa*d) * numeric.Sinc(kappa*h/2) / (2 * math.Pi)
			if cmplx.Abs(got[i]-complex(want, 0)) > 1e-4 {
				t.Fatalf("k = %g, %g rad: %v, want %g", k, a, got[i], want)
			}
		}
	}
}

// Mouths of even flow, evenly spaced through the stack, have no first lobe. A flow that leans
// towards the middle of the box, u = 1 − s·(2/h)·(|z| − d), brings it back: by its first moment the
// lobe at κ = 2π/p is as high as s·3j₁(x)/3 against the mean, x = κh/2, with j₁ the spherical
// Bessel function (the integral of z·sin κz over the mouth). It is there as soon as it is seen, at
// c/p.
func TestLeaningFlowBringsTheLobeBack(t *testing.T) {
	const h, pitch, c, limit = 0.104, 0.272, 345.0, -12.0
	p := pairsUp(h, pitch/4)
	x := math.Pi * h / pitch
	moment := math.Sin(x)/(x*x) - math.Cos(x)/x
	for _, lean := range []float64{0.2, 0.7, 0.9} {
		r := &Result{Angle: angles, air: air.Air{SoundSpeed: c}}
		for f := 700.0; f < 2400; f *= math.Exp2(1.0 / 6) {
			falls := make([]complex128, len(p.across))
			for i, w := range p.across {
				falls[i] = complex(w*(1-lean*2/h*(math.Abs(p.up[i])-pitch/4)), 0)
			}
			r.Frequency, r.Baffled = append(r.Frequency, f), append(r.Baffled, p.baffled(falls, 2*math.Pi*f/c))
		}
		got := r.MouthsLobe(pitch, limit)
		if numeric.DB(lean*moment) < limit {
			if numeric.Given(got.Hz) {
				t.Errorf("lean %g, lobe at %.1f dB: passes %g dB from %g", lean, numeric.DB(lean*moment), limit, got.Hz)
			}
			continue
		}
		if math.Abs(got.Hz/(c/pitch)-1) > 0.02 {
			t.Errorf("lean %g, lobe at %.1f dB: from %g, want %g", lean, numeric.DB(lean*moment), got.Hz, c/pitch)
		}
	}
}

// Behind an outside that is a mass, a lumped chamber has its corner at 1/(2π√(C(Mo + Mi))).
func TestLumpedChamber(t *testing.T) {
	r := &Result{air: air.Air{SoundSpeed: 345, Density: 1.18}, room: room{volume: 5e-4, area: 0.0208, inner: 0.03}}
	const outer = 2.0 // kg/m⁴
	for f := 300.0; f < 3000; f *= math.Exp2(1.0 / 6) {
		r.Frequency, r.Out, r.Cones = append(r.Frequency, f), append(r.Out, 1e-3), append(r.Cones, 1)
		r.Pressed = append(r.Pressed, complex(1e-3*1e4, 1e-3*2*math.Pi*f*outer))
	}
	want := 1 / (2 * math.Pi * math.Sqrt(5e-4/(1.18*345*345)*(outer+1.18*0.03/0.0208)))
	if got := r.LumpedChamber(); math.Abs(got.Hz/want-1) > 0.01 {
		t.Errorf("corner %+v, want %g", got, want)
	}
}
