package wave

import (
	"math"
	"math/cmplx"
	"testing"

	"gapline/internal/bem"
	"gapline/internal/reftable"
)

func TestFoldAgainstFiniteElements(t *testing.T) {
	// The same guide by a general-purpose finite-element library; the table's
	// header says how. Both agree on absolute level and phase at every point of
	// the mouth, with elements by the default rule.
	const (
		level = 0.2               // dB
		phase = 3 * math.Pi / 180 // rad
		load  = 0.01              // of the throat impedance
	)
	rows := reftable.Read(t, "fold_finite_elements")
	var f []float64
	for _, r := range rows {
		if hz := r.Get("frequency_hz"); len(f) == 0 || f[len(f)-1] != hz {
			f = append(f, hz)
		}
	}
	got := mustFold(t, parabola(0.11, 0.25, 0.04, 41), f, bem.Run{})
	worstLevel, worstPhase := 0.0, 0.0
	for _, r := range rows {
		i := 0
		for f[i] != r.Get("frequency_hz") {
			i++
		}
		want := complex(r.Get("re_pa"), r.Get("im_pa"))
		ratio := along(got, i, r.Get("y_m")) / want
		dB, angle := math.Abs(20*math.Log10(cmplx.Abs(ratio))), math.Abs(cmplx.Phase(ratio))
		if !(dB <= level) || !(angle <= phase) {
			t.Errorf("%s: %g Hz, y = %g m: off by %.3f dB and %.2f°", r.Name, f[i], r.Get("y_m"), dB, angle*180/math.Pi)
		}
		worstLevel, worstPhase = math.Max(worstLevel, dB), math.Max(worstPhase, angle)
		zeta := complex(r.Get("throat_resistance"), r.Get("throat_reactance"))
		if e := cmplx.Abs(got.Throat[i]-zeta) / cmplx.Abs(zeta); !(e <= load) {
			t.Errorf("%g Hz: throat impedance %v, want %v", f[i], got.Throat[i], zeta)
		}
	}
	t.Logf("greatest difference %.3f dB, %.2f°", worstLevel, worstPhase*180/math.Pi)
}

// along interpolates the pressure along the mouth at height y.
func along(r *FoldResult, i int, y float64) complex128 {
	j := 1
	for j < len(r.Mouth)-1 && r.Mouth[j].Y < y {
		j++
	}
	share := (y - r.Mouth[j-1].Y) / (r.Mouth[j].Y - r.Mouth[j-1].Y)
	p := r.Pressure[i]
	return p[j-1] + complex(share, 0)*(p[j]-p[j-1])
}
