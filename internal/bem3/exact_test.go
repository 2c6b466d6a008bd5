package bem3

import (
	"context"
	"math"
	"math/cmplx"
	"testing"

	"gapline/internal/trimesh"
)

// The cabinet of the tests, and point sources in its solid.
var (
	cabinetLow, cabinetHigh = Vec{-.215, -.31, -.135}, Vec{.215, .31, .135}
	solidSources            = []source{{Vec{0.08, 0.1, 0.03}, 1}, {Vec{-0.1, -0.12, -0.02}, 0.7i}}
)

// cabinetMesh returns the cabinet, with a plate of the given thickness 30 mm in
// front of it unless that is 0, and sides of elements up to h.
func cabinetMesh(h, plate float64) *trimesh.Mesh {
	b := newBuilder()
	var grid [3][]float64
	for a := range grid {
		grid[a] = graded(cabinetLow[a], cabinetHigh[a], h/math.Sqrt2, 1)
	}
	b.box(grid)
	if plate > 0 {
		front := cabinetHigh[0] + 0.03
		grid = [3][]float64{{front, front + plate}, graded(-.2, .2, h/math.Sqrt2, 1.5), graded(-.1, .1, h/math.Sqrt2, 1.5)}
		b.box(grid)
	}
	return &b.mesh
}

// exactErrors solves with the sources' velocities imposed and returns the errors
// on the surface and in the far field.
func exactErrors(t testing.TB, m *trimesh.Mesh, f float64, sources []source) (surface, far float64) {
	t.Helper()
	k := omegaOf(f) / testC
	s := mustSolve(t, problemOf(m, [][]complex128{imposed(m, k, sources...)}), f, coarse)
	surface = surfaceError(s, 0, func(x Vec) complex128 { p, _ := fieldOf(sources, k, x); return p })
	var directions []Vec
	var want []complex128
	for i := range 24 {
		u := polar(7.5 * float64(i))
		directions = append(directions, u)
		sum := complex128(0)
		for _, s := range sources {
			sum += s.strength * cmplx.Rect(1, k*dot(u, s.at))
		}
		want = append(want, sum)
	}
	got, err := s.Far(context.Background(), directions)
	if err != nil {
		t.Fatal(err)
	}
	return surface, relative(got[0], want)
}

// Sources in the solid, their velocity imposed, are returned outside. Errors on
// the surface fall with nearly the cube of the element size, in the far field
// faster; 2.5 and 3 are asked for. A plate in front costs nothing, however thin.
func TestSourcesInTheSolid(t *testing.T) {
	heavy(t)
	const f = 1000
	wave := testC / f
	coarser, finer := cabinetMesh(wave/3, 0), cabinetMesh(wave/6, 0)
	surface3, far3 := exactErrors(t, coarser, f, solidSources)
	surface6, far6 := exactErrors(t, finer, f, solidSources)
	// Sides are divided into whole numbers, so the numbers of triangles say how
	// much finer the mesh is.
	order := func(coarse, fine float64) float64 {
		return 2 * math.Log(coarse/fine) / math.Log(float64(len(finer.Triangles))/float64(len(coarser.Triangles)))
	}
	t.Logf("3 and 6 elements a wavelength: surface %.2g %.2g, far %.2g %.2g", surface3, surface6, far3, far6)
	if !(surface3 < 0.015) || !(surface6 < 0.003) || order(surface3, surface6) < 2.5 {
		t.Errorf("surface: errors %.2g and %.2g", surface3, surface6)
	}
	if !(far3 < 0.003) || !(far6 < 0.0005) || order(far3, far6) < 3 {
		t.Errorf("far field: errors %.2g and %.2g", far3, far6)
	}
	for _, plate := range []float64{6e-3, 2e-3, 1e-3} {
		surface, far := exactErrors(t, cabinetMesh(wave/4, plate), f, solidSources)
		t.Logf("4 elements a wavelength, plate of %g mm: surface %.2g, far %.2g", plate*1e3, surface, far)
		if !(surface < 0.007) || !(far < 0.002) {
			t.Errorf("plate of %g mm: surface %.2g, far %.2g", plate*1e3, surface, far)
		}
	}
}

// At the resonances of a cube's inside, k = π√(l² + m² + n²)/a for a pressure of
// nil on its walls, the error is what it is beside them.
func TestResonancesOfTheInside(t *testing.T) {
	heavy(t)
	const side = 0.3
	m := boxMesh(Vec{0, 0, 0}, Vec{side, side, side}, side/6, 1)
	sources := []source{{Vec{0.12, 0.16, 0.13}, 1}}
	for _, sum := range []float64{3, 6, 9} {
		f := testC * math.Sqrt(sum) / (2 * side)
		at, _ := exactErrors(t, m, f, sources)
		beside, _ := exactErrors(t, m, f*1.06, sources)
		t.Logf("%.0f Hz: error %.2g, beside %.2g", f, at, beside)
		if !(at < 0.008) || !(at < 1.5*beside) {
			t.Errorf("%.0f Hz: error %.2g, beside the resonance %.2g", f, at, beside)
		}
	}
}

// Between two frequencies of a resonance and from 20 Hz on nothing drowns in
// single precision: the error at low frequency is that of the mesh.
func TestLowFrequency(t *testing.T) {
	heavy(t)
	m := cabinetMesh(0.1, 0)
	high, _ := exactErrors(t, m, 300, solidSources)
	for _, f := range []float64{5, 20, 100} {
		low, _ := exactErrors(t, m, f, solidSources)
		t.Logf("%g Hz: error %.2g", f, low)
		if !(low < 1.5*high) {
			t.Errorf("%g Hz: error %.2g, at 300 Hz %.2g", f, low, high)
		}
	}
}

// The field anywhere outside, close to walls and edges too, and not inside.
func TestFieldOfSources(t *testing.T) {
	heavy(t)
	const f = 1000
	k := omegaOf(f) / testC
	m := cabinetMesh(testC/f/5, 0)
	s := mustSolve(t, problemOf(m, [][]complex128{imposed(m, k, solidSources...)}), f, coarse)
	at := []Vec{{3, 0, 0}, {0, 3, 1}, {.5, -.5, 2}, {.216, .02, .01}, {.05, .3101, .01}, {-.2151, -.3101, .1}, {.1, .1, .1}, {0, 0, 0}}
	got, err := s.At(context.Background(), at)
	if err != nil {
		t.Fatal(err)
	}
	for i, x := range at {
		want, _ := fieldOf(solidSources, k, x)
		switch e := cmplx.Abs(got[0][i]-want) / cmplx.Abs(want); {
		case i >= 6:
			if !cmplx.IsNaN(got[0][i]) {
				t.Errorf("the field in the solid, at %v, is %v, want NaN", x, got[0][i])
			}
		case !(e < 0.006):
			t.Errorf("at %v: error %.2g", x, e)
		}
	}
}

// Mirror planes against the full mesh, one, two and three of them, with drives
// that have the symmetry. Only the order of sums differs, and diagonals of
// faces are those of the octant: single precision leaves 2e-5.
func TestMirrorPlanes(t *testing.T) {
	var grid [3][]float64
	for a := range grid {
		grid[a] = graded(0, cabinetHigh[a], 0.09, 1)
	}
	velocity := func(x Vec) complex128 { return complex(x[0]*x[0]+0.01, x[1]*x[1]-x[2]*x[2]*2) }
	for mirrors := 1; mirrors <= 3; mirrors++ {
		b := newBuilder()
		b.box(grid, []int{0, 2, 4}[:mirrors]...)
		full := reflectedMesh(&b.mesh, mirrors)
		f := 700.0
		want := mustSolve(t, problemOf(full, [][]complex128{nodalVelocity(full, velocity)}), f, coarse)
		got := mustSolve(t, problemOf(&b.mesh, [][]complex128{nodalVelocity(&b.mesh, velocity)}, planes(mirrors)...), f, coarse)
		at := []Vec{{1, 2, 3}, {.3, .1, .05}, {.01, .4, .2}}
		p, err := want.At(context.Background(), at)
		if err != nil {
			t.Fatal(err)
		}
		q, err := got.At(context.Background(), at)
		if err != nil {
			t.Fatal(err)
		}
		far, _ := want.Far(context.Background(), at[:1])
		mirrored, _ := got.Far(context.Background(), at[:1])
		e := relative(q[0], p[0])
		farError := relative(mirrored[0], far[0])
		power := math.Abs(got.Power(0)*math.Exp2(float64(mirrors))/want.Power(0) - 1)
		t.Logf("%d planes, %d for %d unknowns: field %.2g, far field %.2g, power %.2g", mirrors, got.Unknowns, want.Unknowns, e, farError, power)
		if !(e < 2e-5) || !(farError < 2e-5) || !(power < 2e-5) {
			t.Errorf("%d planes: field %.2g, far field %.2g, power %.2g", mirrors, e, farError, power)
		}
		for _, u := range []Vec{{-1, 2, 3}} {
			behind, _ := got.At(context.Background(), []Vec{u})
			if !cmplx.IsNaN(behind[0][0]) {
				t.Errorf("behind the mirror plane: %v, want NaN", behind[0][0])
			}
		}
	}
}

// reflectedMesh returns a mesh with its images at the first planes through the
// origin.
func reflectedMesh(m *trimesh.Mesh, mirrors int) *trimesh.Mesh {
	b := newBuilder()
	for _, im := range (&Problem{Mirrors: planes(mirrors)}).imageList() {
		for t, tri := range m.Triangles {
			out := im.direction(m.Normal(t))
			b.triangle(im.point(m.Vertices[tri[0]]), im.point(m.Vertices[tri[1]]), im.point(m.Vertices[tri[2]]), out)
		}
	}
	return &b.mesh
}

// A floor that is no plane of symmetry: sources over it, with their images, are
// the exact solution.
func TestRigidFloor(t *testing.T) {
	heavy(t)
	const f = 800
	k := omegaOf(f) / testC
	m := cabinetMesh(testC/f/4, 0)
	floor := Mirror{Axis: 2, At: -0.2}
	sources := append([]source(nil), solidSources...)
	for _, s := range solidSources {
		s.at[2] = 2*floor.At - s.at[2]
		sources = append(sources, s)
	}
	s := mustSolve(t, problemOf(m, [][]complex128{imposed(m, k, sources...)}, floor), f, coarse)
	if e := surfaceError(s, 0, func(x Vec) complex128 { p, _ := fieldOf(sources, k, x); return p }); !(e < 0.007) {
		t.Errorf("surface error %.2g", e)
	}
	x := Vec{2, 1, -0.15}
	want, _ := fieldOf(sources, k, x)
	if e := cmplx.Abs(fieldAt(t, s, x)-want) / cmplx.Abs(want); !(e < 0.003) {
		t.Errorf("field error %.2g", e)
	}
}

// Two boxes on top of each other, four elements to a wavelength. A gap that is
// wide against the elements costs nothing; one of 4 mm amplifies errors on its
// own walls by the ratio of element and gap, but not those of the far field.
func TestTwoBoxes(t *testing.T) {
	heavy(t)
	const f = 1000
	surface, far := twoBoxes(t, 0.03, testC/f/4, f)
	if !(surface < 0.005) || !(far < 0.001) {
		t.Errorf("30 mm apart: surface %.2g, far field %.2g", surface, far)
	}
	surface, far = twoBoxes(t, 0.004, testC/f/4, f)
	if !(surface < 0.05) || !(far < 0.003) {
		t.Errorf("4 mm apart: surface %.2g, far field %.2g", surface, far)
	}
}

func twoBoxes(t *testing.T, gap, h, f float64) (surface, far float64) {
	b := newBuilder()
	for i := range 2 {
		z := float64(i) * (.27 + gap)
		b.box([3][]float64{graded(-.2, 0, h/math.Sqrt2, 1), graded(-.15, .15, h/math.Sqrt2, 1), graded(z, z+.27, h/math.Sqrt2, 1)})
	}
	sources := []source{{Vec{-.1, 0, .13}, 1}, {Vec{-.1, .03, .15 + .27 + gap}, 1i}}
	surface, far = exactErrors(t, &b.mesh, f, sources)
	t.Logf("%g mm apart: surface %.2g, far field %.2g", gap*1e3, surface, far)
	return surface, far
}
