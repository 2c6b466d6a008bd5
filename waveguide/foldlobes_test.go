package waveguide

import (
	"math"
	"testing"

	"gapline/internal/numeric"
	"gapline/internal/reftable"

	"pgregory.net/rapid"
)

// The fast limit against RibbonLimit, which samples every lobe afresh, takes the
// lags from traced rays and scans in far smaller steps.
func TestLobeLimitAgainstRibbonLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := rapid.Float64Range(0.1, 0.4).Draw(t, "h")
		path := rapid.SampledFrom([]float64{3 * h, 5 * h, 9 * h, math.Inf(1)}).Draw(t, "path")
		spec := NewFoldSpec(rapid.Float64Range(0.35, 1).Draw(t, "a/h")*h, path, 0.015, h)
		spec.ThroatHeight = rapid.SampledFrom([]float64{0, 0.05, -0.1}).Draw(t, "height/h") * h
		f, err := NewFold(spec)
		if err != nil {
			t.Skip("not possible")
		}
		pitch := h / rapid.Float64Range(0.7, 1).Draw(t, "share")
		limit := rapid.Float64Range(-15, -8).Draw(t, "limit")
		const top = 25e3
		s := StackFront{Count: 1, Pitch: pitch, Height: h, Front: f.Front(), SoundSpeed: f.Spec.SoundSpeed}
		want, found, err := s.RibbonLimit(limit, top)
		if err != nil {
			t.Fatal(err)
		}
		got := f.LobeLimit(pitch, numeric.FromDB(limit))
		if !found && got < top {
			t.Fatalf("limit %g Hz, RibbonLimit finds none under %g Hz", got, top)
		}
		if found && math.Abs(got-want) > 1e-4*want {
			t.Fatalf("limit %g Hz, RibbonLimit says %g Hz", got, want)
		}
	})
}

// A plane front of even amplitude has lobes of |sinc(πm·share)|: the taper of a
// gentle parabola changes that little, so that share 0.9 stays under -12 dB and
// share 0.7 does not (table line_grating: -12.62 dB at 0.80, -19.23 at 0.90).
func TestLobeLimitOfPlaneFront(t *testing.T) {
	f, err := NewFold(NewFoldSpec(0.5, math.Inf(1), 0.015, 0.25))
	if err != nil {
		t.Fatal(err)
	}
	if got := f.LobeLimit(0.25/0.9, numeric.FromDB(-12)); !math.IsInf(got, 1) {
		t.Errorf("share 0.9: %g Hz, want none", got)
	}
	if got, want := f.LobeLimit(0.25/0.7, numeric.FromDB(-12)), f.Spec.SoundSpeed*0.7/0.25; math.Abs(got-want) > 1e-9*want {
		t.Errorf("share 0.7: %g Hz, want the lobe's onset, %g", got, want)
	}
}

// The width of a mouth with a circular front of even amplitude is that of
// Aperture, which the tables of horn_beamwidth check.
func TestFrontBeamIsApertureBeam(t *testing.T) {
	const h, c = 0.26, 343.0
	for _, apex := range []float64{0.3, 0.6, 1.2} {
		front := CircularFront(h, Sagitta(h, apex))
		for _, f := range []float64{1000, 2500, 6300, 16000} {
			below, above := FrontBeam(front, h, c, f)
			want := Aperture{Width: h, Apex: apex}.Beamwidth(c / f)
			if math.IsNaN(want) != math.IsNaN(above-below) {
				t.Fatalf("apex %g m, %g Hz: %g, want %g", apex, f, above-below, want)
			}
			if !math.IsNaN(want) {
				reftable.Near(t, "width", above-below, want, 1e-8)
			}
		}
	}
}

// A front tilted by the sine s, lag = -s·y, sends its beam to that sine: both
// edges move by s (shift theorem of the Fourier transform), as long as neither
// passes 90°.
func TestTiltedFrontShiftsBeam(t *testing.T) {
	const h, c, f, s = 0.3, 343.0, 4000.0, 0.02
	flat := func(float64) (float64, float64) { return 0, 1 }
	tilted := func(y float64) (float64, float64) { return -s * y, 1 }
	b0, a0 := FrontBeam(flat, h, c, f)
	// The reference is the level on the axis, a little down the tilted beam, so
	// compare the middles: the pattern is even about the sine s.
	b, a := FrontBeam(tilted, h, c, f)
	reftable.Near(t, "middle of the plane beam", math.Sin(a0)+math.Sin(b0), 0, 1e-9)
	reftable.Near(t, "middle of the tilted beam", (math.Sin(a)+math.Sin(b))/2, -s, 1e-9)
}

func BenchmarkLobeLimit(b *testing.B) {
	f, err := NewFold(NewFoldSpec(0.11, 1.2, 0.014, 0.258))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		f.LobeLimit(0.272, 0.25)
	}
}
