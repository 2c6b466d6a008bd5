package plots

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// gridOf samples a function on a table of n by n points over -1 to 1.
func gridOf(n int, f func(x, y float64) float64) grid2 {
	g := grid2{x: even(-1, 1, n), y: even(-1, 1, n)}
	for _, y := range g.y {
		g.z = append(g.z, apply(g.x, func(x float64) float64 { return f(x, y) }))
	}
	return g
}

// TestContourOfCone: the level lines of the distance from the centre are circles
// of that radius.
func TestContourOfCone(t *testing.T) {
	const n = 81
	// Linear interpolation of a cone errs by at most h²/(8 r) along an edge.
	h := 2.0 / (n - 1)
	for _, r := range []float64{0.31, 0.5, 0.77} {
		lines := gridOf(n, math.Hypot).contour(r)
		if len(lines) != 1 {
			t.Fatalf("radius %g: %d lines, want one closed line", r, len(lines))
		}
		l := lines[0]
		if l[0] != l[len(l)-1] {
			t.Errorf("radius %g: the line is not closed", r)
		}
		length := 0.0
		for i, p := range l {
			if got := math.Hypot(p.x, p.y); math.Abs(got-r) > h*h/(8*r) {
				t.Errorf("radius %g: point at radius %g", r, got)
			}
			if i > 0 {
				length += math.Hypot(p.x-l[i-1].x, p.y-l[i-1].y)
			}
		}
		if want := 2 * math.Pi * r; math.Abs(length/want-1) > 2e-3 {
			t.Errorf("radius %g: length %g, want %g", r, length, want)
		}
	}
}

func TestContourSkipsMissingCells(t *testing.T) {
	g := gridOf(21, func(x, y float64) float64 { return x })
	g.z[10][10] = math.NaN() // takes away the four cells around the middle
	lines := g.contour(0.01)
	if len(lines) != 2 {
		t.Errorf("%d lines, want two with a hole between", len(lines))
	}
}

// TestBilinearIsExactForBilinear: interpolation and refinement return a function
// of the form a + b x + c y + d x y exactly.
func TestBilinearIsExactForBilinear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.SliceOfN(rapid.Float64Range(-10, 10), 4, 4).Draw(t, "coefficients")
		f := func(x, y float64) float64 { return k[0] + k[1]*x + k[2]*y + k[3]*x*y }
		g := gridOf(5, f)
		g.x, g.y = []float64{-1, -0.5, 0, 0.5, 1}, g.x
		u, v := rapid.Float64Range(-1, 1).Draw(t, "u"), rapid.Float64Range(-1, 1).Draw(t, "v")
		if got, want := g.at(u, v), f(u, v); math.Abs(got-want) > 1e-11 {
			t.Fatalf("at(%g, %g) = %g, want %g", u, v, got, want)
		}
		fine := g.refine(20)
		if got, want := fine.at(u, v), f(u, v); math.Abs(got-want) > 1e-11 {
			t.Fatalf("refined at(%g, %g) = %g, want %g", u, v, got, want)
		}
	})
}

func TestMapMissingStaysTransparent(t *testing.T) {
	m := contourExample()
	x, y, z := m.XValues, m.YValues, m.Octaves
	p, err := Map{X: m.X, Y: m.Y, XValues: x, YValues: y, Z: z, Value: Axis{Label: "Gap"}, Scheme: GapScheme}.plan()
	if err != nil {
		t.Fatal(err)
	}
	p.rect = rect(0, 0, 100, 100)
	img := p.raster()
	b := img.Bounds()
	if _, _, _, a := img.At(b.Min.X+1, b.Min.Y+1).RGBA(); a != 0 { // upper left: NaN in the example
		t.Errorf("cell without value has opacity %d", a)
	}
	if _, _, _, a := img.At(b.Max.X-2, b.Max.Y-2).RGBA(); a != 0xFFFF {
		t.Errorf("cell with value has opacity %d", a)
	}
}
