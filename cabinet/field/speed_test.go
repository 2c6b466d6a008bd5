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
	for b.Loop() {
		if _, err := e.pressures(context.Background(), at, hz); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(36*721*200*float64(b.N)/b.Elapsed().Seconds()/1e6, "Mterms/s")
}
