package filter

import (
	"context"
	"math"
	"testing"

	"gapline/cabinet/field"

	"pgregory.net/rapid"
)

// stack is four boxes, each with two low mouths and a high one between and behind them,
// bent by 2° from box to box.
func stack(t testing.TB) *field.Engine {
	t.Helper()
	box := field.Box{Height: 0.25, Width: 0.7, Depth: 0.4, Mouths: []field.Mouth{
		{Position: field.Vec{Y: 0.2}}, {Position: field.Vec{Y: -0.24}}, {Position: field.Vec{X: -0.1, Y: 0.02}, Drive: 1},
	}}
	e, err := field.New(field.Stack{Boxes: field.Repeat(box, 4), Splay: []float64{0.035, 0.035, 0.035},
		Drives: []field.Drive{{Name: "low"}, {Name: "high"}}, TopHeight: math.NaN()}, field.Options{Tolerance: 1e-6})
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// ownNull is a level against the axis under which a notch lies in a null of one path
// alone, dB: it is narrower than a lattice can hold, and nothing is heard of it.
const ownNull = -40

// The deepest notch of any crossover, near or far, is what a fine scan of the field about
// it has, and no sample of the field within the coverage is deeper.
func TestNotchesAgainstTheField(t *testing.T) {
	e := stack(t)
	ctx := context.Background()
	var hz []float64
	for f := 250.0; f <= 4000; f *= 1.07 {
		hz = append(hz, f)
	}
	rapid.Check(t, func(t *rapid.T) {
		distance := rapid.SampledFrom([]float64{math.Inf(1), 12}).Draw(t, "distance")
		s, err := NewSystem(ctx, e, Spec{High: 1, Frequency: hz, Vertical: field.Angles(13, 0.2), Horizontal: field.Angles(31, 1.4),
			VerticalCoverage: 0.2, HorizontalCoverage: 1.4, Distance: distance, Axis: math.NaN()})
		if err != nil {
			t.Fatal(err)
		}
		low, high, _ := Pair(LinkwitzRiley, rapid.SampledFrom([]int{2, 4}).Draw(t, "order"), rapid.Float64Range(400, 2000).Draw(t, "frequency"))
		high.Delay = rapid.Float64Range(-1e-3, 1e-3).Draw(t, "delay")
		high.Gain = rapid.Float64Range(-6, 6).Draw(t, "gain")
		high.Invert = rapid.Bool().Draw(t, "inverted")
		sum, err := s.Sum(low, high)
		if err != nil {
			t.Fatal(err)
		}
		n := sum.Deepest
		for _, m := range []Map{sum.Vertical, sum.Horizontal} {
			for i := range hz {
				for j := range m.Angle {
					if m.Loss[i][j] < n.Loss-0.05 && n.Loss > Floor && n.Level > ownNull {
						t.Fatalf("%g Hz, %g rad loses %g dB, the deepest notch %+v", hz[i], m.Angle[j], m.Loss[i][j], n)
					}
				}
			}
		}
		if got := deepestNear(t, e, s, n, low, high, distance); math.Abs(math.Max(got, Floor)-n.Loss) > 0.05 && n.Level > ownNull {
			t.Fatalf("the field has %g dB about %+v", got, n)
		}
	})
}

// deepestNear scans the field about a notch, 0.1 % and 0.1° apart.
func deepestNear(t *rapid.T, e *field.Engine, s *System, n Notch, low, high Path, distance float64) float64 {
	var hz, angle []float64
	half := s.VerticalCoverage / 2
	if n.Plane == field.Horizontal {
		half = s.HorizontalCoverage / 2
	}
	for k := -8.0; k <= 8; k++ {
		hz = append(hz, math.Min(math.Max(n.Frequency*(1+k*1e-3), s.From), s.To))
		angle = append(angle, math.Min(math.Max(n.Angle+k*0.1*math.Pi/180, -half), half))
	}
	parts, err := e.PolarParts(context.Background(), field.PolarSpec{Plane: n.Plane, Angle: angle, Frequency: hz, Distance: distance, Axis: math.NaN()})
	if err != nil {
		t.Fatal(err)
	}
	worst := math.Inf(1)
	for i, f := range hz {
		a, b := low.Response(f), high.Response(f)
		for j := range angle {
			worst = math.Min(worst, 20*math.Log10(share(a*parts[0][i][j], b*parts[1][i][j])))
		}
	}
	return worst
}

// Two mouths side by side at a level of half as much from one: they cancel to
// (1 − 1/2)/(1 + 1/2) = −9.54 dB wherever their ways part by half a wave, between the
// samples as well.
func TestNotchOfUnequalMouths(t *testing.T) {
	const d, f = 0.6, 1000.0
	box := field.Box{Height: 1, Width: 1, Depth: 0.6, Mouths: []field.Mouth{{Position: field.Vec{Y: d / 2}}, {Position: field.Vec{Y: -d / 2}, Drive: 1}}}
	e, err := field.New(field.Stack{Boxes: []field.Box{box}, Drives: []field.Drive{{Name: "low"}, {Name: "high"}}, TopHeight: math.NaN()}, field.Options{})
	if err != nil {
		t.Fatal(err)
	}
	s, err := NewSystem(context.Background(), e, Spec{High: 1, Frequency: []float64{f}, Vertical: []float64{0}, Horizontal: []float64{0},
		HorizontalCoverage: math.Pi / 3, Distance: math.Inf(1), Axis: math.NaN()})
	if err != nil {
		t.Fatal(err)
	}
	got, err := s.Lost(Path{}, Path{Gain: 20 * math.Log10(0.5)})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "loss", got.Deepest.Loss, 20*math.Log10(1.0/3), 1e-5)
	near(t, "angle", math.Abs(got.Deepest.Angle), math.Asin(e.SoundSpeed()/(2*f*d)), 1e-4)
	near(t, "axis", got.Axis, 0, 1e-9)
}
