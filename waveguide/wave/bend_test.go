package wave

import (
	"context"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"gapline/internal/bem"
	"gapline/internal/clinalg"
)

func mustBend(t *testing.T, b Bend, f []float64) *BendResult {
	t.Helper()
	r, err := SolveBend(context.Background(), b, testAir, f, bem.Run{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// matching solves the square bend by mode matching: by symmetry about the
// plate's middle plane the pressure there has slope zero (even) or is zero
// (odd); each half is a step from the layer, t high, to a cavity t + s/2 high
// and g long. It returns R and T. It shares nothing with the boundary elements.
func matching(t *testing.T, b Bend, k float64) (r, tr complex128) {
	even, odd := halfBend(t, b, k, 0), halfBend(t, b, k, 0.5)
	return (even + odd) / 2, (even - odd) / 2
}

// halfBend returns the reflection of the plane wave in one half; shift is 0 or
// 1/2, what is added to the cavity's mode numbers.
func halfBend(t *testing.T, b Bend, k, shift float64) complex128 {
	const modes = 60
	height, g := b.Thickness+b.Plate/2, b.gap()
	cavity := int(modes * height / b.Thickness)
	root := func(mu float64) complex128 { return cmplx.Sqrt(complex(k*k-mu*mu, 0)) }
	a := clinalg.New(modes, modes)
	rhs := make([]complex128, modes)
	overlap := func(p, q float64) float64 { // ∫₀ᵗ cos py cos qy dy
		sinc := func(x float64) float64 {
			if x == 0 {
				return 1
			}
			return math.Sin(x) / x
		}
		return b.Thickness / 2 * (sinc((p-q)*b.Thickness) + sinc((p+q)*b.Thickness))
	}
	for n := range modes {
		pn := float64(n) * math.Pi / b.Thickness
		own := complex(overlap(pn, pn), 0)
		a.Row(n)[n] += own
		if n == 0 {
			rhs[n] -= own
		}
		for m := range cavity {
			mu := (float64(m) + shift) * math.Pi / height
			kappa := root(mu)
			norm := height / 2
			if mu == 0 {
				norm = height
			}
			factor := 1 / (cmplx.Tan(kappa*complex(g, 0)) * kappa * complex(norm, 0))
			if imag(kappa)*g > 300 { // tan(jx) = j, past overflow
				factor = 1 / (1i * kappa * complex(norm, 0))
			}
			factor *= complex(overlap(mu, pn), 0)
			for l := range modes {
				pl := float64(l) * math.Pi / b.Thickness
				kl := root(pl)
				if l > 0 {
					kl = -kl // decays away from the step
				}
				term := factor * 1i * kl * complex(overlap(mu, pl), 0)
				a.Row(n)[l] -= term
				if l == 0 {
					rhs[n] -= term
				}
			}
		}
	}
	lu, err := clinalg.Factor(context.Background(), a, 1)
	if err != nil {
		t.Fatal(err)
	}
	lu.SolveVec(rhs)
	return rhs[0]
}

func TestSquareBendAgainstModeMatching(t *testing.T) {
	// The two methods have nothing in common but the wave equation. With 60
	// modes and the default mesh they agree to better than 1e-4.
	const tolerance = 5e-4
	b := Bend{Thickness: 0.02, Plate: 0.006}
	f := []float64{500, 2000, 4000, 6000, 7500}
	r := mustBend(t, b, f)
	for i, hz := range f {
		wantR, wantT := matching(t, b, 2*math.Pi*hz/testAir.SoundSpeed)
		t.Logf("%g Hz: |R| %.2f dB, T %.3f dB %.1f°; differs by |ΔR| %.4f, %.3f dB, %.2f°", hz, decibel(r.Reflection[i]), decibel(r.Transmission[i]),
			degrees(r.Transmission[i]), cmplx.Abs(r.Reflection[i]-wantR), decibel(r.Transmission[i]/wantT), degrees(r.Transmission[i]/wantT))
		if cmplx.Abs(r.Reflection[i]-wantR) > tolerance || cmplx.Abs(r.Transmission[i]-wantT) > tolerance {
			t.Errorf("%g Hz: R = %.4f, T = %.4f; mode matching %.4f, %.4f", hz, r.Reflection[i], r.Transmission[i], wantR, wantT)
		}
	}
}

func TestBendPowerBalance(t *testing.T) {
	plain := Bend{Thickness: 0.02, Plate: 0.006}
	filleted := Bend{Thickness: 0.02, Plate: 0.006, OuterRadius: 0.02, RoundPlate: true, Gap: 0.018}
	for _, b := range []Bend{plain, filleted} {
		r := mustBend(t, b, []float64{300, 3000, 7000})
		for i, f := range r.Frequency {
			if math.Abs(r.Imbalance[i]) > 5e-3 {
				t.Errorf("%+v, %g Hz: 1 − |R|² − |T|² = %.2g", b, f, r.Imbalance[i])
			}
		}
		if cmplx.Abs(r.Transmission[0]) < 0.99 {
			t.Errorf("%+v: |T| = %g at 300 Hz, want nearly 1", b, cmplx.Abs(r.Transmission[0]))
		}
	}
}

func TestBendErrors(t *testing.T) {
	good := Bend{Thickness: 0.02, Plate: 0.006}
	cases := []struct {
		b    Bend
		f    float64
		want string
	}{
		{Bend{Plate: 0.006}, 1000, "must be positive"},
		{Bend{Thickness: 0.02, Plate: 0.006, Gap: -1}, 1000, "gap"},
		{Bend{Thickness: 0.02, Plate: 0.006, OuterRadius: 0.03}, 1000, "outer radius"},
		{good, 8600, "cross mode"},
	}
	for _, c := range cases {
		if _, err := SolveBend(context.Background(), c.b, testAir, []float64{c.f}, bem.Run{}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("err = %v, want %q", err, c.want)
		}
	}
}

func decibel(z complex128) float64 { return 20 * math.Log10(cmplx.Abs(z)) }

func degrees(z complex128) float64 { return cmplx.Phase(z) * 180 / math.Pi }

func TestBendCheckedChange(t *testing.T) {
	b := Bend{Thickness: 0.02, Plate: 0.004}
	f := []float64{1000, 6000}
	r, err := SolveBendChecked(context.Background(), b, testAir, f, bem.Run{})
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range r.Change {
		want, _ := matching(t, b, 2*math.Pi*f[i]/testAir.SoundSpeed)
		if e := cmplx.Abs(r.Reflection[i] - want); !(c > 0 && c < 0.01) || e > 0.01 {
			t.Errorf("%g Hz: change on halving %.2g, error against mode matching %.2g; want both below 1 %%", f[i], c, e)
		}
	}
	if _, err := SolveBendChecked(context.Background(), b, testAir, []float64{9000}, bem.Run{}); err == nil {
		t.Error("a frequency above the cross mode is accepted")
	}
}
