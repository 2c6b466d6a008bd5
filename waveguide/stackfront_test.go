package waveguide

import (
	"math"
	"testing"

	"gapline/internal/reftable"
)

// stack343 is a line of mouths 1 m apart; with c = 343 m/s, p/λ is f/343.
func stack343(n int, share, s float64, shape func(h, s float64) MouthFront) StackFront {
	return StackFront{Count: n, Pitch: 1, Height: share, Front: shape(share, s), SoundSpeed: c343}
}

func TestFiniteLineAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "curve_array") {
		ratio := r.Get("p_over_lambda")
		f := ratio * c343
		s := stack343(int(r.Get("N")), r.Get("ARF"), r.Get("S")/ratio, ParabolicFront)
		reftable.Within(t, r.Name+" loss", s.AxisLoss(f), r.Get("onaxis_loss_dB"), 1e-9)
		l := s.Lobes(f)
		for i, col := range []string{"grating1", "grating2"} {
			if math.IsNaN(r.Get(col + "_dB")) {
				if len(l.Grating) > i {
					t.Errorf("%s: lobe %d should not be visible", r.Name, i+1)
				}
				continue
			}
			reftable.Within(t, r.Name+" "+col, l.Grating[i].Level, r.Get(col+"_dB"), 1e-7)
			reftable.Within(t, r.Name+" "+col+" angle", l.Grating[i].Angle*180/math.Pi, r.Get(col+"_deg"), 2e-4)
		}
		reftable.Within(t, r.Name+" highest", l.Highest.Level, r.Get("max_secondary_dB"), 1e-7)
		// The endless line's levels do not depend on frequency for a parabola, so
		// the invisible second lobe is taken at twice the frequency and half the
		// sagitta.
		for m, col := range map[int]string{1: "inf_N_m1_dB", 2: "inf_N_m2_dB"} {
			e := stack343(1, r.Get("ARF"), r.Get("S")/(2*ratio), ParabolicFront)
			reftable.Within(t, r.Name+" "+col, e.EndlessLobe(2*f, m), r.Get(col), 1e-8)
		}
	}
}

func TestEndlessLineWithCircularFrontAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "curve_array_exact") {
		h := r.Get("ARF")
		lambda := h / r.Get("h_over_lambda")
		f := c343 / lambda
		exact := stack343(1, h, r.Get("S")*lambda, CircularFront)
		parabola := stack343(1, h, r.Get("S")*lambda, ParabolicFront)
		for m, col := range map[int]string{1: "m1", 2: "m2"} {
			if u := float64(m) * lambda; u > 1 {
				continue // the table goes on where the lobe is not visible
			}
			reftable.Within(t, r.Name+" "+col, exact.EndlessLobe(f, m), r.Get(col+"_exact_dB"), 1e-8)
			reftable.Within(t, r.Name+" "+col+" par", parabola.EndlessLobe(f, m), r.Get(col+"_par_dB"), 1e-8)
		}
	}
}

// reference/NOTES.md section 5: for -12 dB the bulge may be 0.192 λ (share 1),
// 0.176 (0.9), 0.148 (0.85), 0.076 (0.8).
func TestRibbonLimitAgainstNotes(t *testing.T) {
	for share, want := range map[float64]float64{1: 0.192, 0.9: 0.176, 0.85: 0.148, 0.8: 0.076} {
		const bulge = 0.01
		f, ok, err := stack343(8, share, bulge, ParabolicFront).RibbonLimit(-12, 20e3)
		if err != nil || !ok {
			t.Fatalf("share %g: %v %v", share, ok, err)
		}
		reftable.Within(t, "bulge in wavelengths", bulge*f/c343, want, 6e-4)
	}
}

// A plane front of share 0.8 has lobes at |sinc(0.8 π)| = -12.62 dB (NOTES
// section 4) at every frequency: under -12 without end, over -13 from c/p on.
func TestRibbonLimitOfPlaneFronts(t *testing.T) {
	s := stack343(8, 0.8, 0, CircularFront)
	if f, ok, err := s.RibbonLimit(-12, 5e3); err != nil || ok || f != 5e3 {
		t.Errorf("-12 dB: %g %v %v", f, ok, err)
	}
	f, ok, err := s.RibbonLimit(-13, 5e3)
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	reftable.Near(t, "c/p", f, c343, 1e-12)
	reftable.Within(t, "sinc", s.EndlessLobe(1000, 1), 20*math.Log10(math.Sin(0.8*math.Pi)/(0.8*math.Pi)), 1e-9)
}

// The fold's own front: a straight wall a long way off gives the circular front
// with nearly even amplitude, a parabola a plane one with the cosine taper.
func TestFoldFront(t *testing.T) {
	s := spec343(0.5, 1.015, 0.01, 0.25)
	f := mustFold(t, s)
	bulge := math.Hypot(1.015, 0.125) - 1.015
	want := CircularFront(0.25, bulge)
	for _, y := range []float64{-0.125, -0.03, 0, 0.1} {
		lag, amp := f.Front()(y)
		wantLag, _ := want(y)
		reftable.Within(t, "lag", lag, wantLag, 1e-12)
		// Spreading from the apex: intensity as 1/distance.
		reftable.Near(t, "amplitude", amp, math.Sqrt(1.015/math.Hypot(1.015, y)), 1e-9)
	}
	p := mustFold(t, spec343(0.12, math.Inf(1), 0.012, 0.25))
	lag, amp := p.Front()(0.125)
	reftable.Within(t, "lag", lag, 0, 1e-12)
	reftable.Near(t, "amplitude", amp, math.Cos(p.Fan().High/2), 1e-12)
}

// The pattern is the brute sum over point sources.
func TestPatternAgainstBruteSum(t *testing.T) {
	s := StackFront{Count: 3, Pitch: 0.3, Height: 0.26, Front: CircularFront(0.26, 0.004), SoundSpeed: c343}
	const f, sources = 5000.0, 4000
	k := 2 * math.Pi * f / c343
	sum := func(u float64) float64 {
		var re, im float64
		for n := range 3 {
			for i := range sources {
				y := 0.26 * ((float64(i)+0.5)/sources - 0.5)
				lag, _ := s.Front(y)
				sin, cos := math.Sincos(k * ((y+0.3*float64(n))*u - lag))
				re, im = re+cos, im+sin
			}
		}
		return math.Hypot(re, im)
	}
	angles := []float64{0.02, 0.11, -0.3, 0.9}
	for i, got := range s.Pattern(f, angles) {
		reftable.Within(t, "level", got, 20*math.Log10(sum(math.Sin(angles[i]))/sum(0)), 1e-3)
	}
}

func TestStackErrors(t *testing.T) {
	for _, s := range []StackFront{
		{Count: 0, Pitch: 1, Height: 0.5, Front: CircularFront(0.5, 0), SoundSpeed: 343},
		{Count: 1, Pitch: 1, Height: 1.5, Front: CircularFront(0.5, 0), SoundSpeed: 343},
		{Count: 1, Pitch: math.NaN(), Height: 1.5, Front: CircularFront(0.5, 0), SoundSpeed: 343},
		{Count: 1, Pitch: 1, Height: 0.5, SoundSpeed: 343},
	} {
		if _, _, err := s.RibbonLimit(-12, 1e4); err == nil {
			t.Errorf("%+v gave no error", s)
		}
	}
	if _, _, err := stack343(1, 0.5, 0, CircularFront).RibbonLimit(-12, math.Inf(1)); err == nil {
		t.Error("an endless band gave no error")
	}
}

func BenchmarkRibbonLimit(b *testing.B) {
	s := StackFront{Count: 8, Pitch: 0.29, Height: 0.25, Front: CircularFront(0.25, 0.004), SoundSpeed: 343}
	for b.Loop() {
		if _, _, err := s.RibbonLimit(-12, 20e3); err != nil {
			b.Fatal(err)
		}
	}
}

// Where the pitch is just short of a wavelength, the level rises up to ±90°, the
// end of the range that is searched: its lobe's angle has to exist there too,
// however the steps round.
func TestLobesAtTheEndOfTheRange(t *testing.T) {
	for n := 2; n <= 24; n++ {
		for ratio := 0.9; ratio < 1; ratio += 0.003 {
			s := stack343(n, 0.3, 0, CircularFront)
			if l := s.Lobes(ratio * c343); !(math.Abs(l.Highest.Angle) <= math.Pi/2) {
				t.Errorf("%d mouths, p/λ %.3f: highest lobe at %g rad", n, ratio, l.Highest.Angle)
			}
		}
	}
}
