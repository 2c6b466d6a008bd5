package filter

import (
	"context"
	"math"
	"testing"

	"gapline/cabinet/field"
)

// twoPoints is a box with a low path and a high path as points, dx behind the
// front and dz above and below its middle.
func twoPoints(t testing.TB, dx, dz float64) *field.Engine {
	t.Helper()
	box := field.Box{Height: 1, Width: 1, Depth: 0.6, Mouths: []field.Mouth{
		{Position: field.Vec{Z: dz / 2}},
		{Position: field.Vec{X: -dx, Z: -dz / 2}, Drive: 1},
	}}
	e, err := field.New(field.Stack{Boxes: []field.Box{box}, Drives: []field.Drive{{Name: "low"}, {Name: "high"}},
		TopHeight: math.NaN()}, field.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func system(t testing.TB, e *field.Engine, hz []float64) *System {
	t.Helper()
	s, err := NewSystem(context.Background(), e, Spec{
		High: 1, Frequency: hz, Vertical: field.Angles(61, math.Pi), Horizontal: field.Angles(31, math.Pi),
		VerticalCoverage: math.Pi / 3, HorizontalCoverage: math.Pi / 2, Distance: math.Inf(1), Axis: math.NaN(),
	})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Ways in one place: the sum of a Linkwitz-Riley pair is flat everywhere.
func TestCoincidentWaysSumFlat(t *testing.T) {
	s := system(t, twoPoints(t, 0, 0), []float64{100, 500, 800, 1000, 5000})
	low, high, _ := Pair(LinkwitzRiley, 4, 800)
	sum, err := s.Sum(low, high)
	if err != nil {
		t.Fatal(err)
	}
	for i := range sum.Frequency {
		near(t, "axis", sum.OnAxis[i], 0, 1e-6)
		near(t, "off axis", sum.Vertical.Normalised[i][3], 0, 1e-6)
	}
	near(t, "loss", sum.Deepest.Loss, 0, 1e-6)
	// At the corner each path is 6.02 dB down.
	near(t, "low path", sum.LowAxis[2], -20*math.Log10(2), 1e-6)
}

// Ways one above the other: at the corner they are equal, and the sum against
// both in phase is |cos(πfd sin θ/c)|, the pattern of two points.
func TestLossOfSpacedWays(t *testing.T) {
	const f, d = 800, 0.3
	e := twoPoints(t, 0, d)
	s := system(t, e, []float64{f})
	low, high, _ := Pair(LinkwitzRiley, 4, f)
	sum, err := s.Sum(low, high)
	if err != nil {
		t.Fatal(err)
	}
	for j, a := range sum.Vertical.Angle {
		want := math.Abs(math.Cos(math.Pi * f * d * math.Sin(a) / e.SoundSpeed()))
		near(t, "loss", math.Pow(10, sum.Vertical.Loss[0][j]/20), want, 1e-6)
		near(t, "level", math.Pow(10, sum.Vertical.Normalised[0][j]/20), want, 1e-6)
	}
	for j := range sum.Horizontal.Angle {
		near(t, "across", sum.Horizontal.Loss[0][j], 0, 1e-6)
	}
	want := 20 * math.Log10(math.Cos(math.Pi*f*d*0.5/e.SoundSpeed())) // 30° off axis
	near(t, "deepest", sum.Deepest.Loss, want, 1e-6)
	near(t, "at", math.Abs(sum.Deepest.Angle), math.Pi/6, 1e-9)
	if sum.Deepest.Plane != field.Vertical {
		t.Errorf("deepest notch in plane %d", sum.Deepest.Plane)
	}
}

// A recessed horn: the solver delays the low path by the recess.
func TestBestDelayOfARecessedHorn(t *testing.T) {
	const dx = 0.2
	e := twoPoints(t, dx, 0)
	s, err := NewSystem(context.Background(), e, Spec{
		High: 1, Frequency: []float64{400, 500, 630, 800, 1000, 1250, 1600}, Vertical: []float64{0}, Horizontal: []float64{0},
		Distance: math.Inf(1), Axis: math.NaN(),
	})
	if err != nil {
		t.Fatal(err)
	}
	best, err := s.Best(context.Background(), Window{Alignment: LinkwitzRiley, Order: 4, From: 700, To: 1000, MaxDelay: math.NaN()})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "delay", best.Delay, -dx/e.SoundSpeed(), 2e-6)
	near(t, "loss", best.Sum.Deepest.Loss, 0, 1e-2)
	if best.Invert {
		t.Error("polarity is turned")
	}
}

// With paths one above the other a lower crossover means a shallower notch, and
// nothing in the window does better than what is found.
func TestBestFrequencyOfSpacedWays(t *testing.T) {
	var hz []float64
	for f := 300.0; f < 4000; f *= 1.1 {
		hz = append(hz, f)
	}
	s := system(t, twoPoints(t, 0.1, 0.25), hz)
	w := Window{Alignment: LinkwitzRiley, Order: 4, From: 600, To: 1500, MaxDelay: 1e-3}
	best, err := s.Best(context.Background(), w)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "frequency", best.Frequency, 600, 1)
	for f := w.From; f <= w.To; f *= 1.05 {
		for d := -10; d <= 10; d++ {
			low, high, _ := Pair(w.Alignment, w.Order, f)
			high.Delay = float64(d) * 1e-4
			sum, err := s.Sum(low, high)
			if err != nil {
				t.Fatal(err)
			}
			if sum.Deepest.Loss > best.Sum.Deepest.Loss+0.02 {
				t.Errorf("%.0f Hz with %d/10 ms loses %.2f dB, the best found %.2f dB", f, d, sum.Deepest.Loss, best.Sum.Deepest.Loss)
			}
		}
	}
}

func TestCrossoverRefusals(t *testing.T) {
	e := twoPoints(t, 0, 0)
	ctx := context.Background()
	for _, s := range []Spec{
		{Frequency: []float64{100}, Vertical: []float64{0}, Horizontal: []float64{0}, Distance: 10},
		{High: 2, Frequency: []float64{100}, Vertical: []float64{0}, Horizontal: []float64{0}, Distance: 10},
		{High: 1, Vertical: []float64{0}, Horizontal: []float64{0}, Distance: 10},
		{High: 1, Frequency: []float64{100}, Horizontal: []float64{0}, Distance: 10},
		{High: 1, Frequency: []float64{100}, Vertical: []float64{0}, Horizontal: []float64{0}, Distance: -1},
		{High: 1, Frequency: []float64{100}, Vertical: []float64{0}, Horizontal: []float64{0}, Distance: 9, VerticalCoverage: math.NaN()},
	} {
		if _, err := NewSystem(ctx, e, s); err == nil {
			t.Errorf("%+v is accepted", s)
		}
	}
	s := system(t, e, []float64{100})
	if _, err := s.Sum(Path{Gain: math.NaN()}, Path{}); err == nil {
		t.Error("a NaN gain is accepted")
	}
	for _, w := range []Window{
		{Alignment: LinkwitzRiley, Order: 3, From: 100, To: 200},
		{Alignment: LinkwitzRiley, Order: 4, From: 200, To: 100},
		{Alignment: LinkwitzRiley, Order: 4, From: 100, To: 200, MaxDelay: -1},
	} {
		if _, err := s.Best(ctx, w); err == nil {
			t.Errorf("%+v is accepted", w)
		}
	}
	done, cancel := context.WithCancel(ctx)
	cancel()
	if _, err := s.Best(done, Window{Alignment: LinkwitzRiley, Order: 4, From: 100, To: 200}); err != context.Canceled {
		t.Errorf("cancelled: error %v", err)
	}
}
