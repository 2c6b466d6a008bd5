package bem

import (
	"context"
	"errors"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestBadOutlines(t *testing.T) {
	square := []Point{{0, 0}, {1, 0}, {1, 1}, {0, 1}}
	cases := []struct {
		name string
		p    *Problem
		want string // part of the message
	}{
		{"no domain", &Problem{SoundSpeed: 343, Density: 1.2}, "no domain"},
		{"no outline", exterior(Mirror{}), "no outline"},
		{"no edges", exterior(Mirror{}, nil), "has no edges"},
		{"no curve", exterior(Mirror{}, []Edge{{Name: "x"}}), "edge 1 (x) has no curve"},
		{"bow tie", exterior(Mirror{}, polygon(true, Wall{}, Point{0, 0}, Point{1, 1}, Point{1, 0}, Point{0, 1})), "crosses or touches itself"},
		{"fold back", exterior(Mirror{}, polygon(true, Wall{}, Point{0, 0}, Point{1, 0}, Point{0.5, 0}, Point{0.5, 1})), "crosses or touches itself"},
		{"touching", exterior(Mirror{}, polygon(true, Wall{}, Point{0, 0}, Point{1, 0}, Point{1, 1}, Point{0.5, 0}, Point{0, 1})), "crosses or touches itself"},
		{"zero length", exterior(Mirror{}, polygon(true, Wall{}, Point{0, 0}, Point{1, 0}, Point{1, 0}, Point{1, 1})), "edge 2 (wall) at (1, 0) m has no length"},
		{"gap", exterior(Mirror{}, append(polygon(false, Wall{}, square...), Edge{Name: "last", Curve: Line{Point{0, 1.1}, Point{0, 0}}})), "but edge 4 (last) starts at (0, 1.1) m"},
		{"open", exterior(Mirror{}, polygon(false, Wall{}, square...)), "is open"},
		{"beyond mirror", exterior(Mirror{X: true}, polygon(true, Wall{}, Point{-1, 0}, Point{1, 0}, Point{1, 1})), "beyond the mirror plane"},
		{"not a number", exterior(Mirror{}, polygon(true, Wall{}, Point{0, 0}, Point{1, math.NaN()}, Point{1, 1})), "not a number"},
		{"outlines cross", exterior(Mirror{}, polygon(true, Wall{}, square...), polygon(true, Wall{}, Point{0.5, 0.5}, Point{2, 0.5}, Point{2, 2})), "outlines 1 and 2 of domain \"air\" cross"},
		{"edge in the mirror plane", exterior(Mirror{X: true}, polygon(true, Wall{}, Point{0, 0}, Point{1, 0}, Point{1, 1}, Point{0, 1})), "touches the mirror plane"},
		{"nested", exterior(Mirror{}, polygon(true, Wall{}, square...), circleAt(Point{0.5, 0.5}, 0.2)), "outline 2 of domain \"air\" lies inside outline 1"},
		{"hole outside", bounded(polygon(true, Wall{}, square...), circleAt(Point{3, 0}, 0.2)), "outline 2 of domain \"air\" lies outside outline 1"},
		{"source in the solid", withSource(exterior(Mirror{}, polygon(true, Wall{}, square...)), Point{0.5, 0.5}), "line source 1"},
		{"source outside", withSource(bounded(polygon(true, Wall{}, square...)), Point{0.5, 1.5}), "line source 1"},
		{"lonely joint", exterior(Mirror{}, []Edge{{Curve: Arc{Radius: 1, Sweep: 2 * math.Pi}, Join: "a"}}), "joint \"a\" is used by 1 edges"},
	}
	for _, c := range cases {
		_, err := c.p.Solve(context.Background(), 100, Options{})
		if !errors.Is(err, ErrGeometry) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: err = %v, want %q", c.name, err, c.want)
		}
	}
}

func circleAt(c Point, radius float64) []Edge {
	return []Edge{{Name: "circle", Curve: Arc{Centre: c, Radius: radius, Sweep: 2 * math.Pi}}}
}

func withSource(p *Problem, at Point) *Problem {
	p.Domains[0].Sources = []LineSource{{at, 1}}
	return p
}

func TestBadNumbers(t *testing.T) {
	p := exterior(Mirror{}, circle(0.3, Wall{}))
	for _, f := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := p.Solve(context.Background(), f, Options{}); err == nil || !strings.Contains(err.Error(), "positive") {
			t.Errorf("%g Hz: err = %v", f, err)
		}
	}
	for _, o := range []Options{{Order: 1}, {Order: 9}, {NodesPerWave: 1}} {
		if _, err := p.Solve(context.Background(), 100, o); err == nil {
			t.Errorf("%+v is accepted", o)
		}
	}
	p.SoundSpeed = 0
	if _, err := p.Solve(context.Background(), 100, Options{}); err == nil || !strings.Contains(err.Error(), "sound speed") {
		t.Errorf("no sound speed: err = %v", err)
	}
}

func TestTooLarge(t *testing.T) {
	p := exterior(Mirror{}, circle(0.3, Wall{}))
	_, err := p.Solve(context.Background(), 2e6, Options{})
	if !errors.Is(err, ErrTooLarge) || !strings.Contains(err.Error(), "unknowns and") {
		t.Errorf("2 MHz: err = %v", err)
	}
	if _, err = p.Solve(context.Background(), 1e300, Options{}); !errors.Is(err, ErrTooLarge) {
		t.Errorf("1e300 Hz: err = %v", err)
	}
	// The estimate is the number of unknowns that solving then has.
	p = notchedCabinet(true)
	n, bytes, err := p.Unknowns(3000, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if sol := mustSolve(t, p, 3000, Options{}); sol.Unknowns != n || bytes < 16*int64(n)*int64(n) {
		t.Errorf("estimate %d unknowns, %d bytes; solved with %d", n, bytes, sol.Unknowns)
	}
}

func TestSolveNeverPanics(t *testing.T) {
	// Random polygons are solved or refused.
	rapid.Check(t, func(r *rapid.T) {
		coordinate := rapid.Float64Range(-0.2, 0.2)
		var points []Point
		for range rapid.IntRange(1, 6).Draw(r, "count") {
			points = append(points, Point{coordinate.Draw(r, "x"), coordinate.Draw(r, "y")})
		}
		p := exterior(Mirror{}, polygon(true, Uniform(1), points...))
		p.Domains[0].Exterior = rapid.Bool().Draw(r, "exterior")
		sol, err := p.Solve(context.Background(), 300, Options{Order: 3, Workers: 1})
		if err != nil && !errors.Is(err, ErrGeometry) {
			r.Fatalf("err = %v", err)
		}
		if err == nil {
			for _, v := range sol.p[0] {
				if cmplx.IsNaN(v) {
					r.Fatalf("pressure is NaN for %v", points)
				}
			}
		}
	})
}

func TestSplineErrors(t *testing.T) {
	if _, err := NewSpline([]Point{{0, 0}, {1, 0}, {2, 1}}); err == nil {
		t.Error("three points are accepted")
	}
	if _, err := NewSpline([]Point{{0, 0}, {1, 0}, {1, 0}, {2, 1}}); err == nil || !strings.Contains(err.Error(), "points 2 and 3") {
		t.Errorf("equal points: err = %v", err)
	}
}

func TestSplineConvergesToTheCircle(t *testing.T) {
	// Fourth order: doubling the points divides the error by 16 in the limit.
	deviation := func(n int) float64 {
		points := make([]Point, n+1)
		for i := range points {
			s, c := math.Sincos(2 * float64(i) / float64(n))
			points[i] = Point{c, s}
		}
		sp, err := NewSpline(points)
		if err != nil {
			t.Fatal(err)
		}
		worst := 0.0
		for u := 0.0; u <= 1; u += 1.0 / 512 {
			p, _ := sp.At(u)
			worst = math.Max(worst, math.Abs(p.Norm()-1))
		}
		return worst
	}
	if a, b := deviation(10), deviation(20); a/b < 12 {
		t.Errorf("deviation %.2g with 10 spans, %.2g with 20", a, b)
	}
}
