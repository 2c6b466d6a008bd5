package bem3

import (
	"context"
	"math"
	"math/cmplx"
	"testing"

	"gapline/internal/trimesh"
)

// Air of the tests: round figures, nothing depends on them.
const (
	testC   = 343.0
	testRho = 1.2
)

// heavy marks a test that checks physics and goes through no code that lighter
// ones do not: -short, with which races are looked for, leaves it out.
func heavy(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("physics only")
	}
}

// frequencyOf returns f for a wavenumber k.
func frequencyOf(k float64) float64 { return k * testC / (2 * math.Pi) }

// builder collects triangles and joins vertices that coincide.
type builder struct {
	mesh  trimesh.Mesh
	known map[[3]int64]int32
}

func newBuilder() *builder { return &builder{known: map[[3]int64]int32{}} }

func (b *builder) vertex(v Vec) int32 {
	var key [3]int64
	for i, x := range v {
		key[i] = int64(math.Round(x * 1e8))
	}
	n, ok := b.known[key]
	if !ok {
		n = int32(len(b.mesh.Vertices))
		b.mesh.Vertices = append(b.mesh.Vertices, v)
		b.known[key] = n
	}
	return n
}

// triangle adds a triangle whose normal points along out.
func (b *builder) triangle(p, q, r, out Vec) {
	if dot(cross(sub(q, p), sub(r, p)), out) < 0 {
		q, r = r, q
	}
	b.mesh.Triangles = append(b.mesh.Triangles, [3]int32{b.vertex(p), b.vertex(q), b.vertex(r)})
	b.mesh.Group = append(b.mesh.Group, 0)
}

// quad adds two triangles; the diagonal alternates with odd.
func (b *builder) quad(p, q, r, s, out Vec, odd bool) {
	if odd {
		b.triangle(p, q, s, out)
		b.triangle(q, r, s, out)
		return
	}
	b.triangle(p, q, r, out)
	b.triangle(p, r, s, out)
}

// graded divides from a to b into pieces no longer than h, smaller towards the
// ends by the given exponent, 1 for even ones.
func graded(a, b, h, exponent float64) []float64 {
	n := max(1, int(math.Ceil((b-a)/h-1e-9)))
	if exponent > 1 {
		n = max(2, int(math.Ceil((b-a)/h*math.Pow(exponent, 0.9))))
	}
	x := make([]float64, n+1)
	for i := range x {
		t := float64(i) / float64(n)
		if t <= 0.5 {
			t = math.Pow(2*t, exponent) / 2
		} else {
			t = 1 - math.Pow(2-2*t, exponent)/2
		}
		x[i] = a + (b-a)*t
	}
	return x
}

// box adds the faces of a box divided at the given coordinates. Faces whose
// number, 2·axis + (1 for the upper), is in open are left out.
func (b *builder) box(grid [3][]float64, open ...int) {
	for axis := range 3 {
		u, v := grid[(axis+1)%3], grid[(axis+2)%3]
		for side := range 2 {
			if contains(open, 2*axis+side) {
				continue
			}
			at, out := grid[axis][0], Vec{}
			out[axis] = -1
			if side == 1 {
				at, out[axis] = grid[axis][len(grid[axis])-1], 1
			}
			point := func(i, j int) (x Vec) {
				x[axis], x[(axis+1)%3], x[(axis+2)%3] = at, u[i], v[j]
				return x
			}
			for i := range len(u) - 1 {
				for j := range len(v) - 1 {
					b.quad(point(i, j), point(i+1, j), point(i+1, j+1), point(i, j+1), out, (i+j)%2 == 1)
				}
			}
		}
	}
}

func contains(list []int, v int) bool {
	for _, x := range list {
		if x == v {
			return true
		}
	}
	return false
}

// boxMesh returns a closed box.
func boxMesh(low, high Vec, h, exponent float64) *trimesh.Mesh {
	b := newBuilder()
	var grid [3][]float64
	for a := range grid {
		grid[a] = graded(low[a], high[a], h, exponent)
	}
	b.box(grid)
	return &b.mesh
}

// sphereMesh returns an octahedron whose faces are divided n times along each
// side and blown up to a sphere of the same volume. octants are those to mesh, by
// the sum of 1, 2, 4 for negative x, y, z; none means all.
func sphereMesh(radius float64, n int, octants ...int) *trimesh.Mesh {
	b := newBuilder()
	if octants == nil {
		octants = []int{0, 1, 2, 3, 4, 5, 6, 7}
	}
	for _, s := range octants {
		sign := Vec{1 - 2*float64(s&1), 1 - float64(s&2), 1 - float64(s&4)/2}
		point := func(i, j int) Vec {
			x := Vec{float64(i), float64(j), float64(n - i - j)}
			// Equal steps of angle make the triangles more even.
			for a := range x {
				x[a] = math.Sin(math.Pi/2*x[a]/float64(n)) * sign[a]
			}
			return scaled(x, radius/norm(x))
		}
		for i := range n {
			for j := range n - i {
				p, q, r := point(i, j), point(i+1, j), point(i, j+1)
				b.triangle(p, q, r, p)
				if i+j < n-1 {
					b.triangle(q, point(i+1, j+1), r, q)
				}
			}
		}
	}
	sameVolume(&b.mesh, math.Pi/6*radius*radius*radius*float64(len(octants)))
	return &b.mesh
}

// sameVolume scales a mesh about the origin, where its open edges close with the
// coordinate planes, to the given volume.
func sameVolume(m *trimesh.Mesh, volume float64) {
	v := 0.0
	for _, tri := range m.Triangles {
		v += dot(m.Vertices[tri[0]], cross(m.Vertices[tri[1]], m.Vertices[tri[2]])) / 6
	}
	for i := range m.Vertices {
		m.Vertices[i] = scaled(m.Vertices[i], math.Cbrt(volume/v))
	}
}

// ringMesh returns the quarter x ≥ 0, y ≥ 0 of a sphere with rings at the given
// polar angles, from 0 to π.
func ringMesh(radius float64, theta []float64, sectors int) *trimesh.Mesh {
	b := newBuilder()
	point := func(i, j int) Vec {
		st, ct := math.Sincos(theta[i])
		sp, cp := math.Sincos(math.Pi / 2 * float64(j) / float64(sectors))
		if j == sectors {
			cp = 0
		}
		return Vec{radius * st * cp, radius * st * sp, radius * ct}
	}
	last := len(theta) - 1
	for j := range sectors {
		b.triangle(Vec{0, 0, radius}, point(1, j), point(1, j+1), point(1, j))
		for i := 1; i < last-1; i++ {
			b.quad(point(i, j), point(i+1, j), point(i+1, j+1), point(i, j+1), point(i, j), (i+j)%2 == 1)
		}
		b.triangle(Vec{0, 0, -radius}, point(last-1, j), point(last-1, j+1), point(last-1, j))
	}
	return &b.mesh
}

// source is a point source of volume velocity such that p = e^{−jkr}/r times
// strength.
type source struct {
	at       Vec
	strength complex128
}

// field returns pressure and gradient of sources at x.
func fieldOf(sources []source, k float64, x Vec) (p complex128, gradient [3]complex128) {
	for _, s := range sources {
		d := sub(x, s.at)
		r := norm(d)
		v := s.strength * cmplx.Rect(1/r, -k*r)
		p += v
		for a := range d {
			gradient[a] += v * complex(-1, -k*r) * complex(d[a]/(r*r), 0)
		}
	}
	return p, gradient
}

// imposed returns the velocities that the sources' field has on m, six for each
// triangle.
func imposed(m *trimesh.Mesh, k float64, sources ...source) []complex128 {
	var v []complex128
	for t := range m.Triangles {
		n := m.Normal(t)
		for _, x := range nodesOf(m, t) {
			_, g := fieldOf(sources, k, x)
			q := g[0]*complex(n[0], 0) + g[1]*complex(n[1], 0) + g[2]*complex(n[2], 0)
			v = append(v, q*complex(0, 1/(k*testC*testRho)))
		}
	}
	return v
}

// nodesOf returns the nodes of a triangle.
func nodesOf(m *trimesh.Mesh, t int) (x [points]Vec) {
	for i, v := range m.Triangles[t] {
		x[i] = m.Vertices[v]
	}
	for i := range 3 {
		x[3+i] = scaled(add(x[(i+1)%3], x[(i+2)%3]), 0.5)
	}
	return x
}

// nodalVelocity returns six velocities for each triangle from the position.
func nodalVelocity(m *trimesh.Mesh, v func(Vec) complex128) (list []complex128) {
	for t := range m.Triangles {
		for _, x := range nodesOf(m, t) {
			list = append(list, v(x))
		}
	}
	return list
}

// problemOf returns a problem with the air of the tests.
func problemOf(m *trimesh.Mesh, velocities [][]complex128, mirrors ...Mirror) *Problem {
	return &Problem{Mesh: m, Velocities: velocities, Mirrors: mirrors, SoundSpeed: testC, Density: testRho}
}

// coarse accepts any element.
var coarse = Options{ElementsPerWave: 0.1}

func mustSolve(t testing.TB, p *Problem, f float64, o Options) *Solution {
	t.Helper()
	s, err := p.Solve(context.Background(), f, o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// again solves a problem at many frequencies on one layout. Velocities may change
// from one to the next as long as the same elements move.
type again struct {
	t      testing.TB
	layout *layout
}

func solveAgain(t testing.TB, p *Problem) *again {
	t.Helper()
	s, err := p.prepare()
	if err != nil {
		t.Fatal(err)
	}
	l, err := s.newLayout(context.Background(), 0)
	if err != nil {
		t.Fatal(err)
	}
	return &again{t, l}
}

// at solves with wavenumber k.
func (a *again) at(k float64) *Solution {
	a.t.Helper()
	s, err := a.layout.solveAt(context.Background(), frequencyOf(k), Options{}.withDefaults())
	if err != nil {
		a.t.Fatal(err)
	}
	return s
}

// surfaceError returns the root mean square over the surface of the difference
// from want, at the points of the rule, over that of want.
func surfaceError(s *Solution, drive int, want func(Vec) complex128) float64 {
	e, total := 0.0, 0.0
	for i := range s.system.elements {
		el := &s.system.elements[i]
		for a, b := range rulePoints {
			p := complex128(0)
			for j, node := range el.nodes {
				p += complex(shapeAt[a][j], 0) * s.p[drive][node]
			}
			w := want(el.at(b))
			e += el.area * ruleWeights[a] * math.Pow(cmplx.Abs(p-w), 2)
			total += el.area * ruleWeights[a] * math.Pow(cmplx.Abs(w), 2)
		}
	}
	return math.Sqrt(e / total)
}

// relative returns the root mean square difference over that of want.
func relative(got, want []complex128) float64 {
	e, total := 0.0, 0.0
	for i, w := range want {
		e += math.Pow(cmplx.Abs(got[i]-w), 2)
		total += math.Pow(cmplx.Abs(w), 2)
	}
	return math.Sqrt(e / total)
}

// normalVelocity returns one velocity for each triangle from its centre and
// normal.
func normalVelocity(m *trimesh.Mesh, v func(centre, normal Vec) complex128) []complex128 {
	list := make([]complex128, len(m.Triangles))
	for t, tri := range m.Triangles {
		e := newElement(m.Vertices[tri[0]], m.Vertices[tri[1]], m.Vertices[tri[2]])
		list[t] = v(e.centre, e.normal)
	}
	return list
}

// along returns the surface pressure of a drive where the ray from the origin
// along u leaves the mesh. Coordinates that mirror planes through the origin
// make equal are folded.
func along(t testing.TB, s *Solution, drive int, u Vec) complex128 {
	t.Helper()
	for _, m := range s.system.problem.Mirrors {
		u[m.Axis] = math.Abs(u[m.Axis])
	}
	for i := range s.system.elements {
		e := &s.system.elements[i]
		d := dot(u, e.normal)
		if d <= 0 {
			continue
		}
		x := scaled(u, dot(e.centre, e.normal)/d)
		var b bary
		least := 1.0
		for m := range b {
			p, q := sub(e.corner[(m+1)%3], x), sub(e.corner[(m+2)%3], x)
			b[m] = dot(cross(p, q), e.normal) / (2 * e.area)
			least = min(least, b[m])
		}
		if least > -1e-9 {
			p := complex128(0)
			for j, phi := range shape(b) {
				p += complex(phi, 0) * s.p[drive][e.nodes[j]]
			}
			return p
		}
	}
	t.Fatalf("no element along %v", u)
	return 0
}

// polar returns the direction at an angle, degree, from the z axis, in the plane
// between x and y.
func polar(degree float64) Vec {
	sin, cos := math.Sincos(degree * math.Pi / 180)
	return Vec{sin * math.Sqrt(0.5), sin * math.Sqrt(0.5), cos}
}
