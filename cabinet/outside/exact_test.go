package outside

import (
	"maps"
	"math"
	"math/cmplx"
	"slices"
	"testing"

	"gapline/cabinet/surface"
	"gapline/internal/air"
	"gapline/internal/bem3"
)

// pointSource sounds as p = strength·e^{−jkr}/r.
type pointSource struct {
	at       bem3.Vec
	strength complex128
}

// exactAir is round; nothing depends on it.
var exactAir = air.Air{SoundSpeed: 345, Density: 1.19}

// bounds are the largest errors by elements to a wavelength, each in the regions on walls, on
// ways to cones, on what moves, and far away.
type bounds map[float64][4]float64

// exactCase is a starter with sources in what is solid of it.
type exactCase struct {
	of, design string
	sources    []pointSource
	most       bounds
}

// inBody are two behind all pockets and one behind the horn's exit.
var inBody = []pointSource{{bem3.Vec{-0.35, 0.12, 0.03}, 1}, {bem3.Vec{-0.35, -0.15, -0.02}, 0.7i}, {bem3.Vec{-0.1, 0.02, 0.04}, 0.5}}

// besideChamber is in the front panel between chamber and horn, 5 cm from the chamber.
var besideChamber = []pointSource{{bem3.Vec{-0.03, 0.09, 0}, 1}}

// imaged adds the images of sources in the mirror planes of a surface.
func imaged(list []pointSource, planes surface.Planes) []pointSource {
	out := append([]pointSource(nil), list...)
	for axis, on := range []bool{false, planes.Y, planes.Z} {
		if on {
			for _, s := range out[:len(out):len(out)] {
				s.at[axis] = -s.at[axis]
				out = append(out, s)
			}
		}
	}
	return out
}

// fieldOf is the pressure of sources at x, and its gradient.
func fieldOf(sources []pointSource, k float64, x bem3.Vec) (p complex128, gradient [3]complex128) {
	for _, s := range sources {
		d := bem3.Vec{x[0] - s.at[0], x[1] - s.at[1], x[2] - s.at[2]}
		r := math.Sqrt(d[0]*d[0] + d[1]*d[1] + d[2]*d[2])
		v := s.strength * cmplx.Rect(1/r, -k*r)
		p += v
		for a := range d {
			gradient[a] += v * complex(-1, -k*r) * complex(d[a]/(r*r), 0)
		}
	}
	return p, gradient
}

// nodesOf are corners and midpoints of triangle t.
func nodesOf(s *surface.Surface, t int) (x [6]bem3.Vec) {
	for i, v := range s.Triangles[t] {
		x[i] = s.Vertices[v]
	}
	for i := range 3 {
		for a := range 3 {
			x[3+i][a] = (x[(i+1)%3][a] + x[(i+2)%3][a]) / 2
		}
	}
	return x
}

// Rule of degree 4 over a triangle (D. A. Dunavant, Int. J. Num. Meth. Eng. 21, 1985).
var dunavant = []struct{ own, other, weight float64 }{
	{0.108103018168070, 0.445948490915965, 0.223381589678011},
	{0.816847572980459, 0.091576213509771, 0.109951743655322},
}

// Where errors are told apart.
const (
	onWalls = iota
	onWays
	onMoving
	farAway
)

// region is where a kind of triangle counts.
func region(kind surface.Kind) int {
	switch kind {
	case surface.Wall:
		return onWalls
	case surface.Plate, surface.Chamber, surface.Pocket:
		return onWays
	}
	return onMoving
}

// exactErrors solves a surface with the velocities that sources in the solid make on it, and
// returns the root mean square error of the pressure in each region, of the exact one there.
func exactErrors(t *testing.T, s *surface.Surface, f float64, sources []pointSource) (errs [4]float64, unknowns int) {
	t.Helper()
	j := job{surface: s, air: exactAir}
	p := j.problem(f)
	k := 2 * math.Pi * f / exactAir.SoundSpeed
	sources = imaged(sources, s.Planes)
	v := make([]complex128, 0, 6*len(s.Triangles))
	for i := range s.Triangles {
		n := s.Normal(i)
		for _, x := range nodesOf(s, i) {
			_, g := fieldOf(sources, k, x)
			slope := g[0]*complex(n[0], 0) + g[1]*complex(n[1], 0) + g[2]*complex(n[2], 0)
			v = append(v, slope*complex(0, 1/(k*exactAir.Impedance())))
		}
	}
	p.Velocities = [][]complex128{v}
	sol, err := p.Solve(t.Context(), f, bem3.Options{})
	if err != nil {
		t.Fatal(err)
	}
	inSolid(t, sol, sources)
	var all [4]float64
	for i := range s.Triangles {
		r := region(s.About[s.Group[i]].Kind)
		e, total := triangleError(s, sol, i, sources, k)
		errs[r] += e
		all[r] += total
	}
	for r := range farAway {
		if all[r] > 0 {
			errs[r] = math.Sqrt(errs[r] / all[r])
		}
	}
	errs[farAway] = farError(t, sol, sources, k)
	return errs, sol.Unknowns
}

// inSolid fails where a source is not in what is solid, on the meshed side of mirror planes.
func inSolid(t *testing.T, sol *bem3.Solution, sources []pointSource) {
	t.Helper()
	var at []bem3.Vec
	for _, s := range sources {
		at = append(at, s.at)
	}
	p, err := sol.At(t.Context(), at)
	if err != nil {
		t.Fatal(err)
	}
	for i := range at {
		if !cmplx.IsNaN(p[0][i]) {
			t.Fatalf("the source at %v is not in the solid", at[i])
		}
	}
}

// triangleError is the integral of the squared error of the pressure over a triangle, and of
// the squared pressure.
func triangleError(s *surface.Surface, sol *bem3.Solution, i int, sources []pointSource, k float64) (e, total float64) {
	nodes, x := sol.TriangleNodes(i), nodesOf(s, i)
	for _, d := range dunavant {
		for own := range 3 {
			l := [3]float64{d.other, d.other, d.other}
			l[own] = d.own
			var at bem3.Vec
			p := complex128(0)
			for c := range 3 {
				for a := range at {
					at[a] += l[c] * x[c][a]
				}
				p += complex(l[c]*(2*l[c]-1), 0) * sol.Pressure(0)[nodes[c]]
				p += complex(4*l[(c+1)%3]*l[(c+2)%3], 0) * sol.Pressure(0)[nodes[3+c]]
			}
			want, _ := fieldOf(sources, k, at)
			w := d.weight * s.Area(i)
			e += w * math.Pow(cmplx.Abs(p-want), 2)
			total += w * math.Pow(cmplx.Abs(want), 2)
		}
	}
	return e, total
}

// farError is the error of the far field in both planes.
func farError(t *testing.T, sol *bem3.Solution, sources []pointSource, k float64) float64 {
	t.Helper()
	u := directions()
	got, err := sol.Far(t.Context(), u)
	if err != nil {
		t.Fatal(err)
	}
	e, total := 0.0, 0.0
	for i := range u {
		want := complex128(0)
		for _, s := range sources {
			want += s.strength * cmplx.Rect(1, k*(u[i][0]*s.at[0]+u[i][1]*s.at[1]+u[i][2]*s.at[2]))
		}
		e += math.Pow(cmplx.Abs(got[0][i]-want), 2)
		total += math.Pow(cmplx.Abs(want), 2)
	}
	return math.Sqrt(e / total)
}

// check solves a case at f with each number of elements to a wavelength that has bounds.
func (c *exactCase) check(t *testing.T, f float64) {
	t.Helper()
	d := starter(t, c.design)
	for _, per := range slices.Sorted(maps.Keys(c.most)) {
		// The surface counts by the design's air, not by the one of the test.
		s, faults, err := surface.New(t.Context(), d, surface.Options{Frequency: f * air.Of(d.Air).SoundSpeed / exactAir.SoundSpeed, PerWave: per})
		if err != nil || len(faults) > 0 {
			t.Fatal(faults, err)
		}
		errs, n := exactErrors(t, s, f, c.sources)
		t.Logf("%s, sources in %s, %g elements, %d unknowns, %d planes: walls %.2g, ways %.2g, moving %.2g, far away %.2g",
			c.design, c.of, per, n, s.Planes.Count(), errs[onWalls], errs[onWays], errs[onMoving], errs[farAway])
		for r, most := range c.most[per] {
			if !(errs[r] <= most) {
				t.Errorf("%s, sources in %s, %g elements: error %.2g in region %d, want %.2g at most", c.design, c.of, per, errs[r], r, most)
			}
		}
	}
}

// Point sources in the solid of the three starters, their velocity imposed on all of the
// surface, are returned on it and far away. From three elements to six, which are 1.6 times as
// short in the mean, errors on walls and far away fall by more than the third power.
func TestSourcesInTheSolid(t *testing.T) {
	most := bounds{3: {0.015, 0.007, 0.012, 0.008}, 6: {0.0025, 0.0035, 0.002, 0.001}}
	for _, c := range []exactCase{
		{"body", "hatch", inBody, most},
		{"body", "hatch-insert", inBody, most},
		{"body", "hatch-mids", inBody, most},
		{"panel", "hatch-insert", besideChamber, bounds{3: {0.025, 0.05, 0.11, 0.04}, 6: {0.007, 0.012, 0.028, 0.006}}},
	} {
		c.check(t, 500)
	}
}
