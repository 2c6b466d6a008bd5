package field

import (
	"context"
	"math"
	"testing"

	"gapline/internal/reftable"
)

func mustDistance(t testing.TB, e *Engine, s DistanceSpec) *DistanceLevels {
	t.Helper()
	s.From.X = math.NaN()
	d, err := e.LevelDistance(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// Slope of a continuous line where the table has it smooth, and 6 dB for each
// doubling far out.
func TestSlopeOfAContinuousLine(t *testing.T) {
	const length, n = 4.0, 16
	e := mustNew(t, lineOf(n, length/n, Mouth{Kind: Rectangle, Height: length / n}), Options{})
	for _, r := range reftable.Read(t, "line_pressure") {
		// Inside, the slope swings faster than a 64th of an octave resolves.
		if r.Get("d_lambda_over_L2") < 0.1 {
			continue
		}
		f := r.Get("kL") / length * e.SoundSpeed() / (2 * math.Pi)
		d := mustDistance(t, e, DistanceSpec{Distance: []float64{r.Get("d_over_L") * length}, Frequency: []float64{f}})
		reftable.Within(t, r.Name, d.Slope[0][0], r.Get("slope_dB_per_doubling"), 0.02)
		reftable.Within(t, r.Name, d.Level[0][0]+20*math.Log10(r.Get("d_over_L")*length/n), r.Get("level_re_far_dB"), 0.001)
	}
	for _, f := range []float64{125, 1000, 8000} {
		far := 40 * length * length * f / e.SoundSpeed() // 40 L²/λ
		d := mustDistance(t, e, DistanceSpec{Distance: []float64{far, 2 * far}, Frequency: []float64{f}})
		reftable.Within(t, "drop by doubling far out", d.Level[0][0]-d.Level[0][1], 20*math.Log10(2), 0.02)
		reftable.Within(t, "slope far out", d.Slope[0][0], 20*math.Log10(2), 0.02)
	}
}

func TestTransitionDistances(t *testing.T) {
	for _, r := range reftable.Read(t, "line_transition") {
		length, f := r.Get("L_m"), r.Get("f_Hz")
		got := TransitionOf(length, f, r.Get("c_m_s"))
		reftable.Near(t, r.Name+" half", got.HalfRule, r.Get("d_half_m"), 1e-9)
		reftable.Near(t, r.Name+" Heil-Urban", got.HeilUrban, r.Get("d_HeilUrban_m"), 1e-9)
		reftable.Near(t, r.Name+" quarter", got.Quarter, r.Get("d_quarter_m"), 1e-9)
		reftable.Near(t, r.Name+" asymptote", got.Asymptote, r.Get("d_asymptote_m"), 1e-9)
		if math.IsNaN(got.HeilUrban) != math.IsNaN(r.Get("d_HeilUrban_m")) {
			t.Errorf("%s: Heil-Urban has a near field: %v", r.Name, got.HeilUrban)
		}
	}
}

// The computed distance of 4.5 dB for each doubling against the exact line.
func TestCrossingOfTheSlope(t *testing.T) {
	const n = 16
	for _, r := range reftable.Read(t, "line_transition") {
		length, f := r.Get("L_m"), r.Get("f_Hz")
		if f > 4000 {
			continue
		}
		e := mustNew(t, lineOf(n, length/n, Mouth{Kind: Rectangle, Height: length / n}), Options{})
		want := r.Get("d_slope45_m")
		d := mustDistance(t, e, DistanceSpec{Distance: Distances(want/3, want*3, 8), Frequency: []float64{sameWave(e, r)}})
		reftable.Near(t, r.Name, d.Crossing[0], want, 1e-3)
	}
}

func TestDistanceRefusals(t *testing.T) {
	e := mustNew(t, plainStack(5), Options{Ground: 1})
	for _, s := range []DistanceSpec{
		{Frequency: []float64{100}},
		{Frequency: []float64{100}, Distance: []float64{0, 1}},
		{Frequency: []float64{100}, Distance: []float64{2, 1}},
		{Frequency: []float64{-1}, Distance: []float64{1}},
		{Distance: []float64{1}},
		{Frequency: []float64{100}, Distance: []float64{100}, Direction: Vec{X: 1, Z: -1}},
		{Frequency: []float64{100}, Distance: []float64{0.1}, From: Vec{X: math.NaN()}, Direction: Vec{X: -1}},
	} {
		if _, err := e.LevelDistance(context.Background(), s); err == nil {
			t.Errorf("%+v is accepted", s)
		}
	}
}
