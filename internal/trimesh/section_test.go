package trimesh

import (
	"math"
	"testing"
)

// The plane z = h cuts a right triangle of sides 1 − h/3 and 2 − 2h/3 out of the tetrahedron,
// that runs clockwise from above; a plane through a corner, and one beside the body, nothing.
func TestSection(t *testing.T) {
	m := tetrahedron()
	for _, h := range []float64{0.75, 1.5, 2.9} {
		lines := m.Section(2, h)
		if len(lines) != 1 || len(lines[0]) != 3 {
			t.Fatalf("z = %g: %v", h, lines)
		}
		area := 0.0
		for i, v := range lines[0] {
			w := lines[0][(i+1)%3]
			if area += (v[0]*w[1] - v[1]*w[0]) / 2; v[2] != h {
				t.Errorf("z = %g: at %v", h, v)
			}
		}
		if s := 1 - h/3; math.Abs(area+s*s) > 1e-12 {
			t.Errorf("z = %g: area %g, want %g", h, area, -s*s)
		}
	}
	for _, h := range []float64{-1, 0, 4} {
		if lines := m.Section(2, h); len(lines) != 0 {
			t.Errorf("z = %g: %v", h, lines)
		}
	}
}

// All six edges of a tetrahedron are creases; those between faces whose normals stand less than
// an angle apart are none, unless the groups part there.
func TestCreases(t *testing.T) {
	length := func(lines [][]Vec) (sum float64) {
		for _, l := range lines {
			for i := 1; i < len(l); i++ {
				sum += math.Sqrt(square(l[i], l[i-1]))
			}
		}
		return sum
	}
	m := tetrahedron()
	slope := math.Sqrt(5) + math.Sqrt(10) + math.Sqrt(13)
	if got := length(m.Creases(0.1)); math.Abs(got-6-slope) > 1e-12 {
		t.Errorf("edges of %g, want %g", got, 6+slope)
	}
	lines := m.Creases(math.Pi)
	if got := length(lines); math.Abs(got-slope) > 1e-12 || len(lines) != 1 || lines[0][0] != lines[0][3] {
		t.Errorf("edges of the slope %g, want %g: %v", got, slope, lines)
	}
}

func square(a, b Vec) (sum float64) {
	for i := range a {
		sum += (a[i] - b[i]) * (a[i] - b[i])
	}
	return sum
}
