package bem

import (
	"context"
	"math"
	"math/cmplx"
	"testing"
)

// Air of the tests: round figures, nothing depends on them.
const (
	testC   = 343.0
	testRho = 1.2
)

// frequencyOf returns f for a wavenumber k.
func frequencyOf(k float64) float64 { return k * testC / (2 * math.Pi) }

// circle returns an outline round the origin.
func circle(radius float64, wall Wall) []Edge {
	return []Edge{
		{Name: "circle", Curve: Arc{Radius: radius, Sweep: math.Pi}, Wall: wall},
		{Name: "circle", Curve: Arc{Radius: radius, Start: math.Pi, Sweep: math.Pi}, Wall: wall},
	}
}

// polygon joins points by straight edges, the last to the first when closed.
func polygon(closed bool, wall Wall, points ...Point) []Edge {
	var edges []Edge
	n := len(points)
	for i := range n {
		if i == n-1 && !closed {
			break
		}
		edges = append(edges, Edge{Name: "wall", Curve: Line{points[i], points[(i+1)%n]}, Wall: wall})
	}
	return edges
}

// exterior returns a problem with one exterior domain called air.
func exterior(m Mirror, outlines ...[]Edge) *Problem {
	return &Problem{SoundSpeed: testC, Density: testRho, Mirror: m,
		Domains: []Domain{{Name: "air", Exterior: true, Outlines: outlines}}}
}

// bounded returns a problem with one bounded domain called air.
func bounded(outlines ...[]Edge) *Problem {
	p := exterior(Mirror{}, outlines...)
	p.Domains[0].Exterior = false
	return p
}

// imposed returns a wall that moves as the field of the sources would have it,
// into the fluid. Placed outside the fluid, the sources' own field is then the
// exact solution.
func imposed(sources ...LineSource) Wall {
	return Wall{Velocity: func(f float64, at, n Point) complex128 {
		_, q := fieldOf(sources, f, at, n)
		return q / complex(0, 2*math.Pi*f*testRho)
	}}
}

// fieldOf returns the pressure of sources and its derivative along n.
func fieldOf(sources []LineSource, f float64, at, n Point) (p, slope complex128) {
	for _, s := range sources {
		v, g := s.Field(f, testC, testRho, at)
		p += v
		slope += g[0]*complex(n.X, 0) + g[1]*complex(n.Y, 0)
	}
	return p, slope
}

func mustSolve(t testing.TB, p *Problem, f float64, o Options) *Solution {
	t.Helper()
	s, err := p.Solve(context.Background(), f, o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func mustTrace(t testing.TB, s *Solution, name string) *Trace {
	t.Helper()
	tr, err := s.Trace(s.system.Domains[0].Name, name)
	if err != nil {
		t.Fatal(err)
	}
	return tr
}

// errorsOn returns the greatest and the root-mean-square error of the pressure
// at the nodes of a trace, both relative to the root mean square of want.
func errorsOn(tr *Trace, want func(Point) complex128) (largest, rms float64) {
	var sum, norm float64
	for i, x := range tr.At {
		w := want(x)
		e := cmplx.Abs(tr.Pressure[i] - w)
		largest = math.Max(largest, e)
		sum += e * e * tr.Weight[i]
		norm += real(w*cmplx.Conj(w)) * tr.Weight[i]
	}
	return largest / math.Sqrt(norm/tr.Length()), math.Sqrt(sum / norm)
}
