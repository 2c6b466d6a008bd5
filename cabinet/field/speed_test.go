package field

import (
	"context"
	"math"
	"testing"

	"gonum.org/v1/gonum/floats"
)

// polarStack is the stack of the speed target: 12 boxes of 3 mouths.
func polarStack() Stack {
	box := Box{Height: 0.25, Width: 0.6, Depth: 0.4, Mouths: []Mouth{
		{Kind: Rectangle, Width: 0.002, Height: 0.07, Position: Vec{Z: 0.08}},
		{Kind: Rectangle, Width: 0.002, Height: 0.08},
		{Kind: Rectangle, Width: 0.002, Height: 0.07, Position: Vec{Z: -0.08}},
	}}
	return Stack{Boxes: Repeat(box, 12), Drives: []Drive{{}}, TopHeight: math.NaN()}
}

// perTerm has a benchmark report, at its end, the CPU time of each term: one mouth or
// image at one place and frequency. testdata/field_numpy.py says the same of NumPy.
func perTerm(b *testing.B, each int) (report func()) {
	start := spent()
	return func() {
		b.ReportMetric(float64((spent()-start).Nanoseconds())/float64(b.N)/float64(each), "cpu-ns/term")
	}
}

// BenchmarkPolar721x200 is 12 boxes × 3 mouths × 721 angles × 200 frequencies.
func BenchmarkPolar721x200(b *testing.B) {
	e, err := New(polarStack(), Options{})
	if err != nil {
		b.Fatal(err)
	}
	hz := floats.LogSpan(make([]float64, 200), 20, 20000)
	at := make([]place, 721)
	for i := range at {
		s, c := math.Sincos(2 * math.Pi * float64(i) / 720)
		at[i].at = e.centre.Add(Vec{X: 50 * c, Z: 50 * s})
	}
	b.ReportAllocs()
	report := perTerm(b, 36*721*200)
	for b.Loop() {
		if _, err := e.pressures(context.Background(), at, hz); err != nil {
			b.Fatal(err)
		}
	}
	report()
}

// BenchmarkSideMap is a side view of 400 × 300 points, 12 boxes of two cones and
// a curved horn mouth, 30 frequencies.
func BenchmarkSideMap(b *testing.B) { sideMap(b, Options{}) }

// BenchmarkSideMapWithFloor is the same with floor and absorption: twice the
// sources.
func BenchmarkSideMapWithFloor(b *testing.B) { sideMap(b, Options{Ground: 1, Absorption: true}) }

func sideMap(b *testing.B, o Options) {
	e, err := New(hallStack(12), o)
	if err != nil {
		b.Fatal(err)
	}
	bands, err := Bands(3, 20, 16000)
	if err != nil {
		b.Fatal(err)
	}
	spec := MapSpec{FromX: -2, ToX: 40, FromZ: 0, ToZ: 12, NX: 400, NZ: 300}
	for _, f := range bands {
		spec.Frequency = append(spec.Frequency, f.Mid)
	}
	images := 1
	if o.Ground > 0 {
		images = 2
	}
	report := perTerm(b, images*36*spec.NX*spec.NZ*len(spec.Frequency))
	for b.Loop() {
		if _, err := e.SideMap(context.Background(), spec); err != nil {
			b.Fatal(err)
		}
	}
	report()
}

// hallStack is an invented curved stack of boxes with two cones and a horn
// mouth each.
func hallStack(n int) Stack {
	box := Box{Height: 0.3, Width: 0.8, Depth: 0.5, Mouths: []Mouth{
		{Kind: Circle, Diameter: 0.2, Position: Vec{Y: 0.28}},
		{Kind: Circle, Diameter: 0.2, Position: Vec{Y: -0.28}},
		{Kind: Rectangle, Width: 0.15, Height: 0.28, VerticalApex: 1.5, HorizontalApex: 0.1, Drive: 1},
	}}
	s := Stack{Boxes: Repeat(box, n), Drives: []Drive{{}, {}}, Gap: 0.01, TopHeight: 9}
	s.Splay = Progressive(n, 0.5)
	return s
}

// BenchmarkPolarOfCurvedFronts is the polar of the hall stack, whose horn mouths
// must be cut into patches at high frequencies.
func BenchmarkPolarOfCurvedFronts(b *testing.B) {
	e, err := New(hallStack(12), Options{})
	if err != nil {
		b.Fatal(err)
	}
	spec := PolarSpec{Angle: Angles(721, 2*math.Pi), Axis: math.NaN(), Distance: math.Inf(1),
		Frequency: floats.LogSpan(make([]float64, 200), 20, 20000)}
	report := perTerm(b, 36*721*200)
	for b.Loop() {
		if _, err := e.Polar(context.Background(), spec); err != nil {
			b.Fatal(err)
		}
	}
	report()
}
