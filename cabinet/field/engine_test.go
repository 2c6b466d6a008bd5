package field

import (
	"context"
	"math"
	"runtime"
	"slices"
	"sync/atomic"
	"testing"
)

// Same bytes whatever the number of cores.
func TestSumsDoNotDependOnTheNumberOfCores(t *testing.T) {
	s := plainStack(6)
	s.Splay = Progressive(6, 0.4)
	spec := MapSpec{FromX: -2, ToX: 20, FromZ: 0, ToZ: 10, NX: 31, NZ: 17, Frequency: []float64{4000, 63, 500}}
	var first *SideMap
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for _, n := range []int{1, 2, 7} {
		runtime.GOMAXPROCS(n)
		m, err := mustNew(t, s, Options{Ground: 1, Absorption: true}).SideMap(context.Background(), spec)
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = m
		}
		for i := range m.Level {
			if !slices.EqualFunc(m.Level[i], first.Level[i], func(a, b float64) bool {
				return math.Float64bits(a) == math.Float64bits(b)
			}) {
				t.Fatalf("row %d differs with %d cores", i, n)
			}
		}
	}
}

func TestCancelAndProgress(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	var calls atomic.Int64
	e := mustNew(t, plainStack(6), Options{Progress: func(done, total int) {
		if calls.Add(1) == 2 {
			cancel()
		}
		if done > total {
			t.Errorf("%d of %d points done", done, total)
		}
	}})
	spec := MapSpec{FromX: 1, ToX: 20, FromZ: 0, ToZ: 10, NX: 100, NZ: 100, Frequency: []float64{1000}}
	if _, err := e.SideMap(ctx, spec); err != context.Canceled {
		t.Errorf("error %v, want %v", err, context.Canceled)
	}
	if n := calls.Load(); n > 2+int64(runtime.GOMAXPROCS(0)) {
		t.Errorf("%d blocks were summed after the cancellation", n-2)
	}
}

// A map cell is the pressure at its point, and a cell in a box is empty.
func TestSideMapCells(t *testing.T) {
	e := mustNew(t, plainStack(4), Options{Ground: 1, Tolerance: 1e-3})
	spec := MapSpec{FromX: -0.2, ToX: 10, FromZ: -1, ToZ: 7.9, NX: 7, NZ: 5, Frequency: []float64{300, 2000}, TonesPerBand: 2}
	m, err := e.SideMap(context.Background(), spec)
	if err != nil {
		t.Fatal(err)
	}
	if len(m.Level) != 1 {
		t.Fatalf("%d rows for one band", len(m.Level))
	}
	at := Vec{X: m.X[3], Z: m.Z[2]}
	p := mustSum(t, e, []Vec{at}, spec.Frequency)
	want := e.levelOfSquare((square(p[0][0]) + square(p[1][0])) / 2)
	if got := m.Level[0][2*7+3]; math.Abs(got-want) > 1e-9 {
		t.Errorf("cell is %g, want %g", got, want)
	}
	if !math.IsNaN(m.Level[0][3]) || !math.IsNaN(m.Level[0][4*7]) {
		t.Error("cells below the ground and in a box must be empty")
	}
	for _, bad := range []func(*MapSpec){
		func(s *MapSpec) { s.NX = 0 },
		func(s *MapSpec) { s.NX, s.NZ = 50000, 50000 },
		func(s *MapSpec) { s.ToX = -5 },
		func(s *MapSpec) { s.Frequency = nil },
		func(s *MapSpec) { s.TonesPerBand = 3 },
		func(s *MapSpec) { s.FromZ = math.Inf(-1) },
	} {
		s := spec
		bad(&s)
		if _, err := e.SideMap(context.Background(), s); err == nil {
			t.Errorf("%+v is accepted", s)
		}
	}
}

// In a wall, points behind hear nothing; in free field a flat mouth radiates
// both ways alike.
func TestBoundaries(t *testing.T) {
	m := Mouth{Kind: Rectangle, Width: 0.1, Height: 0.2}
	at := []Vec{{X: 2, Z: 1}, {X: -2, Z: 1}}
	p := mustSum(t, mustNew(t, oneMouth(m), Options{Boundary: Baffled}), at, []float64{1000})[0]
	q := mustSum(t, mustNew(t, oneMouth(m), Options{}), at, []float64{1000})[0]
	if p[1] != 0 || p[0] != q[0] || q[0] != q[1] {
		t.Errorf("baffled %v, free field %v", p, q)
	}
}

func TestPolarOfATurnedStack(t *testing.T) {
	// A stack turned down as a whole has the polar of the straight one about its
	// own axis, in both planes.
	straight := mustNew(t, lineOf(5, 0.25, Mouth{Kind: Rectangle, Width: 0.3, Height: 0.2}), Options{})
	s := lineOf(5, 0.25, Mouth{Kind: Rectangle, Width: 0.3, Height: 0.2})
	s.Tilt = 0.3
	turned := mustNew(t, s, Options{})
	for _, plane := range []Plane{Vertical, Horizontal} {
		for _, d := range []float64{4, math.Inf(1)} {
			spec := PolarSpec{Plane: plane, Angle: Angles(25, 2), Frequency: []float64{700, 3000}, Distance: d}
			a, b := mustPolar(t, straight, spec), mustPolar(t, turned, spec)
			for i := range a.Level {
				for j := range a.Level[i] {
					if math.Abs(a.Level[i][j]-b.Level[i][j]) > 1e-3 && a.Normalised[i][j] > -40 {
						t.Errorf("plane %d, %g m, angle %d: %g and %g dB", plane, d, j, a.Level[i][j], b.Level[i][j])
					}
				}
			}
		}
	}
	// Beamwidth of a flat mouth: sin x/x is −6 dB at x = 1.8927 (NOTES of the
	// reference tables), full angle 2 asin(1.8927 λ/(πh)).
	e := mustNew(t, oneMouth(Mouth{Kind: Rectangle, Height: 0.5}), Options{})
	p := mustPolar(t, e, PolarSpec{Angle: Angles(2001, 2), Frequency: []float64{2000}, Distance: math.Inf(1)})
	want := 2 * math.Asin(1.8927*e.SoundSpeed()/2000/(math.Pi*0.5))
	if got := p.Beamwidth(0, 6); math.Abs(got-want) > 1e-4 {
		t.Errorf("beamwidth %g rad, want %g", got, want)
	}
}

// Places on a mouth, where the integrand is singular, give a finite pressure.
func TestPlacesOnAMouth(t *testing.T) {
	for _, m := range []Mouth{
		{},
		{Kind: Circle, Diameter: 0.2},
		{Kind: Rectangle, Width: 0.1, Height: 0.2},
		{Kind: Rectangle, Width: 0.1, Height: 0.2, VerticalApex: 0.5, HorizontalApex: 0.05},
	} {
		for _, b := range []Boundary{FreeField, Baffled} {
			e := mustNew(t, oneMouth(m), Options{Boundary: b})
			for _, row := range mustSum(t, e, []Vec{{}, {Y: 0.03, Z: 0.05}, {Z: 0.1}}, []float64{50, 16000}) {
				for _, p := range row {
					if l := e.Level(p); math.IsNaN(l) || math.IsInf(l, 0) {
						t.Errorf("%+v: level %g on the mouth", m, l)
					}
				}
			}
		}
	}
}
