package field

import (
	"context"
	"math"
	"math/cmplx"
	"slices"
	"testing"
)

// Places in the plane of symmetry hear the same whether mirror images are summed once or
// one by one: a place off the plane in the list has them summed one by one.
func TestMirrorImages(t *testing.T) {
	s := hallStack(5)
	boxes := slices.Clone(s.Boxes)
	for i := range boxes {
		m := slices.Clone(boxes[i].Mouths)
		m = append(m, Mouth{Kind: Rectangle, Width: 0.05, Height: 0.2, Position: Vec{Y: 0.35, Z: 0.02}, Pan: 0.3, VerticalApex: 2},
			Mouth{Kind: Rectangle, Width: 0.05, Height: 0.2, Position: Vec{Y: -0.35, Z: 0.02}, Pan: -0.3, VerticalApex: 2},
			// No image: the other polarity, another place.
			Mouth{Kind: Circle, Diameter: 0.1, Position: Vec{Y: 0.2, Z: 0.1}},
			Mouth{Kind: Circle, Diameter: 0.1, Position: Vec{Y: -0.2, Z: 0.1}, Invert: true},
			Mouth{Kind: Circle, Diameter: 0.1, Position: Vec{Y: 0.21, Z: 0.1}})
		boxes[i].Mouths = m
	}
	s.Boxes = boxes
	hz := []float64{80, 700, 2500, 9000}
	for _, o := range []Options{{}, {Ground: 0.8, Absorption: true}, {Boundary: Baffled}} {
		e := mustNew(t, s, o)
		near := points([]Vec{{X: 3, Z: 4}, {X: 12, Z: 1.2}, {X: 0.4, Z: 8.7}, {X: 40, Z: 0.1}})
		far := directions([]Vec{{X: 1}, {X: math.Cos(0.5), Z: math.Sin(0.5)}})
		for name, at := range map[string][]place{"near": near, "far": far} {
			// Far away the fifth cone, at the height of the third, is its image too.
			want := map[string]int{"near": 5 * 6, "far": 5 * 5}[name]
			if n := len(e.inPlane(at).sources); n != want {
				t.Errorf("%s: %d mouths left of %d, want %d", name, n, len(e.sources), want)
			}
			off := at[0]
			off.at.Y = 0.5
			off.at = off.at.Scale(1 / off.at.Norm())
			all := append(slices.Clone(at), off)
			if n := len(e.inPlane(all).sources); n != len(e.sources) {
				t.Fatalf("%s: %d mouths left with a place off the plane", name, n)
			}
			got, err := e.pressures(context.Background(), at, hz)
			if err != nil {
				t.Fatal(err)
			}
			single, err := e.pressures(context.Background(), all, hz)
			if err != nil {
				t.Fatal(err)
			}
			for i := range hz {
				for j := range at {
					if d := cmplx.Abs(got[i][j] - single[i][j]); d > 1e-11 {
						t.Errorf("%s, %g Hz, place %d: %v, one by one %v", name, hz[i], j, got[i][j], single[i][j])
					}
				}
			}
		}
	}
}
