package bem3

import (
	"context"
	"math"
	"math/cmplx"
	"slices"
	"testing"

	"gapline/internal/reftable"
	"gapline/internal/trimesh"
)

// drivenCabinet is a cabinet with three rectangles in its front that move one by
// one, its elements no longer than h at the sides of a triangle.
func drivenCabinet(h float64) (p *Problem, weights [][]float64) {
	b := newBuilder()
	y := joined(h/math.Sqrt2, -.31, -.2, 0, .12, .2, .31)
	z := joined(h/math.Sqrt2, -.135, -.1, .1, .135)
	b.box([3][]float64{graded(-.215, .215, h/math.Sqrt2, 1.5), y, z})
	areas := [][2]float64{{-.2, 0}, {0, .12}, {.12, .2}}
	var velocities [][]complex128
	for _, a := range areas {
		v := normalVelocity(&b.mesh, func(x, n Vec) complex128 {
			if n[0] > 0.5 && x[1] > a[0] && x[1] < a[1] && math.Abs(x[2]) < .1 {
				return 1
			}
			return 0
		})
		w := make([]float64, len(v))
		for i := range v {
			w[i] = real(v[i])
		}
		velocities, weights = append(velocities, v), append(weights, w)
	}
	return problemOf(&b.mesh, velocities), weights
}

// joined divides the pieces between the marks, graded towards each.
func joined(h float64, marks ...float64) []float64 {
	x := []float64{marks[0]}
	for i := 1; i < len(marks); i++ {
		x = append(x, graded(marks[i-1], marks[i], h, 1.5)[1:]...)
	}
	return x
}

// A force of one cone on another is the same either way (reciprocity), power is
// the same at the surface as far away, and so is the power from the impedance.
func TestReciprocityAndPower(t *testing.T) {
	heavy(t)
	const f = 900
	p, weights := drivenCabinet(testC / f / 3)
	s := mustSolve(t, p, f, Options{})
	for i := range weights {
		for j := range i {
			a, b := s.Force(i, weights[j]), s.Force(j, weights[i])
			e := cmplx.Abs(a-b) / cmplx.Abs(a)
			t.Logf("drives %d and %d: difference %.2g", i, j, e)
			if !(e < 2e-3) {
				t.Errorf("drives %d and %d: %v and %v, difference %.2g", i, j, a, b, e)
			}
		}
		far, err := s.FarPower(context.Background(), i)
		if err != nil {
			t.Fatal(err)
		}
		e := math.Abs(far/s.Power(i) - 1)
		t.Logf("drive %d: powers differ by %.2g", i, e)
		if !(e < 0.005) {
			t.Errorf("drive %d: power %g at the surface, %g far away", i, s.Power(i), far)
		}
		if e := math.Abs(real(s.Force(i, weights[i]))/2/s.Power(i) - 1); !(e < 1e-9) {
			t.Errorf("drive %d: resistance and power differ by %.2g", i, e)
		}
	}
}

// Rigid walls, edges and jumps of the velocity: three elements to a wavelength
// against six. Point sources in the solid flatter coarse meshes; this does not.
func TestDrivenSelfConvergence(t *testing.T) {
	heavy(t)
	selfConvergence(t, 500, 3, 6)
}

func selfConvergence(t *testing.T, f, coarsePer, finePer float64) {
	coarser, w4 := drivenCabinet(testC / f / coarsePer)
	finer, w9 := drivenCabinet(testC / f / finePer)
	a, b := mustSolve(t, coarser, f, Options{}), mustSolve(t, finer, f, Options{})
	var directions []Vec
	for i := range 24 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 24)
		directions = append(directions, Vec{cos, sin, 0}, Vec{cos, 0, sin})
	}
	far4, err := a.Far(context.Background(), directions)
	if err != nil {
		t.Fatal(err)
	}
	far9, err := b.Far(context.Background(), directions)
	if err != nil {
		t.Fatal(err)
	}
	for d := range far4 {
		far := relative(far4[d], far9[d])
		z := cmplx.Abs(a.Force(d, w4[d])-b.Force(d, w9[d])) / cmplx.Abs(b.Force(d, w9[d]))
		t.Logf("drive %d, %d and %d unknowns: far field %.2g, impedance %.2g", d, a.Unknowns, b.Unknowns, far, z)
		if !(far < 0.005) || !(z < 0.008) {
			t.Errorf("drive %d: far field %.2g, impedance %.2g", d, far, z)
		}
	}
}

// pistonBox returns the half y ≥ 0 of a box whose front, z = 0, spans from low
// to high in x and up to high in y, with a disc of radius a about (at, 0) that is
// meshed on its own. With low = 0 the face there is left open for a mirror plane.
func pistonBox(a, at, low, high, depth, h float64) *trimesh.Mesh {
	b := newBuilder()
	rim := boundary(low, high, h)
	if low == 0 && at == 0 {
		rim = rim[:slices.Index(rim, Vec{0, high, 0})+1]
	}
	inner, outer := graded(0, 1, h/a*1.4, 1.6), graded(0, 1, 0.7*h/(high-a), 1.6)
	disc := func(i, j int) Vec {
		angle := math.Atan2(rim[i][1], rim[i][0]-at)
		return Vec{at + a*inner[j]*math.Cos(angle), a * inner[j] * math.Sin(angle), 0}
	}
	ring := func(i, j int) Vec {
		p := disc(i, len(inner)-1)
		return add(p, scaled(sub(rim[i], p), outer[j]))
	}
	below := graded(0, depth, h, 1.5)
	side := func(i, j int) Vec { return Vec{rim[i][0], rim[i][1], -below[j]} }
	back := func(i, j int) Vec {
		c := Vec{at, 0, -depth}
		return add(c, scaled(sub(side(i, len(below)-1), c), outer[j]))
	}
	front, behind := Vec{0, 0, 1}, Vec{0, 0, -1}
	for i := range len(rim) - 1 {
		strip(b, i, len(inner), disc, front)
		strip(b, i, len(outer), ring, front)
		strip(b, i, len(outer), back, behind)
		if mid := scaled(add(rim[i], rim[i+1]), 0.5); low != 0 || mid[0] > 1e-9 {
			strip(b, i, len(below), side, sub(mid, Vec{(low + high) / 2, 0, 0}))
		}
	}
	return &b.mesh
}

// strip adds the quads between lines i and i+1; those of no width at their start
// are triangles.
func strip(b *builder, i, n int, at func(i, j int) Vec, out Vec) {
	for j := range n - 1 {
		p, q, r, s := at(i, j), at(i, j+1), at(i+1, j+1), at(i+1, j)
		if norm(sub(p, s)) < 1e-9 {
			b.triangle(p, q, r, out)
			continue
		}
		b.quad(p, q, r, s, out, (i+j)%2 == 1)
	}
}

// boundary walks round the rectangle from (high, 0) to (low, 0) by y = high.
func boundary(low, high, h float64) (list []Vec) {
	for _, y := range graded(0, high, h, 1) {
		list = append(list, Vec{high, y, 0})
	}
	x := graded(low, high, h, 1)
	for i := len(x) - 2; i >= 0; i-- {
		list = append(list, Vec{x[i], high, 0})
	}
	y := graded(0, high, h, 1)
	for i := len(y) - 2; i >= 0; i-- {
		list = append(list, Vec{low, y[i], 0})
	}
	return list
}

// onDisc returns velocities and weights of a piston of radius a about (at, 0, 0).
func onDisc(m *trimesh.Mesh, a, at float64) (v []complex128, w []float64) {
	v = normalVelocity(m, func(x, n Vec) complex128 {
		if n[2] > 0.5 && x[2] > -1e-9 && math.Hypot(x[0]-at, x[1]) < a {
			return 1
		}
		return 0
	})
	w = make([]float64, len(v))
	for i := range v {
		w[i] = real(v[i])
	}
	return v, w
}

// A piston in the front of a box of twelve radii against the infinite baffle.
// What the edges send back is small: 3 % of |Z| are allowed where the piston is
// as wide as half a wave or wider.
func TestPistonInLargeBox(t *testing.T) { pistonInBox(t, 0.6, 0.03, 1, 2) }

func pistonInBox(t *testing.T, half, most float64, frequencies ...float64) {
	heavy(t)
	const a = 0.1
	for _, r := range reftable.Read(t, "piston_impedance") {
		if ka := r.Get("ka"); slices.Contains(frequencies, ka) {
			comparePiston(t, pistonBox(a, 0, 0, half, 0.5, math.Pi/2*a/ka), a, 0, ka, complex(r.Get("R1"), r.Get("X1")), most)
		}
	}
}

// Two pistons that move alike, the second by a mirror plane: Z11 + Z12.
func TestTwoPistonsInLargeBox(t *testing.T) { pistonsInBox(t, 0.6, 0.03, 1) }

func pistonsInBox(t *testing.T, half, most float64, frequencies ...float64) {
	heavy(t)
	const a = 0.1
	for _, r := range reftable.Read(t, "mutual_pistons") {
		ka, d := r.Get("ka"), r.Get("d_over_a")*a
		if slices.Contains(frequencies, ka) && r.Get("d_over_a") == 3 {
			want := complex(r.Get("R11")+r.Get("R12"), r.Get("X11")+r.Get("X12"))
			comparePiston(t, pistonBox(a, d/2, 0, half, 0.5, math.Pi/2*a/ka), a, d/2, ka, want, most)
		}
	}
}

// comparePiston solves with a piston about (at, 0, 0) and compares its impedance
// over ρcS.
func comparePiston(t *testing.T, m *trimesh.Mesh, a, at, ka float64, want complex128, most float64) {
	t.Helper()
	v, w := onDisc(m, a, at)
	s := mustSolve(t, problemOf(m, [][]complex128{v}, planes(2)...), frequencyOf(ka/a), coarse)
	got := s.Mean(0, w) / (testRho * testC)
	e := cmplx.Abs(got-want) / cmplx.Abs(want)
	t.Logf("ka = %g: %d unknowns, z = %.4f, infinite baffle %.4f, difference %.2g", ka, s.Unknowns, got, want, e)
	if !(e < most) {
		t.Errorf("ka = %g: difference %.2g", ka, e)
	}
}
