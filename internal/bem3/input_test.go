package bem3

import (
	"context"
	"errors"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"gapline/internal/trimesh"
)

// cube returns a cube of 0.2 m with two elements along each side.
func cube() *trimesh.Mesh { return boxMesh(Vec{0, 0, 0}, Vec{.2, .2, .2}, 0.1, 1) }

// Every fault that a mesh can have is refused with its place and reason.
func TestFaultyMeshes(t *testing.T) {
	cases := map[string]struct {
		spoil func(p *Problem)
		want  string
	}{
		"open":           {func(p *Problem) { p.Mesh.Triangles = p.Mesh.Triangles[1:] }, "open at the edge"},
		"turned":         {func(p *Problem) { tri := &p.Mesh.Triangles[3]; tri[0], tri[1] = tri[1], tri[0] }, "turned against each other"},
		"inside out":     {func(p *Problem) { turn(p.Mesh) }, "point into the solid"},
		"doubled":        {func(p *Problem) { p.Mesh.Triangles = append(p.Mesh.Triangles, p.Mesh.Triangles[0]) }, "3 triangles meet"},
		"degenerate":     {func(p *Problem) { p.Mesh.Triangles[2][1] = p.Mesh.Triangles[2][0] }, "triangle 2 at"},
		"no vertex":      {func(p *Problem) { p.Mesh.Triangles[2][1] = 999 }, "vertex 999"},
		"not a number":   {func(p *Problem) { p.Mesh.Vertices[4][1] = math.NaN() }, "vertex 4 is"},
		"empty":          {func(p *Problem) { p.Mesh = &trimesh.Mesh{} }, "no triangles"},
		"behind a plane": {func(p *Problem) { p.Mirrors = []Mirror{{Axis: 1, At: 0.1}} }, "lies behind the mirror plane y"},
		"in a plane":     {func(p *Problem) { p.Mirrors = []Mirror{{Axis: 2, At: 0}} }, "lies in the mirror plane z"},
	}
	for name, c := range cases {
		m := cube()
		p := problemOf(m, [][]complex128{make([]complex128, len(m.Triangles))})
		c.spoil(p)
		p.Velocities[0] = make([]complex128, len(p.Mesh.Triangles))
		_, err := p.Solve(context.Background(), 300, Options{})
		if !errors.Is(err, ErrMesh) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want %q", name, err, c.want)
		}
	}
}

func turn(m *trimesh.Mesh) {
	for i := range m.Triangles {
		tri := &m.Triangles[i]
		tri[0], tri[1] = tri[1], tri[0]
	}
}

func TestFaultyProblems(t *testing.T) {
	cases := map[string]struct {
		spoil func(p *Problem)
		f     float64
		want  string
	}{
		"speed":         {func(p *Problem) { p.SoundSpeed = 0 }, 300, "sound speed 0"},
		"no drive":      {func(p *Problem) { p.Velocities = nil }, 300, "no drive"},
		"short drive":   {func(p *Problem) { p.Velocities[0] = p.Velocities[0][:5] }, 300, "5 velocities for"},
		"drive of NaN":  {func(p *Problem) { p.Velocities[0][5] = cmplx.NaN() }, 300, "velocity 5 of drive 0"},
		"axis":          {func(p *Problem) { p.Mirrors = []Mirror{{Axis: 3}} }, 300, "mirror plane"},
		"axis twice":    {func(p *Problem) { p.Mirrors = []Mirror{{At: -1}, {At: -2}} }, 300, "two mirror planes"},
		"frequency":     {func(p *Problem) {}, -1, "frequency -1 Hz"},
		"long elements": {func(p *Problem) {}, 2000, "has a side of 0.1414 m"},
	}
	for name, c := range cases {
		m := cube()
		p := problemOf(m, [][]complex128{make([]complex128, len(m.Triangles))})
		c.spoil(p)
		_, err := p.Solve(context.Background(), c.f, Options{})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want %q", name, err, c.want)
		}
	}
}

// Two boxes, one with a wall on the mirror plane that is left out, are accepted;
// a drive that does not move gives silence.
func TestSilence(t *testing.T) {
	b := newBuilder()
	b.box([3][]float64{{0, .1, .2}, {0, .1}, {0, .1}}, 0)
	b.box([3][]float64{{.3, .4}, {0, .1}, {0, .1}})
	p := problemOf(&b.mesh, [][]complex128{make([]complex128, len(b.mesh.Triangles))}, Mirror{Axis: 0})
	for _, below := range []int{1, 1000} {
		s := mustSolve(t, p, 300, Options{DirectBelow: below})
		for _, v := range s.Pressure(0) {
			if v != 0 {
				t.Fatalf("pressure %v with nothing moving", v)
			}
		}
		if s.Power(0) != 0 || !cmplx.IsNaN(s.Mean(0, make([]float64, len(b.mesh.Triangles)))) {
			t.Error("power or mean pressure of nothing")
		}
	}
}
