package field

import (
	"math"
	"strings"
	"testing"

	"gapline/internal/wordset"

	"pgregory.net/rapid"
)

// plainBox is an invented box with one mouth.
func plainBox() Box {
	return Box{Height: 0.25, Width: 0.7, Depth: 0.4, Mouths: []Mouth{{Kind: Rectangle, Width: 0.1, Height: 0.2}}}
}

func plainStack(n int) Stack {
	return Stack{Boxes: Repeat(plainBox(), n), Drives: []Drive{{}}, Gap: 0.01, TopHeight: 8}
}

func TestStraightStackHasPitch(t *testing.T) {
	s := plainStack(5)
	for i, p := range s.poses() {
		want := Vec{Z: 8 - 0.125 - 0.26*float64(i)}
		if p.origin.Sub(want).Norm() > 1e-12 {
			t.Errorf("box %d hangs at %v, want %v", i+1, p.origin, want)
		}
	}
}

// Whatever the splay, neighbours meet in the hinge: the point half a gap below
// the upper box and half a gap above the lower one, at the front or the rear.
func TestNeighboursMeetAtTheHinge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 12).Draw(t, "n")
		s := plainStack(n)
		s.Hinge = rapid.SampledFrom(wordset.All[Hinge]()).Draw(t, "hinge")
		s.Tilt = rapid.Float64Range(-0.2, 0.2).Draw(t, "tilt")
		for range n - 1 {
			s.Splay = append(s.Splay, rapid.Float64Range(0, 0.1).Draw(t, "splay"))
		}
		x := 0.0
		if s.Hinge == RearHinge {
			x = -0.4
		}
		p := s.poses()
		angle := s.Tilt
		for i := 1; i < n; i++ {
			below := p[i-1].origin.Add(p[i-1].frame.at(Vec{X: x, Z: -0.13}))
			above := p[i].origin.Add(p[i].frame.at(Vec{X: x, Z: 0.13}))
			if d := below.Sub(above).Norm(); d > 1e-12 {
				t.Fatalf("joint %d is open by %g m", i, d)
			}
			angle += s.Splay[i-1]
			if d := math.Atan2(-p[i].frame.forward.Z, p[i].frame.forward.X) - angle; math.Abs(d) > 1e-12 {
				t.Fatalf("box %d points %g rad off", i+1, d)
			}
		}
	})
}

func TestShapes(t *testing.T) {
	// 1 + 2 + 3 steps of 1 rad.
	got := Progressive(4, 6)
	for i, want := range []float64{1, 2, 3} {
		if math.Abs(got[i]-want) > 1e-12 || math.Abs(Arc(4, 6)[i]-2) > 1e-12 {
			t.Errorf("joint %d: progressive %g, arc %g", i+1, got[i], Arc(4, 6)[i])
		}
	}
	if Arc(1, 1) != nil {
		t.Error("one box has no joint")
	}
}

func TestBadStacksAreRefused(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*Stack)
		want   string
	}{
		{"no box", func(s *Stack) { s.Boxes = nil }, "0 boxes"},
		{"far too many", func(s *Stack) { s.Boxes = Repeat(plainBox(), 10000) }, "at most 1000"},
		{"short splay", func(s *Stack) { s.Splay = make([]float64, 2) }, "2 splay angles for 4 boxes: need 3"},
		{"under ground", func(s *Stack) { s.TopHeight = -1 }, "above the ground"},
		{"bottom under ground", func(s *Stack) { s.TopHeight = 0.5 }, "below the ground"},
		{"NaN splay", func(s *Stack) { s.Splay = []float64{0, math.NaN(), 0} }, "box 3 points NaN"},
		{"curled up", func(s *Stack) { s.Splay = []float64{1, 1, 1} }, "less than 90°"},
		{"NaN tilt", func(s *Stack) { s.Tilt = math.NaN() }, "tilt of NaN"},
		{"no drive", func(s *Stack) { s.Drives = nil }, "no drive"},
		{"wrong drive", func(s *Stack) { s.Boxes[2].Mouths[0].Drive = 1 }, "box 3: mouth 1: drive 1 does not exist"},
		{"flat box", func(s *Stack) { s.Boxes[1].Height = 0 }, "box 2: height of 0 m"},
		{"two strengths", func(s *Stack) { s.Drives[0] = Drive{Pressure: 1, VolumeVelocity: 1} }, "give one"},
		{"mixed strengths", func(s *Stack) { s.Drives = []Drive{{Pressure: 1}, {}} }, "of every drive or of none"},
		{"shading", func(s *Stack) { s.Shading = []float64{0} }, "1 gains for 4 boxes"},
		{"gap", func(s *Stack) { s.Gap = math.NaN() }, "gap of NaN"},
	} {
		s := plainStack(4)
		for i := range s.Boxes {
			s.Boxes[i].Mouths = append([]Mouth(nil), s.Boxes[i].Mouths...)
		}
		c.change(&s)
		if _, err := New(s, Options{}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want %q", c.name, err, c.want)
		}
	}
}

func TestPointsWithoutField(t *testing.T) {
	e := mustNew(t, plainStack(4), Options{Ground: 1})
	for _, c := range []struct {
		at   Vec
		want string
	}{
		{Vec{X: -0.2, Z: 7.9}, "inside box 1"},
		{Vec{X: -0.2, Z: 7.2}, "inside box 4"},
		{Vec{X: 5, Z: -1}, "below the ground"},
		{Vec{X: math.NaN()}, "not finite"},
	} {
		if err := e.checkPoint(c.at); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: error %v, want %q", c.at, err, c.want)
		}
	}
	if err := e.checkPoint(Vec{X: 0.01, Z: 7.9}); err != nil {
		t.Errorf("in front of a box: %v", err)
	}
}
