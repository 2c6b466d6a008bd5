package field

import (
	"context"
	"math"
	"math/cmplx"
	"testing"

	"gapline/internal/special"

	"pgregory.net/rapid"
)

// closed is a pattern in closed form, with a share of the sound that is the same everywhere.
type closed struct {
	at    func(u Vec, hz float64) complex128
	share float64
}

func (c closed) Share(float64) float64 { return c.share }

func (c closed) Sampler(hz []float64) func(u Vec, re, im []float64) {
	return func(u Vec, re, im []float64) {
		for i, f := range hz {
			p := c.at(u, f)
			re[i], im[i] = real(p), imag(p)
		}
	}
}

const boxSound = 345.0

// points are the mouths of a box as point sources with gains, and their far field in closed form.
var points3 = []Mouth{{Position: Vec{X: 0, Y: 0.2, Z: 0.05}}, {Position: Vec{X: -0.1, Y: -0.15, Z: -0.06}, Gain: -3}, {Position: Vec{X: -0.35, Y: 0.1, Z: 0}, Gain: -8, Invert: true}}

func pointsFar(c float64) func(u Vec, hz float64) complex128 {
	return func(u Vec, hz float64) complex128 {
		sum := complex128(0)
		for _, m := range points3 {
			s := math.Pow(10, m.Gain/20)
			if m.Invert {
				s = -s
			}
			sum += cmplx.Rect(s, 2*math.Pi*hz/c*u.Dot(m.Position))
		}
		return sum
	}
}

// pointsStack hangs boxes of three points each, curved, tilted, shaded and delayed.
func pointsStack() Stack {
	b := Box{Height: 0.25, Width: 0.6, Depth: 0.4, Mouths: points3}
	return Stack{Boxes: Repeat(b, 6), Drives: []Drive{{}}, Gap: 0.01, TopHeight: 6, Tilt: 0.05,
		Splay: []float64{0.01, 0.02, 0.03, 0.05, 0.06}, Shading: []float64{0, 0, -1, -2, -3, -3}, Delays: []float64{0, 0, 1e-4, 2e-4, 3e-4, 4e-4}}
}

// middle3 is a place amid the points, from which phases count in tests.
var middle3 = Vec{X: -0.05, Y: 0.05}

// A stack of boxes hung by their far field in closed form is the direct sum of all its points, at
// seats, over a floor and in absorbing air. What is left is what the far field leaves out of a point
// d m off the middle at distance r: d/r of its level and kd²/(2r) of its phase; from 20 m on it is
// below 0.05 dB of what the points give in phase.
func TestHungPatternsAreTheDirectSum(t *testing.T) {
	hz := []float64{80, 250, 1000}
	for name, o := range map[string]Options{"open": {Tolerance: 1e-5}, "floor": {Ground: 0.8, Absorption: true, Tolerance: 1e-5}} {
		direct := mustNew(t, pointsStack(), o)
		s := pointsStack()
		c := direct.SoundSpeed()
		s.Drives = []Drive{{From: middle3, Box: closed{func(u Vec, f float64) complex128 {
			return pointsFar(c)(u, f) * cmplx.Rect(1, -2*math.Pi*f/c*u.Dot(middle3))
		}, 1}}}
		hung := mustNew(t, s, o)
		if hung.Centre() != direct.Centre() {
			t.Fatalf("%s: the centre moves from %v to %v", name, direct.Centre(), hung.Centre())
		}
		var at []Vec
		for x := 12.0; x < 60; x += 3 {
			at = append(at, Vec{X: x, Y: x / 7, Z: 1.2}, Vec{X: x, Z: 1.2})
		}
		at = append(at, Vec{X: -15, Y: 3, Z: 4}, Vec{Y: 14, Z: 3})
		want, got := mustSum(t, direct, at, hz), mustSum(t, hung, at, hz)
		for i := range hz {
			for j := range at {
				r := at[j].Sub(direct.Centre()).Norm()
				bound, inPhase := 0.0, 0.0
				for _, m := range points3 {
					d, each := m.Position.Sub(middle3).Norm(), 6*(1+o.Ground)*math.Pow(10, m.Gain/20)
					inPhase += each
					bound += each * (d/r + 2*math.Pi*hz[i]/c*d*d/(2*r))
				}
				e := cmplx.Abs(got[i][j]-want[i][j]) * r
				if e > bound {
					t.Errorf("%s, %g Hz at %v: off by %.4f, the far field leaves out %.4f", name, hz[i], at[j], e/inPhase, bound/inPhase)
				}
				if r > 20 && e > 0.0058*inPhase {
					t.Errorf("%s, %g Hz at %v: off by %.4f of what the points give in phase", name, hz[i], at[j], e/inPhase)
				}
			}
		}
	}
}

// Far away nothing is left of that: exact but for the kernels' 2e-8, at all frequencies and in all
// directions.
func TestHungPatternsFarAway(t *testing.T) {
	direct := mustNew(t, pointsStack(), Options{})
	s := pointsStack()
	s.Drives = []Drive{{Box: closed{pointsFar(direct.SoundSpeed()), 1}}}
	hung := mustNew(t, s, Options{})
	rapid.Check(t, func(t *rapid.T) {
		z, a := rapid.Float64Range(-1, 1).Draw(t, "z"), rapid.Float64Range(-3.1, 3.1).Draw(t, "around")
		c := math.Sqrt(1 - z*z)
		u := []Vec{{X: c * math.Cos(a), Y: c * math.Sin(a), Z: z}}
		hz := []float64{rapid.Float64Range(20, 8e3).Draw(t, "f")}
		want, err := direct.pressures(context.Background(), directions(u), hz)
		if err != nil {
			t.Fatal(err)
		}
		got, err := hung.pressures(context.Background(), directions(u), hz)
		if err != nil {
			t.Fatal(err)
		}
		if e := cmplx.Abs(got[0][0] - want[0][0]); e > 1e-5 {
			t.Errorf("off by %g", e)
		}
	})
}

// A baffled piston's far field 2J₁(x)/x, x = ka·sin θ, hung in space, is the engine's own piston at seats
// beyond its near field: within 0.05 dB from 10 m on, where k·a⁴/(8·r³) and ka²/(2r) = 0.02 are small.
func TestHungPistons(t *testing.T) {
	const a = 0.1
	b := Box{Height: 0.3, Width: 0.5, Depth: 0.3, Mouths: []Mouth{{Kind: Circle, Diameter: 2 * a}}}
	s := Stack{Boxes: Repeat(b, 4), Drives: []Drive{{}}, Gap: 0.01, TopHeight: 5, Splay: []float64{0.03, 0.04, 0.05}}
	direct := mustNew(t, s, Options{Tolerance: 1e-5})
	s.Drives = []Drive{{Box: closed{func(u Vec, hz float64) complex128 {
		x := 2 * math.Pi * hz / direct.SoundSpeed() * a * math.Hypot(u.Y, u.Z)
		return complex(special.Jinc(x), 0)
	}, 1}}}
	hung := mustNew(t, s, Options{})
	var at []Vec
	for x := 10.0; x < 50; x += 2 {
		at = append(at, Vec{X: x, Y: x / 3, Z: 1.2})
	}
	hz := []float64{200, 1000, 2000}
	want, got := mustSum(t, direct, at, hz), mustSum(t, hung, at, hz)
	for i := range hz {
		for j := range at {
			if e := cmplx.Abs(got[i][j]-want[i][j]) * at[j].X / 4; e > 0.0058 {
				t.Errorf("%g Hz at %v: off by %.4f of what the pistons give in phase", hz[i], at[j], e)
			}
		}
	}
}

// A box that is tilted has the polar of one that is not, turned by the tilt; splay turns the lower
// box alike.
func TestSplayTurnsThePattern(t *testing.T) {
	pattern := closed{pointsFar(boxSound), 1}
	one := func(tilt float64) *Engine {
		return mustNew(t, Stack{Boxes: Repeat(Box{Height: 0.25, Width: 0.6, Depth: 0.4, Mouths: points3}, 1), Drives: []Drive{{Box: pattern}}, TopHeight: math.NaN(), Tilt: tilt}, Options{})
	}
	at := func(e *Engine, down float64) float64 {
		u := Vec{X: math.Cos(down), Z: -math.Sin(down)}
		p, err := e.pressures(context.Background(), directions([]Vec{u}), []float64{900})
		if err != nil {
			t.Fatal(err)
		}
		return cmplx.Abs(p[0][0])
	}
	level, tilted := one(0), one(0.3)
	// Two boxes of which the upper is off: what is left is the lower one, turned by tilt and splay.
	pair := mustNew(t, Stack{Boxes: Repeat(Box{Height: 0.25, Width: 0.6, Depth: 0.4, Mouths: points3}, 2), Drives: []Drive{{Box: pattern}},
		TopHeight: math.NaN(), Tilt: 0.1, Splay: []float64{0.2}, Shading: []float64{-400, 0}}, Options{})
	for _, down := range []float64{-2, -0.5, 0, 0.3, 1.2, 3} {
		want := at(level, down-0.3)
		for name, e := range map[string]*Engine{"tilted": tilted, "splayed": pair} {
			if got := at(e, down); math.Abs(got-want) > 1e-7 {
				t.Errorf("%s, %g rad down: %g, want %g", name, down, got, want)
			}
		}
	}
}

// With a share of s the sum is s of the pattern's and 1 − s of the mouths', in level and phase, at
// points, over the floor, and for each drive by itself.
func TestShareOfMouths(t *testing.T) {
	silent := func(share float64) BoxPattern { return closed{func(Vec, float64) complex128 { return 0 }, share} }
	s := plainStack(3)
	s.Boxes[1].Mouths = append([]Mouth(nil), s.Boxes[1].Mouths...)
	s.Drives = []Drive{{}, {}}
	s.Boxes[1].Mouths = append(s.Boxes[1].Mouths, Mouth{Kind: Circle, Diameter: 0.1, Drive: 1})
	o := Options{Ground: 1, Absorption: true}
	hz := []float64{100, 1000}
	at := Vec{X: 15, Y: 2, Z: 1}
	whole, err := mustNew(t, s, o).Units(context.Background(), at, hz)
	if err != nil {
		t.Fatal(err)
	}
	for _, share := range []float64{0, 0.25, 1} {
		s.Drives = []Drive{{}, {Box: silent(share)}}
		got, err := mustNew(t, s, o).Units(context.Background(), at, hz)
		if err != nil {
			t.Fatal(err)
		}
		for i := range hz {
			if got[0][i] != whole[0][i] || cmplx.Abs(got[1][i]-complex(1-share, 0)*whole[1][i]) > 1e-9 {
				t.Errorf("share %g at %g Hz: %v and %v of %v and %v", share, hz[i], got[0][i], got[1][i], whole[0][i], whole[1][i])
			}
		}
	}
}

// A pattern knows no wall.
func TestPatternInAWall(t *testing.T) {
	s := plainStack(1)
	s.Drives[0].Box = closed{nil, 1}
	if _, err := New(s, Options{Boundary: Baffled}); err == nil {
		t.Error("taken")
	}
	s.Drives[0].From.X = math.NaN()
	if _, err := New(s, Options{}); err == nil {
		t.Error("phases from nowhere")
	}
}

// The search for the best splay finds the same stack by a closed pattern as by the points that it
// stands for, and the same evenness within what the far field leaves out.
func TestAimByPattern(t *testing.T) {
	s := pointsStack()
	s.Splay, s.Shading, s.Delays = nil, nil, nil
	spec := AimSpec{Audience: AudienceSpec{Seating: []Seating{{Start: 8, End: 40, Ear: 1.2}}, Step: 4, Tones: 3}, Steps: stepsOf(0, 2, 4, 6), Tilts: stepsOf(-2, 0, 2)}
	want, err := Aim(context.Background(), s, Options{}, spec)
	if err != nil {
		t.Fatal(err)
	}
	c := mustNew(t, s, Options{}).SoundSpeed()
	s.Drives = []Drive{{Box: closed{pointsFar(c), 1}}}
	got, err := Aim(context.Background(), s, Options{}, spec)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(got.Best.Cost-want.Best.Cost) > 0.1 {
		t.Errorf("cost %g by the pattern, %g by its points", got.Best.Cost, want.Best.Cost)
	}
}
